// What the commands for recordings print: docs/json.md, "Recordings". Values are SI; `sigma` is one
// standard uncertainty.

export interface Measured {
	value: number;
	sigma: number;
}

export interface Value extends Measured {
	kind: string;
	unit: string;
	statistic: string;
	from: { recording: string; method: string; which?: number | null };
	window: { from_s: number; to_s: number } | null;
	condition: { motion: string; throttle: number | null; speed_m_s: number | null };
	remark: string | null;
}

export interface Happened {
	recording: string;
	kind: "launch" | "throttle_cut" | "pass" | "marked";
	number: number;
	time_s: Measured;
}

export type Point = [time: number, value: number, sigma: number];

export interface Analysis {
	file: string;
	kind: string;
	span_s: [number, number] | null;
	start_unix_s: number | null;
	says: string[];
	remarks: string[];
	quantities: Value[];
	events: Happened[];
	traces: { name: string; unit: string; points: Point[] }[];
}

export interface Heard extends Analysis {
	tones: { points: [number, number][]; over_noise: number }[];
	shafts: { members: { tone: number; order: number }[] }[];
	passes: {
		near_s: number;
		shaft: number;
		why?: string;
		time_s?: Measured;
		curve?: [number, number][];
	}[];
}

export interface Column {
	column: number;
	heading: string;
	quantity: string;
	confidence: number;
	reason: string;
}

export interface Logged extends Analysis {
	mapping: { columns: Column[]; confirmed: boolean };
	doubts: string[];
	rows: number;
}

export interface Clock {
	recording: string;
	against: string;
	offset_s: Measured;
	shared: number;
	remark: string | null;
}

/** `measured.json`. */
export interface MeasuredOuting {
	date: string;
	build: string | null;
	invented: boolean;
	recordings: {
		file: string;
		kind: string;
		remarks: string[];
		trouble: string | null;
		span_s: [number, number] | null;
	}[];
	quantities: Value[];
	events: Happened[];
	clocks: Clock[];
}
