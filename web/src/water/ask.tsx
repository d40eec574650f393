// What the boat meets and what is done with it, as the question that is asked.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { AskOf } from "../api/types";

/** Ready conditions by the program's names. */
const CONDITIONS = {
	launch: "from rest on flat water",
	straight: "top speed on flat water",
	ripple: "top speed over a 10 mm ripple",
	gusty: "top speed into 8 m/s of wind, 15 mm ripple",
	wake: "top speed across a wake",
	"turn-left": "from top speed, half rudder left",
	"turn-right": "from top speed, half rudder right",
};

/** Days on the water that run at a press, in the order they get harder. */
export const DAYS: { name: string; title: string; says: string }[] = [
	{ name: "launch", title: "Launch", says: "from rest, flat water" },
	{ name: "ripple", title: "Ripple", says: "top speed, 10 mm ripple" },
	{ name: "gusty", title: "Gusty", says: "into 8 m/s, 15 mm ripple" },
	{ name: "wake", title: "A wake", says: "top speed, across it" },
	{ name: "turn-left", title: "Turn left", says: "from top speed, half rudder" },
	{ name: "turn-right", title: "Turn right", says: "from top speed, half rudder" },
];

/** The day as it is, for as long as it takes to see what comes of it. */
export const ready = (name: string): AskOf<"pond"> => ({ condition: name, seconds: 8, seed: 1 });

const SIDES = ["ahead", "left", "right", "astern"];

interface Asked {
	condition: string;
	water: string;
	height_mm: string;
	length_m: string;
	waterFrom: string;
	wind: string;
	windFrom: string;
	throttle: string;
	rudder: string;
	angle: string;
	at: string;
	script: string;
	start: string;
	seconds: string;
	seed: string;
	runs: string;
	odds: string;
}

const FIRST: Asked = {
	condition: "launch",
	water: "",
	height_mm: "20",
	length_m: "",
	waterFrom: "ahead",
	wind: "",
	windFrom: "ahead",
	throttle: "",
	rudder: "",
	angle: "half",
	at: "2",
	script: "",
	start: "",
	seconds: "10",
	seed: "1",
	runs: "1",
	odds: "",
};

/** Only what was asked: the rest is the condition's own. */
export function options(asked: Asked): AskOf<"pond"> {
	const out: AskOf<"pond"> = { condition: asked.condition };
	if (asked.seconds) out.seconds = Number(asked.seconds);
	const from = asked.waterFrom === "ahead" ? "" : `,from=${asked.waterFrom}`;
	const long = asked.length_m ? `,${asked.length_m}m` : "";
	if (asked.water === "flat") out.water = "flat";
	else if (asked.water === "wake") out.water = `wake=${asked.height_mm}mm${long || ",0.8m"}`;
	else if (asked.water === "waves")
		out.water = `waves=${asked.height_mm}mm${long || ",1.5m"}${from}`;
	else if (asked.water === "ripple") out.water = `ripple=${asked.height_mm}mm${long}${from}`;
	if (asked.wind) out.wind = `${asked.wind}m/s,from=${asked.windFrom}`;
	if (asked.script.trim()) out.script = { text: asked.script };
	else {
		if (asked.throttle) out.throttle = `${asked.throttle}%`;
		if (asked.rudder) {
			const plain = Number.isFinite(Number(asked.angle));
			out.rudder = `${asked.rudder}=${asked.angle}${plain ? "deg" : ""},at=${asked.at || "2"}s`;
		}
	}
	if (asked.start)
		out.start = Number.isFinite(Number(asked.start)) ? `${asked.start}km/h` : asked.start;
	if (asked.seed) out.seed = Number(asked.seed);
	if (Number(asked.runs) > 1) out.runs = Number(asked.runs);
	if (asked.odds) out.odds = true;
	return out;
}

export const first = () => ({ ...FIRST });

let last = first();

interface Props {
	busy: boolean;
	onRun: (how: AskOf<"pond">) => void;
}

export function Ask({ busy, onRun }: Props) {
	const [asked, setAsked] = useState(last);
	const set = (key: keyof Asked) => (e: { currentTarget: { value: string } }) => {
		last = { ...asked, [key]: e.currentTarget.value };
		setAsked(last);
	};
	const waves = asked.water !== "" && asked.water !== "flat";
	return (
		<form
			class="ask"
			aria-label="A day of your own"
			onSubmit={(e) => {
				e.preventDefault();
				onRun(options(asked));
			}}
		>
			<Field name="Condition">
				<select value={asked.condition} onChange={set("condition")}>
					{Object.entries(CONDITIONS).map(([name, words]) => (
						<option key={name} value={name}>
							{words}
						</option>
					))}
				</select>
			</Field>
			<Field name="Water">
				<select value={asked.water} onChange={set("water")}>
					<option value="">the condition's own</option>
					<option>flat</option>
					<option>ripple</option>
					<option>waves</option>
					<option>wake</option>
				</select>
			</Field>
			{waves && (
				<>
					<Number_ name="Height, mm" value={asked.height_mm} onInput={set("height_mm")} />
					<Number_
						name="Length, m"
						hint={asked.water === "ripple" ? "22 heights" : asked.water === "waves" ? "1.5" : "0.8"}
						value={asked.length_m}
						onInput={set("length_m")}
					/>
				</>
			)}
			{waves && asked.water !== "wake" && (
				<Side name="Waves from" value={asked.waterFrom} onChange={set("waterFrom")} />
			)}
			<Number_
				name="Wind, m/s"
				hint="the condition's own"
				value={asked.wind}
				onInput={set("wind")}
			/>
			{asked.wind && <Side name="Wind from" value={asked.windFrom} onChange={set("windFrom")} />}
			<Number_
				name="Throttle, %"
				hint="holds the speed"
				value={asked.throttle}
				onInput={set("throttle")}
			/>
			<Field name="Rudder">
				<select value={asked.rudder} onChange={set("rudder")}>
					<option value="">the condition's own</option>
					<option>left</option>
					<option>right</option>
				</select>
			</Field>
			{asked.rudder && (
				<>
					<Field name="Angle, ° (or half, full)">
						<input value={asked.angle} onInput={set("angle")} />
					</Field>
					<Number_ name="After, s" value={asked.at} onInput={set("at")} />
				</>
			)}
			<Field name="Start (rest, top or km/h)">
				<input value={asked.start} placeholder="the condition's own" onInput={set("start")} />
			</Field>
			<Number_ name="Seconds" value={asked.seconds} onInput={set("seconds")} />
			<Number_ name="Seed of the ripple" value={asked.seed} onInput={set("seed")} />
			<Number_ name="Runs to count" value={asked.runs} onInput={set("runs")} />
			<label class="tick">
				<input
					type="checkbox"
					checked={asked.odds !== ""}
					onChange={(e) =>
						set("odds")({ currentTarget: { value: e.currentTarget.checked ? "yes" : "" } })
					}
				/>{" "}
				How often it ends upside down, by speed and ripple (takes a while)
			</label>
			<details>
				<summary>Throttle and rudder from a file</summary>
				<Field name="time, throttle and rudder; replaces both above">
					<textarea
						rows={5}
						placeholder={"time [s], throttle [%], rudder [deg]\n0, 0, 0\n2, 100, 0\n5, 80, 12"}
						value={asked.script}
						onInput={set("script")}
					/>
				</Field>
			</details>
			<button type="submit" class="main" disabled={busy}>
				Run it
			</button>
		</form>
	);
}

function Field({ name, children }: { name: string; children: ComponentChildren }) {
	return (
		// biome-ignore lint/a11y/noLabelWithoutControl: the control is its child
		<label class="field">
			<span>{name}</span>
			{children}
		</label>
	);
}

interface NumberProps {
	name: string;
	value: string;
	hint?: string;
	onInput: (e: { currentTarget: { value: string } }) => void;
}

function Number_({ name, value, hint, onInput }: NumberProps) {
	return (
		<Field name={name}>
			<input type="number" step="any" min="0" value={value} placeholder={hint} onInput={onInput} />
		</Field>
	);
}

interface SideProps {
	name: string;
	value: string;
	onChange: (e: { currentTarget: { value: string } }) => void;
}

function Side({ name, value, onChange }: SideProps) {
	return (
		<Field name={name}>
			<select value={value} onChange={onChange}>
				{SIDES.map((side) => (
					<option key={side}>{side}</option>
				))}
			</select>
		</Field>
	);
}
