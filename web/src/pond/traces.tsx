import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { show } from "../ui/format";
import { at, seen } from "./decimate";
import { clock, type Reading } from "./units";

type Numbers = Float64Array | Float32Array | readonly number[];

/** A course to draw; times are shifted by `shift` onto the clock shown. */
export interface Line {
	name: string;
	reading: Reading;
	time: Numbers;
	values: Numbers;
	shift?: number;
	/** Which recording it is from, where there are several. */
	from?: string;
}

export interface Mark {
	time: number;
	word: string;
}

type Range = [number, number];
const HIGH = 120;

/** First and last time of all lines. */
export function spanOf(lines: readonly Line[]): Range {
	let span: Range = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
	for (const { time, shift = 0 } of lines) {
		if (time.length === 0) continue;
		span = [
			Math.min(span[0], (time[0] as number) + shift),
			Math.max(span[1], (time[time.length - 1] as number) + shift),
		];
	}
	return span[0] < span[1] ? span : [0, 1];
}

/** `range` moved and sized so that it stays within `span`. */
export function within([from, to]: Range, [first, last]: Range): Range {
	const size = Math.min(Math.max(to - from, (last - first) / 20_000), last - first);
	const start = Math.min(Math.max(from, first), last - size);
	return [start, start + size];
}

/** `range` sized by `factor` about `centre`. */
export const sized = ([from, to]: Range, factor: number, centre: number): Range => [
	centre - (centre - from) * factor,
	centre + (to - centre) * factor,
];

/** Courses one above the other on one time, to pan and zoom; a press sets the play head. */
export function Traces(props: {
	lines: readonly Line[];
	marks?: readonly Mark[];
	head: number | null;
	onHead: (time: number) => void;
	label: string;
}) {
	const { lines, marks, head, onHead } = props;
	const span = useMemo(() => spanOf(lines), [lines]);
	const [range, setRange] = useState<Range>(span);
	useEffect(() => setRange(span), [span[0], span[1]]);
	const set = (to: Range) => setRange(within(to, span));
	const middle =
		head !== null && head > range[0] && head < range[1] ? head : (range[0] + range[1]) / 2;
	const zoom = (factor: number, centre = middle) => set(sized(range, factor, centre));
	const pan = (part: number) => {
		const by = part * (range[1] - range[0]);
		set([range[0] + by, range[1] + by]);
	};
	const box = useRef<HTMLDivElement>(null);
	const hand = useHand(box, range, set, onHead);

	const keys = (e: KeyboardEvent) => {
		const step = (range[1] - range[0]) / 100;
		const act: Record<string, () => void> = {
			ArrowLeft: () => (e.shiftKey ? pan(-0.2) : onHead(Math.max(span[0], middle - step))),
			ArrowRight: () => (e.shiftKey ? pan(0.2) : onHead(Math.min(span[1], middle + step))),
			"+": () => zoom(0.6),
			"=": () => zoom(0.6),
			"-": () => zoom(1 / 0.6),
			Home: () => set(span),
		};
		const found = act[e.key];
		if (!found) return;
		e.preventDefault();
		found();
	};

	return (
		<section class="traces" aria-label={props.label}>
			<div class="traces-tools">
				<button type="button" onClick={() => pan(-0.5)} aria-label="earlier">
					◀
				</button>
				<button type="button" onClick={() => pan(0.5)} aria-label="later">
					▶
				</button>
				<button type="button" onClick={() => zoom(0.5)}>
					Closer
				</button>
				<button type="button" onClick={() => zoom(2)}>
					Wider
				</button>
				<button type="button" onClick={() => set(span)}>
					Whole
				</button>
				<span class="quiet">
					{clock(range[0])} to {clock(range[1])}
					{head !== null && `, play head at ${clock(head)}`}
				</span>
			</div>
			<div
				ref={box}
				class="traces-box"
				role="slider"
				tabIndex={0}
				aria-label={`${props.label}: play head. Arrows move it, with Shift the picture; + and − zoom, Home shows all`}
				aria-valuemin={span[0]}
				aria-valuemax={span[1]}
				aria-valuenow={head ?? span[0]}
				aria-valuetext={clock(head ?? span[0])}
				onKeyDown={keys}
				{...hand}
			>
				{lines.map((line, i) => (
					<Strip
						key={`${line.from}${line.name}`}
						line={line}
						range={range}
						head={head}
						marks={marks ?? []}
						words={i === 0}
					/>
				))}
			</div>
		</section>
	);
}

/** Drag pans, two fingers or the wheel with Ctrl zoom, a press sets the head. */
function useHand(
	box: { current: HTMLDivElement | null },
	range: Range,
	set: (to: Range) => void,
	onHead: (time: number) => void,
) {
	const held = useRef(new Map<number, number>());
	const began = useRef<{ range: Range; x: number[]; moved: boolean } | null>(null);
	const timeAt = (x: number, of: Range) => {
		const over = box.current?.querySelector(".u-over")?.getBoundingClientRect();
		if (!over) return of[0];
		return of[0] + ((x - over.left) / over.width) * (of[1] - of[0]);
	};
	const start = (moved: boolean) => {
		began.current = { range, x: [...held.current.values()], moved };
	};
	const onPointerDown = (e: PointerEvent) => {
		if (e.button !== 0) return;
		box.current?.setPointerCapture(e.pointerId);
		held.current.set(e.pointerId, e.clientX);
		start(held.current.size > 1);
	};
	const onPointerMove = (e: PointerEvent) => {
		const from = began.current;
		if (!from || !held.current.has(e.pointerId)) return;
		held.current.set(e.pointerId, e.clientX);
		const now = [...held.current.values()];
		const [a, b] = from.x.map((x) => timeAt(x, from.range)) as [number, number?];
		const width = from.range[1] - from.range[0];
		if (now.length === 1) {
			const by = a - timeAt(now[0] as number, from.range);
			if (Math.abs((now[0] as number) - (from.x[0] as number)) > 4) from.moved = true;
			if (from.moved) set([from.range[0] + by, from.range[1] + by]);
		} else if (b !== undefined) {
			const apart = Math.max(20, Math.abs((now[1] as number) - (now[0] as number)));
			const factor = Math.abs((from.x[1] as number) - (from.x[0] as number)) / apart;
			const centre = ((now[0] as number) + (now[1] as number)) / 2;
			const under = (a + b) / 2;
			const left = (timeAt(centre, from.range) - from.range[0]) / width;
			set([under - left * width * factor, under + (1 - left) * width * factor]);
		}
	};
	const onPointerUp = (e: PointerEvent) => {
		const from = began.current;
		held.current.delete(e.pointerId);
		if (from && !from.moved && held.current.size === 0) onHead(timeAt(e.clientX, range));
		if (held.current.size > 0) start(true);
		else began.current = null;
	};
	useEffect(() => {
		const on = box.current;
		if (!on) return;
		const wheel = (e: WheelEvent) => {
			const width = range[1] - range[0];
			if (e.ctrlKey) {
				e.preventDefault();
				set(sized(range, Math.exp(e.deltaY / 300), timeAt(e.clientX, range)));
			} else if (Math.abs(e.deltaX) > Math.abs(e.deltaY)) {
				e.preventDefault();
				const by = (e.deltaX / on.clientWidth) * width;
				set([range[0] + by, range[1] + by]);
			}
		};
		on.addEventListener("wheel", wheel, { passive: false });
		return () => on.removeEventListener("wheel", wheel);
	});
	return { onPointerDown, onPointerMove, onPointerUp, onPointerCancel: onPointerUp };
}

function Strip(props: {
	line: Line;
	range: Range;
	head: number | null;
	marks: readonly Mark[];
	words: boolean;
}) {
	const { line, range, head, marks, words } = props;
	const place = useRef<HTMLDivElement>(null);
	const plot = useRef<uPlot | null>(null);
	const now = useRef({ head, marks, words });
	now.current = { head, marks, words };
	const { unit, factor, offset = 0 } = line.reading;
	const shift = line.shift ?? 0;

	useEffect(() => {
		const on = place.current;
		if (!on) return;
		const u = new uPlot(
			options(line, on.clientWidth, () => now.current),
			[[], []],
			on,
		);
		plot.current = u;
		const sizes = new ResizeObserver(() => u.setSize({ width: on.clientWidth, height: HIGH }));
		sizes.observe(on);
		return () => {
			sizes.disconnect();
			u.destroy();
			plot.current = null;
		};
	}, [line]);

	useEffect(() => {
		const u = plot.current;
		if (!u) return;
		const pixels = Math.max(50, Math.round(u.width));
		const [t, v] = seen(line.time, line.values, range[0] - shift, range[1] - shift, pixels);
		u.batch(() => {
			u.setData(
				[t.map((x) => x + shift), v.map((x) => (Number.isNaN(x) ? null : x * factor + offset))],
				false,
			);
			u.setScale("x", { min: range[0], max: range[1] });
		});
	}, [line, range[0], range[1]]);

	useEffect(() => plot.current?.redraw(false), [head, marks]);

	const i = head === null ? -1 : at(line.time, head - shift);
	const value = i >= 0 && i < line.time.length ? line.values[i] : undefined;
	const told =
		value === undefined || Number.isNaN(value)
			? unit
			: show({ value: value * factor + offset, spread: 0, unit });
	return (
		<div class="strip">
			<p class="strip-title">
				<b>{line.name}</b> {line.from && <span class="quiet">{line.from}</span>}{" "}
				<output>{told}</output>
			</p>
			<div ref={place} class="strip-plot" />
		</div>
	);
}

function options(
	line: Line,
	width: number,
	now: () => { head: number | null; marks: readonly Mark[]; words: boolean },
): uPlot.Options {
	const [low, high] = reach(line);
	const ink = () => colour("--ink");
	const grid = { stroke: () => colour("--line"), width: 1 };
	return {
		width,
		height: HIGH,
		legend: { show: false },
		cursor: { show: false },
		scales: { x: { time: false, auto: false }, y: { auto: false, range: [low, high] } },
		series: [{}, { stroke: ink, width: 1.5, points: { show: false } }],
		axes: [
			{
				stroke: ink,
				grid,
				size: 26,
				values: (_, all) => all.map(brief),
			},
			{
				stroke: ink,
				grid,
				size: 56,
				values: (_, all) => all.map((v) => `${+v.toFixed(6)}`),
			},
		],
		hooks: {
			draw: [(u) => overdraw(u, now())],
		},
	};
}

/** As the page looks now: by day, in the sun or at night. */
const colour = (name: string) =>
	getComputedStyle(document.documentElement).getPropertyValue(name).trim();

const brief = (s: number) =>
	Math.abs(s) >= 60 ? clock(s).replace(/\.0$/, "") : `${+s.toFixed(3)} s`;

/** Lowest and highest of all, so that a course keeps its scale while it is panned. */
function reach({ values, reading: { factor, offset = 0 } }: Line): Range {
	let low = Number.POSITIVE_INFINITY;
	let high = Number.NEGATIVE_INFINITY;
	for (let i = 0; i < values.length; i++) {
		const v = (values[i] as number) * factor + offset;
		if (v < low) low = v;
		if (v > high) high = v;
	}
	if (!Number.isFinite(low)) return [0, 1];
	// A course that holds still is drawn in the middle, not blown up to its rounding.
	const room = Math.max(0.06 * (high - low), 0.01 * Math.abs(high), 1e-3);
	return [low - room, high + room];
}

function overdraw(
	u: uPlot,
	{ head, marks, words }: { head: number | null; marks: readonly Mark[]; words: boolean },
) {
	const { ctx, bbox } = u;
	const ratio = devicePixelRatio;
	const line = (time: number, style: string, dash: number[], width: number) => {
		const x = u.valToPos(time, "x", true);
		if (x < bbox.left || x > bbox.left + bbox.width) return null;
		ctx.save();
		ctx.strokeStyle = style;
		ctx.lineWidth = width * ratio;
		ctx.setLineDash(dash.map((d) => d * ratio));
		ctx.beginPath();
		ctx.moveTo(x, bbox.top);
		ctx.lineTo(x, bbox.top + bbox.height);
		ctx.stroke();
		ctx.restore();
		return x;
	};
	for (const mark of marks) {
		const x = line(mark.time, colour("--unsure"), [4, 3], 1);
		if (x === null || !words) continue;
		ctx.save();
		ctx.fillStyle = colour("--unsure");
		ctx.font = `${11 * ratio}px sans-serif`;
		ctx.fillText(mark.word, x + 3 * ratio, bbox.top + 11 * ratio);
		ctx.restore();
	}
	if (head !== null) line(head, colour("--stop"), [], 2);
}
