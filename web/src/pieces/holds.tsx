// Whether it holds: the margin along the length under the side view, which load is worst, what breaks first.
import { useEffect, useState } from "preact/hooks";
import { answer, api, Refused } from "../api/client";
import type { Form } from "../api/types";
import { length, profile } from "../scene/outline";
import * as state from "../state";
import { best } from "../ui/format";
import { Take } from "../ui/take";
import { inUnit, inWords, unitOf } from "../ui/units";
import { useWidth } from "../ui/width";
import { runs, SHOWN, type Strength, times } from "./margin";

/** Of the boat that is shown, anew when that changes. */
function useStrength(): Strength | null {
	const [got, setGot] = useState<Strength | null>(null);
	const of = state.isTrying.value ? "whatif" : "saved";
	const revision = state.shown.value?.study.revision;
	const full = state.shown.value?.study.full;
	useEffect(() => {
		let gone = false;
		// The page asks for the full answer by itself; this one comes with it.
		if (full)
			answer(api.GET("/api/strength", { params: { query: { of } } }))
				.then((now) => !gone && setGot(now))
				.catch((e) => {
					if (!(e instanceof Refused)) throw e;
				});
		return () => {
			gone = true;
		};
	}, [of, revision, full]);
	return got?.revision === revision ? got : null;
}

export function Holds() {
	const got = useStrength();
	return (
		<section class="holds" aria-label="Does it hold">
			<h2>Does it hold</h2>
			{!got ? <p class="busy">Bending it …</p> : got.open ? <p>{got.open}</p> : <Told of={got} />}
		</section>
	);
}

/** `it breaks there: it holds 40 % of that`, or how many times over it holds. */
const holds = (margin: number) =>
	margin < 1
		? `it breaks, since it holds ${(100 * margin).toFixed(0)} % of that`
		: `it holds ${times(margin)} that`;

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

function Told({ of: s }: { of: Strength }) {
	const worst = s.margins[0];
	const crash = s.crashes.find((c) => c.broken);
	return (
		<>
			{worst && (
				<p class="outcome">
					<b>
						Weakest is the {inWords(worst.place)}, {worst.load}: {holds(best(worst.holds))}.
					</b>
				</p>
			)}
			{s.bow && (
				<p>
					It bends {s.bow.bow.shown} between its ends at most, {s.bow.load}; {s.bow.beyond}.
				</p>
			)}
			<Along of={s} />
			<p class="quiet">
				{worst &&
					s.acting.length > 0 &&
					`Arrows press on it there: ${worst.load}; its own weight is against them. `}
				Strength over stress in {s.material}, by which way up each piece prints; below one it
				breaks. Lines are the hull's own wall, diamonds its joints. An estimate, not a certificate:
				two prints of one file differ by half.
			</p>
			<Worst of={s} />
			{s.levers.length > 0 && <Levers of={s} />}
			{s.crashes.length > 0 && (
				<details open={crash !== undefined}>
					<summary>What breaks first in a crash</summary>
					<ul>
						{s.crashes.map((c) => (
							<li key={c.what}>
								{c.broken ? "■" : "●"} {capital(c.what)}: {inWords(c.breaks)}.
							</li>
						))}
					</ul>
				</details>
			)}
		</>
	);
}

function Worst({ of: s }: { of: Strength }) {
	return (
		<details>
			<summary>All that was looked at, worst first</summary>
			<div class="scroll">
				<table>
					<thead>
						<tr>
							<th scope="col">place</th>
							<th scope="col">load</th>
							<th scope="col">stress</th>
							<th scope="col">strength</th>
							<th scope="col">holds</th>
						</tr>
					</thead>
					<tbody>
						{s.margins.map((m) => (
							<tr key={m.place + m.load}>
								<th scope="row">{inWords(m.place)}</th>
								<td>{m.load}</td>
								<td>{m.stress.shown}</td>
								<td>{m.strength.shown}</td>
								<td>{m.holds.shown}</td>
							</tr>
						))}
					</tbody>
				</table>
			</div>
		</details>
	);
}

function Levers({ of: s }: { of: Strength }) {
	return (
		<table>
			<caption>What would change it: the worst margin then</caption>
			<thead>
				<tr>
					<th scope="col">change</th>
					<th scope="col">hull</th>
					<th scope="col">joints</th>
					<th scope="col">panels</th>
				</tr>
			</thead>
			<tbody>
				{s.levers.map((l) => (
					<tr key={l.what}>
						<th scope="row">{inWords(l.what)}</th>
						<td>{times(l.hull)}</td>
						<td>{l.joints == null ? "–" : times(l.joints)}</td>
						<td>{l.panels == null ? "–" : times(l.panels)}</td>
					</tr>
				))}
			</tbody>
		</table>
	);
}

/** Left of the margin's axis, px; over the boat, between boat and margin, under it. */
const [LEFT, RIGHT, TOP, GAP, FOOT] = [38, 10, 24, 26, 40];
/** The greatest force is drawn as long as this, px, the least no shorter than that. */
const ARROW = [34, 12] as const;
const HIGH = 130;

/** Boat and margin over one axis along the hull. */
function Along({ of: s }: { of: Strength }) {
	const [box, wide] = useWidth();
	const hull = state.form.value;
	if (!hull) return <div ref={box} />;
	const [low, high] = hull.bounds_m as [number[], number[]];
	const [from, to] = [low[0] ?? 0, high[0] ?? 1];
	const scale = (wide - LEFT - RIGHT) / Math.max(to - from, 1e-6);
	const x = (m: number) => LEFT + (m - from) * scale;
	const tall = ((high[2] ?? 0) - (low[2] ?? 0)) * scale;
	const over = TOP + (s.acting.some((p) => p.down) ? ARROW[0] : 0);
	const under = over + tall + (s.acting.some((p) => !p.down) ? ARROW[0] + 6 : 0);
	const z = (m: number) => over + ((high[2] ?? 0) - m) * scale;
	const top = under + GAP;
	const y = (margin: number) => top + HIGH * (1 - Math.min(margin, SHOWN) / SHOWN);
	const worst = s.margins[0];
	return (
		<div class="along" ref={box}>
			<svg
				class="margins"
				width={wide}
				height={top + HIGH + FOOT}
				role="img"
				aria-label={
					worst
						? `Strength over stress along the hull. Weakest at ${length(worst.x_m)} ahead of the transom, ${worst.load}: ${times(best(worst.holds))}.`
						: "Strength over stress along the hull"
				}
			>
				<path class="hull" d={outline(hull, x, z)} />
				{s.stretches.map((p) => (
					<text
						key={p.from_m}
						class="layers"
						x={x((p.from_m + p.to_m) / 2)}
						y={under + 16}
						text-anchor="middle"
					>
						{(p.to_m - p.from_m) * scale > 90 && (p.standing ? "prints standing" : "prints lying")}
					</text>
				))}
				{s.joints.map((j) => (
					<g class="joint" key={j.x_m}>
						<line x1={x(j.x_m)} x2={x(j.x_m)} y1={TOP - 4} y2={top + HIGH} />
						<text x={x(j.x_m)} y={TOP - 7} text-anchor="middle">
							{j.kind}
						</text>
					</g>
				))}
				{[0, 1, 2, 5, 10].map((m) => (
					<g class={m === 1 ? "rule limit" : "rule"} key={m}>
						<line x1={LEFT} x2={wide - RIGHT} y1={y(m)} y2={y(m)} />
						{/* Digits that would touch are left out. */}
						{m !== 0 && m !== 2 && (
							<text x={LEFT - 5} y={y(m) + 4} text-anchor="end">
								{m}
							</text>
						)}
					</g>
				))}
				<rect class="breaks" x={LEFT} y={y(1)} width={wide - LEFT - RIGHT} height={y(0) - y(1)} />
				{runs(s.stations).map((run) => (
					<Load key={run.load + run.points[0]?.[0]} run={run} x={x} y={y} />
				))}
				{weakestJoints(s).map((j) => (
					<path
						class="joint-mark"
						key={j.x_m}
						d={`M${x(j.x_m)} ${y(best(j.holds)) - 6}l6 6l-6 6l-6 -6Z`}
					>
						<title>{`${j.place}, ${j.load}: ${times(best(j.holds))}`}</title>
					</path>
				))}
				{s.acting.map((p) => (
					<Push
						key={p.x_m}
						of={p}
						most={Math.max(...s.acting.map((o) => best(o.force)))}
						x={x(p.x_m)}
						y={z(p.z_m)}
						left={x(p.x_m) > wide - 70}
					/>
				))}
				{worst && (
					<g class="weakest">
						<circle cx={x(worst.x_m)} cy={y(best(worst.holds))} r={6} />
						<circle cx={x(worst.x_m)} cy={z(((high[2] ?? 0) + (low[2] ?? 0)) / 2)} r={6} />
						<line
							x1={x(worst.x_m)}
							x2={x(worst.x_m)}
							y1={z(((high[2] ?? 0) + (low[2] ?? 0)) / 2) + 6}
							y2={y(best(worst.holds)) - 6}
						/>
					</g>
				)}
				<Foot from={from} to={to} x={x} y={top + HIGH} />
			</svg>
			<Take
				name="margins"
				picture=".margins"
				rows={[
					["ahead of the transom [m]", "strength over stress", "load"],
					...s.stations.map((p) => [p.x_m, p.margin, p.load]),
				]}
			/>
		</div>
	);
}

interface Pushed {
	of: Strength["acting"][number];
	most: number;
	x: number;
	y: number;
	left: boolean;
}

/** An arrow whose tip is at the hull, with its force beside the tail. */
function Push({ of, most, x, y, left }: Pushed) {
	const way = of.down ? 1 : -1;
	const tail = y - way * Math.max((ARROW[0] * best(of.force)) / (most || 1), ARROW[1]);
	return (
		<g class="push">
			<line x1={x} x2={x} y1={tail} y2={y - 5 * way} />
			<path d={`M${x} ${y}l-3 ${-8 * way}h6Z`} />
			<text
				x={x + (left ? -6 : 6)}
				y={tail + (of.down ? 8 : 0)}
				text-anchor={left ? "end" : "start"}
			>
				{of.force.shown}
			</text>
		</g>
	);
}

/** Each joint under its worst load: margins come worst first. */
const weakestJoints = (s: Strength) =>
	s.margins.filter(
		(m, i, all) => m.of === "joint" && all.findIndex((o) => o.place === m.place) === i,
	);

const outline = (hull: Form, x: (m: number) => number, z: (m: number) => number) =>
	`M${profile(hull)
		.map(([a, b]) => `${x(a).toFixed(1)} ${z(b).toFixed(1)}`)
		.join("L")}Z`;

interface Placed {
	x: (m: number) => number;
	y: (margin: number) => number;
}

/** One load over the stretch where it is the worst, with its name where that fits. */
function Load({ run, x, y }: Placed & { run: ReturnType<typeof runs>[number] }) {
	const [first, last] = [run.points[0], run.points.at(-1)];
	if (!first || !last || run.points.length < 2) return null;
	const middle = run.points[Math.floor(run.points.length / 2)] ?? first;
	const fits = x(last[0]) - x(first[0]) > 6.2 * run.load.length;
	const under = y(middle[1]) - y(SHOWN) < 18;
	return (
		<g class="load">
			<title>{run.load}</title>
			<path
				d={`M${run.points.map(([a, b]) => `${x(a).toFixed(1)} ${y(b).toFixed(1)}`).join("L")}`}
			/>
			{fits && (
				<text
					x={(x(first[0]) + x(last[0])) / 2}
					y={y(middle[1]) + (under ? 16 : -7)}
					text-anchor="middle"
				>
					{run.load}
				</text>
			)}
		</g>
	);
}

function Foot({ from, to, x, y }: { from: number; to: number; x: Placed["x"]; y: number }) {
	const unit = unitOf("mm");
	const step = unit === "in" ? 4 : 100;
	const shown = (m: number) => inUnit(1000 * m, "mm");
	const back = (v: number) => v / (shown(1) || 1);
	const ticks: number[] = [];
	for (let v = Math.ceil(shown(from) / step) * step; v <= shown(to); v += step) ticks.push(v);
	return (
		<g class="foot">
			{ticks.map((v) => (
				<text key={v} x={x(back(v))} y={y + 15} text-anchor="middle">
					{v}
				</text>
			))}
			<text x={x((from + to) / 2)} y={y + 34} text-anchor="middle">
				{unit} ahead of the transom
			</text>
		</g>
	);
}
