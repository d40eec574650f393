// What is fitted, as solids in the boat's own axes; and its sizes.
import {
	BoxGeometry,
	BufferGeometry,
	CylinderGeometry,
	Group,
	Line,
	Mesh,
	MeshLambertMaterial,
	Vector3,
} from "three";
import type { Form } from "../api/types";
import { mm } from "./outline";
import { ink, paint, word } from "./stage";

type Part = Form["parts"][number];
type Fitting = Form["fittings"][number];

/** Mean density of what goes into a boat, for the size of a part nobody measured, kg/m3 (judgement). */
const DENSITY = 1500;

/** Parts heavier than this share of all of them carry their name. */
const NAMED = 0.1;

const solid = (name: string) => paint("solid", name, () => new MeshLambertMaterial());

/** Parts as boxes, propellers as discs, blades and wings as plates. */
export function fitted(form: Form, names = true): Group {
	const group = new Group();
	const whole = form.parts.reduce((sum, p) => sum + (p.mass.value ?? 0), 0);
	for (const part of form.parts) {
		if (part.at_path.length === 0) continue;
		// Only the heavy ones carry their name: all of them would cover the boat.
		group.add(box(part, form, names && (part.mass.value ?? 0) > NAMED * whole));
	}
	for (const fitting of form.fittings) {
		const made = plate(fitting);
		if (made) group.add(made);
	}
	return group;
}

export function sizeOf(part: Part): [number, number, number] {
	const [x, y, z] = part.size_m as [number, number, number];
	if (x > 0 && y > 0 && z > 0) return [x, y, z];
	const side = Math.cbrt(((part.mass.value ?? 10) * 1e-3) / DENSITY);
	return [side, side, side];
}

function box(part: Part, form: Form, named: boolean): Group {
	const group = new Group();
	const size = sizeOf(part);
	group.add(new Mesh(new BoxGeometry(...size), solid("part")));
	if (named) {
		const name = word(part.name, 0.035 * form.length_m);
		name.position.set(0, 0, size[2] / 2 + 0.03 * form.length_m);
		group.add(name);
	}
	group.position.set(...(part.at_m as [number, number, number]));
	return group;
}

function plate(fitting: Fitting): Mesh | null {
	const { kind, chord_m, span_m } = fitting;
	const at = new Vector3(...(fitting.at_m as [number, number, number]));
	if (kind === "propeller" && chord_m) {
		const disc = new Mesh(new CylinderGeometry(chord_m / 2, chord_m / 2, 0.003, 32), solid("stop"));
		disc.rotation.z = Math.PI / 2;
		disc.position.copy(at);
		return disc;
	}
	if (!chord_m || !span_m) return null;
	const blade = kind !== "wing";
	const size: [number, number, number] = blade
		? [chord_m, 0.002, span_m]
		: [chord_m, span_m, 0.002];
	const made = new Mesh(new BoxGeometry(...size), solid("steel"));
	const lean = ((fitting.lean_deg ?? 0) * Math.PI) / 180;
	made.rotation.x = blade ? lean : 0;
	const down = blade ? span_m / 2 : 0;
	made.position.copy(at).add(new Vector3(0, Math.sin(lean) * down, -Math.cos(lean) * down));
	return made;
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
	rule(`length ${mm(x1 - x0)}`, new Vector3(x0, y0 - away, z0), new Vector3(x1, y0 - away, z0));
	rule(`beam ${mm(y1 - y0)}`, new Vector3(x0 - away, y0, z0), new Vector3(x0 - away, y1, z0));
	rule(`height ${mm(z1 - z0)}`, new Vector3(x0 - away, y1, z0), new Vector3(x0 - away, y1, z1));
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
