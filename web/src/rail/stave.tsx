import type { Stave as Line } from "../api/types";
import { type Scale, scale } from "./scale";
import { about, type Group, valueAt } from "./staves";

interface Props {
	group: Group;
	speeds: readonly number[];
	/** The saved boat's lines, beside a what-if. */
	beside: { speeds: readonly number[]; lines: Line[] } | undefined;
	x: Scale;
	top: number;
	left: number;
	right: number;
	speed: number;
}

const HEIGHT = 62;
/** Second and third lines are broken, so that they differ without colour. */
const BREAKS = ["", "8 4", "2 4", "10 3 2 3"];

export function Stave({ group, speeds, beside, x, top, left, right, speed }: Props) {
	const every = [...group.lines, ...(beside?.lines ?? [])].flatMap((l) => [
		...l.values,
		...l.low,
		...l.high,
	]);
	const known = every.filter((v): v is number => v !== null && Number.isFinite(v));
	const [low, high] = [Math.min(0, ...known), Math.max(1e-6, ...known)];
	const y = scale(low, high, top + HEIGHT, top + 4, 2);
	const now = group.lines.map((l) => valueAt(speeds, l.values, speed));
	return (
		<g class="stave">
			<title>{about(group.stave)}</title>
			<text class="stave-title" x={8} y={top + 18}>
				{group.lines[0]?.label}
				{group.lines.length > 1 ? " …" : ""}
			</text>
			<text class="stave-now" x={8} y={top + 37}>
				{now.map(shown).join(" / ")} {group.unit}
			</text>
			{group.lines.slice(1, 3).map((l, i) => (
				<text class="stave-key" key={l.id} x={8} y={top + 52 + 12 * i}>
					┄ {l.label}
				</text>
			))}
			{y.ticks.map((t) => (
				<g key={t} class="grid">
					<line x1={left} x2={right} y1={y(t)} y2={y(t)} />
					<text x={left - 6} y={y(t) + 4} text-anchor="end">
						{t}
					</text>
				</g>
			))}
			{group.lines.map((l) => (
				<path key={`b${l.id}`} class="band" d={band(speeds, l, x, y)} />
			))}
			{beside?.lines.map((l) => (
				<path key={`s${l.id}`} class="beside" d={path(beside.speeds, l.values, x, y)} />
			))}
			{group.lines.map((l, i) => (
				<path
					key={l.id}
					class="curve"
					stroke-dasharray={BREAKS[i % BREAKS.length]}
					d={path(speeds, l.values, x, y)}
				/>
			))}
			{now.map(
				(v, i) =>
					v !== null && (
						<circle key={group.lines[i]?.id} class="bead" r={4} cx={x(speed)} cy={y(v)} />
					),
			)}
		</g>
	);
}

/** Three digits, and no fewer than stand before the point. */
const shown = (v: number | null) =>
	v === null ? "–" : Math.abs(v) >= 100 ? v.toFixed(0) : v.toPrecision(3);

/** Pen up where nothing is known. */
function path(speeds: readonly number[], values: readonly (number | null)[], x: Scale, y: Scale) {
	let down = false;
	return speeds
		.map((s, i) => {
			const v = values[i];
			if (v === null || v === undefined) {
				down = false;
				return "";
			}
			const step = `${down ? "L" : "M"}${x(s).toFixed(1)} ${y(v).toFixed(1)}`;
			down = true;
			return step;
		})
		.join("");
}

function band(speeds: readonly number[], l: Line, x: Scale, y: Scale) {
	const points = speeds.flatMap((s, i) => {
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
