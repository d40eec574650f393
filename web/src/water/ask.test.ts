import { expect, it } from "vitest";
import { first, options } from "./ask";

it("asks for what was asked and leaves the rest to the condition", () => {
	expect(options(first())).toEqual({ condition: "launch", seconds: 10, seed: 1 });
});

it("says water, wind, hands and start as the question takes them", () => {
	const asked = options({
		...first(),
		condition: "ripple",
		water: "waves",
		waterFrom: "left",
		wind: "4",
		throttle: "80",
		rudder: "right",
		angle: "12",
		at: "3",
		start: "40",
		runs: "50",
	});
	expect(asked).toMatchObject({
		water: "waves=20mm,1.5m,from=left",
		wind: "4m/s,from=ahead",
		throttle: "80%",
		rudder: "right=12deg,at=3s",
		start: "40km/h",
		runs: 50,
	});
});

it("takes a table of hands in place of throttle and rudder", () => {
	const script = "time [s], throttle [%]\n0, 0\n1, 50";
	const asked = options({ ...first(), throttle: "80", rudder: "left", script });
	expect(asked).toEqual({ condition: "launch", seconds: 10, seed: 1, script: { text: script } });
});
