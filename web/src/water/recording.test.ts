import { expect, it } from "vitest";
import { at, length_s, type Surface, type Trace, waterAt } from "./recording";

const trace = { step_s: 0.02, speed_km_h: [10, 20, 40], yaw_deg: [170, -170, -150] };

it("reads between samples, holds the ends, and turns the short way", () => {
	const t = trace as unknown as Trace;
	expect(length_s(t)).toBeCloseTo(0.04);
	expect([-1, 0.01, 0.03, 9].map((s) => at(t, "speed_km_h", s))).toEqual([10, 15, 30, 40]);
	expect(at(t, "yaw_deg", 0.01)).toBeCloseTo(180);
});

it("is a wave that comes from ahead at the speed of deep water", () => {
	// A metre of wave: c = sqrt(g L / 2 pi) = 1.2493 m/s; from ahead it runs against x.
	const k = 2 * Math.PI;
	const surface: Surface = { sines: [[0.02, -k, 0, Math.sqrt(9.80665 * k), 0]], packet_m: null };
	const crest = waterAt(surface, 0, 0, 0);
	expect(crest).toBeCloseTo(0.02, 12);
	expect(waterAt(surface, -1.2493 * 0.3, 5, 0.3)).toBeCloseTo(crest, 5);
});

it("is nothing outside a wake, and its full height in the middle", () => {
	const surface: Surface = { sines: [[0.02, 0, 0, 0, 0]], packet_m: [10, 2] };
	expect([7.9, 10, 11, 12.1].map((x) => waterAt(surface, x, 0, 0))).toEqual([
		0,
		0.02,
		expect.closeTo(0.01, 12),
		0,
	]);
});

it("grows from flat water to all of it", () => {
	const growing: [number, number] = [1, 3];
	const surface: Surface = { sines: [[0.02, 0, 0, 0, 0]], packet_m: null, growing_m: growing };
	expect([0, 1, 2, 3, 9].map((x) => waterAt(surface, x, 0, 0))).toEqual([
		expect.closeTo(0, 12),
		expect.closeTo(0, 12),
		expect.closeTo(0.01, 12),
		0.02,
		0.02,
	]);
});
