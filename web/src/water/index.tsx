// A run in time: ripple, wind, throttle and rudder; what happens; and the whole of it to go through.
import { useRef, useState } from "preact/hooks";
import { Refused } from "../api/client";
import type { AskOf, Job } from "../api/types";
import { answered, follow } from "../api/work";
import * as state from "../state";
import { best } from "../ui/format";
import { Ask } from "./ask";
import { Player } from "./player";
import type { Odds, Recording, Runs } from "./recording";
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
				<Ask busy={job !== null} onRun={(options) => void start(options)} />
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
					Choose what it meets and run it: the boat then runs, bounces, turns or flies here, and you
					can go through it moment by moment.
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
			<p>
				<b>{r.boat}</b>: {r.water.replaceAll(/[=,]/g, " ")} water, wind {r.wind}, start {r.start},{" "}
				{r.hands.endsWith(".csv") ? "hands by the table" : r.hands}, seed {r.seed}.
				{r.stopped && (
					<>
						{" "}
						<b class="mark stop">■ {r.stopped}.</b>
					</>
				)}
			</p>
			<p>
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
