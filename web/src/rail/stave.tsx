import type { RunningState } from "../model";
import { type Scale, scale } from "./scale";
import type { Line, StaveKind } from "./staves";

interface Props {
	stave: StaveKind;
	states: RunningState[];
	beside: RunningState[] | undefined;
	x: Scale;
	top: number;
	left: number;
	here: (of: (s: RunningState) => number) => number;
}

const HEIGHT = 60;

export function Stave({ stave, states, beside, x, top, left, here }: Props) {
	const values = [...states, ...(beside ?? [])].flatMap((s) => stave.lines.map((l) => l.of(s)));
	const [low, high] = [Math.min(0, ...values), Math.max(1e-6, ...values)];
	const y = scale(low, high, top + HEIGHT, top + 4, 2);
	const path = (list: RunningState[], line: Line) =>
		list.map((s, i) => `${i ? "L" : "M"}${x(s.speed.value).toFixed(1)} ${y(line.of(s)).toFixed(1)}`).join("");
	return (
		<g class="stave">
			<title>{stave.about}</title>
			<text class="stave-title" x={8} y={top + 18}>
				{stave.title}
			</text>
			<text class="stave-now" x={8} y={top + 38}>
				{stave.lines.map((l) => here(l.of).toPrecision(3)).join(" / ")} {stave.unit}
			</text>
			{stave.lines.length > 1 && (
				<text class="stave-key" x={8} y={top + 54}>
					{stave.lines.map((l) => (l.broken ? `┄ ${l.label}` : `─ ${l.label}`)).join("  ")}
				</text>
			)}
			{y.ticks.map((t) => (
				<g key={t} class="grid">
					<line x1={left} x2={x(states.at(-1)?.speed.value ?? 0)} y1={y(t)} y2={y(t)} />
					<text x={left - 6} y={y(t) + 4} text-anchor="end">
						{t}
					</text>
				</g>
			))}
			{beside &&
				stave.lines.map((l) => <path key={`s${l.label}`} class="beside" d={path(beside, l)} />)}
			{stave.lines.map((l) => (
				<path key={l.label} class={l.broken ? "curve broken" : "curve"} d={path(states, l)} />
			))}
			{stave.lines.map((l) => (
				<circle key={`c${l.label}`} class="bead" r={4} cx={beadX(x, states, here)} cy={y(here(l.of))} />
			))}
		</g>
	);
}

const beadX = (x: Scale, _: RunningState[], here: (of: (s: RunningState) => number) => number) =>
	x(here((s) => s.speed.value));
