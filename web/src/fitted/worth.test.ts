import { expect, test } from "vitest";
import { called } from "./worth";

test("numbers are found in the parts list by what the program calls them", () => {
	expect(called("drive motor kv", ["drive", 0, "motor", "kv"])).toBe(true);
	expect(called("drive motor no-load current", ["drive", 0, "motor", "no_load_current"])).toBe(
		true,
	);
	expect(
		called('drive "left" propeller pitch ratio', ["drive", "left", "propeller", "pitch_ratio"]),
	).toBe(true);
	expect(called('part "Battery" mass', ["part", "Battery", "mass"])).toBe(true);
	expect(called('part "Battery" x', ["part", "Battery", "at"])).toBe(true);
	expect(called('part "Battery" x', ["part", "Battery", "mass"])).toBe(false);
	expect(called("hull print top and bottom", ["hull", "print", "top_bottom"])).toBe(false);
});
