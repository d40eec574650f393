import type { Refusal } from "../api/types";
import type { Analysis, Value } from "./analysis";
import { shown, title } from "./units";

/** What a recording came to: sentences, values with their uncertainty, and what to know about them. */
export function Answers({ of, first }: { of: Analysis; first?: readonly string[] }) {
	const leading = of.quantities.filter((q) => first?.includes(q.kind) && q.statistic !== "total");
	const rest = of.quantities.filter((q) => !leading.includes(q));
	return (
		<div class="answers">
			{leading.length > 0 && (
				<ul class="leading">
					{leading.map((q) => (
						<li key={key(q)}>
							<Sentence of={q} />
						</li>
					))}
				</ul>
			)}
			{of.says.length > 0 && (
				<ul class="says">
					{of.says.map((s) => (
						<li key={s}>{capital(s)}.</li>
					))}
				</ul>
			)}
			{rest.length > 0 && (
				<details>
					<summary>All {of.quantities.length} values, with how each was measured</summary>
					<Values all={of.quantities} />
				</details>
			)}
			{of.remarks.length > 0 && (
				<details>
					<summary>
						{of.remarks.length === 1 ? "One remark" : `${of.remarks.length} remarks`}: faults,
						assumptions, what was passed over
					</summary>
					<ul>
						{of.remarks.map((r) => (
							<li key={r}>{r}</li>
						))}
					</ul>
				</details>
			)}
		</div>
	);
}

const key = (q: Value) =>
	`${q.kind}${q.statistic}${q.from.method}${q.from.which}${q.window?.from_s}`;

function Sentence({ of: q }: { of: Value }) {
	const whose = q.from.which ? `, shaft ${q.from.which}` : "";
	return (
		<>
			<b>
				{capital(title(q))} {shown(q)}
			</b>{" "}
			<span class="quiet">
				by {q.from.method}
				{whose}
				{q.remark && `; ${q.remark}`}
			</span>
		</>
	);
}

/** A table of values. */
export function Values({ all }: { all: readonly Value[] }) {
	return (
		// biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
		<div class="scroll" role="region" aria-label="Values" tabIndex={0}>
			<table>
				<thead>
					<tr>
						<th scope="col">What</th>
						<th scope="col">Measured</th>
						<th scope="col">When, s</th>
						<th scope="col">How</th>
					</tr>
				</thead>
				<tbody>
					{all.map((q) => (
						<tr key={key(q)}>
							<td>{title(q)}</td>
							<td>{shown(q)}</td>
							<td>
								{q.window ? `${q.window.from_s.toFixed(1)} to ${q.window.to_s.toFixed(1)}` : ""}
							</td>
							<td>
								{q.from.method}
								{q.remark && `; ${q.remark}`}
							</td>
						</tr>
					))}
				</tbody>
			</table>
		</div>
	);
}

/** Why a recording gave nothing. */
export function Unusable({ why }: { why: Refusal }) {
	return (
		<p class="caution" role="alert">
			<b>{capital(why.message)}.</b> {why.hint}
		</p>
	);
}

export const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
