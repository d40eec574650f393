// The boat from the side, above or ahead, on the water, to scale.
import { useEffect, useRef, useState } from "preact/hooks";
import type { Form, Pose } from "../api/types";
import { editLive } from "../desk";
import * as state from "../state";
import { say } from "../ui/units";
import { inside, near } from "./keep";
import { length, place, planform, profile } from "./outline";
import type { Attitude } from "./pose";

type Axis = 0 | 1 | 2;
export type Flat = Exclude<state.ViewName, "3D">;
type Part = Form["parts"][number];
type Fitting = Form["fittings"][number];
const AXES: Record<Flat, [Axis, Axis]> = { side: [0, 2], plan: [0, 1], end: [1, 2] };
const WHAT = { side: "from the side", plan: "from above", end: "from ahead" };

interface Props {
	from: Flat;
	attitude: Attitude;
	pose: Pose | undefined;
	/** The saved boat, behind what is tried out. */
	saved: { form: Form; attitude: Attitude } | null;
}

export function Drawing(props: Props) {
	const hull = state.form.value;
	if (!hull) return <p class="quiet">Drawing the hull …</p>;
	return <Sheet hull={hull} {...props} />;
}

function Sheet({ hull, from, attitude, pose, saved }: Props & { hull: Form }) {
	const [h, v] = AXES[from];
	const low = hull.bounds_m[0] ?? [0, 0, 0];
	const high = hull.bounds_m[1] ?? [1, 1, 1];
	const margin = hull.length_m * (from === "end" ? 0.08 : 0.14);
	const left = (low[h] ?? 0) - margin;
	const wide = (high[h] ?? 1) - (low[h] ?? 0) + 2 * margin;
	const top = (high[v] ?? 1) + margin;
	// Under it the words of the state stand over the drawing.
	const tall = 1.12 * ((high[v] ?? 1) - (low[v] ?? 0) + 2 * margin);
	return (
		<svg
			class="sheet"
			viewBox={`${left} ${-top} ${wide} ${tall}`}
			role="group"
			aria-label={`The boat ${WHAT[from]}`}
			style={{ "--unit": wide / 900 }}
		>
			{from !== "plan" && <Water left={left} wide={wide} depth={tall} />}
			{saved && <Ghost of={saved.form} now={hull} from={from} attitude={saved.attitude} />}
			<g transform={stance(from, attitude)}>
				<g transform="scale(1 -1)">
					<Hull hull={hull} from={from} />
					<Wet pose={pose} h={h} v={v} />
					<Forces hull={hull} pose={pose} h={h} v={v} />
				</g>
				{things(hull).map((thing) => (
					<Piece key={thing.at_path.join("/")} hull={hull} thing={thing} h={h} v={v} />
				))}
				<Centre
					at={hull.balance_m.map((m, i) => m + (state.shift.value[i] ?? 0))}
					h={h}
					v={v}
					size={wide / 90}
				/>
			</g>
			<Ruler
				hull={hull}
				from={from}
				left={left}
				wide={wide}
				bottom={tall / 1.12 - top}
				attitude={attitude}
			/>
		</svg>
	);
}

/** The saved boat's outline, and the parts of it that were moved. */
function Ghost(props: { of: Form; now: Form; from: Flat; attitude: Attitude }) {
	const { of, now, from, attitude } = props;
	const [h, v] = AXES[from];
	const same = (part: Thing, other: Thing) =>
		part.name === other.name &&
		part.at_m.every((x, i) => Math.abs(x - (other.at_m[i] ?? 0)) < 5e-5);
	const moved = things(of).filter((t) => !things(now).some((n) => same(t, n)));
	const outline = from === "end" ? [] : from === "side" ? profile(of) : planform(of);
	return (
		<g class="ghost" transform={stance(from, attitude)}>
			<title>The saved boat</title>
			<path transform="scale(1 -1)" d={path(outline, 0, 1)} />
			{moved.map((t) => (
				<rect
					key={t.at_path.join("/")}
					x={(t.at_m[h] ?? 0) + (t.low[h] ?? 0)}
					y={-(t.at_m[v] ?? 0) - (t.high[v] ?? 0)}
					width={(t.high[h] ?? 0) - (t.low[h] ?? 0)}
					height={(t.high[v] ?? 0) - (t.low[v] ?? 0)}
				/>
			))}
		</g>
	);
}

function stance(from: Flat, pose: Attitude): string {
	if (from === "plan") return "";
	const turn = from === "side" ? -pose.trim_deg : -pose.heel_deg;
	return `translate(0 ${-pose.rise_m}) rotate(${turn})`;
}

function Water({ left, wide, depth }: { left: number; wide: number; depth: number }) {
	return <rect class="water" x={left} y={0} width={wide} height={depth} />;
}

const path = (points: number[][], h: number, v: number) =>
	points.length ? `M${points.map((p) => `${p[h]} ${p[v]}`).join("L")}Z` : "";

function Hull({ hull, from }: { hull: Form; from: Flat }) {
	const chosen = state.cut.value === null ? undefined : hull.sections[state.cut.value];
	if (from === "end")
		return (
			<g>
				{hull.sections.map((section) => (
					<path
						class={section === chosen ? "section chosen" : "section"}
						key={section.x_m}
						d={section.lines_m.map((l) => path(l, 0, 1)).join("")}
					/>
				))}
			</g>
		);
	return (
		<g>
			<path class="hull" d={path(from === "side" ? profile(hull) : planform(hull), 0, 1)} />
			{chosen && <path class="cut" d={crossing(hull, chosen.x_m, from)} />}
			{from === "plan" &&
				hull.surfaces.map((s) => <path class="pad" key={s.name} d={path(s.outline_m, 0, 1)} />)}
		</g>
	);
}

/** Where the cross-section is taken, drawn right across. */
function crossing(hull: Form, x_m: number, from: Flat): string {
	const axis = AXES[from][1];
	const [low, high] = hull.bounds_m.map((b) => b[axis] ?? 0) as [number, number];
	const over = 0.15 * (high - low);
	return `M${x_m} ${low - over}V${high + over}`;
}

function Wet({ pose, h, v }: { pose: Pose | undefined; h: Axis; v: Axis }) {
	return (
		<g>
			{pose?.wetted.map((wet) => (
				<path class="wet" key={wet.surface} d={path(wet.outline_m, h, v)} />
			))}
		</g>
	);
}

interface Flow {
	hull: Form;
	pose: Pose | undefined;
	h: Axis;
	v: Axis;
}

/** Forces to one scale: the weight is a fifth of the boat's length. */
function Forces({ hull, pose, h, v }: Flow) {
	const forces = pose?.forces ?? [];
	const size = (force: number[]) => Math.hypot(...force);
	const weight = size(forces.find((f) => f.name === "weight")?.force_n ?? [0, 0, 1]);
	const scale = (0.2 * hull.length_m) / (weight || 1);
	return (
		<g>
			{forces
				.filter((force) => size(force.force_n) > weight / 100)
				.map((force) => {
					const [x, y] = [force.at_m[h] ?? 0, force.at_m[v] ?? 0];
					const [dx, dy] = [(force.force_n[h] ?? 0) * scale, (force.force_n[v] ?? 0) * scale];
					const up = force.name === "weight" ? "down" : "up";
					return (
						<g class={`force ${up}`} key={force.name}>
							<title>{`${force.name}: ${size(force.force_n).toFixed(2)} N`}</title>
							<line x1={x} y1={y} x2={x + dx} y2={y + dy} />
							<circle cx={x + dx} cy={y + dy} r={hull.length_m / 160} />
						</g>
					);
				})}
		</g>
	);
}

/** Whatever has a place in the file. */
interface Thing {
	name: string;
	mass_g: number;
	words: string;
	at_m: number[];
	/** Least and greatest corner from its place, m. */
	low: number[];
	high: number[];
	at_path: Part["at_path"];
	fitting: boolean;
}

/** Largest first, so that the small lie on top and can be taken hold of. */
function things(hull: Form): Thing[] {
	const parts = hull.parts.filter((p) => p.at_path.length > 0).map(ofPart);
	const all = [...parts, ...hull.fittings.map(ofFitting)];
	const size = (t: Thing) => Math.max(...t.high.map((x, i) => x - (t.low[i] ?? 0)));
	return all.sort((a, b) => size(b) - size(a));
}

function ofPart(part: Part): Thing {
	const half = part.size_m.map((s) => (s || 0.014) / 2);
	return {
		name: part.name,
		mass_g: part.mass.value ?? 0,
		words: `${part.name}, ${say(part.mass)}`,
		at_m: part.at_m,
		low: half.map((x) => -x),
		high: half,
		at_path: part.at_path,
		fitting: false,
	};
}

/** A disc seen edge on, a blade hanging down, a wing lying; an opening is a spot. */
function ofFitting(f: Fitting): Thing {
	const thin = 0.002;
	const [chord, span] = [(f.chord_m ?? 0.008) / 2, f.span_m ?? 0];
	const boxes: Record<string, [number[], number[]]> = {
		propeller: [
			[-thin, -chord, -chord],
			[thin, chord, chord],
		],
		wing: [
			[-chord, -span / 2, -thin],
			[chord, span / 2, thin],
		],
	};
	const blade: [number[], number[]] = [
		[-chord, -thin, -span],
		[chord, thin, 0],
	];
	const spot: [number[], number[]] = [
		[-0.004, -0.004, -0.004],
		[0.004, 0.004, 0.004],
	];
	const [low, high] = boxes[f.kind] ?? (span > 0 ? blade : spot);
	const words = f.name && f.name !== f.kind ? `${f.kind} ${f.name}` : f.kind;
	return {
		name: f.kind,
		mass_g: 0,
		words,
		at_m: f.at_m,
		low,
		high,
		at_path: f.at_path,
		fitting: true,
	};
}

/** What a drag holds on to, as it was when it began. */
interface Grip {
	x: number;
	y: number;
	/** From the screen to the boat: whatever moves or turns meanwhile, the part follows the hand alone. */
	into: DOMMatrix;
	at: number[];
	/** Of a finger, which may be scrolling until it has gone sideways, px. */
	touched: number | null;
}

/** A finger has gone sideways, px. */
const SIDEWAYS = 10;

/** Where it may be; with Alt held, anywhere. */
function allowed(hull: Form, part: Thing, from: number[], to: number[], forced: boolean): number[] {
	if (forced) return to;
	if (part.fitting) return near(hull, to);
	const size = part.high.map((x, i) => x - (part.low[i] ?? 0));
	return inside(hull, size, from, to);
}

/** It can be dragged, or moved by the arrow keys. */
function Piece({ hull, thing: part, h, v }: { hull: Form; thing: Thing; h: Axis; v: Axis }) {
	const [moved, setMoved] = useState<number[] | null>(null);
	const grip = useRef<Grip | null>(null);
	// One drag is one step back, and so is one press of a key, however long it is held.
	const gesture = useRef(crypto.randomUUID());
	const at = moved ?? part.at_m;
	useEffect(() => {
		// An answer has come while it is held: the rest of the way is reckoned from there.
		if (moved) state.held.value = { mass_g: part.mass_g, from: part.at_m, to: moved };
	}, [part.at_m]);
	const corner = (list: number[], axis: Axis) => list[axis] ?? 0;
	const [left, top] = [corner(part.low, h), corner(part.high, v)];
	const [wide, tall] = [corner(part.high, h) - left, top - corner(part.low, v)];
	/** Its name fits into it, or is left to who points at it. */
	const letters = Math.min(hull.length_m / 45, wide / (0.62 * part.name.length), tall);
	const move = (to: number[]) => {
		setMoved(to);
		state.held.value = { mass_g: part.mass_g, from: part.at_m, to };
		const edits = [{ path: part.at_path, value: place(to) }];
		void editLive(edits, gesture.current).then(() => {
			if (grip.current) return;
			setMoved(null);
			state.held.value = null;
		});
	};
	const key = (event: KeyboardEvent) => {
		const by = nudge(event, h, v);
		if (!by) return;
		event.preventDefault();
		if (!event.repeat) gesture.current = crypto.randomUUID();
		const to = at.map((value, i) => value + (by[i] ?? 0));
		move(allowed(hull, part, at, to, event.altKey));
	};
	return (
		<g
			class={part.fitting ? "piece fitting" : "piece"}
			role="button"
			tabindex={0}
			aria-label={`${part.words}, ${length(at[0] ?? 0)} ahead of the transom. Arrow keys move it.`}
			onKeyDown={key}
			onPointerDown={(event) => {
				event.currentTarget.setPointerCapture(event.pointerId);
				const group = event.currentTarget.parentNode as SVGGElement;
				const into = group.getScreenCTM()?.inverse();
				if (!into) return;
				const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(into);
				gesture.current = crypto.randomUUID();
				const touched = event.pointerType === "touch" ? event.clientX : null;
				grip.current = { x: p.x, y: p.y, into, at: part.at_m, touched };
			}}
			onPointerMove={(event) => {
				const from = grip.current;
				if (!from) return;
				if (from.touched !== null && Math.abs(event.clientX - from.touched) < SIDEWAYS) return;
				from.touched = null;
				const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(from.into);
				const to = [...from.at];
				to[h] = (to[h] ?? 0) + p.x - from.x;
				to[v] = (to[v] ?? 0) - (p.y - from.y);
				move(allowed(hull, part, from.at, to, event.altKey));
			}}
			onPointerUp={() => {
				grip.current = null;
				if (moved) move(moved);
			}}
			onPointerCancel={() => {
				grip.current = null;
			}}
		>
			<title>{part.words}</title>
			<rect x={(at[h] ?? 0) + left} y={-(at[v] ?? 0) - top} width={wide} height={tall} />
			{letters >= hull.length_m / 75 && !part.fitting && (
				<text
					class="piece-name"
					x={(at[h] ?? 0) + left + wide / 2}
					y={-(at[v] ?? 0) - top + tall / 2}
					font-size={letters}
				>
					{part.name}
				</text>
			)}
		</g>
	);
}

const WAYS: Record<string, [number, number]> = {
	ArrowLeft: [-1, 0],
	ArrowRight: [1, 0],
	ArrowUp: [0, 1],
	ArrowDown: [0, -1],
};

function nudge(event: KeyboardEvent, h: Axis, v: Axis): number[] | null {
	const way = WAYS[event.key];
	if (!way) return null;
	const size = event.shiftKey ? 0.01 : 0.001;
	const move = [0, 0, 0];
	move[h] = way[0] * size;
	move[v] = way[1] * size;
	return move;
}

function Centre({ at, h, v, size }: { at: number[]; h: Axis; v: Axis; size: number }) {
	const [x, y] = [at[h] ?? 0, -(at[v] ?? 0)];
	return (
		<g class="centre">
			<title>centre of gravity</title>
			<circle cx={x} cy={y} r={size} />
			<path d={`M${x - size * 1.6} ${y}h${size * 3.2}M${x} ${y - size * 1.6}v${size * 3.2}`} />
		</g>
	);
}

interface Ruled {
	hull: Form;
	from: Flat;
	left: number;
	wide: number;
	bottom: number;
	attitude: Attitude;
}

/** Length or beam along the bottom; height and how deep it lies up the left side. */
function Ruler({ hull, from, left, wide, bottom, attitude }: Ruled) {
	const long = from === "end" ? hull.beam_m : hull.length_m;
	const start = from === "end" ? -long / 2 : 0;
	const y = bottom - wide * 0.012;
	const [low, high] = hull.bounds_m.map((b) => b[2] ?? 0) as [number, number];
	const deep = from === "side" ? -lowest(hull, attitude) : 0;
	const x = left + wide * 0.03;
	const size = wide / 60;
	return (
		<g class="ruler">
			<path
				d={`M${start} ${y - wide / 200}v${wide / 100}M${start} ${y}h${long}m0 ${-wide / 200}v${wide / 100}`}
			/>
			<text x={start + 0.8 * long} y={y - wide * 0.008} font-size={size} text-anchor="middle">
				{from === "end" ? `beam ${length(long)}` : `length ${length(long)}`}
			</text>
			{from !== "plan" && (
				<text x={x} y={-high - size} font-size={size}>
					height {length(high - low)}
				</text>
			)}
			{deep > 0 && (
				<g>
					<path d={`M${x} 0v${deep}m${-wide / 200} 0h${wide / 100}`} />
					<text x={x + wide / 100} y={deep} font-size={size}>
						{attitude.rise_m === state.shown.value?.poses.rest?.rise_m ? "draught" : "deepest"}{" "}
						{length(deep)}
					</text>
				</g>
			)}
		</g>
	);
}

/** Lowest point of the outline over still water, as it sits, m. */
function lowest(hull: Form, attitude: Attitude): number {
	const rad = (attitude.trim_deg * Math.PI) / 180;
	const heights = profile(hull).map(([x, z]) => x * Math.sin(rad) + z * Math.cos(rad));
	return Math.min(...heights) + attitude.rise_m;
}
