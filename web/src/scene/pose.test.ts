import { describe, expect, it } from "vitest";
import { matrix, place } from "./pose";

describe("attitude", () => {
	it("puts the bow up for positive trim and starboard down for positive heel", () => {
		const bow = place(matrix({ trim_deg: 10, heel_deg: 0, rise_m: 0 }), [1, 0, 0]);
		expect(bow[2]).toBeCloseTo(Math.sin((10 * Math.PI) / 180), 12);
		const starboard = place(matrix({ trim_deg: 0, heel_deg: 10, rise_m: 0 }), [0, -1, 0]);
		expect(starboard[2]).toBeLessThan(0);
	});
	it("is a rotation and a rise", () => {
		const m = matrix({ trim_deg: 3, heel_deg: -4, rise_m: 0.025 });
		const p = place(m, [0.2, 0.3, -0.1]);
		expect(Math.hypot(p[0], p[1], p[2] - 0.025)).toBeCloseTo(Math.hypot(0.2, 0.3, 0.1), 12);
	});
});
