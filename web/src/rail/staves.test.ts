import { describe, expect, it } from "vitest";
import { grouped, valueAt } from "./staves";

const line = (id: string, stave: string, unit: string) => ({
	id,
	stave,
	label: id,
	unit,
	speeds: [],
	values: [],
	low: [],
	high: [],
});

describe("staves", () => {
	it("put lines of one axis together", () => {
		const all = grouped([
			line("needed", "thrust", "N"),
			line("trim", "trim", "°"),
			line("had", "thrust", "N"),
		]);
		expect(all.map((g) => g.lines.length)).toEqual([2, 1]);
	});
	it("are read between what is known, and hold the ends", () => {
		const at = (x: number) => valueAt([0, 10, 20], [1, null, 3], x);
		expect([at(-5), at(10), at(99)]).toEqual([1, 2, 3]);
		expect(valueAt([0], [null], 0)).toBeNull();
	});
});
