/** A number as the program sends it: value, half width of its 95 % interval, unit. */
export interface Quantity {
	value: number;
	spread: number;
	unit: string;
}

/** As finely as it is known: two digits of the spread, or three of the value. */
export function show(q: Quantity): string {
	const places = decimals(q.value, q.spread);
	const value = q.value.toFixed(places);
	const number = q.spread > 0 ? `${value} ± ${q.spread.toFixed(places)}` : value;
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
