// Taking hold of a part in three dimensions: found by the ray under the finger, moved over the boat's own level.
import {
	Box3,
	type Camera,
	type Group,
	type Matrix4,
	Plane,
	Raycaster,
	Vector2,
	Vector3,
} from "three";
import type { Form } from "../api/types";
import { sizeOf } from "./fitted3d";
import type { Point } from "./pose";

type Part = Form["parts"][number];

/** A part in hand. */
export interface Held {
	part: Part;
	/** Where on it the finger is, from its centre, m. */
	grip: Vector3;
	/** Moves over this: level through its centre, or upright along the keel for raising it. */
	plane: Plane;
	/** Where it was. */
	from: Point;
	/** The frame as it was when it was taken: nothing that moves meanwhile moves the part. */
	box: DOMRect;
	into: Matrix4;
}

/** A level seen more flatly than this, sine of the angle, is no hold: a pixel would be a hand's breadth. */
const FLAT = 0.2;

export class Hand {
	private ray = new Raycaster();

	constructor(
		private camera: Camera,
		private canvas: HTMLCanvasElement,
		private boat: Group,
	) {}

	/** The nearest part under the finger. */
	take(e: PointerEvent, parts: readonly Part[]): Held | null {
		const frame = this.canvas.getBoundingClientRect();
		const into = this.boat.matrixWorld.clone().invert();
		this.aim(e, frame, into);
		let found: { part: Part; at: Vector3; away: number } | null = null;
		for (const part of parts.filter((p) => p.at_path.length > 0)) {
			const centre = new Vector3(...(part.at_m as Point));
			const box = new Box3().setFromCenterAndSize(centre, new Vector3(...sizeOf(part)));
			const at = this.ray.ray.intersectBox(box, new Vector3());
			if (!at) continue;
			const away = at.distanceTo(this.ray.ray.origin);
			if (!found || away < found.away) found = { part, at, away };
		}
		if (!found) return null;
		const level = new Vector3(0, 0, 1);
		const upright = new Vector3(0, 1, 0);
		const flat = Math.abs(this.ray.ray.direction.dot(level)) < FLAT;
		const normal = e.shiftKey || flat ? upright : level;
		const plane = new Plane().setFromNormalAndCoplanarPoint(normal, found.at);
		return {
			part: found.part,
			plane,
			from: [...found.part.at_m] as Point,
			grip: found.at.sub(new Vector3(...(found.part.at_m as Point))),
			box: frame,
			into,
		};
	}

	/** Where a held part is now. */
	place(e: PointerEvent, held: Held): Point | null {
		this.aim(e, held.box, held.into);
		const at = this.ray.ray.intersectPlane(held.plane, new Vector3());
		return at ? (at.sub(held.grip).toArray() as Point) : null;
	}

	/** The ray in the boat's own axes. */
	private aim(e: PointerEvent, box: DOMRect, into: Matrix4) {
		const x = (2 * (e.clientX - box.left)) / box.width - 1;
		const y = 1 - (2 * (e.clientY - box.top)) / box.height;
		this.ray.setFromCamera(new Vector2(x, y), this.camera);
		this.ray.ray.applyMatrix4(into);
	}
}
