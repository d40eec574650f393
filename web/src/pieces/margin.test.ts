import { expect, test } from "vitest";
import { runs, SHOWN, times } from "./margin";

test("a stretch for each load, and no gap between them", () => {
	const found = runs([
		{ x_m: 0, margin: 40, load: "landing" },
		{ x_m: 0.1, margin: 4, load: "landing" },
		{ x_m: 0.2, margin: 3, load: "carried by its ends" },
		{ x_m: 0.3, margin: 5, load: "landing" },
	]);
	expect(found.map((r) => r.load)).toEqual(["landing", "carried by its ends", "landing"]);
	expect(found[0]?.points).toEqual([
		[0, SHOWN],
		[0.1, 4],
	]);
	expect(found[1]?.points[0]).toEqual([0.1, 4]);
	expect(found[2]?.points[0]).toEqual([0.2, 3]);
});

test("times are told as finely as they mean something", () => {
	expect([0.84, 2.44, 12.3, 55].map(times)).toEqual([
		"0.8 times",
		"2.4 times",
		"12 times",
		"more than 20 times",
	]);
});
