import { signal } from "@preact/signals";
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

/** Names a stave among those of the rail. */
export const keyOf = (g: Pick<Group, "stave" | "unit" | "lines">) => g.lines[0]?.id ?? g.stave;

/** Staves that are open before the builder chose any. */
const FIRST = ["thrust-needed", "trim", "current"];
const NAME = "skimwright-staves";

function kept(): string[] {
	try {
		const found: unknown = JSON.parse(localStorage.getItem(NAME) ?? "null");
		const names = Array.isArray(found) ? found.filter((n) => typeof n === "string") : [];
		return names.length > 0 ? names : FIRST;
	} catch {
		return FIRST;
	}
}

/** Staves the builder wants to see drawn; the rest are folded to a line. */
export const chosen = signal<string[]>(kept());

/** Opens or folds a stave; one at least stays open. */
export function toggle(of: Group) {
	const key = keyOf(of);
	const now = chosen.value;
	const next = now.includes(key) ? now.filter((k) => k !== key) : [...now, key];
	if (next.length === 0) return;
	chosen.value = next;
	localStorage.setItem(NAME, JSON.stringify(next));
}

/** A line's value at a speed, straight between the known ones; nothing beyond its ends or across a gap in it. */
export function valueAt(
	speeds: readonly number[],
	values: readonly (number | null)[],
	kmh: number,
): number | null {
	const after = speeds.findIndex((s) => s >= kmh - SAME);
	if (after < 0) return null;
	const [s, v] = [speeds[after] as number, values[after] ?? null];
	if (Math.abs(s - kmh) <= SAME) return v;
	if (after === 0) return null;
	const [s0, v0] = [speeds[after - 1] as number, values[after - 1] ?? null];
	if (v === null || v0 === null) return null;
	return v0 + ((v - v0) * (kmh - s0)) / (s - s0);
}

/** Speeds nearer than this are one, km/h. */
const SAME = 1e-6;
