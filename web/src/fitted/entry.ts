// What is typed into a field, and what the boat file takes.
import type { Key } from "../api/types";
import { inUnit, outOf, unitOf } from "../ui/units";

type Of = Pick<Key, "form">;

/** A place is written as its three lengths, one after the other. */
export function text(written: unknown): string {
	if (written === null || written === undefined) return "";
	return Array.isArray(written) ? written.join(", ") : String(written);
}

const NUMBER = String.raw`[-−]?\d+(?:\.\d+)?(?:e[-+]?\d+)?`;
const QUANTITY = new RegExp(
	`^(${NUMBER})\\s*([^\\s±\\d][^±]*?)?(?:\\s*±\\s*(${NUMBER})\\s*([^\\s\\d].*)?)?$`,
);

/** A decimal comma is a point: `1,5`. Three figures after it could be thousands, and are left to be refused. */
const pointed = (typed: string) =>
	typed
		.trim()
		.replaceAll("−", "-")
		.replace(/(\d),(\d{1,2})(?!\d)/g, "$1.$2");

const fine = (v: number) => String(Number(v.toPrecision(6)));

/** A quantity as written, in the unit the page shows for it. */
export function shownAs(written: string): string {
	const [, value, unit = "", by, byUnit = ""] = QUANTITY.exec(written) ?? [];
	const into = unitOf(unit);
	if (value === undefined || into === unit) return written;
	const turned = (v: string) => Number(inUnit(Number(v), unit).toPrecision(4));
	const spread = by === undefined ? "" : byUnit === "%" ? ` ± ${by} %` : ` ± ${turned(by)} ${into}`;
	return `${turned(value)} ${into}${spread}`;
}

/** The unit a bare number means: that of what is written, else the first the file takes; as the page shows it. */
export function bareUnit(k: Of, written: string): string {
	const unit = QUANTITY.exec(written)?.[2] ?? k.form.units[0] ?? "";
	return unit;
}

/** What was typed as a quantity of the file: a bare number in the unit shown, and that turned back into the file's own. */
export function quantity(k: Of, typed: string, written: string): string | number {
	const given = pointed(typed);
	const found = QUANTITY.exec(given);
	if (!found) return given;
	const [, value, unit, by, byUnit] = found as unknown as [
		string,
		string,
		string?,
		string?,
		string?,
	];
	const own = bareUnit(k, written);
	if (own === "") return unit === undefined && by === undefined ? Number(value) : given;
	const shown = unitOf(own);
	const is = unit ?? shown;
	const back = (v: string, u: string) =>
		u === shown && shown !== own ? `${fine(outOf(Number(v), own))} ${own}` : `${v} ${u}`;
	const spread =
		by === undefined ? "" : ` ± ${byUnit === "%" ? `${by} %` : back(by, byUnit ?? is)}`;
	return back(value, is) + spread;
}

/** What the file takes: a list, a whole number, true or false, else the text as typed. */
export function parsed(k: Of, value: string, written = ""): unknown {
	switch (k.form.what) {
		case "quantity":
			return quantity(k, value, written);
		case "lengths":
		case "files":
			return value.split(",").map((v) => v.trim());
		case "count":
			return Number.isInteger(Number(value)) ? Number(value) : value;
		case "flag":
			return value === "true" ? true : value === "false" ? false : value;
		default:
			return value;
	}
}
