import { useState } from "preact/hooks";
import type { Key, Problem, Step } from "../api/types";
import { edit } from "../desk";
import * as state from "../state";

/** Every part and number of the boat file, as the program understands them. */
export default function Fitted() {
	const [all, setAll] = useState(false);
	const boat = state.boat.value;
	if (!boat) return null;
	return (
		<section class="fitted" aria-label="Fitted">
			<h2>Fitted</h2>
			<p class="quiet">
				Change a number with its unit, and a tolerance if you like: <code>38 mm ± 1 mm</code>.
				Nothing reaches your file until you save.
			</p>
			<label>
				<input type="checkbox" checked={all} onChange={(e) => setAll(e.currentTarget.checked)} />{" "}
				Show what could be given too
			</label>
			{boat.tables
				.filter((t) => t.present || all)
				.map((t) => (
					<details key={t.path.join("/")} open={t.path[0] === "part" || t.path[0] === "hull"}>
						<summary>
							<b>{t.title}</b>
						</summary>
						<p class="quiet">{t.doc}</p>
						{t.keys
							.filter((k) => k.form.what !== "table" && (k.written != null || all || k.required))
							.map((k) => (
								<KeyRow key={k.path.join("/")} of={k} problems={boat.problems} />
							))}
					</details>
				))}
		</section>
	);
}

function KeyRow({ of: k, problems }: { of: Key; problems: readonly Problem[] }) {
	const id = `key-${k.path.join("-").replaceAll(/[^a-zA-Z0-9-]/g, "_")}`;
	const here = k.line > 0 ? problems.filter((p) => p.line === k.line) : [];
	const written = text(k.written);
	const change = (value: string) => {
		if (value === written) return;
		const path = k.path as Step[];
		void edit([
			value.trim() === ""
				? { path, action: "remove" }
				: { path, action: "set", value: parsed(k, value) },
		]);
	};
	const hint = k.assumed ? `${k.assumed} assumed` : "not given";
	return (
		<div class="key">
			<label for={id}>{k.name}</label>
			{k.form.what === "choice" ? (
				<select id={id} value={written} onChange={(e) => change(e.currentTarget.value)}>
					{written === "" && <option value="">{hint}</option>}
					{k.form.words.map((w) => (
						<option key={w}>{w}</option>
					))}
				</select>
			) : (
				<input
					id={id}
					value={written}
					placeholder={hint}
					aria-describedby={`${id}-about`}
					aria-invalid={here.some((p) => !p.warning)}
					onChange={(e) => change(e.currentTarget.value)}
				/>
			)}
			<span class="quiet" id={`${id}-about`}>
				{k.doc} {k.form.range ? `Between ${k.form.range}.` : ""} {k.why ? `Assumed: ${k.why}.` : ""}
			</span>
			{here.map((p) => (
				<span class="problem" role="alert" key={p.text}>
					{p.warning ? "▲" : "✗"} {p.text}. {p.hint}
				</span>
			))}
		</div>
	);
}

/** A place is written as its three lengths, one after the other. */
export function text(written: unknown): string {
	if (written === null || written === undefined) return "";
	return Array.isArray(written) ? written.join(", ") : String(written);
}

/** What the file takes: a list, a whole number, true or false, else the text as typed. */
export function parsed(k: Pick<Key, "form">, value: string): unknown {
	switch (k.form.what) {
		case "lengths":
		case "files":
			return value.split(",").map((v) => v.trim());
		case "count":
			return Number.isInteger(Number(value)) ? Number(value) : value;
		case "flag":
			return value === "true" ? true : value === "false" ? false : value;
		default:
			return k.form.what === "quantity" && value.trim() !== "" && Number.isFinite(Number(value))
				? Number(value)
				: value;
	}
}
