import { expect, it } from "vitest";
import type { Form } from "../api/types";
import { inside, near } from "./keep";

const square = (y: number, z0: number, z1: number) => [
	[
		[-y, z0],
		[y, z0],
		[y, z1],
		[-y, z1],
	],
];
const form = {
	length_m: 1,
	bounds_m: [
		[0, -0.2, 0],
		[1, 0.2, 0.1],
	],
	sections: [
		{ x_m: 0, lines_m: square(0.2, 0, 0.1) },
		{ x_m: 1, lines_m: square(0.1, 0, 0.1) },
	],
} as unknown as Form;
const size = [0.2, 0.04, 0.04];
const from = [0.5, 0, 0.05];

it("holds a part inside of the hull, by its own size", () => {
	expect(inside(form, size, from, [5, 5, 5])).toEqual([0.9, 0.09, 0.08]);
	expect(inside(form, size, from, [0.4, 0.01, 0.05])).toEqual([0.4, 0.01, 0.05]);
});

it("does not throw a part that sticks out already somewhere else", () => {
	const out = [0.5, 0, 0.2];
	expect(inside(form, size, out, [0.5, 0, 0.21])[2]).toBe(0.2);
	expect(inside(form, size, out, [0.5, 0, 0.2])).toEqual(out);
});

it("lets what sits outside go round the hull, and no further", () => {
	expect(near(form, [-0.1, 0, -0.05])).toEqual([-0.1, 0, -0.05]);
	expect(near(form, [-9, 0, 0])[0]).toBe(-0.25);
});
