import { expect, test } from "vitest";
import { flipped, quarter, reversed, rolled } from "./turn";

test("turns of a hull that lies as the boat does, by hand", () => {
	expect(reversed("+x", "+z")).toEqual(["-x", "+z"]);
	expect(flipped("+x", "+z")).toEqual(["+x", "-z"]);
	// x ahead and z up leave y to port.
	expect(rolled("+x", "+z")).toEqual(["+x", "+y"]);
	expect(quarter("+x", "+z")).toEqual(["+y", "+z"]);
});

test("four quarters, or two reversals, are none", () => {
	for (const how of [rolled, quarter]) {
		let now: [string, string] = ["-y", "+x"];
		for (let i = 0; i < 4; i++) now = how(...now);
		expect(now).toEqual(["-y", "+x"]);
	}
	expect(reversed(...reversed("+z", "-y"))).toEqual(["+z", "-y"]);
});
