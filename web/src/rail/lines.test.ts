import { expect, it } from "vitest";
import type { Pose, Poses } from "../api/types";
import { awaited, otherMarks, railLines } from "./lines";

const curve = {
	speeds_km_h: [0, 10],
	staves: [
		{ id: "trim", stave: "trim", label: "trim", unit: "°", values: [1, 2], low: [], high: [] },
	],
} as unknown as Poses;
const heat = {
	id: "heat-motor-",
	stave: "heat",
	label: "motor temperature",
	unit: "°C",
	speeds_km_h: [5],
	values: [40],
};

it("gives every line speeds of its own, whenever it came", () => {
	expect(railLines(curve, [heat]).map((l) => l.speeds)).toEqual([[0, 10], [5]]);
});

it("marks other ways to run on the lines that can show them", () => {
	const other = { speed_km_h: 6, trim_deg: 4, rise_m: 0.01 } as Pose;
	expect(otherMarks([other], railLines(curve, [heat]))).toEqual([
		{ line: "trim", kmh: 6, value: 4 },
	]);
});

it("keeps a stave's place while its line is worked out anew", () => {
	const [now, saved] = [railLines(curve, []), railLines(curve, [heat])];
	const waiting = awaited(now, saved);
	expect(waiting.map((l) => [l.id, l.values.length])).toEqual([["heat-motor-", 0]]);
	expect(awaited(saved, saved)).toEqual([]);
});
