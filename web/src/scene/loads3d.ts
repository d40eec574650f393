// Forces and wet surfaces of one state, in three shapes that are filled anew: moving along the rail makes nothing.
import {
	BufferAttribute,
	BufferGeometry,
	DoubleSide,
	Group,
	LineBasicMaterial,
	LineSegments,
	Mesh,
	MeshBasicMaterial,
	Vector3,
} from "three";
import type { Pose } from "../api/types";
import type { Point } from "./pose";
import { colour } from "./stage";

/** Sides of an arrow's head. */
const SIDES = 8;

/** An arrow as it is drawn, boat axes. */
interface Arrow {
	/** Its number among the forces of the state. */
	force: number;
	at: Point;
	tip: Point;
}

export class Loads extends Group {
	/** What can be pointed at. */
	arrows: Arrow[] = [];

	private shafts = new LineSegments(new BufferGeometry(), new LineBasicMaterial());
	private heads = new Mesh(new BufferGeometry(), new MeshBasicMaterial({ side: DoubleSide }));
	private edges = new LineSegments(
		new BufferGeometry(),
		new LineBasicMaterial({ depthTest: false }),
	);
	private film = new Mesh(
		new BufferGeometry(),
		new MeshBasicMaterial({
			transparent: true,
			opacity: 0.72,
			side: DoubleSide,
			depthTest: false,
			forceSinglePass: true,
		}),
	);

	constructor() {
		super();
		for (const one of [this.film, this.edges, this.shafts, this.heads]) {
			one.frustumCulled = false;
			this.add(one);
		}
		this.repaint();
	}

	repaint() {
		this.shafts.material.color.copy(colour("force"));
		this.heads.material.color.copy(colour("force"));
		this.edges.material.color.copy(colour("stop"));
		this.film.material.color.copy(colour("water"));
	}

	/** Wet surfaces painted and forces to one scale: the largest is a third of the boat's length. */
	show(pose: Pose, length_m: number) {
		const shafts: number[] = [];
		const heads: number[] = [];
		const largest = Math.max(1e-6, ...pose.forces.map((f) => Math.hypot(...(f.force_n as Point))));
		this.arrows = [];
		for (const [i, f] of pose.forces.entries()) {
			const force = new Vector3(...(f.force_n as Point));
			const size = (0.35 * length_m * force.length()) / largest;
			if (size < 0.02 * length_m) continue;
			const at = new Vector3(...(f.at_m as Point));
			force.setLength(size);
			arrow(at, force, length_m, shafts, heads);
			this.arrows.push({ force: i, at: f.at_m as Point, tip: at.clone().add(force).toArray() });
		}
		const edges: number[] = [];
		const film: number[] = [];
		for (const { outline_m: line } of pose.wetted) {
			if (line.length < 3) continue;
			for (const [i, p] of line.entries()) {
				const next = line[(i + 1) % line.length] ?? p;
				edges.push(...p, ...next);
				if (i > 0 && i < line.length - 1) film.push(...(line[0] ?? p), ...p, ...next);
			}
		}
		fill(this.shafts.geometry, shafts);
		fill(this.heads.geometry, heads);
		fill(this.edges.geometry, edges);
		fill(this.film.geometry, film);
	}
}

function arrow(at: Vector3, by: Vector3, length_m: number, shafts: number[], heads: number[]) {
	const tip = at.clone().add(by);
	const head = Math.min(0.04 * length_m, by.length());
	const along = by.clone().normalize();
	const base = tip.clone().addScaledVector(along, -head);
	shafts.push(...at.toArray(), ...base.toArray());
	const out = new Vector3(0, 0, 1).cross(along);
	if (out.length() < 0.1) out.set(1, 0, 0).cross(along);
	out.setLength(0.3 * head);
	const rim = Array.from({ length: SIDES + 1 }, (_, i) => {
		const turned = out.clone().applyAxisAngle(along, (2 * Math.PI * i) / SIDES);
		return turned.add(base).toArray();
	});
	for (let i = 0; i < SIDES; i++) {
		heads.push(...tip.toArray(), ...(rim[i] ?? []), ...(rim[i + 1] ?? []));
	}
}

/** Into what the card holds already, where it fits. */
function fill(shape: BufferGeometry, numbers: number[]) {
	const held = shape.getAttribute("position") as BufferAttribute | undefined;
	if (held && held.array.length >= numbers.length) {
		held.array.set(numbers);
		held.needsUpdate = true;
	} else {
		shape.dispose();
		shape.setAttribute(
			"position",
			new BufferAttribute(new Float32Array([...numbers, ...numbers.slice(0, 900)]), 3),
		);
	}
	shape.setDrawRange(0, numbers.length / 3);
}
