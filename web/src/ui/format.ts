import type { Quantity } from "../api/types";

export type { Quantity };

/** Nothing where it could not be worked out. */
export const best = (q: Quantity): number => q.value ?? Number.NaN;
/** 0 where it was not estimated. */
export const halfWidth = (q: Quantity): number => q.spread ?? 0;

/** As finely as it is known, as every other face rounds: one or two digits of the spread, or three of the value, and no
 * decimals that mean nothing in the unit. */
export function show(q: Quantity): string {
	if (q.value == null) return "not worked out";
	// How many times over is plenty: more of them mean nothing to a builder.
	if (q.unit === "times" && q.value >= 20) return "more than 20 times";
	const spread = halfWidth(q);
	const places = decimals(q.value, spread, spread > 0 ? 3 : finest(q.unit, q.value));
	const value = q.value.toFixed(places);
	const width = spread.toFixed(places);
	const number = Number(width) > 0 ? `${value} ± ${width}` : value;
	return q.unit === "" ? number : q.unit === "°" ? `${number}°` : `${number} ${q.unit}`;
}

/** Decimals that mean something in a unit, by the size of a number in it that comes without a spread. */
function finest(unit: string, value: number): number {
	const size = Math.abs(value);
	if (size < 10 && ["km/h", "mph", "A", "°", "%"].includes(unit)) return 1;
	if (["km/h", "mph", "A", "°C", "°F", "g", "rpm", "W"].includes(unit)) return 0;
	if (size >= 30 && ["°", "%"].includes(unit)) return 0;
	return ["mm", "min", "°", "%", "l/min"].includes(unit) ? 1 : 3;
}

export function decimals(value: number, spread: number, most = 3): number {
	if (spread === 0 && Number.isInteger(value)) return 0;
	const places = (x: number, digits: number) =>
		digits - 1 - Math.floor(Math.log10(Math.max(Math.abs(x), 1e-12)));
	const first = spread / 10 ** Math.floor(Math.log10(Math.max(spread, 1e-12)));
	const wanted =
		spread > 0
			? Math.min(places(spread, first < 1.95 ? 2 : 1), places(Math.max(Math.abs(value), spread), 3))
			: places(value, 3);
	return Math.min(Math.max(wanted, 0), most);
}
