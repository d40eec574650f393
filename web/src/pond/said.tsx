import { Field } from "./field";
import { notes, type Recording, write } from "./outing";

interface Said {
	key: string;
	name: string;
	hint: string;
	flag?: boolean;
}

const OF: Record<string, Said[]> = {
	sound: [
		{
			key: "closest",
			name: "Closest distance of the pass",
			hint: "8 m ± 1 m, paced out on the bank",
		},
		{
			key: "lowest_rpm",
			name: "Lowest rpm that can be",
			hint: "15000 rpm, and the highest with it",
		},
		{ key: "highest_rpm", name: "Highest rpm that can be", hint: "40000 rpm" },
		{ key: "from", name: "Listen from", hint: "12 s" },
		{ key: "to", name: "Listen to", hint: "40 s" },
		{ key: "channel", name: "Only channel", hint: "0; the mean of all unless given" },
		{ key: "still", name: "The boat did not move: on the bench, or held", hint: "", flag: true },
	],
	pulses: [
		{ key: "level_column", name: "Column of the level", hint: "1; counted from 0" },
		{ key: "sample_rate", name: "Samples a second", hint: "1000000; for a table without times" },
	],
};

const KINDS = ["sound", "track", "log", "pulses", "marks", "other"];

/** What the builder knows of a recording; it goes into `outing.toml`. */
export function Said({ of, kind }: { of: Recording; kind: string | undefined }) {
	const noted = notes.value.recording?.find((e) => e.file === of.name);
	const entry = noted as Record<string, unknown> | undefined;
	const say = (key: string, value: string | null) =>
		void write([{ recording: of.name, key, value: value?.trim() ? value : null }]);
	return (
		<details class="said">
			<summary>What you know of it</summary>
			<div class="notes">
				{(OF[kind ?? ""] ?? []).map((s) =>
					s.flag ? (
						<label key={s.key} class="wide">
							<input
								type="checkbox"
								checked={entry?.[s.key] === true}
								onChange={(e) => say(s.key, e.currentTarget.checked ? "true" : null)}
							/>{" "}
							{s.name}
						</label>
					) : (
						<Field
							key={s.key}
							name={s.name}
							value={entry?.[s.key] == null ? "" : String(entry[s.key])}
							hint={s.hint}
							say={(text) => say(s.key, text)}
						/>
					),
				)}
				<label>
					What it is
					<select
						value={noted?.kind ?? ""}
						onChange={(e) => say("kind", e.currentTarget.value || null)}
					>
						<option value="">as told from the file: {of.kind}</option>
						{KINDS.map((k) => (
							<option key={k}>{k}</option>
						))}
					</select>
				</label>
				<label class="wide">
					<input
						type="checkbox"
						checked={entry?.skip === true}
						onChange={(e) => say("skip", e.currentTarget.checked ? "true" : null)}
					/>{" "}
					Leave it out of what the outing measures
				</label>
			</div>
		</details>
	);
}
