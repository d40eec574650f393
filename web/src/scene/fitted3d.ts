// What is fitted, as solids in the boat's own axes; and its sizes.
import {
	BoxGeometry,
	BufferGeometry,
	CylinderGeometry,
	EdgesGeometry,
	Group,
	Line,
	LineSegments,
	Mesh,
	MeshLambertMaterial,
	Vector3,
} from "three";
import { mergeGeometries } from "three/addons/utils/BufferGeometryUtils.js";
import type { Form } from "../api/types";
import { length, profile } from "./outline";
import { ink, paint, word } from "./stage";

type Part = Form["parts"][number];
type Fitting = Form["fittings"][number];

/** Mean density of what goes into a boat, for the size of a part nobody measured, kg/m3 (judgement). */
const DENSITY = 1500;

/** Parts heavier than this share of all of them carry their name. */
const NAMED = 0.1;

const solid = (name: string) => paint("solid", name, () => new MeshLambertMaterial());

/** Parts as boxes, propellers as discs, blades and wings as plates: one shape for each paint. */
export function fitted(form: Form, names = true): Group {
	const group = new Group();
	const whole = form.parts.reduce((sum, p) => sum + (p.mass.value ?? 0), 0);
	const parts = form.parts.filter((p) => p.at_path.length > 0);
	group.add(together(parts.map(box), "part"));
	for (const part of names ? parts : []) {
		// Only the heavy ones carry their name: all of them would cover the boat.
		if ((part.mass.value ?? 0) < NAMED * whole) continue;
		const name = word(part.name, 0.035 * form.length_m);
		const [x, y, z] = part.at_m as [number, number, number];
		name.position.set(x, y, z + sizeOf(part)[2] / 2 + 0.03 * form.length_m);
		group.add(name);
	}
	const propellers = form.fittings.filter((f) => f.kind === "propeller");
	group.add(together(propellers.map(disc), "stop"));
	group.add(together(form.fittings.map(plate), "steel"));
	return group;
}

function together(shapes: (BufferGeometry | null)[], name: string): Group {
	const group = new Group();
	const found = shapes.filter((s): s is BufferGeometry => s !== null);
	if (found.length === 0) return group;
	const one = mergeGeometries(found);
	for (const shape of found) shape.dispose();
	group.add(new Mesh(one, solid(name)));
	return group;
}

export function sizeOf(part: Part): [number, number, number] {
	const [x, y, z] = part.size_m as [number, number, number];
	if (x > 0 && y > 0 && z > 0) return [x, y, z];
	const side = Math.cbrt(((part.mass.value ?? 10) * 1e-3) / DENSITY);
	return [side, side, side];
}

/** A motor is drawn round, the rest as the block it is. */
function box(part: Part): BufferGeometry {
	const [x, y, z] = sizeOf(part);
	const at = part.at_m as [number, number, number];
	if (!/motor/i.test(part.name)) return new BoxGeometry(x, y, z).translate(...at);
	const can = new CylinderGeometry(0.5, 0.5, 1, 24).rotateZ(Math.PI / 2).scale(x, y, z);
	return can.translate(...at);
}

/** The saved boat's outline, and the boxes of those of its parts that were moved. */
export function ghostly(saved: Form, now: Form): Group {
	const group = new Group();
	const paint = ink("quiet");
	const add = (points: Vector3[]) => {
		const line = new Line(new BufferGeometry().setFromPoints(points), paint);
		line.renderOrder = 3;
		group.add(line);
	};
	const side = profile(saved).map(([x, z]) => new Vector3(x, 0, z));
	if (side[0]) add([...side, side[0]]);
	for (const part of saved.parts) {
		const same = now.parts.find((p) => p.name === part.name);
		const moved = !same || part.at_m.some((v, i) => Math.abs(v - (same.at_m[i] ?? 0)) > 5e-5);
		if (part.at_path.length === 0 || !moved) continue;
		const solid = new BoxGeometry(...sizeOf(part));
		const edges = new LineSegments(new EdgesGeometry(solid), paint);
		solid.dispose();
		edges.geometry.translate(...(part.at_m as [number, number, number]));
		edges.renderOrder = 3;
		group.add(edges);
	}
	return group;
}

function disc({ chord_m, at_m }: Fitting): BufferGeometry | null {
	if (!chord_m) return null;
	const disc = new CylinderGeometry(chord_m / 2, chord_m / 2, 0.003, 32);
	return disc.rotateZ(Math.PI / 2).translate(...(at_m as [number, number, number]));
}

function plate({ kind, chord_m, span_m, lean_deg, at_m }: Fitting): BufferGeometry | null {
	if (!chord_m || !span_m) return null;
	const at = at_m as [number, number, number];
	if (kind === "wing") return new BoxGeometry(chord_m, span_m, 0.002).translate(...at);
	const blade = new BoxGeometry(chord_m, 0.002, span_m).translate(0, 0, -span_m / 2);
	return blade.rotateX(((lean_deg ?? 0) * Math.PI) / 180).translate(...at);
}

/** Length, beam and height, each with its line. */
export function measured(form: Form): Group {
	const group = new Group();
	const [low, high] = form.bounds_m as [number[], number[]];
	const [x0, y0, z0] = low as [number, number, number];
	const [x1, y1, z1] = high as [number, number, number];
	const away = 0.06 * form.length_m;
	const rule = (text: string, a: Vector3, b: Vector3) => {
		const line = new Line(new BufferGeometry().setFromPoints([a, b]), ink("ink"));
		line.renderOrder = 4;
		const label = word(text, 0.04 * form.length_m);
		label.position.copy(a).lerp(b, 0.5);
		group.add(line, label);
	};
	rule(`length ${length(x1 - x0)}`, new Vector3(x0, y0 - away, z0), new Vector3(x1, y0 - away, z0));
	rule(`beam ${length(y1 - y0)}`, new Vector3(x0 - away, y0, z0), new Vector3(x0 - away, y1, z0));
	rule(`height ${length(z1 - z0)}`, new Vector3(x0 - away, y1, z0), new Vector3(x0 - away, y1, z1));
	return group;
}

/** A cross-section as a line in space. */
export function outline(form: Form, index: number): Group {
	const group = new Group();
	const section = form.sections[index];
	for (const points of section?.lines_m ?? []) {
		const first = points[0];
		if (!section || !first) continue;
		const each = [...points, first].map((p) => new Vector3(section.x_m, p[0] ?? 0, p[1] ?? 0));
		const line = new Line(new BufferGeometry().setFromPoints(each), ink("stop"));
		line.renderOrder = 3;
		group.add(line);
	}
	return group;
}
