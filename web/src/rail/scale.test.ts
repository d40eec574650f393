import { describe, expect, it } from "vitest";
import { between, scale, ticks } from "./scale";

describe("ticks", () => {
	it("are round and inside", () => {
		expect(ticks(0, 68, 5)).toEqual([0, 20, 40, 60]);
		expect(ticks(-0.9, 5.1, 4)).toEqual([0, 2, 4]);
	});
});

describe("scale", () => {
	it("maps ends to ends", () => {
		const s = scale(10, 20, 100, 0);
		expect([s(10), s(15), s(20)]).toEqual([100, 50, 0]);
	});
});

describe("between", () => {
	it("finds neighbours and holds the ends", () => {
		const list = [0, 10, 30];
		expect(between(list, 20)).toEqual([1, 2, 0.5]);
		expect(between(list, -5)).toEqual([0, 1, 0]);
		expect(between(list, 99)).toEqual([1, 2, 1]);
	});
});
