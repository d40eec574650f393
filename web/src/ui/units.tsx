// Which units the whole page shows: as the boat file says until chosen here, and then kept in this browser. The program
// speaks km/h, g, mm and °C.
import { signal } from "@preact/signals";
import { type Quantity, show } from "./format";

interface Unit {
	/** What the program calls it. */
	from: string;
	to: string;
	factor: number;
	/** Of nought; not for a spread or a difference. */
	offset?: number;
}

const INTO: Unit[] = [
	{ from: "km/h", to: "mph", factor: 1 / 1.609344 },
	{ from: "g", to: "oz", factor: 1 / 28.349523125 },
	{ from: "kg", to: "lb", factor: 1 / 0.45359237 },
	{ from: "mm", to: "in", factor: 1 / 25.4 },
	{ from: "m", to: "ft", factor: 1 / 0.3048 },
	{ from: "m/s", to: "mph", factor: 1 / 0.44704 },
	{ from: "cm", to: "in", factor: 1 / 2.54 },
	{ from: "cm2", to: "in2", factor: 1 / 6.4516 },
	{ from: "°C", to: "°F", factor: 1.8, offset: 32 },
	// Of a difference: nothing is told in kelvin from nought.
	{ from: "K", to: "°F", factor: 1.8 },
];

export type System = "metric" | "inch";
const NAME = "skimwright-units";
export const system = signal<System>(localStorage.getItem(NAME) === "inch" ? "inch" : "metric");

const other = (unit: string): Unit | undefined =>
	system.value === "inch" ? INTO.find((u) => u.from === unit) : undefined;

/** The unit shown for one of the program's. */
export const unitOf = (unit: string): string => other(unit)?.to ?? unit;
/** A value in the unit shown for it. */
export const inUnit = (value: number, unit: string): number => {
	const into = other(unit);
	return into ? value * into.factor + (into.offset ?? 0) : value;
};
/** A value in the program's unit again. */
export const outOf = (value: number, unit: string): number => {
	const into = other(unit);
	return into ? (value - (into.offset ?? 0)) / into.factor : value;
};
/** Follows the boat file, unless somebody chose here. */
export function follow(declared: System | null | undefined): void {
	if (declared && localStorage.getItem(NAME) === null) system.value = declared;
}

/** A number as it is read on the page: with its unit, as finely as it is known. */
export function say(n: Quantity & { shown?: string }): string {
	const into = other(n.unit);
	if (!into) return n.shown ?? show(n);
	const value = n.value == null ? n.value : inUnit(n.value, n.unit);
	return show({ value, spread: (n.spread ?? 0) * into.factor, unit: into.to });
}

const NUMBER = String.raw`[-−+]?\d+(?:\.\d+)?`;
const LIST = `${NUMBER}(?:(?: ± | to | × | x | by |–|-|(?<=between ${NUMBER}) and )${NUMBER})*`;
/** A number, or several of one unit; what is between backquotes is to be typed, and stays. */
const IN_PROSE = new RegExp(
	String.raw`\`[^\`]*\`|(?<![\w.\-/:°])(${LIST})([ \u00a0]?)(km/h|m/s|mm|cm2|cm|kg|g|m|°C|K)(?![\w/²³°·])`,
	"g",
);
const ACCELERATION = /^ (?:up|sideways|down|at the bow)/;

/** As the terminal turns them: checks/units_in_words.csv holds what both must say. */
export function inWords(text: string): string {
	if (system.value === "metric") return text;
	return text.replace(
		IN_PROSE,
		(all, list: string | undefined, space, unit: string, at: number) => {
			const into = list === undefined ? undefined : other(unit);
			if (!list || !into) return all;
			if (unit === "g" && ACCELERATION.test(text.slice(at + all.length))) return all;
			const written = [
				...list.matchAll(new RegExp(String.raw`(?<!\d)${NUMBER}|(?<=-)\d+(?:\.\d+)?`, "g")),
			];
			const spread = list.includes("±");
			const values = written.map(
				([w], i) =>
					Number(w.replace("−", "-")) * into.factor + (spread && i > 0 ? 0 : (into.offset ?? 0)),
			);
			const fine = Math.max(...written.map(([w]) => w.split(".")[1]?.length ?? 0));
			const places = kept(
				Math.max(...values.map(Math.abs)),
				into.to === "in" ? 3 : 2,
				fine,
				into.factor,
			);
			let turned = "";
			let done = 0;
			written.forEach((w, i) => {
				turned +=
					list.slice(done, w.index) + (values[i] ?? 0).toFixed(places).replace(/^-(?=[0.]*$)/, "");
				done = w.index + w[0].length;
			});
			return `${turned}${space}${into.to}`;
		},
	);
}

/** Decimals that keep a number about as fine as it was, and at least so many digits of it. */
function kept(value: number, digits: number, places: number, factor: number): number {
	if (value === 0) return 0;
	const same = Math.max(0, Math.round(-Math.log10(10 ** -places * factor)));
	const least = digits - 1 - Math.floor(Math.log10(value));
	return Math.min(Math.max(same, least), 3);
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
			<option value="metric">km/h, g, mm, °C</option>
			<option value="inch">mph, oz, in, °F</option>
		</select>
	);
}
