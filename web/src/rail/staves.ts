import type { RunningState } from "../model";

export interface Line {
	label: string;
	of: (s: RunningState) => number;
	/** Drawn broken, so that two lines differ without colour. */
	broken?: boolean;
}

export interface StaveKind {
	title: string;
	unit: string;
	/** One sentence for whoever asks what it is. */
	about: string;
	lines: Line[];
}

const first = (s: RunningState) => s.drives[0];

/** From top to bottom. */
export const STAVES: StaveKind[] = [
	{
		title: "Push and drag",
		unit: "N",
		about: "Thrust needed to hold the speed, and thrust there is with the throttle open. Where they meet is top speed.",
		lines: [
			{ label: "needed", of: (s) => s.thrust_needed.value },
			{ label: "to be had", of: (s) => s.thrust_available.value, broken: true },
		],
	},
	{
		title: "Trim",
		unit: "°",
		about: "How far the bow is up.",
		lines: [{ label: "trim", of: (s) => s.trim.value }],
	},
	{
		title: "Rise",
		unit: "mm",
		about: "How far the transom's bottom edge stands above still water; below zero it is under.",
		lines: [{ label: "rise", of: (s) => s.rise.value }],
	},
	{
		title: "Wet keel",
		unit: "mm",
		about: "Longest wet length of any running surface.",
		lines: [{ label: "wet", of: (s) => Math.max(0, ...s.wetted.map((w) => w.length.value)) }],
	},
	{
		title: "Current",
		unit: "A",
		about: "From the first pack, at the throttle it takes to hold the speed.",
		lines: [{ label: "current", of: (s) => first(s)?.current.value ?? 0 }],
	},
	{
		title: "Propeller",
		unit: "% in water",
		about: "Depth of the lowest tip over the diameter: 50 is half in, 100 just covered.",
		lines: [{ label: "immersion", of: (s) => Math.min(first(s)?.immersion.value ?? 0, 150) }],
	},
];
