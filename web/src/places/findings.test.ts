import { expect, test } from "vitest";
import { counted, listed } from "./findings";

test("findings are counted worst first, and what is worked out is named once", () => {
	const standings = ["good", "stop", "good", "watch"].map((standing) => ({ standing }));
	expect(counted(standings)).toBe("1 stop, 1 watch, 2 good");
	expect(listed(["top-speed", "heat", "heat"])).toBe("top speed, heat");
});
