// Still water: the sheet's own lines, and the line it draws round the hull.
import {
	BufferAttribute,
	BufferGeometry,
	Group,
	LineBasicMaterial,
	LineLoop,
	LineSegments,
	Vector3,
} from "three";
import type { Form } from "../api/types";
import { fill, PERIOD, STROKES } from "./flow";
import { ink, paint } from "./stage";

/** The water's own strokes. They come round again after a few lengths, so that they can pass without an end. */
export class Flow extends LineSegments<BufferGeometry, LineBasicMaterial> {
	private places = new BufferAttribute(new Float32Array(STROKES * 12), 3);

	constructor(private length_m: number) {
		super(
			new BufferGeometry(),
			paint("ripple", "ripple", () => new LineBasicMaterial({ transparent: true })),
		);
		this.geometry.setAttribute("position", this.places);
		this.frustumCulled = false;
		this.renderOrder = 2;
		this.at(0);
	}

	/** Short strokes at rest; the faster it runs, the longer what the eye sees of one. */
	at(speed_m_s: number) {
		fill(this.places.array as Float32Array, this.length_m, speed_m_s);
		this.places.needsUpdate = true;
	}

	/** So far has gone by, m. */
	pass(gone_m: number) {
		this.position.x = -(gone_m % (PERIOD * this.length_m));
	}
}

/** Where still water meets the hull at rest, in the boat's axes. */
export function waterline(form: Form): Group {
	const group = new Group();
	for (const line of form.waterlines_m) {
		const points = line.map((p) => new Vector3(...(p as [number, number, number])));
		const drawn = new LineLoop(new BufferGeometry().setFromPoints(points), ink("water"));
		drawn.renderOrder = 3;
		group.add(drawn);
	}
	return group;
}
