import { useEffect, useRef, useState } from "preact/hooks";
import type { Finding } from "../api/types";
import { edit } from "../desk";
import * as state from "../state";
import { Words } from "../ui/glossary";
import { Mark, STANDINGS, type Standing } from "../ui/mark";
import { inWords, say } from "../ui/units";
import { effect } from "../verdict/verdict";

/** Worst first, as the program sorts them. */
export default function Findings() {
	const study = state.shown.value?.study;
	if (!study) return null;
	const told = new Set<string>();
	const sure = study.findings.filter((f) => f.standing !== "pending");
	const pending = study.findings.filter((f) => f.standing === "pending");
	return (
		<section class="findings" aria-label="Findings">
			<h2>Findings</h2>
			<p class="quiet">{counted(sure)}</p>
			<Learned />
			<Next />
			<ol>
				{sure.map((f) => {
					// Each caution once, where it first matters.
					const first = f.caution != null && f.standing !== "good" && !told.has(f.caution);
					if (first && f.caution) told.add(f.caution);
					return <Entry key={f.id + f.sentence} finding={f} caution={first} />;
				})}
			</ol>
			{pending.length > 0 && (
				<p class="busy">Working it out: {listed(pending.map((f) => f.id))} …</p>
			)}
		</section>
	);
}

/** The change to make first, in full. */
function Next() {
	const study = state.shown.value?.study;
	const step = study?.verdict.next;
	if (!study?.full || !step) return null;
	return (
		<details class="step">
			<summary>
				Next: {inWords(step.what)} ({step.work})
			</summary>
			<ul>
				{step.gains.map((e) => (
					<li key={e.quantity}>
						<Words text={effect(e)} />
					</li>
				))}
				{step.costs.map((e) => (
					<li key={e.quantity}>
						costs: <Words text={effect(e)} />
					</li>
				))}
			</ul>
			{step.edits.length > 0 && (
				<button type="button" onClick={() => edit(step.edits)}>
					Try it
				</button>
			)}
		</details>
	);
}

/** What every answer here rests on besides the boat file. */
function Learned() {
	const study = state.shown.value?.study;
	if (!study) return null;
	return (
		<>
			{study.rests_on && <p>Predicted {study.rests_on}.</p>}
			{study.left_out.map((line) => (
				<p class="quiet" key={line}>
					Does not carry to this boat: {line}
				</p>
			))}
		</>
	);
}

/** Findings by their names, each once, in words. */
export const listed = (ids: readonly string[]): string =>
	[...new Set(ids)].map((id) => id.replaceAll("-", " ")).join(", ");

export function counted(findings: readonly { standing: string }[]): string {
	return Object.keys(STANDINGS)
		.map((word) => [findings.filter((f) => f.standing === word).length, word] as const)
		.filter(([count]) => count > 0)
		.map(([count, word]) => `${count} ${word}`)
		.join(", ");
}

function Entry({ finding: f, caution }: { finding: Finding; caution: boolean }) {
	const place = useRef<HTMLLIElement>(null);
	const [open, setOpen] = useState(false);
	const pointed = state.pointed.value === f.id;
	useEffect(() => {
		if (!pointed) return;
		state.pointed.value = null;
		setOpen(true);
		place.current?.scrollIntoView({ block: "nearest" });
		place.current?.querySelector("summary")?.focus({ preventScroll: true });
	}, [pointed]);
	return (
		<li class={`finding ${f.standing}`} ref={place}>
			<Mark standing={f.standing as Standing} />
			<details open={open} onToggle={(e) => setOpen(e.currentTarget.open)}>
				<summary>{inWords(f.sentence)}</summary>
				{f.number && (
					<p>
						<b>{say(f.number)}</b>
						{f.limit && `; wanted ${inWords(f.limit.shown)} (${f.limit.says})`}
					</p>
				)}
				<p>
					<Words text={f.why} />
				</p>
				{f.figures.length > 0 && (
					<dl>
						{f.figures.map((x) => (
							<div key={x.label + x.value}>
								<dt>{x.label}</dt>
								<dd>{inWords(x.value)}</dd>
							</div>
						))}
					</dl>
				)}
				<Changes finding={f} />
				<p class="quiet">Rests on {f.basis_words}.</p>
			</details>
			{caution && <p class="caution">{f.caution}</p>}
		</li>
	);
}

function Changes({ finding: f }: { finding: Finding }) {
	if (f.changes.length === 0) return null;
	return (
		<>
			<h3>What would change it</h3>
			<ul class="changes">
				{f.changes.map((c) => (
					<li key={c.what}>
						{inWords(c.what)}: {inWords(c.effect)}{" "}
						{c.edits.length > 0 && (
							<button type="button" onClick={() => edit(c.edits)}>
								Try it
							</button>
						)}
					</li>
				))}
			</ul>
		</>
	);
}
