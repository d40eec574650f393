import { useMemo, useRef } from "preact/hooks";
import type { Poses } from "../api/types";
import { scale } from "./scale";
import { Stave } from "./stave";
import { type Group, grouped } from "./staves";

interface Props {
	poses: Poses;
	/** The saved boat's, drawn thin beside a what-if. */
	beside: Poses | undefined;
	speed: number;
	onSpeed: (kmh: number) => void;
}

const WIDTH = 1000;
const LEFT = 230;
const RIGHT = 20;
const STEP = 80;

/** The long horizontal of the page: everything about a fast boat hangs on how fast it is going. */
export function Rail({ poses, beside, speed, onSpeed }: Props) {
	const speeds = poses.speeds_km_h;
	const top = speeds.at(-1) ?? 1;
	const groups = useMemo(() => grouped(poses.staves), [poses]);
	const besides = useMemo(() => grouped(beside?.staves ?? []), [beside]);
	const x = scale(0, top, LEFT, WIDTH - RIGHT, 8);
	const drawing = useRef<SVGSVGElement>(null);
	const drag = (e: PointerEvent) => {
		const box = drawing.current?.getBoundingClientRect();
		if (!box || (e.type === "pointermove" && e.buttons === 0)) return;
		const px = ((e.clientX - box.left) / box.width) * WIDTH;
		onSpeed(Math.min(Math.max((px - LEFT) / (WIDTH - RIGHT - LEFT), 0), 1) * top);
	};
	const height = groups.length * STEP + 34;
	const words = speed < 0.05 ? "at rest" : `${speed.toFixed(1)} km/h`;
	const flags = [
		{ at: poses.hump_km_h, word: "hump" },
		{ at: poses.planing_km_h, word: "planes" },
		{ at: poses.top_km_h, word: "top" },
	];
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
					aria-valuetext={words}
					onInput={(e) => onSpeed(Number(e.currentTarget.value))}
				/>
				<output>{words}</output>
			</label>
			<svg
				ref={drawing}
				viewBox={`0 0 ${WIDTH} ${height}`}
				role="img"
				aria-label={`Curves over speed from rest to ${top.toFixed(0)} km/h; the numbers follow below`}
				onPointerDown={drag}
				onPointerMove={drag}
			>
				{x.ticks.map((t) => (
					<g key={t} class="grid">
						<line x1={x(t)} x2={x(t)} y1={4} y2={height - 26} />
						<text x={x(t)} y={height - 10} text-anchor="middle">
							{t === 0 ? "bath" : t}
						</text>
					</g>
				))}
				<text class="unit" x={WIDTH - 2} y={height - 10} text-anchor="end">
					km/h
				</text>
				{poses.jumps_km_h.map((v) => (
					<line key={v} class="jump" x1={x(v)} x2={x(v)} y1={4} y2={height - 26} />
				))}
				{flags.map(
					(f) =>
						f.at != null && (
							<text
								key={f.word}
								class="flag"
								x={x(f.at)}
								y={height - 26 - (f.word === "hump" ? 12 : 0)}
							>
								▏{f.word}
							</text>
						),
				)}
				{groups.map((group, k) => (
					<Stave
						key={group.stave + group.unit}
						group={group}
						speeds={speeds}
						beside={of(besides, group, beside)}
						x={x}
						top={6 + k * STEP}
						left={LEFT}
						right={WIDTH - RIGHT}
						speed={speed}
					/>
				))}
				<line class="now" x1={x(speed)} x2={x(speed)} y1={0} y2={height - 22} />
			</svg>
			<Numbers poses={poses} />
		</section>
	);
}

function of(besides: Group[], group: Group, poses: Poses | undefined) {
	const same = besides.find((b) => b.stave === group.stave && b.unit === group.unit);
	return same && poses ? { speeds: poses.speeds_km_h, lines: same.lines } : undefined;
}

/** The same numbers, for reading, copying and screen readers. */
function Numbers({ poses }: { poses: Poses }) {
	return (
		<details class="numbers">
			<summary>The rail as numbers</summary>
			{/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must take the keyboard */}
			<section class="scroll" tabIndex={0} aria-label="The rail as numbers">
				<table>
					<thead>
						<tr>
							<th scope="col">km/h</th>
							{poses.staves.map((l) => (
								<th scope="col" key={l.id}>
									{l.label}, {l.unit}
								</th>
							))}
						</tr>
					</thead>
					<tbody>
						{poses.speeds_km_h.map((s, i) => (
							<tr key={s}>
								<th scope="row">{s.toFixed(1)}</th>
								{poses.staves.map((l) => (
									<td key={l.id}>{l.values[i]?.toPrecision(3) ?? "–"}</td>
								))}
							</tr>
						))}
					</tbody>
				</table>
			</section>
		</details>
	);
}
