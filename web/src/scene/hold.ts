// Taking hold of a part in three dimensions: found by the ray under the finger, moved over the boat's own level.
import { Box3, type Camera, type Group, Plane, Raycaster, Vector2, Vector3 } from "three";
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
}

export class Hand {
	private ray = new Raycaster();

	constructor(
		private camera: Camera,
		private canvas: HTMLCanvasElement,
		private boat: Group,
	) {}

	/** The nearest part under the finger. */
	take(e: PointerEvent, parts: readonly Part[]): Held | null {
		this.aim(e);
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
		const normal = e.shiftKey ? new Vector3(0, 1, 0) : new Vector3(0, 0, 1);
		const plane = new Plane().setFromNormalAndCoplanarPoint(normal, found.at);
		return {
			part: found.part,
			plane,
			grip: found.at.sub(new Vector3(...(found.part.at_m as Point))),
		};
	}

	/** Where a held part is now. */
	place(e: PointerEvent, held: Held): Point | null {
		this.aim(e);
		const at = this.ray.ray.intersectPlane(held.plane, new Vector3());
		return at ? (at.sub(held.grip).toArray() as Point) : null;
	}

	/** The ray in the boat's own axes. */
	private aim(e: PointerEvent) {
		const box = this.canvas.getBoundingClientRect();
		const x = (2 * (e.clientX - box.left)) / box.width - 1;
		const y = 1 - (2 * (e.clientY - box.top)) / box.height;
		this.ray.setFromCamera(new Vector2(x, y), this.camera);
		this.ray.ray.applyMatrix4(this.boat.matrixWorld.clone().invert());
	}
}
