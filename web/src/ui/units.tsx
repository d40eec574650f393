// Which units the whole page shows: chosen once, kept in this browser. The program speaks km/h, g and mm.
import { signal } from "@preact/signals";
import { type Quantity, show } from "./format";

interface Unit {
	/** What the program calls it. */
	from: string;
	to: string;
	factor: number;
}

const INTO: Unit[] = [
	{ from: "km/h", to: "mph", factor: 1 / 1.609344 },
	{ from: "g", to: "oz", factor: 1 / 28.349523125 },
	{ from: "kg", to: "lb", factor: 1 / 0.45359237 },
	{ from: "mm", to: "in", factor: 1 / 25.4 },
	{ from: "m", to: "ft", factor: 1 / 0.3048 },
];

export type System = "metric" | "inch";
const NAME = "skimwright-units";
export const system = signal<System>(localStorage.getItem(NAME) === "inch" ? "inch" : "metric");

const other = (unit: string): Unit | undefined =>
	system.value === "inch" ? INTO.find((u) => u.from === unit) : undefined;

/** The unit shown for one of the program's. */
export const unitOf = (unit: string): string => other(unit)?.to ?? unit;
/** A value in the unit shown for it. */
export const inUnit = (value: number, unit: string): number => value * (other(unit)?.factor ?? 1);
/** A value in the program's unit again. */
export const outOf = (value: number, unit: string): number => value / (other(unit)?.factor ?? 1);

/** A number as it is read on the page: with its unit, as finely as it is known. */
export function say(n: Quantity & { shown?: string }): string {
	const into = other(n.unit);
	if (!into) return n.shown ?? show(n);
	const value = n.value == null ? n.value : n.value * into.factor;
	return show({ value, spread: (n.spread ?? 0) * into.factor, unit: into.to });
}

const NUMBER = String.raw`-?\d+(?:\.\d+)?`;
const IN_PROSE = new RegExp(
	String.raw`(${NUMBER})(?:( ± | to |-)(${NUMBER}))? (km/h|mm|kg|g|m)(?![\w/²³])(?! (?:up|sideways|at the bow))`,
	"g",
);
/** So little mass is more likely an acceleration told in g. */
const HEAVY = 20;

/** The program's sentences with their numbers in the units chosen. */
export function inWords(text: string): string {
	if (system.value === "metric") return text;
	return text.replace(IN_PROSE, (all, a: string, between, b: string | undefined, unit: string) => {
		const into = other(unit);
		if (!into || (unit === "g" && Number(a) < HEAVY)) return all;
		const turned = (x: string) => {
			const v = Number(x) * into.factor;
			const digits =
				unit === "mm" || unit === "m" ? (Math.abs(v) < 1 ? 2 : 1) : Math.abs(v) < 10 ? 1 : 0;
			return v.toFixed(digits);
		};
		return `${turned(a)}${between ? between + turned(b ?? "0") : ""} ${into.to}`;
	});
}

export function UnitSwitch() {
	return (
		<select
			class="units"
			aria-label="Units"
			value={system.value}
			onChange={(e) => {
				system.value = e.currentTarget.value as System;
				localStorage.setItem(NAME, system.value);
			}}
		>
			<option value="metric">km/h, g, mm</option>
			<option value="inch">mph, oz, in</option>
		</select>
	);
}
