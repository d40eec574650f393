import { afterEach, expect, it } from "vitest";
import type { Key } from "../api/types";
import { system } from "../ui/units";
import { parsed, quantity, shownAs, text } from "./entry";

const key = (what: string, units: string[] = []) => ({ form: { what, units } }) as unknown as Key;
const length = key("quantity", ["mm", "in"]);
const mass = key("quantity", ["g", "kg"]);

afterEach(() => {
	system.value = "metric";
});

it("takes what the file takes", () => {
	expect(parsed(key("lengths"), "1 mm, 2 mm,3 mm")).toEqual(["1 mm", "2 mm", "3 mm"]);
	expect(parsed(key("count"), "2")).toBe(2);
	expect(parsed(key("flag"), "true")).toBe(true);
	expect(parsed(key("choice"), "painted")).toBe("painted");
	expect(parsed(key("quantity"), "1.4")).toBe(1.4);
});

it("takes a bare number for the unit shown, a comma for a point, and keeps a tolerance", () => {
	expect(quantity(length, "38", "40 mm")).toBe("38 mm");
	expect(quantity(length, "38,5", "40 mm")).toBe("38.5 mm");
	expect(quantity(length, "38 ± 1", "40 mm ± 2 mm")).toBe("38 mm ± 1 mm");
	expect(quantity(length, "38 ± 4 %", "")).toBe("38 mm ± 4 %");
	expect(quantity(length, "1.5 in", "40 mm")).toBe("1.5 in");
	expect(quantity(key("quantity"), "1.4 ± 6 %", "1.4 ± 6 %")).toBe("1.4 ± 6 %");
	expect(quantity(length, "wide", "40 mm")).toBe("wide");
});

it("shows and takes inches and ounces, and leaves the file its own unit", () => {
	system.value = "inch";
	expect(shownAs("40 mm ± 1 mm")).toBe("1.575 in ± 0.03937 in");
	expect(shownAs("330 g ± 5 %")).toBe("11.64 oz ± 5 %");
	expect(quantity(mass, "12", "330 g")).toBe("340.194 g");
	expect(quantity(mass, "12 oz", "330 g")).toBe("340.194 g");
	expect(quantity(mass, "330 g", "330 g")).toBe("330 g");
});

it("writes a place as its three lengths", () => {
	expect(text(["1 mm", "2 mm", "3 mm"])).toBe("1 mm, 2 mm, 3 mm");
	expect(text(null)).toBe("");
});
