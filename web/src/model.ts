import type { Quantity } from "./ui/format";
import type { Standing } from "./ui/mark";

/** As `skimwright check --json` prints it; docs/json.md describes every key. */
export interface Study {
	boat: string;
	hull_type: string;
	mass: Quantity;
	balance: { x: Quantity; y: Quantity; z: Quantity };
	findings: Finding[];
	assumptions: { what: string; number: Quantity; why: string }[];
	notices: { serious: boolean; text: string }[];
	speed_curve: RunningState[] | null;
}

export interface Finding {
	id: string;
	standing: Standing;
	sentence: string;
	number: Quantity | null;
	limit: { at_least: Quantity | null; at_most: Quantity | null; says: string } | null;
	basis: string;
	why: string;
	figures: { label: string; value: string }[];
	changes: { what: string; effect: string; better: boolean }[];
	caution: string | null;
}

export interface RunningState {
	speed: Quantity;
	throttle: Quantity;
	trim: Quantity;
	heel: Quantity;
	rise: Quantity;
	thrust_needed: Quantity;
	thrust_available: Quantity;
	wetted: { surface: string; length: Quantity; beam: Quantity; lift: Quantity }[];
	drives: {
		drive: string;
		shaft_speed: Quantity;
		current: Quantity;
		voltage: Quantity;
		thrust: Quantity;
		immersion: Quantity;
		slip: Quantity;
	}[];
}

/** Attitude at one speed. */
export interface Attitude {
	trim_deg: number;
	heel_deg: number;
	rise_mm: number;
}
