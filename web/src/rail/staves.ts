import type { Stave } from "../api/types";

/** Lines that share an axis. */
export interface Group {
	stave: string;
	unit: string;
	lines: Stave[];
}

/** What a stave is, in one sentence, for whoever asks. */
const ABOUT: Record<string, string> = {
	thrust:
		"Thrust needed to hold the speed, and thrust there is with the throttle open. Where they meet is top speed.",
	attitude: "How far the bow is up.",
	trim: "How far the bow is up.",
	rise: "How far the transom's bottom edge stands above still water; below zero it is under.",
	wetted: "Wet length of the running surfaces along the keel.",
	current: "From the pack, at the throttle it takes to hold the speed.",
	rpm: "Turns of the propeller.",
};

export const about = (stave: string) => ABOUT[stave] ?? "";

/** Lines of one stave and one unit together, in the order they came. */
export function grouped(staves: readonly Stave[]): Group[] {
	const groups: Group[] = [];
	for (const line of staves) {
		const with_ = groups.find((g) => g.stave === line.stave && g.unit === line.unit);
		if (with_) with_.lines.push(line);
		else groups.push({ stave: line.stave, unit: line.unit, lines: [line] });
	}
	return groups;
}

/** A line's value at a speed, straight between the known ones. */
export function valueAt(
	speeds: readonly number[],
	values: readonly (number | null)[],
	kmh: number,
) {
	const known = speeds.flatMap((s, i) => {
		const v = values[i];
		return v === null || v === undefined ? [] : [[s, v] as const];
	});
	const first = known[0];
	if (!first) return null;
	const after = known.findIndex(([s]) => s > kmh);
	const b = after < 0 ? known.at(-1) : known[after];
	const a = after <= 0 ? (after < 0 ? known.at(-1) : first) : known[after - 1];
	if (!a || !b) return null;
	const share = b[0] > a[0] ? Math.min(Math.max((kmh - a[0]) / (b[0] - a[0]), 0), 1) : 0;
	return a[1] + (b[1] - a[1]) * share;
}
