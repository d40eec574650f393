import type { Attitude, RunningState } from "../model";
import { between, mix } from "../rail/scale";

/** Attitude at any speed, straight between the states of the curve; the first one below it. */
export function attitudeAt(states: readonly RunningState[], kmh: number): Attitude {
	const [i, j, share] = between(
		states.map((s) => s.speed.value),
		kmh,
	);
	const [a, b] = [states[i], states[j]];
	if (!a || !b) return { trim_deg: 0, heel_deg: 0, rise_mm: 0 };
	return {
		trim_deg: mix(a.trim.value, b.trim.value, share),
		heel_deg: mix(a.heel.value, b.heel.value, share),
		rise_mm: mix(a.rise.value, b.rise.value, share),
	};
}

/** `Ry(-trim) Rx(heel)` and the rise: boat axes (x ahead, y to port, z up) into the world, as rows. */
export function matrix(a: Attitude): number[][] {
	const rad = Math.PI / 180;
	const [st, ct] = [Math.sin(a.trim_deg * rad), Math.cos(a.trim_deg * rad)];
	const [sh, ch] = [Math.sin(a.heel_deg * rad), Math.cos(a.heel_deg * rad)];
	return [
		[ct, -st * sh, -st * ch, 0],
		[0, ch, -sh, 0],
		[st, ct * sh, ct * ch, a.rise_mm / 1000],
	];
}

export function place(m: number[][], p: readonly [number, number, number]): [number, number, number] {
	const row = (r: number[] | undefined) =>
		(r?.[0] ?? 0) * p[0] + (r?.[1] ?? 0) * p[1] + (r?.[2] ?? 0) * p[2] + (r?.[3] ?? 0);
	return [row(m[0]), row(m[1]), row(m[2])];
}
