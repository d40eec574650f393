// Still water: the sheet's own lines, and the line it draws round the hull.
import {
	BufferGeometry,
	Float32BufferAttribute,
	Group,
	LineBasicMaterial,
	LineLoop,
	LineSegments,
	Vector3,
} from "three";
import type { Form } from "../api/types";
import { ink, paint } from "./stage";

/** Short strokes across the way of the boat, denser near it: their places come from a fixed sequence. */
export function ripples(size: number, length_m: number): LineSegments {
	const points: number[] = [];
	// Van der Corput's sequences in base 2 and 3: even without being regular.
	const spread = (i: number, base: number) => {
		let [share, out] = [1 / base, 0];
		for (let n = i; n > 0; n = Math.floor(n / base)) {
			out += (n % base) * share;
			share /= base;
		}
		return out;
	};
	for (let i = 1; i <= 420; i++) {
		const away = spread(i, 2) ** 1.7 * 0.5 * size;
		const turn = 2 * Math.PI * spread(i, 3);
		const [x, y] = [0.45 * length_m + away * Math.cos(turn), away * Math.sin(turn)];
		const half = length_m * (0.03 + 0.05 * spread(i, 5));
		points.push(x, y - half, 0, x + 0.2 * half, y, 0, x + 0.2 * half, y, 0, x, y + half, 0);
	}
	const shape = new BufferGeometry();
	shape.setAttribute("position", new Float32BufferAttribute(points, 3));
	const colour = paint("ripple", "ripple", () => new LineBasicMaterial({ transparent: true }));
	const lines = new LineSegments(shape, colour);
	lines.renderOrder = 2;
	return lines;
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
