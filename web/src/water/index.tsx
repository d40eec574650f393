// A run in time: ripple, wind, throttle and rudder; what happens; and the whole of it to go through.
import { signal } from "@preact/signals";
import { useRef, useState } from "preact/hooks";
import { Refused } from "../api/client";
import type { AskOf, Job } from "../api/types";
import { answered, follow } from "../api/work";
import * as state from "../state";
import { best } from "../ui/format";
import { inWords, say } from "../ui/units";
import { Working } from "../ui/working";
import { Ask, DAYS, ready } from "./ask";
import { Player } from "./player";
import type { Odds, Recording, RunEvent, Runs } from "./recording";
import { now, playing, ranWith, recording } from "./time";
import { Traces } from "./traces";
import "./water.css";

/** Which of the ready days the run is; none for one of the builder's own. */
const ready_day = signal("");

export default function Water() {
	const [job, setJob] = useState<Job | null>(null);
	const stop = useRef<() => void>(() => {});
	const start = async (how: AskOf<"pond">, day = "") => {
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
				ready_day.value = day;
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
							aria-pressed={shown !== null && ready_day.value === d.name}
							onClick={() => void start(ready(d.name), d.name)}
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
					<Summary run={shown} busy={job !== null} onRun={(how) => void start(how)} />
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

interface Summed {
	run: Recording;
	busy: boolean;
	onRun: (how: AskOf<"pond">) => void;
}

function Summary({ run: r, busy, onRun }: Summed) {
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
			{r.odds.length > 0 && <OddsTable odds={r.odds} seed={r.seed} busy={busy} onRun={onRun} />}
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

interface OddsAsked {
	odds: readonly Odds[];
	seed: number;
	busy: boolean;
	onRun: (how: AskOf<"pond">) => void;
}

/** The first of the runs that were counted there, as the question that runs it. */
export const firstOf = (o: Odds, seed: number): AskOf<"pond"> => ({
	condition: "straight",
	water: `ripple=${best(o.ripple)}${o.ripple.unit}`,
	start: `${best(o.speed)}${o.speed.unit}`,
	seconds: best(o.seconds),
	seed,
});

/** Shares lost upside down, a row a speed and a column a ripple; each is of runs that can be looked at. */
function OddsTable({ odds, seed, busy, onRun }: OddsAsked) {
	const speeds = [...new Set(odds.map((o) => best(o.speed)))];
	const ripples = [...new Set(odds.map((o) => best(o.ripple)))];
	const [first] = odds;
	const differs = [...new Set(odds.flatMap((o) => o.differs))];
	return (
		<>
			<table class="odds">
				<caption>
					Ends upside down within {first && say(first.seconds)}, of {first?.count.runs} runs each:
					flat out whatever happens, and with a driver who lifts off. Press one to see the first of
					its runs.
				</caption>
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
								const o = odds.find((o) => o.speed.value === s && o.ripple.value === r);
								return (
									<td key={r}>
										{o ? (
											<button type="button" disabled={busy} onClick={() => onRun(firstOf(o, seed))}>
												<b>{percent(o.count.lost)}</b>{" "}
												<span class="quiet">
													{percent(o.count.lost_from)} to {percent(o.count.lost_to)}; lifting off{" "}
													{percent(o.lifting.lost)}
												</span>
											</button>
										) : (
											"–"
										)}
									</td>
								);
							})}
						</tr>
					))}
				</tbody>
			</table>
			{differs.length > 0 && (
				<p class="quiet">
					Not the runs above and below: {differs.join("; ")}. The strip and the sentence are of the
					one run that is shown.
				</p>
			)}
		</>
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
			Of {c.runs} runs like this one, which is the first of them, {percent(c.lost)} were lost (
			{percent(c.lost_from)} to {percent(c.lost_to)}): {told.join(", ") || "none"}.
		</p>
	);
}
