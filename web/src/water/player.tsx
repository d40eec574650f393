import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import * as state from "../state";
import { best } from "../ui/format";
import { look } from "../ui/look";
import { inWords } from "../ui/units";
import { at, type Recording, type RunEvent, SHAPES } from "./recording";
import type { SeaView } from "./sea3d";
import { end, now, playing, rate, seek, tick, toggle } from "./time";

const RATES = [1, 0.5, 0.25, 0.1];

/** A boat that begins planing does not come to plane. */
const BEGAN_S = 0.02;
const told = (run: Recording): Recording => ({
	...run,
	events: run.events.filter((e) => e.what !== "planes" || best(e.time) > BEGAN_S),
});

/** The boat on moving water, with its clock. */
export function Player({ run: whole }: { run: Recording }) {
	const run = useMemo(() => told(whole), [whole]);
	useEffect(() => tick(), []);
	const keys = (e: KeyboardEvent) => {
		const on = e.target as HTMLElement;
		if (on.closest("button, select, textarea, summary") && e.key === " ") return;
		const by = e.shiftKey ? 1 : 0.1;
		const to: Record<string, () => void> = {
			" ": toggle,
			ArrowRight: () => seek(now.value + by),
			ArrowLeft: () => seek(now.value - by),
			Home: () => seek(0),
			End: () => seek(end()),
		};
		const act = to[e.key];
		if (!act || on.tagName === "SELECT") return;
		e.preventDefault();
		act();
	};
	return (
		<section class="player" aria-label="The run" onKeyDown={keys}>
			<Sea run={run} />
			<div class="clock">
				<button type="button" class="main" onClick={toggle}>
					{playing.value ? "❚❚ Pause" : "▶ Play"}
				</button>
				<Scrub run={run} />
				<select
					aria-label="How fast it plays"
					value={String(rate.value)}
					onChange={(e) => (rate.value = Number(e.currentTarget.value))}
				>
					{RATES.map((r) => (
						<option key={r} value={String(r)}>
							{r === 1 ? "real time" : `1/${1 / r} of it`}
						</option>
					))}
				</select>
			</div>
			<p class="quiet">
				Space plays and pauses; arrow keys go a tenth of a second, with Shift a whole one.
			</p>
			<Events events={run.events} />
		</section>
	);
}

function Scrub({ run }: { run: Recording }) {
	const words = `${now.value.toFixed(2)} s of ${end().toFixed(2)} s`;
	return (
		<label class="scrub">
			<span class="marks" aria-hidden="true">
				{run.events.map((e) => (
					<i
						key={e.what + best(e.time)}
						style={{ left: `${(100 * best(e.time)) / Math.max(end(), 1e-6)}%` }}
					>
						{SHAPES[e.what] ?? "•"}
					</i>
				))}
			</span>
			<input
				type="range"
				aria-label="Time of the run"
				min={0}
				max={end()}
				step={0.02}
				value={now.value}
				aria-valuetext={words}
				onInput={(e) => seek(Number(e.currentTarget.value))}
			/>
			<output>{words}</output>
		</label>
	);
}

/** Of these every one is told; of the rest the first of each kind. */
const GRAVE = ["flips", "dives", "rolls", "trips", "hooks"];

/** What matters of what happened: the grave, and the first of each other kind. */
export function matters(events: readonly RunEvent[]): RunEvent[] {
	const seen = new Set<string>();
	return events.filter((e) => {
		const first = !seen.has(e.what);
		seen.add(e.what);
		return first || GRAVE.includes(e.what);
	});
}

/** What happened, in order; each goes there. */
function Events({ events }: { events: readonly RunEvent[] }) {
	if (events.length === 0) return <p>Nothing out of the ordinary happened.</p>;
	const few = matters(events);
	return (
		<>
			<EventList events={few} label="What happened" />
			{few.length < events.length && (
				<details>
					<summary>All {events.length} of them</summary>
					<EventList events={events} label="All that happened" />
				</details>
			)}
		</>
	);
}

function EventList({ events, label }: { events: readonly RunEvent[]; label: string }) {
	return (
		<ol class="events" aria-label={label}>
			{events.map((e) => (
				<li key={e.what + best(e.time)}>
					<button
						type="button"
						onClick={() => {
							playing.value = false;
							seek(best(e.time));
						}}
					>
						<span aria-hidden="true">{SHAPES[e.what] ?? "•"}</span> {e.what} at{" "}
						{best(e.time).toFixed(2)} s, {inWords(`${best(e.speed).toFixed(0)} ${e.speed.unit}`)}
						{e.period &&
							`, ${e.what === "hops" ? "every" : "for"} ${best(e.period).toFixed(2)} ${e.period.unit}`}
						{e.height && `, ${inWords(`${best(e.height).toPrecision(2)} ${e.height.unit}`)} high`}
					</button>
				</li>
			))}
		</ol>
	);
}

function Sea({ run }: { run: Recording }) {
	const canvas = useRef<HTMLCanvasElement>(null);
	const [view, setView] = useState<SeaView | null>(null);
	const [fault, setFault] = useState(false);
	useEffect(() => {
		let made: SeaView | null = null;
		let gone = false;
		import("./sea3d")
			.then(({ SeaView }) => {
				if (gone || !canvas.current) return;
				made = new SeaView(canvas.current);
				made.resize();
				setView(made);
			})
			.catch(() => setFault(true));
		const resize = () => made?.resize();
		window.addEventListener("resize", resize);
		return () => {
			gone = true;
			window.removeEventListener("resize", resize);
			made?.dispose();
		};
	}, []);
	const [hull, form] = [state.hull.value, state.form.value];
	useEffect(() => {
		if (!view || !hull || !form) return;
		view.show(hull, form, form.balance_m as [number, number, number]);
		view.play(run);
		return now.subscribe((t) => view.go(t));
	}, [view, hull, run]);
	const palette = look.value;
	useEffect(() => {
		view?.repaint();
		view?.go(now.value);
	}, [view, palette]);
	return (
		<figure class="scene">
			<canvas ref={canvas} role="img" aria-label="The boat running over the water" />
			{fault && (
				<p class="quiet">
					This browser shows no three-dimensional drawing; the traces are all here.
				</p>
			)}
			<Readout run={run} />
		</figure>
	);
}

function Readout({ run }: { run: Recording }) {
	const of = (name: Parameters<typeof at>[1]) => at(run.trace, name, now.value);
	const [trim, heel] = [of("trim_deg"), of("heel_deg")];
	return (
		<figcaption>
			{of("speed_km_h").toFixed(1)} km/h, bow {trim < 0 ? "down" : "up"} {Math.abs(trim).toFixed(1)}
			°, {heel < 0 ? "port" : "starboard"} down {Math.abs(heel).toFixed(1)}°, throttle{" "}
			{(100 * of("throttle")).toFixed(0)} %
			{of("touching") < 0.5 && (
				<b>
					{" "}
					<span aria-hidden="true">{SHAPES.leaves}</span> clear of the water
				</b>
			)}
		</figcaption>
	);
}
