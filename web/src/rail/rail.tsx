import { useMemo, useRef } from "preact/hooks";
import type { RunningState } from "../model";
import { between, mix, scale } from "./scale";
import { Stave } from "./stave";
import { STAVES } from "./staves";

interface Props {
	states: RunningState[];
	/** The saved boat's, drawn thin beside a what-if. */
	beside?: RunningState[] | undefined;
	speed: number;
	onSpeed: (kmh: number) => void;
}

const WIDTH = 1000;
const LEFT = 150;
const RIGHT = 20;

/** The long horizontal of the page: everything about a fast boat hangs on how fast it is going. */
export function Rail({ states, beside, speed, onSpeed }: Props) {
	const top = states.at(-1)?.speed.value ?? 1;
	const speeds = useMemo(() => states.map((s) => s.speed.value), [states]);
	const x = scale(0, top, LEFT, WIDTH - RIGHT, 8);
	const drawing = useRef<SVGSVGElement>(null);
	const drag = (e: PointerEvent) => {
		const box = drawing.current?.getBoundingClientRect();
		if (!box || (e.type === "pointermove" && e.buttons === 0)) return;
		const px = ((e.clientX - box.left) / box.width) * WIDTH;
		const share = (px - LEFT) / (WIDTH - RIGHT - LEFT);
		onSpeed(Math.min(Math.max(share, 0), 1) * top);
	};
	const [i, j, share] = between(speeds, speed);
	const here = (of: (s: RunningState) => number) => {
		const [a, b] = [states[i], states[j]];
		return a && b ? mix(of(a), of(b), share) : 0;
	};
	const height = STAVES.length * 74 + 34;
	return (
		<section class="rail" aria-label="Speed rail">
			<label class="rail-slider">
				<span>Speed</span>
				<input
					type="range"
					min={0}
					max={top}
					step={top / 400}
					value={speed}
					aria-valuetext={`${speed.toFixed(1)} km/h`}
					onInput={(e) => onSpeed(Number(e.currentTarget.value))}
				/>
				<output>{speed < 0.2 ? "at rest" : `${speed.toFixed(1)} km/h`}</output>
			</label>
			<svg
				ref={drawing}
				viewBox={`0 0 ${WIDTH} ${height}`}
				role="img"
				aria-label={`Curves over speed from rest to ${top.toFixed(0)} km/h`}
				onPointerDown={drag}
				onPointerMove={drag}
			>
				{x.ticks.map((t) => (
					<g key={t} class="grid">
						<line x1={x(t)} x2={x(t)} y1={4} y2={height - 26} />
						<text x={x(t)} y={height - 8} text-anchor="middle">
							{t === 0 ? "bath" : t}
						</text>
					</g>
				))}
				<text class="unit" x={WIDTH - RIGHT} y={height - 8} text-anchor="end">
					km/h
				</text>
				{STAVES.map((stave, k) => (
					<Stave
						key={stave.title}
						stave={stave}
						states={states}
						beside={beside}
						x={x}
						top={6 + k * 74}
						left={LEFT}
						here={here}
					/>
				))}
				<line class="now" x1={x(speed)} x2={x(speed)} y1={0} y2={height - 22} />
			</svg>
			<RailTable states={states} />
		</section>
	);
}

/** The same numbers, for reading, copying and screen readers. */
function RailTable({ states }: { states: RunningState[] }) {
	const lines = STAVES.flatMap((s) => s.lines.map((l) => ({ ...l, unit: s.unit })));
	return (
		<details class="numbers">
			<summary>The rail as numbers</summary>
			<div class="scroll" tabIndex={0} role="region" aria-label="The rail as numbers">
				<table>
					<thead>
						<tr>
							<th scope="col">km/h</th>
							{lines.map((l) => (
								<th scope="col" key={l.label}>
									{l.label}, {l.unit}
								</th>
							))}
						</tr>
					</thead>
					<tbody>
						{states.map((s) => (
							<tr key={s.speed.value}>
								<th scope="row">{s.speed.value.toFixed(1)}</th>
								{lines.map((l) => (
									<td key={l.label}>{l.of(s).toPrecision(3)}</td>
								))}
							</tr>
						))}
					</tbody>
				</table>
			</div>
		</details>
	);
}
