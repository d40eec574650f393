// A run in time, to be gone through.
import type { AnswerOf } from "../api/types";

export type Recording = AnswerOf<"pond">;
export type RunEvent = Recording["events"][number];
export type Trace = Recording["trace"];
export type Listed = Exclude<keyof Trace, "step_s">;
export type Odds = Recording["odds"][number];
export type Runs = Odds["count"];
export type Surface = Recording["surface"];

/** Each event by word and shape; the words are the program's. */
export const SHAPES: Record<string, string> = {
	planes: "◭",
	leaves: "↑",
	lands: "↓",
	hops: "∿",
	ventilates: "◌",
	hooks: "↶",
	trips: "◺",
	rolls: "↻",
	flips: "▼",
	dives: "◢",
};

export const length_s = (trace: Trace) => Math.max(0, trace.speed_km_h.length - 1) * trace.step_s;

/** Straight between the two samples around a time; turns take the short way round. */
export function at(trace: Trace, of: Listed, time_s: number): number {
	const list = trace[of];
	const place = Math.min(Math.max(time_s / trace.step_s, 0), list.length - 1);
	const i = Math.floor(place);
	const a = list[i] ?? 0;
	let b = list[i + 1] ?? a;
	if (of.endsWith("_deg") && Math.abs(b - a) > 180) b += b > a ? -360 : 360;
	return a + (b - a) * (place - i);
}

/** Height of the water over its still level, m. */
export function waterAt(surface: Surface, x: number, y: number, time_s: number): number {
	let sum = 0;
	for (const s of surface.sines) {
		const [a, k, l, w, p] = s as [number, number, number, number, number];
		sum += a * Math.cos(k * x + l * y - w * time_s + p);
	}
	if (surface.growing_m) {
		const [from, to] = surface.growing_m;
		const left = Math.min(1, Math.max(0, (to - x) / (to - from)));
		return sum * Math.cos((Math.PI / 2) * left) ** 2;
	}
	if (!surface.packet_m) return sum;
	const [middle, half] = surface.packet_m;
	const away = Math.abs((x - middle) / half);
	return away < 1 ? sum * Math.cos((Math.PI / 2) * away) ** 2 : 0;
}
