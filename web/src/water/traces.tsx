import { useEffect, useRef, useState } from "preact/hooks";
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { look } from "../ui/look";
import { Take } from "../ui/take";
import { at, type Listed, type Recording } from "./recording";
import { now, seek } from "./time";

interface Drawn {
	title: string;
	unit: string;
	lines: { label: string; of: Listed; times?: number }[];
}

const TRACES: Drawn[] = [
	{ title: "Speed", unit: "km/h", lines: [{ label: "speed", of: "speed_km_h" }] },
	{
		title: "Pitch and heel",
		unit: "°",
		lines: [
			{ label: "bow up", of: "trim_deg" },
			{ label: "starboard down", of: "heel_deg" },
		],
	},
	{
		title: "Height",
		unit: "mm",
		lines: [
			{ label: "centre of gravity", of: "height_m", times: 1000 },
			{ label: "water under it", of: "water_m", times: 1000 },
		],
	},
	{
		title: "Acceleration",
		unit: "g",
		lines: [
			{ label: "up", of: "up_g" },
			{ label: "to port", of: "across_g" },
		],
	},
	{ title: "Current", unit: "A", lines: [{ label: "battery", of: "current_a" }] },
	{ title: "Propeller", unit: "rpm", lines: [{ label: "shaft", of: "shaft_rpm" }] },
	{
		title: "Throttle and rudder",
		unit: "% and °",
		lines: [
			{ label: "throttle, %", of: "throttle", times: 100 },
			{ label: "rudder left, °", of: "rudder_deg" },
		],
	},
];

const HIGH = 130;
const DASHES = [[], [7, 4]];

/** Drawn tall and in sight; the rest is folded. */
const FIRST = 3;

/** Everything over time, each under the other on one clock. */
export function Traces({ run }: { run: Recording }) {
	const times = run.trace.speed_km_h.map((_, i) => i * run.trace.step_s);
	return (
		<section class="traces" aria-label="Traces">
			{TRACES.slice(0, FIRST).map((t) => (
				<Plot key={t.title} drawn={t} run={run} times={times} />
			))}
			<More run={run} times={times} />
			<Numbers run={run} times={times} />
		</section>
	);
}

function More({ run, times }: { run: Recording; times: number[] }) {
	const [open, setOpen] = useState(false);
	const rest = TRACES.slice(FIRST);
	return (
		<details onToggle={(e) => setOpen(e.currentTarget.open)}>
			<summary>More: {rest.map((t) => t.title.toLowerCase()).join(", ")}</summary>
			{open && rest.map((t) => <Plot key={t.title} drawn={t} run={run} times={times} />)}
		</details>
	);
}

/** All plots show the same stretch of time. */
const together = new Set<uPlot>();
let following = false;

function follow(from: uPlot) {
	const { min, max } = from.scales.x ?? {};
	if (following || min == null || max == null) return;
	following = true;
	for (const plot of together) if (plot !== from) plot.setScale("x", { min, max });
	following = false;
}

function Plot({ drawn, run, times }: { drawn: Drawn; run: Recording; times: number[] }) {
	const place = useRef<HTMLDivElement>(null);
	const palette = look.value;
	useEffect(() => {
		const into = place.current;
		if (!into) return;
		const css = getComputedStyle(document.documentElement);
		const of = (name: string) => css.getPropertyValue(`--${name}`).trim();
		const values = drawn.lines.map((l) => run.trace[l.of].map((v) => v * (l.times ?? 1)));
		const axis = {
			stroke: of("ink"),
			grid: { stroke: of("line"), width: 1 },
			ticks: { show: false },
		};
		const width = () => Math.max(into.clientWidth, 200);
		// Of the play head, once there is something to stand on.
		let stand = () => {};
		const plot = new uPlot(
			{
				width: width(),
				height: HIGH,
				legend: { show: false },
				scales: { x: { time: false } },
				cursor: { y: false, sync: { key: "run" } },
				axes: [
					{ ...axis, size: 24 },
					{ ...axis, size: 56 },
				],
				series: [
					{},
					...drawn.lines.map((l, i) => ({
						label: l.label,
						stroke: of(i === 0 ? "ink" : "stop"),
						dash: DASHES[i],
						width: 2,
						points: { show: false },
					})),
				],
				hooks: {
					setScale: [(u, key) => key === "x" && follow(u)],
					draw: [() => stand()],
				},
			},
			[times, ...values],
			into,
		);
		together.add(plot);
		const head = document.createElement("div");
		head.className = "head";
		plot.over.append(head);
		stand = () => {
			const left = plot.valToPos(now.value, "x");
			head.style.transform = `translateX(${left}px)`;
			head.hidden = left < 0 || left > plot.over.clientWidth;
		};
		const stop = now.subscribe(stand);
		let pressed = 0;
		plot.over.addEventListener("pointerdown", (e) => {
			pressed = e.clientX;
		});
		plot.over.addEventListener("click", (e) => {
			// A drag chooses a stretch of time; a click goes to one.
			if (Math.abs(e.clientX - pressed) < 4) seek(plot.posToVal(e.offsetX, "x"));
		});
		const resize = () => plot.setSize({ width: width(), height: HIGH });
		window.addEventListener("resize", resize);
		return () => {
			window.removeEventListener("resize", resize);
			stop();
			together.delete(plot);
			plot.destroy();
		};
	}, [drawn, run, palette]);
	return (
		<figure class="trace">
			<figcaption>
				<b>{drawn.title}</b>, {drawn.unit}
				{drawn.lines.length > 1 &&
					drawn.lines.map((l, i) => ` · ${i === 0 ? "—" : "╌"} ${l.label}`).join("")}
				<Now drawn={drawn} run={run} />
				<span class="quiet"> {extent(drawn, run)}</span>
			</figcaption>
			<div ref={place} aria-hidden="true" />
		</figure>
	);
}

/** What it reads at the play head. */
function Now({ drawn, run }: { drawn: Drawn; run: Recording }) {
	const time = now.value;
	const values = drawn.lines.map((l) => plain(at(run.trace, l.of, time) * (l.times ?? 1)));
	return (
		<output>
			{" "}
			{values.join(" / ")} {drawn.unit}
		</output>
	);
}

/** For those who do not see the picture. */
function extent(drawn: Drawn, run: Recording): string {
	const [line] = drawn.lines;
	if (!line) return "";
	const values = run.trace[line.of].map((v) => v * (line.times ?? 1));
	const [least, most] = [Math.min(...values), Math.max(...values)];
	return `${line.label} ${plain(least)} to ${plain(most)}`;
}

/** Three digits, and no fewer than stand before the point. */
const plain = (v: number) => (Math.abs(v) >= 100 ? v.toFixed(0) : v.toPrecision(3));

/** Rows of the table at most. */
const ROWS = 120;

function Numbers({ run, times }: { run: Recording; times: number[] }) {
	const every = Math.max(1, Math.ceil(times.length / ROWS));
	const lines = TRACES.flatMap((t) => t.lines.map((l) => ({ ...l, unit: t.unit })));
	const head = [
		"s",
		...lines.map((l) => (l.label.includes(",") ? l.label : `${l.label}, ${l.unit}`)),
	];
	const row = (t: number, i: number) => [
		t.toFixed(2),
		...lines.map((l) => plain((run.trace[l.of][i] ?? 0) * (l.times ?? 1))),
	];
	return (
		<details>
			<summary>The run as numbers</summary>
			<Take name="run" rows={[head, ...times.map(row)]} />
			{/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must take the keyboard */}
			<section class="scroll" tabIndex={0} aria-label="The run as numbers">
				<table>
					<thead>
						<tr>
							<th scope="col">s</th>
							{lines.map((l) => (
								<th scope="col" key={l.of}>
									{l.label.includes(",") ? l.label : `${l.label}, ${l.unit}`}
								</th>
							))}
						</tr>
					</thead>
					<tbody>
						{times.map(
							(t, i) =>
								i % every === 0 && (
									<tr key={t}>
										<th scope="row">{t.toFixed(2)}</th>
										{lines.map((l) => (
											<td key={l.of}>{plain((run.trace[l.of][i] ?? 0) * (l.times ?? 1))}</td>
										))}
									</tr>
								),
						)}
					</tbody>
				</table>
			</section>
		</details>
	);
}
