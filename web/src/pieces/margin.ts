// What the picture of margins is drawn from.
import type { components } from "../api/schema";

export type Strength = components["schemas"]["StrengthView"];
type Station = Strength["stations"][number];

/** What holds more than this is not near its limit: the picture ends there, times. */
export const SHOWN = 10;

/** A stretch of the hull on which one load is the worst. */
export interface Run {
	load: string;
	points: [x_m: number, margin: number][];
}

/** The stations in stretches of one load each; a stretch begins where the one before ends, so that the line is whole. */
export function runs(stations: readonly Station[]): Run[] {
	const out: Run[] = [];
	for (const s of stations) {
		const point: [number, number] = [s.x_m, Math.min(s.margin, SHOWN)];
		const last = out.at(-1);
		if (last && last.load === s.load) last.points.push(point);
		else {
			const from = last?.points.at(-1);
			out.push({ load: s.load, points: from ? [from, point] : [point] });
		}
	}
	return out;
}

/** `2.4 times`, and no number where it says nothing. */
export const times = (margin: number): string =>
	margin >= 20 ? "more than 20 times" : `${margin.toFixed(margin >= 9.95 ? 0 : 1)} times`;
