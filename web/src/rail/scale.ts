/** Straight lines from a range of numbers to a range of pixels. */
export interface Scale {
	(x: number): number;
	ticks: number[];
}

export function scale(low: number, high: number, from: number, to: number, about = 5): Scale {
	const span = high - low || 1;
	const at = (x: number) => from + ((x - low) / span) * (to - from);
	return Object.assign(at, { ticks: ticks(low, high, about) });
}

/** Round numbers within the range: steps of 1, 2 or 5. */
export function ticks(low: number, high: number, about: number): number[] {
	const raw = (high - low) / about || 1;
	const power = 10 ** Math.floor(Math.log10(raw));
	const step = [1, 2, 5, 10].map((m) => m * power).find((s) => s >= raw) ?? raw;
	const first = Math.ceil(low / step - 1e-9);
	const last = Math.floor(high / step + 1e-9);
	return Array.from({ length: last - first + 1 }, (_, i) =>
		Number(((first + i) * step).toPrecision(12)),
	);
}

/** The two neighbours of a value in a rising list, and the share of the second. */
export function between(list: readonly number[], x: number): [number, number, number] {
	if (list.length < 2) return [0, 0, 0];
	let after = list.findIndex((v) => v > x);
	if (after < 0) after = list.length - 1;
	const i = Math.max(after - 1, 0);
	const a = list[i] ?? 0;
	const b = list[i + 1] ?? a;
	const share = b > a ? Math.min(Math.max((x - a) / (b - a), 0), 1) : 0;
	return [i, i + 1, share];
}

export const mix = (a: number, b: number, share: number) => a + (b - a) * share;
