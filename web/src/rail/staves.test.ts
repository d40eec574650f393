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
	it("are read between what is known, and nowhere else", () => {
		const at = (x: number) => valueAt([0, 10, 20, 30], [1, 2, null, 3], x);
		expect([at(0), at(5), at(10), at(30)]).toEqual([1, 1.5, 2, 3]);
		expect([at(-1), at(15), at(20), at(25), at(31)]).toEqual([null, null, null, null, null]);
	});
});
