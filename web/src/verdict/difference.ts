// What is tried out against the saved boat, as a builder would say it.
import type { Boat } from "../api/types";
import { best, type Quantity } from "../ui/format";
import { inUnit, unitOf } from "../ui/units";

type Changed = Boat["changed"][number];
interface Item {
	id: string;
	number?: Quantity | null;
}

/** A quantity by its finding, and what more and less of it are called. */
const SAID: Record<string, string> = {
	freeboard: "freeboard",
	planes: "planes",
	"top-speed": "top",
	"run-time": "run",
	heat: "hottest",
	"tightest-turn": "turns",
	"flight-margin": "blows over",
};

const MM = /^\s*(-?\d+(?:\.\d+)?)\s*mm/;

/** `Battery 36 mm aft, 4 mm up`; the values where it is no place. */
export function moved(c: Changed): string {
	const name = String(c.path.at(-2) ?? c.what);
	const [from, to] = [places(c.saved), places(c.whatif)];
	if (!from || !to) return `${plainName(c)} ${text(c.whatif)} instead of ${text(c.saved)}`;
	const ways: [string, string][] = [
		["forward", "aft"],
		["to port", "to starboard"],
		["up", "down"],
	];
	const told = ways.flatMap(([more, less], i) => {
		const by = (to[i] ?? 0) - (from[i] ?? 0);
		if (Math.abs(by) < 0.05) return [];
		const size = inUnit(Math.abs(by), "mm");
		const digits = unitOf("mm") === "in" ? 2 : size < 10 ? 1 : 0;
		return [`${Number(size.toFixed(digits))} ${unitOf("mm")} ${by > 0 ? more : less}`];
	});
	return `${name} ${told.join(", ") || "where it was"}`;
}

const plainName = (c: Changed) => c.path.slice(-2).join(" ").replaceAll("_", " ");

function places(value: unknown): number[] | null {
	if (!Array.isArray(value)) return null;
	const all = value.map((v) => Number(MM.exec(String(v))?.[1] ?? Number.NaN));
	return all.length === 3 && all.every(Number.isFinite) ? all : null;
}

function text(value: unknown): string {
	if (value === null || value === undefined) return "none";
	return Array.isArray(value) ? value.join(", ") : String(value);
}

/** What changes by more than is shown of it: `top −0.4 km/h`. */
function told(id: string, before: Quantity, after: Quantity): string | null {
	const by = inUnit(best(after) - best(before), after.unit);
	if (!Number.isFinite(by)) return null;
	// A difference is surer than either number: one digit finer than most of them are told.
	const size = Math.abs(by).toFixed(Math.abs(by) < 10 ? 1 : 0);
	if (Number(size) === 0) return null;
	const unit = unitOf(after.unit);
	return `${SAID[id] ?? id} ${by > 0 ? "+" : "−"}${size}${unit === "°" ? "" : " "}${unit}`;
}

/** The change and what it does to the seven numbers. */
export function difference(
	changed: readonly Changed[],
	saved: readonly Item[],
	tried: readonly Item[],
): string {
	const [first] = changed;
	const what = changed.length === 1 && first ? moved(first) : `${changed.length} changes`;
	const effects = tried.flatMap((after) => {
		const before = saved.find((s) => s.id === after.id);
		if (!before?.number || !after.number || before.number.unit !== after.number.unit) return [];
		return told(after.id, before.number, after.number) ?? [];
	});
	return `${what}: ${effects.join(", ") || "nothing of the seven changes"}`;
}
