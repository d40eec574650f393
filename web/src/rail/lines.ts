// One shape for everything drawn over the rail, wherever it came from.
import type { Line, Pose, Poses } from "../api/types";
import { inUnit, unitOf } from "../ui/units";

/** A line with speeds of its own. */
export interface RailLine {
	id: string;
	stave: string;
	label: string;
	unit: string;
	speeds: readonly number[];
	values: readonly (number | null)[];
	/** Edges of its 95 % band; empty where none was worked out. */
	low: readonly (number | null)[];
	high: readonly (number | null)[];
}

const turned = (values: readonly (number | null)[], unit: string) =>
	values.map((v) => (v === null ? null : inUnit(v, unit)));

/** Lines of the speed curve, then those that came later. */
export function railLines(poses: Poses, later: readonly Line[]): RailLine[] {
	const curve = poses.staves.map((s) => ({
		...s,
		unit: unitOf(s.unit),
		speeds: poses.speeds_km_h,
		values: turned(s.values, s.unit),
		low: turned(s.low, s.unit),
		high: turned(s.high, s.unit),
	}));
	const others = later.map((l) => ({
		...l,
		unit: unitOf(l.unit),
		speeds: l.speeds_km_h,
		values: turned(l.values, l.unit),
		low: [],
		high: [],
	}));
	return [...curve, ...others];
}

/** What a state that is not on the curve shows on a line; nothing where it has no such number. */
const OTHERS: Record<string, (pose: Pose) => number> = {
	trim: (p) => p.trim_deg,
	heel: (p) => p.heel_deg,
	rise: (p) => inUnit(p.rise_m * 1000, "mm"),
	"thrust-needed": (p) => p.thrust_needed_n,
};

/** Marks of the other ways it could run, on the lines that can show them. */
export function otherMarks(others: readonly Pose[], lines: readonly RailLine[]) {
	return lines.flatMap((line) => {
		const of = OTHERS[line.id];
		return of ? others.map((p) => ({ line: line.id, kmh: p.speed_km_h, value: of(p) })) : [];
	});
}

/** Lines the saved boat has and a what-if has not yet: their staves stay where they are, empty. */
export function awaited(lines: readonly RailLine[], saved: readonly RailLine[]): RailLine[] {
	const have = new Set(lines.map((l) => l.id));
	const none = { speeds: [], values: [], low: [], high: [] };
	return saved.filter((l) => !have.has(l.id)).map((l) => ({ ...l, ...none }));
}
