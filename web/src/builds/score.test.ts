import { expect, it } from "vitest";
import { scored } from "./score";

const q = (value: number, spread: number, unit = "km/h") => ({ value, spread, unit });
const build = { predicted: [{ id: "top-speed", number: q(88, 6) }] };
const run = (value: number, spread = 1) => [
	{ kind: "speed", of: q(value, spread), outing: "2026-05-17" },
];

it("is a hit within what both spreads allow", () => {
	// hypot(6, 1) is 6.08.
	expect(scored(build, run(94)).map((s) => s.hit)).toEqual([true]);
	expect(scored(build, run(94.2)).map((s) => s.hit)).toEqual([false]);
	expect(scored(build, run(82)).map((s) => Number(s.apart.toFixed(2)))).toEqual([-0.99]);
});

it("says nothing where units differ or neither has a spread", () => {
	expect(scored(build, [{ kind: "speed", of: q(25, 1, "m/s"), outing: "" }])).toEqual([]);
	const bare = { predicted: [{ id: "top-speed", number: q(88, 0) }] };
	expect(scored(bare, run(94, 0))).toEqual([]);
});
