import { useEffect, useMemo, useRef } from "preact/hooks";
import type { Line, Poses } from "../api/types";
import * as state from "../state";
import { Take } from "../ui/take";
import { inUnit, system, unitOf } from "../ui/units";
import { axis, isNarrow, leftOf, RIGHT, setSpeed, width } from "./axis";
import { awaited, otherMarks, type RailLine, railLines } from "./lines";
import type { Scale } from "./scale";
import { clipped, HEIGHT, Stave, scaleOf, step } from "./stave";
import { chosen, type Group, grouped, keyOf, known, toggle, valueAt } from "./staves";
import "./rail.css";

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

/** A stave with its scale and the saved boat's lines. */
interface Open {
	group: Group;
	beside: RailLine[];
	y: Scale;
}

/** The long horizontal of the page: everything about a fast boat hangs on how fast it is going. */
export function Rail({ of, beside }: Props) {
	const { poses, later } = of;
	const place = useRef<HTMLElement>(null);
	useEffect(() => {
		const on = place.current;
		if (!on) return;
		const measure = () => {
			const score = on.querySelector(".score");
			if (score && score.clientWidth > 0) width.value = score.clientWidth;
		};
		measure();
		const watch = new ResizeObserver(measure);
		watch.observe(on);
		return () => watch.disconnect();
	}, []);
	const units = system.value;
	const lines = useMemo(() => railLines(poses, later), [poses, later, units]);
	const besides = useMemo(
		() => (beside ? railLines(beside.poses, beside.later) : []),
		[beside?.poses, beside?.later, units],
	);
	const open = chosen.value;
	const narrow = isNarrow();
	const staves = useMemo(() => laid(lines, besides), [lines, besides, narrow]);
	const shown = staves.filter((s) => open.includes(keyOf(s.group)));
	const folded = staves.filter((s) => !open.includes(keyOf(s.group)));
	const wide = width.value;
	// Nothing in it depends on the speed, so a move of the handle draws none of it again.
	const still = useMemo(
		() => <Still open={shown} poses={poses} />,
		[staves, open, poses, wide, units],
	);
	const numbers = useMemo(() => <Numbers lines={lines} />, [lines, units]);
	return (
		<section class="rail" aria-label="Speed rail" ref={place}>
			<div class="score">
				{still}
				<Moving open={shown} />
			</div>
			<Folded of={folded} />
			{numbers}
		</section>
	);
}

function laid(lines: RailLine[], besides: RailLine[]): Open[] {
	const thin = grouped(besides);
	return grouped([...lines, ...awaited(lines, besides)]).map((group) => {
		const beside = thin.find((b) => keyOf(b) === keyOf(group))?.lines ?? [];
		return { group, beside, y: scaleOf(group, beside) };
	});
}

function Still({ open, poses }: { open: Open[]; poses: Poses }) {
	const { at, ticks, tick } = axis();
	const others = otherMarks(
		poses.others,
		open.flatMap((g) => g.group.lines),
	);
	const flags = [
		{ at: poses.hump_km_h, word: "hump" },
		{ at: poses.planing_km_h, word: "planes" },
	];
	const high = open.length * step();
	return (
		<svg
			class="still"
			width={width.value}
			height={high}
			role="img"
			aria-label={`Curves over speed from rest to ${inUnit(state.railEnd.value, "km/h").toFixed(0)} ${unitOf("km/h")}; the numbers follow below`}
		>
			{ticks.map((t) => (
				<line key={t} class="grid" x1={tick(t)} x2={tick(t)} y1={0} y2={high} />
			))}
			{poses.jumps_km_h.map((v) => (
				<line key={v} class="jump" x1={at(v)} x2={at(v)} y1={0} y2={high}>
					<title>Here it changes attitude at once</title>
				</line>
			))}
			{poses.none_km_h.map((v) => (
				<line key={v} class="none" x1={at(v)} x2={at(v)} y1={high - 8} y2={high}>
					<title>No steady attitude was found here</title>
				</line>
			))}
			{flags.map(
				(f, i) =>
					f.at != null && (
						<text key={f.word} class="flag" x={at(f.at) + 2} y={high - 6 - 16 * i}>
							▏{f.word}
						</text>
					),
			)}
			{open.map((g, i) => (
				<Stave
					key={keyOf(g.group)}
					{...g}
					others={others}
					at={at}
					top={i * step()}
					left={leftOf()}
					right={width.value - RIGHT}
				/>
			))}
		</svg>
	);
}

/** The line down from the handle, the beads on every curve, and what they read. */
function Moving({ open }: { open: Open[] }) {
	const speed = state.at.value;
	const { at } = axis();
	const left = leftOf() - 12;
	const high = open.length * step();
	const from = useRef<DOMRect | null>(null);
	const drag = (e: PointerEvent) => {
		const on = e.currentTarget as Element;
		if (e.type === "pointerdown") {
			// The frame of a drag is what it was when it began.
			from.current = on.getBoundingClientRect();
			on.setPointerCapture(e.pointerId);
		}
		const box = from.current;
		if (!box || e.buttons === 0) return;
		const [begin, end] = [at(0) - left, at(state.railEnd.value) - left];
		setSpeed(((e.clientX - box.left - begin) / (end - begin)) * state.railEnd.value);
	};
	const x = at(speed);
	return (
		<>
			{open.map((g, i) => (
				<Head key={keyOf(g.group)} of={g.group} speed={speed} top={i * step()} />
			))}
			<svg
				class="moving"
				style={{ left: `${left}px` }}
				width={width.value - left}
				height={high}
				aria-hidden="true"
				onPointerDown={drag}
				onPointerMove={drag}
				onPointerUp={() => {
					from.current = null;
				}}
				onPointerCancel={() => {
					from.current = null;
				}}
			>
				<line class="now" x1={x - left} x2={x - left} y1={0} y2={high} />
				{open.map((g, i) =>
					g.group.lines.map((l) => {
						const v = valueAt(l.speeds, l.values, speed);
						return (
							v !== null && (
								<circle
									key={l.id}
									class="bead"
									r={4}
									cx={x - left}
									cy={i * step() + g.y(clipped(g.group.stave, v))}
								/>
							)
						);
					}),
				)}
			</svg>
		</>
	);
}

/** What a stave is, and what it reads at the handle. */
function Head({ of, speed, top }: { of: Group; speed: number; top: number }) {
	const { about } = known(of.stave);
	const [first, ...more] = of.lines;
	return (
		<div
			class={isNarrow() ? "stave-head narrow" : "stave-head"}
			style={{ top: `${top}px`, height: `${isNarrow() ? step() - HEIGHT : step()}px` }}
		>
			<b title={about}>{first?.label}</b>
			<span class="stave-now">{read(of, speed)}</span>
			{more.length > 0 && !isNarrow() && (
				<span class="stave-key">
					{more
						.slice(0, 2)
						.map((l, i) => `${i === 0 ? "╌" : "┈"} ${l.label}`)
						.join(" ")}
				</span>
			)}
			<button type="button" aria-label={`Fold ${first?.label}`} onClick={() => toggle(of)}>
				–
			</button>
		</div>
	);
}

/** The rest, one line each with its value at the handle. */
function Folded({ of }: { of: Open[] }) {
	const speed = state.at.value;
	if (of.length === 0) return null;
	return (
		<ul class="folded" aria-label="More staves">
			{of.map(({ group }) => (
				<li key={keyOf(group)}>
					<button type="button" title={known(group.stave).about} onClick={() => toggle(group)}>
						<span aria-hidden="true">+</span> <span class="what">{group.lines[0]?.label}</span>{" "}
						<span class="stave-now">{read(group, speed, 1)}</span>
					</button>
				</li>
			))}
		</ul>
	);
}

/** No number where there is no line. */
function read(of: Group, speed: number, most = 3): string {
	const now = of.lines.slice(0, most).map((l) => valueAt(l.speeds, l.values, speed));
	if (now.every((v) => v === null)) return "–";
	return `${now.map(shown).join(" / ")}${of.unit === "°" ? "" : " "}${of.unit}`;
}

/** Three digits, and no decimals that mean nothing on a rail. */
function shown(v: number | null): string {
	if (v === null) return "–";
	if (Math.abs(v) >= 1000) return Number(v.toPrecision(3)).toFixed(0);
	const text = v.toFixed(Math.abs(v) < 100 ? 1 : 0);
	return Number(text) === 0 ? "0" : text.replace("-", "−");
}

/** The same numbers, for reading, copying and screen readers: read off at the speeds of the curve. */
function Numbers({ lines }: { lines: readonly RailLine[] }) {
	const speeds = lines[0]?.speeds ?? [];
	const head = [unitOf("km/h"), ...lines.map((l) => `${l.label}, ${l.unit}`)];
	const rows = speeds.map((s) => [
		inUnit(s, "km/h").toFixed(1),
		...lines.map((l) => valueAt(l.speeds, l.values, s)?.toPrecision(3) ?? ""),
	]);
	return (
		<div class="rail-foot">
			<Take name="speed-rail" rows={[head, ...rows]} picture=".rail .still" />
			<details class="numbers">
				<summary>The rail as numbers</summary>
				{/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must take the keyboard */}
				<section class="scroll" tabIndex={0} aria-label="The rail as numbers">
					<table>
						<thead>
							<tr>
								{head.map((h) => (
									<th scope="col" key={h}>
										{h}
									</th>
								))}
							</tr>
						</thead>
						<tbody>
							{rows.map(([speed, ...values]) => (
								<tr key={speed}>
									<th scope="row">{speed}</th>
									{values.map((v, i) => (
										<td key={lines[i]?.id}>{v || "–"}</td>
									))}
								</tr>
							))}
						</tbody>
					</table>
				</section>
			</details>
		</div>
	);
}
