import { expect, it } from "vitest";
import type { Form } from "../api/types";
import { length, place, planform, profile } from "./outline";

// A wedge: 10 mm wide and 20 mm tall at the stern, half of both ahead.
const box = (y: number, z: number) => [
	[
		[-y, 0],
		[y, 0],
		[y, z],
		[-y, z],
	],
];
const wedge = {
	sections: [
		{ x_m: 0, lines_m: box(0.005, 0.02) },
		{ x_m: 0.1, lines_m: box(0.0025, 0.01) },
	],
} as unknown as Form;

it("goes along the top and back along the bottom", () => {
	expect(profile(wedge)).toEqual([
		[0, 0.02],
		[0.1, 0.01],
		[0.1, 0],
		[0, 0],
	]);
});

it("goes along port and back along starboard", () => {
	expect(planform(wedge)).toEqual([
		[0, 0.005],
		[0.1, 0.0025],
		[0.1, -0.0025],
		[0, -0.005],
	]);
});

it("writes places in millimetres as the boat file does", () => {
	expect(place([0.3921, -0.02, 0])).toEqual(["392.1 mm", "-20 mm", "0 mm"]);
	expect(length(0.27381)).toBe("274 mm");
});
