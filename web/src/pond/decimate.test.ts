import { expect, test } from "vitest";
import { at, seen } from "./decimate";

test("the lowest and the highest of every pixel are seen", () => {
	const time = Float64Array.from({ length: 36_000 }, (_, i) => i / 10);
	const values = Float32Array.from(time, () => 1);
	values[20_000] = 9;
	values[20_001] = -9;
	const [t, v] = seen(time, values, 0, 3600, 500);
	expect(t.length).toBeLessThanOrEqual(1000);
	expect(Math.max(...v)).toBe(9);
	expect(Math.min(...v)).toBe(-9);
	expect(t.every((x, i) => i === 0 || x > (t[i - 1] as number))).toBe(true);
});

test("a few readings come as they are, with one beyond each edge", () => {
	const [t, v] = seen([0, 1, 2, 3, 4, 5], [0, 1, 2, Number.NaN, 4, 5], 1.5, 3.5, 100);
	expect(t).toEqual([1, 2, 3, 4]);
	expect(v).toEqual([1, 2, Number.NaN, 4]);
});

test("a time is found among rising ones", () => {
	expect([at([1, 2, 3], 0), at([1, 2, 3], 2), at([1, 2, 3], 2.5), at([1, 2, 3], 9)]).toEqual([
		0, 1, 2, 3,
	]);
});
