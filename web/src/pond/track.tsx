import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { look } from "../ui/look";
import { Take } from "../ui/take";
import type { Analysis, Value } from "./analysis";
import { Answers } from "./answers";
import { type Courses, readCourses } from "./binary";
import { at } from "./decimate";
import { fetched } from "./fetched";
import { head, type Recording, setHead } from "./outing";
import { recordingUrl } from "./sound";
import { type Line, Traces } from "./traces";
import { clock, reading, shown, title } from "./units";

/** Slow to fast; told apart in grey too, and the line grows wider with speed. */
export const SHADES = ["#2c3e73", "#35618f", "#3f83a0", "#5aa39b", "#8fbd7f", "#cfcf5f", "#f0d848"];

const SIZE = 640;

/** The courses of a recording, once they are there. */
export function useCourses(of: Recording): [Courses | null, string] {
	const [got, setGot] = useState<Courses | null>(null);
	const [wrong, setWrong] = useState("");
	useEffect(() => {
		const stop = new AbortController();
		setGot(null);
		fetched(`${recordingUrl(of)}/courses`, stop.signal)
			.then((bytes) => {
				setGot(readCourses(bytes));
				setWrong("");
			})
			.catch((e: Error) => {
				if (!stop.signal.aborted) setWrong(e.message);
			});
		return () => stop.abort();
	}, [of.file]);
	return [got, wrong];
}

export function linesOf(all: Courses, shift = 0, from?: string): Line[] {
	return all.courses.map((c) => ({
		name: c.name,
		reading: reading(c.name, c.unit),
		time: all.time,
		values: c.values,
		shift,
		from,
	}));
}

/** A track: the way on a plan by speed, speeds held, laps, and speed against time. */
export function Track({ of, analysis }: { of: Recording; analysis?: Analysis }) {
	const [all, wrong] = useCourses(of);
	const [part, setPart] = useState<Value | null>(null);
	const lines = useMemo(() => (all ? linesOf(all).filter((l) => l.name === "speed") : []), [all]);
	const held = analysis?.quantities.filter((q) => q.statistic === "best_held") ?? [];
	const others =
		analysis?.quantities.filter(
			(q) => ["lap_time", "turn_radius"].includes(q.kind) || q.statistic === "two_way",
		) ?? [];
	if (wrong) return <p class="caution">{wrong}</p>;
	return (
		<div class="track">
			{analysis && <Answers of={analysis} first={["speed"]} />}
			<div class="track-split">
				<div>
					{all ? (
						<Plan all={all} name={of.name} part={part} />
					) : (
						<p class="busy">drawing the way …</p>
					)}
					{lines.length > 0 && (
						<Traces
							label={`Speed of ${of.name}`}
							lines={lines}
							head={head(of.name)}
							onHead={(t) => setHead(of.name, t)}
						/>
					)}
				</div>
				{held.length + others.length > 0 && (
					<div>
						<h3>Speeds, laps, turns</h3>
						<p class="quiet">Press one to see where it was.</p>
						<ul class="windows">
							{[...held, ...others].map((q) => (
								<li key={`${q.kind}${q.statistic}${q.window?.from_s}`}>
									<button
										type="button"
										aria-pressed={part === q}
										onClick={() => {
											setPart(part === q ? null : q);
											if (q.window) setHead(of.name, q.window.from_s);
										}}
									>
										{title(q)} <b>{shown(q)}</b>
										{q.window && <span class="quiet"> from {clock(q.window.from_s)}</span>}
									</button>
								</li>
							))}
						</ul>
					</div>
				)}
			</div>
		</div>
	);
}

function Plan({ all, name, part }: { all: Courses; name: string; part: Value | null }) {
	const canvas = useRef<HTMLCanvasElement>(null);
	const plan = useMemo(() => lay(all), [all]);
	const palette = look.value;
	useEffect(() => {
		if (canvas.current) draw(canvas.current, plan, part);
	}, [plan, part, palette]);
	const now = head(name);
	const i = now === null ? -1 : at(all.time, now);
	const spot = i >= 0 && i < all.time.length ? i : -1;
	const kmh = spot >= 0 ? (plan.speed[spot] as number) * 3.6 : Number.NaN;
	const press = (e: MouseEvent) => {
		const box = (e.currentTarget as Element).getBoundingClientRect();
		const near = nearest(
			plan,
			((e.clientX - box.left) / box.width) * SIZE,
			((e.clientY - box.top) / box.width) * SIZE,
		);
		if (near >= 0) setHead(name, all.time[near] as number);
	};
	return (
		<figure class="plan">
			<div class="plan-box" style={{ aspectRatio: `${SIZE} / ${plan.high}` }}>
				<canvas ref={canvas} width={2 * SIZE} height={2 * plan.high} />
				{/* biome-ignore lint/a11y/useKeyWithClickEvents: the speed trace below moves the head by keyboard */}
				<svg
					viewBox={`0 0 ${SIZE} ${plan.high}`}
					role="img"
					aria-label={`The way on a plan, ${(plan.most * 3.6).toFixed(0)} km/h at most`}
					onClick={press}
				>
					<path class="ruler" d={`M16 ${plan.high - 14}h${plan.bar * plan.scale}`} />
					<text x={16} y={plan.high - 20}>
						{plan.bar} m
					</text>
					<text x={SIZE - 24} y={28} text-anchor="middle">
						N
					</text>
					<path class="ruler" d={`M${SIZE - 24} 62V34m-5 9l5-9 5 9`} />
					{spot >= 0 && (
						<g>
							<circle class="spot" cx={plan.x[spot]} cy={plan.y[spot]} r={9} />
							<text
								class="spot-word"
								x={(plan.x[spot] as number) + 13}
								y={(plan.y[spot] as number) + 4}
							>
								{Number.isNaN(kmh) ? "" : `${kmh.toFixed(1)} km/h`}
							</text>
						</g>
					)}
				</svg>
			</div>
			<figcaption>
				<ol class="legend" aria-label="Speed by colour and width">
					{SHADES.map((shade, i) => (
						<li key={shade}>
							<span aria-hidden="true" style={{ background: shade, height: `${width(i)}px` }} />
							{i === 0 && "under "}
							{(
								(plan.least + ((i + (i ? 0 : 1)) / SHADES.length) * (plan.most - plan.least)) *
								3.6
							).toFixed(0)}
							{i === SHADES.length - 1 && " and more"}
						</li>
					))}
					<li>km/h</li>
				</ol>
				<Take
					name={`track-${name}`}
					picture=".plan-box canvas, .plan-box svg"
					rows={[
						["s", "m/s"],
						...Array.from(plan.time, (t, i) => [t, plan.speed[i] ?? Number.NaN]),
					]}
				/>
			</figcaption>
		</figure>
	);
}

interface Laid {
	x: number[];
	y: number[];
	time: Float64Array;
	speed: Float32Array;
	/** The slowest shade ends a seventh above this: standing about and turning round do not count. */
	least: number;
	most: number;
	high: number;
	scale: number;
	/** Length of the ruler, m. */
	bar: number;
}

const width = (shade: number) => 2 + shade * 0.9;

/** The way within the picture, north up. */
function lay(all: Courses): Laid {
	const of = (name: string) =>
		all.courses.find((c) => c.name === name)?.values ?? new Float32Array();
	const [east, north, speed] = [of("east"), of("north"), of("speed")];
	const ends = (v: Float32Array) =>
		v.reduce<[number, number]>(
			(e, x) => (Number.isNaN(x) ? e : [Math.min(e[0], x), Math.max(e[1], x)]),
			[Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
		);
	const [west, farEast] = ends(east);
	const [south, farNorth] = ends(north);
	const room = 36;
	const wide = Math.max(farEast - west, 1);
	const tall = Math.max(farNorth - south, 1);
	const scale = Math.min((SIZE - 2 * room) / wide, (SIZE - 2 * room) / tall);
	const high = Math.max(160, tall * scale + 2 * room);
	const left = (SIZE - wide * scale) / 2;
	const rough = (SIZE * 0.25) / scale;
	const ten = 10 ** Math.floor(Math.log10(rough));
	const most = Math.max(0.1, ends(speed)[1]);
	const sorted = Float32Array.from(speed)
		.filter((v) => v > 0.1 * most)
		.sort();
	const least = sorted[Math.floor(0.05 * sorted.length)] ?? 0;
	return {
		x: Array.from(east, (e) => left + (e - west) * scale),
		y: Array.from(north, (n) => room + (farNorth - n) * scale),
		time: all.time,
		speed,
		least,
		most,
		high: Math.round(high),
		scale,
		bar: [5, 2, 1].map((f) => f * ten).find((b) => b <= rough) ?? ten,
	};
}

function draw(on: HTMLCanvasElement, plan: Laid, part: Value | null) {
	const context = on.getContext("2d");
	if (!context) return;
	const css = getComputedStyle(document.documentElement);
	const of = (name: string) => css.getPropertyValue(`--${name}`).trim();
	context.setTransform(2, 0, 0, 2, 0, 0);
	context.clearRect(0, 0, SIZE, plan.high);
	context.lineCap = "round";
	const inside = (t: number) => !part?.window || (t >= part.window.from_s && t <= part.window.to_s);
	const stroke = (only: (i: number) => boolean, style: string, wide: number) => {
		context.strokeStyle = style;
		context.lineWidth = wide;
		context.beginPath();
		for (let i = 1; i < plan.x.length; i++) {
			// A gap in the track is not drawn across.
			const gap = (plan.time[i] as number) - (plan.time[i - 1] as number) > 5;
			if (gap || !only(i)) continue;
			context.moveTo(plan.x[i - 1] as number, plan.y[i - 1] as number);
			context.lineTo(plan.x[i] as number, plan.y[i] as number);
		}
		context.stroke();
	};
	stroke(() => true, of("ink"), 9);
	stroke(() => true, of("sky"), 7.5);
	SHADES.forEach((shade, s) => {
		const at = (i: number) => shadeOf(plan, plan.speed[i] as number) === s;
		stroke((i) => at(i) && inside(plan.time[i] as number), shade, width(s));
	});
	if (part?.window) stroke((i) => inside(plan.time[i] as number), of("stop"), 1.5);
}

function shadeOf({ least, most }: Laid, speed: number): number {
	const part = (speed - least) / Math.max(1e-6, most - least);
	return Math.max(0, Math.min(SHADES.length - 1, Math.floor(part * SHADES.length)));
}

function nearest(plan: Laid, x: number, y: number): number {
	let best = -1;
	let least = 40 ** 2;
	for (let i = 0; i < plan.x.length; i++) {
		const far = ((plan.x[i] as number) - x) ** 2 + ((plan.y[i] as number) - y) ** 2;
		if (far < least) {
			least = far;
			best = i;
		}
	}
	return best;
}
