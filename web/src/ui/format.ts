import type { Quantity } from "../api/types";

export type { Quantity };

/** Nothing where it could not be worked out. */
export const best = (q: Quantity): number => q.value ?? Number.NaN;
/** 0 where it was not estimated. */
export const halfWidth = (q: Quantity): number => q.spread ?? 0;

/** As finely as it is known: two digits of the spread, or three of the value. */
export function show(q: Quantity): string {
	if (q.value == null) return "not worked out";
	const spread = halfWidth(q);
	const places = decimals(q.value, spread);
	const value = q.value.toFixed(places);
	const number = spread > 0 ? `${value} ± ${spread.toFixed(places)}` : value;
	return q.unit === "" ? number : q.unit === "°" ? `${number}°` : `${number} ${q.unit}`;
}

export function decimals(value: number, spread: number): number {
	const places = (x: number, digits: number) =>
		digits - 1 - Math.floor(Math.log10(Math.max(Math.abs(x), 1e-12)));
	const wanted =
		spread > 0
			? Math.min(places(spread, 2), places(Math.max(Math.abs(value), spread), 3))
			: places(value, 3);
	return Math.min(Math.max(wanted, 0), 3);
}
