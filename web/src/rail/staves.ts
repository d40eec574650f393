import type { RailLine } from "./lines";

/** Lines that share an axis. */
export interface Group {
	stave: string;
	unit: string;
	lines: RailLine[];
}

interface Known {
	/** What it is, in one sentence, for whoever asks. */
	about: string;
	/** Drawn no further than this: what lies beyond is at the edge. */
	within?: [number, number];
	/** Words above and below nought. */
	signs?: [string, string];
}

const KNOWN: Record<string, Known> = {
	thrust: {
		about:
			"Thrust needed to hold the speed, and thrust there is with the throttle open. Where they meet is top speed.",
	},
	trim: {
		about:
			"How far the bow is up and starboard down. Diamonds are other ways it could run at the same speed.",
	},
	rise: {
		about:
			"How far the transom's bottom edge stands above still water; below zero it is under. Diamonds are other ways it could run.",
	},
	wetted: { about: "Wet length of the running surfaces along the keel." },
	current: { about: "From the pack, at the throttle it takes to hold the speed." },
	rpm: { about: "Turns of the propeller." },
	throttle: { about: "Opened this far the drive holds the speed; over 100 % it cannot." },
	lift: { about: "Share of the weight that speed carries; the rest floats." },
	heat: {
		about:
			"Hottest after five minutes at this speed from cold, or when a fifth of the charge is left. No spread was worked out.",
	},
	stability: {
		about:
			"How fast a small disturbance grows (above nought) or dies out (below), at a held rudder. Theory; no spread was worked out.",
		within: [-4, 4],
		signs: ["grows", "dies out"],
	},
	flight: {
		about:
			"How far the bow may come up before it goes on by itself; 45° stands for more. Theory that nobody has measured at this size.",
	},
	gust: {
		about:
			"Steady headwind on top of the declared one that it stands; 25 m/s, a storm, stands for more. Theory that nobody has measured at this size.",
	},
	turning: {
		about:
			"Radius of the tightest steady turn in which everything holds. No line: no such turn was found.",
	},
};

export const known = (stave: string): Known => KNOWN[stave] ?? { about: "" };

/** Staves from top to bottom; any other comes after, in the order it came. */
const ORDER = [
	"thrust",
	"trim",
	"rise",
	"stability",
	"flight",
	"gust",
	"turning",
	"current",
	"heat",
	"rpm",
	"throttle",
	"lift",
	"wetted",
];

const rank = (stave: string) => (ORDER.indexOf(stave) + ORDER.length + 1) % (ORDER.length + 1);

/** Lines of one stave and one unit together, in the order of the score. */
export function grouped(lines: readonly RailLine[]): Group[] {
	const groups: Group[] = [];
	for (const line of lines) {
		const with_ = groups.find((g) => g.stave === line.stave && g.unit === line.unit);
		if (with_) with_.lines.push(line);
		else groups.push({ stave: line.stave, unit: line.unit, lines: [line] });
	}
	return groups.sort((a, b) => rank(a.stave) - rank(b.stave));
}

/** A line's value at a speed, straight between the known ones. */
export function valueAt(
	speeds: readonly number[],
	values: readonly (number | null)[],
	kmh: number,
) {
	let before: readonly [number, number] | null = null;
	for (let i = 0; i < speeds.length; i++) {
		const [s, v] = [speeds[i], values[i]];
		if (s === undefined || v === null || v === undefined) continue;
		if (s > kmh) {
			if (!before) return v;
			const share = Math.min(Math.max((kmh - before[0]) / (s - before[0]), 0), 1);
			return before[1] + (v - before[1]) * share;
		}
		before = [s, v];
	}
	return before ? before[1] : null;
}
