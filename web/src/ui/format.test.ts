import { describe, expect, it } from "vitest";
import { show } from "./format";

const q = (value: number, spread: number, unit = "mm") => show({ value, spread, unit });

describe("a number", () => {
	it("is shown as finely as it is known", () => {
		expect(q(31.27, 4.123)).toBe("31 ± 4 mm");
		expect(q(31.27, 1.523)).toBe("31.3 ± 1.5 mm");
		expect(q(31.27, 0)).toBe("31.3 mm");
		expect(q(312.7, 41.23)).toBe("313 ± 41 mm");
	});
	it("keeps a degree at its number and a ratio bare", () => {
		expect(q(1.53, 0, "°")).toBe("1.5°");
		expect(q(80.92, 0, "km/h")).toBe("81 km/h");
		expect(q(72.13, 0.84, "km/h")).toBe("72.1 ± 0.8 km/h");
		expect(q(1.05, 0, "")).toBe("1.05");
	});
});
