// A run in time as `skimwright pond --json` gives it (docs/json.md).

export interface Quantity {
	value: number;
	unit: string;
}

export interface RunEvent {
	what: string;
	time: Quantity;
	speed: Quantity;
	period: Quantity | null;
	height: Quantity | null;
}

export interface Trace {
	step_s: number;
	ahead_m: number[];
	port_m: number[];
	height_m: number[];
	trim_deg: number[];
	heel_deg: number[];
	yaw_deg: number[];
	speed_km_h: number[];
	up_g: number[];
	across_g: number[];
	throttle: number[];
	rudder_deg: number[];
	shaft_rpm: number[];
	current_a: number[];
	immersion: number[];
	water_m: number[];
	touching: number[];
}

export type Listed = Exclude<keyof Trace, "step_s">;

export interface Recording {
	boat: string;
	condition: string;
	water: string;
	wind: string;
	hands: string;
	start: string;
	seed: number;
	events: RunEvent[];
	peaks: { up_g: number; bow_g: number; across_g: number };
	stopped: string | null;
	surface: Surface;
	trace: Trace;
	runs: Runs | null;
	odds: Odds[];
	rests_on: string;
}

/** How runs end at one speed over one ripple. */
export interface Odds {
	speed: Quantity;
	ripple: Quantity;
	count: Runs;
}

export interface Runs {
	runs: number;
	flipped: number;
	dived: number;
	rolled: number;
	left_the_water: number;
	not_finished: number;
	lost: number;
	lost_from: number;
	lost_to: number;
}

/** Amplitude, wave number ahead and to port, frequency, phase; and where a wake is. */
export interface Surface {
	sines: number[][];
	packet_m: [number, number] | null;
	/** From flat water here to all of it there. */
	growing_m?: [number, number] | null;
}

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
