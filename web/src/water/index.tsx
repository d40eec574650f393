// A run in time: ripple, wind, throttle and rudder; what happens; and the whole of it to go through.
import { useRef, useState } from "preact/hooks";
import { Refused } from "../api/client";
import type { AskOf, Job } from "../api/types";
import { answered, follow } from "../api/work";
import * as state from "../state";
import { best } from "../ui/format";
import { inWords, say } from "../ui/units";
import { Ask, DAYS, ready } from "./ask";
import { Player } from "./player";
import type { Odds, Recording, RunEvent, Runs } from "./recording";
import { now, playing, ranWith, recording } from "./time";
import { Traces } from "./traces";
import "./water.css";

export default function Water() {
	const [job, setJob] = useState<Job | null>(null);
	const stop = useRef<() => void>(() => {});
	const start = async (how: AskOf<"pond">) => {
		state.fault.value = null;
		const revision = state.boat.value?.whatif_revision ?? "";
		try {
			const done = await follow("pond", how, setJob, (way) => {
				stop.current = way;
			});
			if (done.refusal) state.fault.value = done.refusal;
			// Of a count that was stopped, what was counted so far.
			const came = answered("pond", done.result);
			if (came) {
				playing.value = false;
				now.value = 0;
				recording.value = came;
				ranWith.value = revision;
			}
		} catch (e) {
			if (!(e instanceof Refused)) throw e;
			state.fault.value = e.refusal;
		} finally {
			setJob(null);
		}
	};
	const shown = recording.value;
	return (
		<div class="water">
			<div class="side">
				<h2>Water</h2>
				<div class="days" role="group" aria-label="Ready days">
					{DAYS.map((d) => (
						<button
							type="button"
							key={d.name}
							disabled={job !== null}
							aria-pressed={shown?.condition === d.name}
							onClick={() => void start(ready(d.name))}
						>
							<b>{d.title}</b> <span class="quiet">{inWords(d.says)}</span>
						</button>
					))}
				</div>
				<details class="own">
					<summary>A day of your own</summary>
					<Ask busy={job !== null} onRun={(options) => void start(options)} />
				</details>
				{job && <Working job={job} onStop={() => stop.current()} />}
			</div>
			{shown ? (
				<div class="run">
					<Summary run={shown} />
					<Player run={shown} />
					<Traces run={shown} />
				</div>
			) : (
				<p class="quiet run">
					Press a day: the boat then runs, bounces, turns or flies here, and you can go through it
					moment by moment.
				</p>
			)}
		</div>
	);
}

function Working({ job, onStop }: { job: Job; onStop: () => void }) {
	const part = job.part ?? undefined;
	return (
		<div class="working" role="status">
			<label>
				<span class="busy">{job.doing} …</span>
				<progress max={1} value={part} />
			</label>
			<button type="button" onClick={onStop}>
				Stop
			</button>
		</div>
	);
}

function Summary({ run: r }: { run: Recording }) {
	const old = ranWith.value !== state.boat.value?.whatif_revision;
	return (
		<div class="summary">
			<p class="outcome">
				<b>{outcome(r)}</b>
			</p>
			<p class="quiet">
				{r.water.replaceAll(/[=,]/g, " ")} water, wind {r.wind}, start {r.start},{" "}
				{r.hands.endsWith(".csv") ? "hands by the table" : r.hands.replaceAll("=", " ")}, seed{" "}
				{r.seed}.
				{r.stopped && (
					<>
						{" "}
						<b class="mark stop">■ {r.stopped}.</b>
					</>
				)}
			</p>
			<p class="quiet">
				Hardest: {r.peaks.up_g.toFixed(1)} g up, {r.peaks.across_g.toFixed(1)} g sideways,{" "}
				{r.peaks.bow_g.toFixed(1)} g at the bow.
			</p>
			{r.runs && <Counted runs={r.runs} />}
			{r.odds.length > 0 && <OddsTable odds={r.odds} />}
			{old && <p class="mark unsure">◇ The boat was changed since this run.</p>}
			<p class="quiet">Rests on {r.rests_on}.</p>
		</div>
	);
}

/** What came of it, in one sentence: the worst that happened, else how it ran. */
export function outcome(r: Pick<Recording, "events" | "trace" | "stopped">): string {
	const lost = r.events.find((e) => ["flips", "dives", "rolls", "trips"].includes(e.what));
	const speed = (e: RunEvent) => say({ ...e.speed, spread: 0 });
	if (lost) return `It ${lost.what} at ${best(lost.time).toFixed(1)} s, going ${speed(lost)}.`;
	const count = (what: string) => r.events.filter((e) => e.what === what).length;
	const told = [
		count("leaves") > 0 && `leaves the water ${times(count("leaves"))}`,
		count("hops") > 0 && "hops",
		count("ventilates") > 0 && `draws air ${times(count("ventilates"))}`,
		count("hooks") > 0 && "hooks",
	].filter(Boolean);
	const last = r.trace.speed_km_h.at(-1) ?? 0;
	const ends = `ends at ${say({ value: Math.round(last), spread: 0, unit: "km/h" })}`;
	return `It stays up${told.length > 0 ? `, ${told.join(", ")}` : ""} and ${ends}.`;
}

const times = (n: number) => (n === 1 ? "once" : n === 2 ? "twice" : `${n} times`);

const percent = (share: number) => `${(100 * share).toFixed(0)} %`;

/** Shares lost upside down, a row a speed and a column a ripple. */
function OddsTable({ odds }: { odds: readonly Odds[] }) {
	const speeds = [...new Set(odds.map((o) => best(o.speed)))];
	const ripples = [...new Set(odds.map((o) => best(o.ripple)))];
	const [first] = odds;
	return (
		<table>
			<caption>Ends upside down, of {first?.count.runs} runs each (95 % interval)</caption>
			<thead>
				<tr>
					<th scope="col">{first?.speed.unit}</th>
					{ripples.map((r) => (
						<th scope="col" key={r}>
							ripple {r} {first?.ripple.unit}
						</th>
					))}
				</tr>
			</thead>
			<tbody>
				{speeds.map((s) => (
					<tr key={s}>
						<th scope="row">{s.toFixed(0)}</th>
						{ripples.map((r) => {
							const c = odds.find((o) => o.speed.value === s && o.ripple.value === r)?.count;
							return (
								<td key={r}>
									{c
										? `${percent(c.lost)} (${percent(c.lost_from)} to ${percent(c.lost_to)})`
										: "–"}
								</td>
							);
						})}
					</tr>
				))}
			</tbody>
		</table>
	);
}

function Counted({ runs: c }: { runs: Runs }) {
	const ends = [
		[c.flipped, "flipped"],
		[c.dived, "dived"],
		[c.rolled, "rolled"],
		[c.left_the_water, "left the water"],
		[c.not_finished, "not finished"],
	] as const;
	const told = ends.filter(([count]) => count > 0).map(([count, word]) => `${count} ${word}`);
	return (
		<p>
			Of {c.runs} runs {percent(c.lost)} were lost ({percent(c.lost_from)} to {percent(c.lost_to)}):{" "}
			{told.join(", ") || "none"}.
		</p>
	);
}
