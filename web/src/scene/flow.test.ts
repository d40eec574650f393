import { expect, test } from "vitest";
import { fill, PERIOD, STROKES, spread } from "./flow";

const strokes = (length: number, speed: number) => {
	const out = new Float32Array(STROKES * 12);
	fill(out, length, speed);
	return out;
};

test("the strokes come round again after a period", () => {
	const [length, out] = [0.5, strokes(0.5, 8)];
	const each = (12 * STROKES) / 4;
	for (let i = 0; i < each; i += 3) {
		expect(out[each + i]).toBeCloseTo((out[i] ?? 0) + PERIOD * length, 4);
		expect(out[each + i + 1]).toBe(out[i + 1]);
	}
});

test("across the way at rest, along it under way, and as long as what passes in a blink", () => {
	const [rest, fast] = [strokes(0.5, 0), strokes(0.5, 24)];
	expect(rest[1]).not.toBe(rest[4]);
	expect(fast[1]).toBe(fast[4]);
	expect((fast[9] ?? 0) - (fast[0] ?? 0)).toBeCloseTo(24 / 60, 4);
});

test("van der Corput by hand: 1, 2, 3 in base 2", () => {
	expect([1, 2, 3].map((i) => spread(i, 2))).toEqual([0.5, 0.25, 0.75]);
});
