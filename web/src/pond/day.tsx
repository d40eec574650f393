import { useState } from "preact/hooks";
import { Field } from "./field";
import { type Note, notes, outing, write } from "./outing";

const KEYS = [
	["place", "Place", "Where you ran"],
	["water", "Water", "calm, ripple, chop, weed"],
	["air_temperature", "Air", "16 °C: it sets the speed of sound; 6 °C are 1 % of speed"],
	["water_temperature", "Water temperature", "14 °C"],
	["wind", "Wind", "2 m/s"],
	[
		"build",
		"Build that ran",
		"as its folder in builds is named; the boat as it is now unless given",
	],
] as const;

/** What the builder says of the day, key by key of `outing.toml`. */
export function Day() {
	const now = outing.value;
	if (!now) return null;
	const said = notes.value;
	const change = (key: string, text: string) => {
		const note: Note = { key, value: text.trim() === "" ? null : text };
		void write([note]);
	};
	return (
		<section aria-label="The day">
			<h3>The day</h3>
			{now.notes === null && (
				<div class="caution" role="alert">
					<p>
						<b>outing.toml cannot be read.</b> Put it right in an editor:
					</p>
					<ul>
						{now.problems.map((p) => (
							<li key={`${p.line}${p.text}`}>
								line {p.line}: {p.text}. {p.hint}
							</li>
						))}
					</ul>
				</div>
			)}
			<div class="notes">
				{KEYS.map(([key, name, hint]) => (
					<Field
						key={key}
						name={name}
						value={said[key] ?? ""}
						hint={hint}
						say={(text) => change(key, text)}
					/>
				))}
				<Told text={said.what_happened ?? ""} say={(text) => change("what_happened", text)} />
			</div>
		</section>
	);
}

function Told({ text, say }: { text: string; say: (text: string) => void }) {
	const [now, setNow] = useState<string | null>(null);
	return (
		<label class="wide">
			What happened, in your own words
			<textarea
				rows={5}
				value={now ?? text.trim()}
				onInput={(e) => setNow(e.currentTarget.value)}
				onChange={(e) => {
					say(e.currentTarget.value);
					setNow(null);
				}}
			/>
		</label>
	);
}
