import { useMemo, useRef } from "preact/hooks";
import type { Line, Poses } from "../api/types";
import * as state from "../state";
import { awaited, otherMarks, type RailLine, railLines } from "./lines";
import { type Scale, scale } from "./scale";
import { clipped, Stave, scaleOf } from "./stave";
import { type Group, grouped, valueAt } from "./staves";

/** A boat's curve, and the lines that came after it. */
export interface Score {
	poses: Poses;
	later: readonly Line[];
}

interface Props {
	of: Score;
	/** The saved boat's, drawn thin beside a what-if. */
	beside: Score | undefined;
}

const WIDTH = 1000;
const LEFT = 230;
const RIGHT = 20;
const STEP = 80;
const FOOT = 34;

/** Everything drawn, with its places. */
interface Sheet {
	groups: { group: Group; beside: RailLine[]; top: number; y: Scale }[];
	x: Scale;
	top: number;
	height: number;
}

/** The long horizontal of the page: everything about a fast boat hangs on how fast it is going. */
export function Rail({ of, beside }: Props) {
	const { poses, later } = of;
	const lines = useMemo(() => railLines(poses, later), [poses, later]);
	const besides = useMemo(
		() => (beside ? railLines(beside.poses, beside.later) : []),
		[beside?.poses, beside?.later],
	);
	const sheet = useMemo(() => laid(lines, besides), [lines, besides]);
	// Nothing in it depends on the speed, so a move of the mark draws none of it again.
	const still = useMemo(() => <Still sheet={sheet} poses={poses} />, [sheet, poses]);
	const numbers = useMemo(() => <Numbers lines={lines} />, [lines]);
	return (
		<section class="rail" aria-label="Speed rail">
			<Slider top={sheet.top} />
			<div class="score">
				{still}
				<Moving sheet={sheet} />
			</div>
			{numbers}
		</section>
	);
}

function laid(lines: RailLine[], besides: RailLine[]): Sheet {
	const top = Math.max(1, ...lines.flatMap((l) => l.speeds.at(-1) ?? 0));
	const thin = grouped(besides);
	const groups = grouped([...lines, ...awaited(lines, besides)]).map((group, k) => {
		const same = thin.find((b) => b.stave === group.stave && b.unit === group.unit);
		const beside = same?.lines ?? [];
		const at = 6 + k * STEP;
		return { group, beside, top: at, y: scaleOf(group, beside, at) };
	});
	const x = scale(0, top, LEFT, WIDTH - RIGHT, 8);
	return { groups, x, top, height: groups.length * STEP + FOOT };
}

export function setSpeed(kmh: number) {
	state.speed.value = kmh;
	state.keepInUrl();
}

const inWords = (speed: number) => (speed < 0.05 ? "at rest" : `${speed.toFixed(1)} km/h`);

function Slider({ top }: { top: number }) {
	const speed = state.speed.value;
	return (
		<label class="rail-slider">
			<span>Speed</span>
			<input
				type="range"
				min={0}
				max={top}
				step={top / 400}
				value={speed}
				aria-valuetext={inWords(speed)}
				onInput={(e) => setSpeed(Number(e.currentTarget.value))}
			/>
			<output>{inWords(speed)}</output>
		</label>
	);
}

function Still({ sheet, poses }: { sheet: Sheet; poses: Poses }) {
	const { x, height } = sheet;
	const flags = [
		{ at: poses.hump_km_h, word: "hump" },
		{ at: poses.planing_km_h, word: "planes" },
		{ at: poses.top_km_h, word: "top" },
	];
	const others = otherMarks(
		poses.others,
		sheet.groups.flatMap((g) => g.group.lines),
	);
	return (
		<svg
			class="still"
			viewBox={`0 0 ${WIDTH} ${height}`}
			role="img"
			aria-label={`Curves over speed from rest to ${sheet.top.toFixed(0)} km/h; the numbers follow below`}
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
				<line key={v} class="jump" x1={x(v)} x2={x(v)} y1={4} y2={height - 26}>
					<title>Here it changes attitude at a stroke</title>
				</line>
			))}
			{poses.none_km_h.map((v) => (
				<line key={v} class="none" x1={x(v)} x2={x(v)} y1={height - 34} y2={height - 24}>
					<title>No steady attitude was found here</title>
				</line>
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
			{sheet.groups.map((g) => (
				<Stave
					key={g.group.stave + g.group.unit}
					{...g}
					others={others}
					x={x}
					left={LEFT}
					right={WIDTH - RIGHT}
				/>
			))}
		</svg>
	);
}

/** The mark, the beads on every line, and what they read. */
function Moving({ sheet }: { sheet: Sheet }) {
	const speed = state.speed.value;
	const drawing = useRef<SVGSVGElement>(null);
	const { x, height, top } = sheet;
	const drag = (e: PointerEvent) => {
		const box = drawing.current?.getBoundingClientRect();
		if (!box || (e.type === "pointermove" && e.buttons === 0)) return;
		const px = ((e.clientX - box.left) / box.width) * WIDTH;
		setSpeed(Math.min(Math.max((px - LEFT) / (WIDTH - RIGHT - LEFT), 0), 1) * top);
	};
	return (
		<svg
			ref={drawing}
			class="moving"
			viewBox={`0 0 ${WIDTH} ${height}`}
			aria-hidden="true"
			onPointerDown={drag}
			onPointerMove={drag}
		>
			{sheet.groups.map((g) => {
				const now = g.group.lines.map((l) => valueAt(l.speeds, l.values, speed));
				return (
					<g key={g.group.stave + g.group.unit}>
						<text class="stave-now" x={8} y={g.top + 37}>
							{now.slice(0, 3).map(shown).join(" / ")} {g.group.unit}
						</text>
						{now.map(
							(v, i) =>
								v !== null && (
									<circle
										key={g.group.lines[i]?.id}
										class="bead"
										r={4}
										cx={x(speed)}
										cy={g.y(clipped(g.group.stave, v))}
									/>
								),
						)}
					</g>
				);
			})}
			<line class="now" x1={x(speed)} x2={x(speed)} y1={0} y2={height - 22} />
		</svg>
	);
}

/** Three digits, and no fewer than stand before the point. */
const shown = (v: number | null) =>
	v === null ? "–" : Math.abs(v) >= 100 ? v.toFixed(0) : v.toPrecision(3);

/** The same numbers, for reading, copying and screen readers: read off at the speeds of the curve. */
function Numbers({ lines }: { lines: readonly RailLine[] }) {
	const speeds = lines[0]?.speeds ?? [];
	return (
		<details class="numbers">
			<summary>The rail as numbers</summary>
			{/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must take the keyboard */}
			<section class="scroll" tabIndex={0} aria-label="The rail as numbers">
				<table>
					<thead>
						<tr>
							<th scope="col">km/h</th>
							{lines.map((l) => (
								<th scope="col" key={l.id}>
									{l.label}, {l.unit}
								</th>
							))}
						</tr>
					</thead>
					<tbody>
						{speeds.map((s) => (
							<tr key={s}>
								<th scope="row">{s.toFixed(1)}</th>
								{lines.map((l) => (
									<td key={l.id}>{valueAt(l.speeds, l.values, s)?.toPrecision(3) ?? "–"}</td>
								))}
							</tr>
						))}
					</tbody>
				</table>
			</section>
		</details>
	);
}
