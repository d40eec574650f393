import { readFileSync } from "node:fs";
import { afterEach, expect, test } from "vitest";
import { inUnit, inWords, outOf, say, system } from "./units";

afterEach(() => {
	system.value = "metric";
});

test("sentences say what the terminal says", () => {
	const table = readFileSync("../checks/units_in_words.csv", "utf8").trim().split("\n").slice(2);
	expect(table.length).toBeGreaterThan(20);
	for (const line of table) {
		const [metric = "", inch = ""] = line.split("|");
		system.value = "metric";
		expect(inWords(metric)).toBe(metric);
		system.value = "inch";
		expect(inWords(metric)).toBe(inch);
	}
});

test("warmth is turned with its nought, a spread of it without", () => {
	system.value = "inch";
	expect(inUnit(100, "°C")).toBeCloseTo(212);
	expect(outOf(212, "°C")).toBeCloseTo(100);
	expect(say({ value: 74, spread: 10, unit: "°C" })).toBe("165 ± 18 °F");
});
