import { isNarrow } from "./axis";
import type { RailLine } from "./lines";
import { type Scale, scale } from "./scale";
import { type Group, known } from "./staves";

/** Of what is drawn, and from one stave to the next, px: the rest is for its words where the rail is narrow. */
export const HEIGHT = 48;
const STEP = 58;
/** Where the words stand over each stave. */
const HIGH_STEP = 92;
export const step = () => (isNarrow() ? HIGH_STEP : STEP);
/** Second and third lines are broken, so that they differ without colour. */
const BREAKS = ["", "8 4", "2 4", "10 3 2 3"];

interface Props {
	group: Group;
	/** The saved boat's lines, beside a what-if. */
	beside: RailLine[];
	others: { line: string; kmh: number; value: number }[];
	/** From km/h to pixels. */
	at: (kmh: number) => number;
	y: Scale;
	top: number;
	left: number;
	right: number;
}

/** Everything of a stave that does not move with the speed. */
export function Stave({ group, beside, others, at, y, top, left, right }: Props) {
	const { signs, within } = known(group.stave);
	const inside = left < 60;
	return (
		<g class="stave" transform={`translate(0 ${top})`}>
			{y.ticks.map((t) => (
				<g key={t} class={t === 0 && signs ? "grid nought" : "grid"}>
					<line x1={left} x2={right} y1={y(t)} y2={y(t)} />
					<text
						x={inside ? left + 2 : left - 5}
						y={y(t) + (inside ? -2 : 4)}
						text-anchor={inside ? "start" : "end"}
					>
						{t}
					</text>
				</g>
			))}
			{signs && (
				<g class="signs">
					<text x={right - 4} y={y(0) - 4} text-anchor="end">
						▲ {signs[0]}
					</text>
					<text x={right - 4} y={y(0) + 12} text-anchor="end">
						▽ {signs[1]}
					</text>
				</g>
			)}
			{group.lines.map((l) => (
				<path key={`b${l.id}`} class="band" d={band(l, at, y)} />
			))}
			{beside.map((l) => (
				<path key={`s${l.id}`} class="was" d={path(l, at, y, within)} />
			))}
			{group.lines.map((l, i) => (
				<path
					key={l.id}
					class="curve"
					stroke-dasharray={BREAKS[i % BREAKS.length]}
					d={path(l, at, y, within)}
				/>
			))}
			{others
				.filter((o) => group.lines.some((l) => l.id === o.line))
				.map((o) => (
					<path
						key={`${o.line}${o.kmh}${o.value}`}
						class="other"
						d={`M${at(o.kmh)} ${y(o.value) - 4}l4 4l-4 4l-4 -4Z`}
					/>
				))}
		</g>
	);
}

/** Values from the least to the greatest that anything of the stave shows, nought among them. */
export function scaleOf(group: Group, beside: readonly RailLine[]): Scale {
	const { within } = known(group.stave);
	const every = [...group.lines, ...beside].flatMap((l) => [...l.values, ...l.low, ...l.high]);
	const numbers = every.filter((v): v is number => v !== null && Number.isFinite(v));
	const low = Math.min(0, ...numbers);
	const high = Math.max(1e-6, ...numbers);
	const [from, to] = within ? [Math.max(low, within[0]), Math.min(high, within[1])] : [low, high];
	// Nought stands clear of the edge where its sign is what matters.
	const [bottom, ceiling] = within ? [Math.min(from, -1), Math.max(to, 1)] : [from, to];
	return scale(bottom, ceiling, step() - 4, step() - HEIGHT, 2);
}

export const clipped = (stave: string, value: number) => {
	const { within } = known(stave);
	return within ? Math.min(Math.max(value, within[0]), within[1]) : value;
};

/** Pen up where nothing is known. */
function path(line: RailLine, x: (kmh: number) => number, y: Scale, within?: [number, number]) {
	let down = false;
	return line.speeds
		.map((s, i) => {
			const v = line.values[i];
			if (v === null || v === undefined) {
				down = false;
				return "";
			}
			const shown = within ? Math.min(Math.max(v, within[0]), within[1]) : v;
			const step = `${down ? "L" : "M"}${x(s).toFixed(1)} ${y(shown).toFixed(1)}`;
			down = true;
			return step;
		})
		.join("");
}

function band(l: RailLine, x: (kmh: number) => number, y: Scale) {
	const points = l.speeds.flatMap((s, i) => {
		const [low, high] = [l.low[i], l.high[i]];
		return low === null || low === undefined || high === null || high === undefined
			? []
			: [[s, low, high] as const];
	});
	if (points.length < 2) return "";
	const up = points.map(([s, , high]) => `${x(s).toFixed(1)} ${y(high).toFixed(1)}`);
	const down = points.map(([s, low]) => `${x(s).toFixed(1)} ${y(low).toFixed(1)}`).reverse();
	return `M${[...up, ...down].join("L")}Z`;
}
