import type { Finding } from "../model";
import { show } from "../ui/format";
import { Mark } from "../ui/mark";

/** Worst first, as the program sorts them. */
export function Findings({ findings }: { findings: Finding[] }) {
	const cautions = new Set<string>();
	return (
		<section class="findings" aria-label="Findings">
			<h2>Findings</h2>
			<p class="quiet">{counted(findings)}</p>
			<ol>
				{findings.map((f) => {
					const told = f.caution !== null && !cautions.has(f.caution);
					if (f.caution) cautions.add(f.caution);
					return <Entry key={f.id + f.sentence} finding={f} caution={told} />;
				})}
			</ol>
		</section>
	);
}

function counted(findings: Finding[]): string {
	const words = ["stop", "watch", "unsure", "good"] as const;
	return words
		.map((w) => [findings.filter((f) => f.standing === w).length, w] as const)
		.filter(([n]) => n > 0)
		.map(([n, w]) => `${n} ${w}`)
		.join(", ");
}

function Entry({ finding: f, caution }: { finding: Finding; caution: boolean }) {
	return (
		<li class={`finding ${f.standing}`}>
			<Mark standing={f.standing} />
			<details>
				<summary>
					<span class="sentence">{f.sentence}</span>
				</summary>
				{f.number && (
					<p class="number">
						<b>{show(f.number)}</b> {limit(f)}
					</p>
				)}
				<p>{f.why}</p>
				{f.figures.length > 0 && (
					<dl>
						{f.figures.map((x) => (
							<div key={x.label}>
								<dt>{x.label}</dt>
								<dd>{x.value}</dd>
							</div>
						))}
					</dl>
				)}
				{f.changes.length > 0 && (
					<>
						<h3>What would change it</h3>
						<ul>
							{f.changes.map((c) => (
								<li key={c.what}>
									{c.what}: {c.effect}
								</li>
							))}
						</ul>
					</>
				)}
				<p class="quiet">Rests on {f.basis.replaceAll("-", " ")}.</p>
			</details>
			{caution && f.standing !== "good" && <p class="caution">{f.caution}</p>}
		</li>
	);
}

function limit(f: Finding): string {
	if (!f.limit) return "";
	const parts = [
		f.limit.at_least && `at least ${show(f.limit.at_least)}`,
		f.limit.at_most && `at most ${show(f.limit.at_most)}`,
	].filter(Boolean);
	return parts.length > 0 ? `wanted ${parts.join(", ")} (${f.limit.says})` : "";
}
