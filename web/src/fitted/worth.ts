// Which of the numbers nobody told are worth measuring first.
import { signal } from "@preact/signals";
import { answer, api, Refused } from "../api/client";
import type { components } from "../api/schema";
import * as state from "../state";

type Worth = components["schemas"]["WorthView"];
type One = Worth["first"][number];

const got = signal<Worth | null>(null);

/** Of the boat that is shown; worth most first. */
export const first = (): readonly One[] =>
	got.value && got.value.revision === state.shown.value?.study.revision ? got.value.first : [];

/** Asked once the full answer is there: it takes a while on top of that. */
export async function readWorth() {
	if (got.value?.revision === state.shown.value?.study.revision) return;
	const of = state.isTrying.value ? "whatif" : "saved";
	try {
		got.value = await answer(api.GET("/api/worth", { params: { query: { of } } }));
	} catch (e) {
		// The list is whole without it.
		if (!(e instanceof Refused)) throw e;
	}
}

const words = (text: string) =>
	text.replaceAll(/["_-]/g, " ").replaceAll(/\s+/g, " ").trim().toLowerCase();
/** Three lengths of one place. */
const COORDINATE = / [xyz]$/;

/** Whether a number is called so: `drive motor kv` is the way drive, 0, motor, kv; `part "Battery" x` is that of its place. */
export function called(what: string, path: readonly (string | number)[]): boolean {
	const way = path.filter((step) => typeof step === "string").map((step) => words(String(step)));
	const name = words(what);
	if (name === way.join(" ")) return true;
	return (
		way.at(-1) === "at" &&
		COORDINATE.test(name) &&
		name.replace(COORDINATE, "") === way.slice(0, -1).join(" ")
	);
}

export const worthOf = (path: readonly (string | number)[]): One | undefined =>
	first().find((w) => called(w.what, path));
