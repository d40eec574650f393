import { type Quantity, show } from "../ui/format";
import { inUnit, unitOf } from "../ui/units";
import type { Measured, Value } from "./analysis";

/** Half-width of a 95 % interval over a standard uncertainty. */
const HALF_WIDTH = 1.96;

/** From SI to what builders read. */
export interface Reading {
	unit: string;
	factor: number;
	offset?: number;
}

const BY_UNIT: Record<string, Reading> = {
	"m/s": { unit: "km/h", factor: 3.6 },
	"rad/s": { unit: "rpm", factor: 30 / Math.PI },
	degC: { unit: "°C", factor: 1 },
	rad: { unit: "°", factor: 180 / Math.PI },
	"m/s2": { unit: "m/s²", factor: 1 },
	C: { unit: "mAh", factor: 1 / 3.6 },
};

const RATES = new Set(["roll rate", "pitch rate", "yaw rate"]);

const BY_KIND: Record<string, Reading> = {
	throttle: { unit: "%", factor: 100 },
	pulse_width: { unit: "µs", factor: 1e6 },
	"pulse width": { unit: "µs", factor: 1e6 },
	frame_period: { unit: "ms", factor: 1e3 },
	edge_time_constant: { unit: "µs", factor: 1e6 },
	landing_acceleration: { unit: "g", factor: 1 / 9.80665 },
	lateral_acceleration: { unit: "g", factor: 1 / 9.80665 },
};

const NAMES: Record<string, string> = {
	shaft_speed: "propeller speed",
	frame_period: "pulse period",
	pass_distance: "closest distance",
	lateral_acceleration: "sideways acceleration",
	other_temperature: "temperature",
	distance: "distance run",
	charge: "charge drawn",
};

const STATISTICS: Record<string, string> = {
	peak: "highest",
	least: "lowest",
	two_way: "mean of two ways",
	last: "at the end",
};

/** How a course or a value of that name or kind and SI unit is shown. */
export function reading(name: string, unit: string): Reading {
	if (RATES.has(name)) return { unit: "°/s", factor: 180 / Math.PI };
	const read = BY_KIND[name] ?? BY_UNIT[unit] ?? { unit: unit === "1" ? "" : unit, factor: 1 };
	// An acceleration in g is no mass.
	if (read.unit === "g" || unitOf(read.unit) === read.unit) return read;
	const offset = inUnit(0, read.unit);
	return { unit: unitOf(read.unit), factor: inUnit(read.factor, read.unit) - offset, offset };
}

export function quantity(v: Measured & { kind: string; unit: string }): Quantity {
	const { unit, factor, offset = 0 } = reading(v.kind, v.unit);
	return { value: v.value * factor + offset, spread: HALF_WIDTH * v.sigma * factor, unit };
}

export const shown = (v: Value) => show(quantity(v));

export const seconds = (t: Measured) =>
	show({ value: t.value, spread: HALF_WIDTH * t.sigma, unit: "s" });

export const named = (kind: string) => NAMES[kind] ?? kind.replaceAll("_", " ");

/** What it is of: `speed held 2 s`, `highest current`. */
export function title(v: Value): string {
	const name = named(v.kind);
	if (v.statistic === "best_held" && v.window)
		return `${name} held ${Math.round(v.window.to_s - v.window.from_s)} s`;
	const word = STATISTICS[v.statistic];
	return word ? `${name}, ${word}` : name;
}

export const clock = (s: number) => {
	const minutes = Math.floor(Math.abs(s) / 60);
	const rest = (Math.abs(s) - 60 * minutes).toFixed(1);
	const sign = s < 0 ? "−" : "";
	return minutes > 0 ? `${sign}${minutes}:${rest.padStart(4, "0")}` : `${sign}${rest} s`;
};
