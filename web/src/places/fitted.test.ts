import { describe, expect, it } from "vitest";
import { parsed, text } from "./fitted";

const of = (what: string) => ({ form: { what } }) as never;

describe("a value of the boat file", () => {
	it("is shown and sent back as it was written", () => {
		const at = ["215 mm", "0 mm", "12 mm"];
		expect(parsed(of("lengths"), text(at))).toEqual(at);
		expect(parsed(of("count"), text(2))).toBe(2);
		expect(parsed(of("flag"), text(true))).toBe(true);
		expect(parsed(of("quantity"), text("38 mm ± 1 mm"))).toBe("38 mm ± 1 mm");
	});
	it("goes to the program as typed when it is not what was asked, to be refused there", () => {
		expect(parsed(of("count"), "two")).toBe("two");
	});
});
