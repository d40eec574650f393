import { expect, test } from "vitest";
import { type Build, beside, changesBetween, differs } from "./compare";

const build = (name: string, changed: Build["changed"], value: number): Build => ({
	name,
	date: null,
	why: null,
	changed,
	predicted: [{ id: "top-speed", standing: "good", number: { value, spread: 2, unit: "km/h" } }],
	measured: [],
});

const all = [
	build("1-first", [], 60),
	build("2-wider", [{ key: "pad", before: "10 mm", after: "14 mm" }], 65),
	build(
		"3-back",
		[
			{ key: "pad", before: "14 mm", after: "10 mm" },
			{ key: "mass", before: null, after: "9 g" },
		],
		61,
	),
];

test("steps between two builds are taken together, and what came back is no change", () => {
	expect(changesBetween(all, 0, 2)).toEqual([{ key: "mass", before: null, after: "9 g" }]);
	expect(changesBetween(all, 1, 2)).toHaveLength(2);
	expect(changesBetween(all, 2, 2)).toEqual([]);
});

test("numbers stand beside each other", () => {
	const [row] = beside(all[0] as Build, all[1] as Build);
	expect([row?.a?.number.value, row?.b?.number.value]).toEqual([60, 65]);
});

test("a difference is clear only beyond what is not known", () => {
	const q = (value: number) => ({ value, spread: 2, unit: "km/h" });
	expect(differs(q(60), q(65))).toBe("clearly more");
	expect(differs(q(60), q(59))).toBe("less, within the spread");
	expect(differs(q(60), q(60.01))).toBe("the same");
	const bare = (value: number) => ({ value, spread: 0, unit: "%" });
	expect(differs(bare(78), bare(78.7))).toBe("more");
});
