import type { Pose, Poses } from "../api/types";
import { between, mix } from "../rail/scale";

/** How the boat sits. */
export interface Attitude {
	trim_deg: number;
	heel_deg: number;
	rise_m: number;
}

/** Every state along the rail, the bath first. */
export function along(poses: Poses): Pose[] {
	return poses.rest ? [poses.rest, ...poses.running] : poses.running;
}

/** Attitude at any speed, straight between the states of the curve. */
export function attitudeAt(states: readonly Pose[], kmh: number): Attitude {
	const [i, j, share] = between(
		states.map((s) => s.speed_km_h),
		kmh,
	);
	const [a, b] = [states[i], states[j]];
	if (!a || !b) return { trim_deg: 0, heel_deg: 0, rise_m: 0 };
	return {
		trim_deg: mix(a.trim_deg, b.trim_deg, share),
		heel_deg: mix(a.heel_deg, b.heel_deg, share),
		rise_m: mix(a.rise_m, b.rise_m, share),
	};
}

/** The state nearest to a speed: forces and wet surfaces are drawn as they were worked out. */
export function nearest(states: readonly Pose[], kmh: number): Pose | undefined {
	let best: Pose | undefined;
	for (const s of states) {
		if (!best || Math.abs(s.speed_km_h - kmh) < Math.abs(best.speed_km_h - kmh)) best = s;
	}
	return best;
}

/** `Ry(-trim) Rx(heel)` and the rise: boat axes (x ahead, y to port, z up) into the world, as rows. */
export function matrix(a: Attitude): [Row, Row, Row] {
	const rad = Math.PI / 180;
	const [st, ct] = [Math.sin(a.trim_deg * rad), Math.cos(a.trim_deg * rad)];
	const [sh, ch] = [Math.sin(a.heel_deg * rad), Math.cos(a.heel_deg * rad)];
	return [
		[ct, -st * sh, -st * ch, 0],
		[0, ch, -sh, 0],
		[st, ct * sh, ct * ch, a.rise_m],
	];
}

export type Row = [number, number, number, number];
export type Point = [number, number, number];

export function place(m: [Row, Row, Row], p: Point): Point {
	const row = (r: Row) => r[0] * p[0] + r[1] * p[1] + r[2] * p[2] + r[3];
	return [row(m[0]), row(m[1]), row(m[2])];
}
