// Every piece as it is cut, with its joints, pulled apart along the hull.
import {
	BufferAttribute,
	BufferGeometry,
	DoubleSide,
	EdgesGeometry,
	Group,
	LineBasicMaterial,
	LineSegments,
	Mesh,
	MeshLambertMaterial,
	Vector3,
} from "three";
import { clear, colour, paint, Stage, word } from "../scene/stage";
import type { Pieces } from "./cut";

/** Gaps between pieces at the most, over the length of the hull. */
const GAP = 0.16;
/** Triangles above which edges are too many to be told apart. */
const MANY = 12_000;

interface One {
	name: string;
	group: Group;
	skin: Mesh<BufferGeometry, MeshLambertMaterial>;
	centre: Vector3;
}

export class ApartView extends Stage {
	private all: One[] = [];
	private middle = new Vector3();
	private pointed: string | null = null;

	show(pieces: Pieces["pieces"], shapes: NonNullable<Pieces["shapes"]>) {
		clear(this.boat as Group);
		this.all = shapes.map((shape, i) => one(pieces[i]?.name ?? "", shape, i));
		const whole = new Vector3();
		const [low, high] = [new Vector3().setScalar(9e9), new Vector3().setScalar(-9e9)];
		for (const piece of this.all) {
			this.boat.add(piece.group);
			const box = piece.skin.geometry.boundingBox;
			if (!box) continue;
			low.min(box.min);
			high.max(box.max);
		}
		whole.addVectors(low, high).multiplyScalar(0.5);
		this.middle = whole;
		this.length = Math.max(high.x - low.x, 1e-3);
		for (const piece of this.all) {
			const box = piece.skin.geometry.boundingBox;
			const name = word(piece.name, 0.035 * this.length);
			name.position.set(
				piece.centre.x,
				piece.centre.y,
				(box?.max.z ?? piece.centre.z) + 0.04 * this.length,
			);
			piece.group.add(name);
		}
		this.boat.updateMatrixWorld(true);
		const away = Math.max(0.72, 1.5 / Math.max(this.camera.aspect, 0.6));
		this.look(
			new Vector3(-0.55, -1.25, 0.85).multiplyScalar(this.length * away).add(whole),
			whole.clone(),
		);
		this.draw();
	}

	/** 0 together, 1 as far apart as is drawn: by the order along and across the hull. */
	pull(apart: number) {
		const step = GAP * this.length * apart;
		const along = rank(
			this.all.map((p) => p.centre.x),
			0.05 * this.length,
		);
		this.all.forEach((piece, i) => {
			const order = (along[i] ?? 0) - Math.max(...along, 0) / 2;
			const aside = piece.centre.y - this.middle.y;
			const y = Math.abs(aside) > 0.03 * this.length ? Math.sign(aside) * 0.6 * step : 0;
			piece.group.position.set(order * step, y, 0);
		});
		this.boat.updateMatrixWorld(true);
		this.draw();
	}

	point(name: string | null) {
		this.pointed = name;
		this.repaint();
	}

	override repaint() {
		this.all.forEach((piece, i) => {
			const chosen = piece.name === this.pointed;
			piece.skin.material.color.copy(colour(chosen ? "mark" : "hull"));
			if (!chosen && i % 2) piece.skin.material.color.lerp(colour("steel"), 0.25);
		});
		super.repaint();
	}

	override picture(): string {
		return super.picture();
	}
}

/** Places in order, those nearer to each other than `same` together. */
function rank(places: readonly number[], same: number): number[] {
	const sorted = [...places].sort((a, b) => a - b);
	const steps: number[] = [];
	for (const p of sorted) if (steps.length === 0 || p - (steps.at(-1) ?? 0) > same) steps.push(p);
	return places.map((p) => steps.filter((s) => p >= s - 1e-9).length - 1);
}

type Shape = NonNullable<Pieces["shapes"]>[number];

function one(name: string, shape: Shape, i: number): One {
	const corners = new Float32Array(shape.corners.length);
	for (let k = 0; k < corners.length; k++) corners[k] = (shape.corners[k] ?? 0) * 1e-5;
	const joined = new BufferGeometry();
	joined.setAttribute("position", new BufferAttribute(corners, 3));
	joined.setIndex(new BufferAttribute(new Uint32Array(shape.triangles), 1));
	// Each face flat: a cut's edge is an edge.
	const solid = joined.toNonIndexed();
	solid.computeVertexNormals();
	solid.computeBoundingBox();
	const material = new MeshLambertMaterial({ color: colour("hull"), side: DoubleSide });
	if (i % 2) material.color.lerp(colour("steel"), 0.25);
	const skin = new Mesh(solid, material);
	const group = new Group();
	group.add(skin);
	if (shape.triangles.length / 3 < MANY) {
		const line = paint(
			"edge",
			"ink",
			() => new LineBasicMaterial({ transparent: true, opacity: 0.55 }),
		);
		group.add(new LineSegments(new EdgesGeometry(joined, 24), line));
	}
	const centre = new Vector3();
	solid.boundingBox?.getCenter(centre);
	return { name, group, skin, centre };
}
