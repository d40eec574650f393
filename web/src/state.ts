import { computed, signal } from "@preact/signals";
import type { HullMesh } from "./api/mesh";
import type { Boat, Form, Line, Poses, Refusal, Session, Study } from "./api/types";

export const VIEWS = ["3D", "side", "plan", "end"] as const;
export type ViewName = (typeof VIEWS)[number];

/** What the program answers of one text. */
export interface Answers {
	study: Study;
	poses: Poses;
	/** Lines of the rail that came after the curve. */
	later: Line[];
}

/** The start page: boats to open. Any other place is of the boat that is open. */
export const START = "start";

/** A speed as the address has it; nothing where it has none that could be one. */
function speedIn(query: URLSearchParams): number | null {
	const given = Number.parseFloat(query.get("speed") ?? "");
	return Number.isFinite(given) && given >= 0 ? given : null;
}

/** The address holds what is worth sharing: the place, the view and the speed. */
const fromUrl = () => new URLSearchParams(location.search);
const viewIn = (query: URLSearchParams) => VIEWS.find((v) => v === query.get("view")) ?? "3D";
const placeIn = (query: URLSearchParams) => query.get("place") ?? "findings";

export const session = signal<Session | null>(null);
/** The server does not know this browser. */
export const locked = signal(false);
export const boat = signal<Boat | null>(null);
export const saved = signal<Answers | null>(null);
export const tried = signal<Answers | null>(null);
export const hull = signal<HullMesh | null>(null);
export const form = signal<Form | null>(null);
/** Shape and parts of the saved boat, behind what is tried out. */
export const savedForm = signal<Form | null>(null);
export const view = signal<ViewName>(viewIn(fromUrl()));
/** Name of the place gone to: see `places.tsx`. */
export const place = signal(placeIn(fromUrl()));
/** The speed asked for; nothing while the builder has asked for none. */
export const speed = signal<number | null>(speedIn(fromUrl()));
export const fault = signal<Refusal | null>(null);
/** What should be known and asks for nothing. */
export const note = signal<string | null>(null);
export const doing = signal<string | null>(null);
/** The program was there and does not answer now: `gone`, or `another` start of it that does not know this browser. */
export const away = signal<"gone" | "another" | null>(null);
/** Counts how often the program came back: what was asked of it meanwhile is asked again. */
export const returned = signal(0);
/** The finding pointed at from elsewhere on the page. */
export const pointed = signal<string | null>(null);
/** A part in hand, where it was when last answered and where it is: what balance makes of it is known at once. */
export const held = signal<{
	mass_g: number;
	from: readonly number[];
	to: readonly number[];
} | null>(null);
/** How far the centre of gravity has gone since the last answer, m: masses times ways over all of it. */
export const shift = computed<[number, number, number]>(() => {
	const part = held.value;
	const all = shown.value?.study.mass.value ?? 0;
	const by = (i: number) =>
		part && all > 0 ? (part.mass_g / all) * ((part.to[i] ?? 0) - (part.from[i] ?? 0)) : 0;
	return [by(0), by(1), by(2)];
});
/** What is shown in three dimensions besides the hull. */
export const parts = signal(true);
export const sizes = signal(false);
/** Which cross-section the hull is cut at; none when whole. */
export const cut = signal<number | null>(null);
/** The other attitude at this speed, where there is one, in place of the one it reaches from rest. */
export const otherWay = signal(false);

/** What is on the water: the what-if when there is one. */
export const shown = computed(() => tried.value ?? saved.value);
export const isTrying = computed(() => (boat.value?.changed.length ?? 0) > 0);
/** Where the rail ends, km/h. */
export const railEnd = computed(() => shown.value?.poses.speeds_km_h.at(-1) ?? 0);
/** The speed of the handle: what was asked for as far as the rail goes, else top speed. */
export const at = computed(() => {
	const end = railEnd.value;
	const wanted = speed.value ?? shown.value?.poses.top_km_h ?? 0;
	return Math.min(Math.max(wanted, 0), end);
});

/** Goes to a place; the browser's own Back comes from it. */
export function go(name: string) {
	if (place.value === name) return;
	// What waits to be written is of the place that is left.
	write(history.replaceState);
	place.value = name;
	write(history.pushState);
}

window.addEventListener("popstate", () => {
	const query = fromUrl();
	place.value = placeIn(query);
	view.value = viewIn(query);
	speed.value = speedIn(query) ?? speed.value;
});

let waiting: ReturnType<typeof setTimeout> | undefined;

function write(how: typeof history.pushState) {
	clearTimeout(waiting);
	const url = new URL(location.href);
	url.searchParams.set("place", place.value);
	url.searchParams.set("view", view.value);
	if (speed.value !== null) url.searchParams.set("speed", at.value.toFixed(1));
	how.call(history, null, "", url);
}

/** Not at every move of a drag: browsers refuse more than a hundred in half a minute. */
export function keepInUrl() {
	clearTimeout(waiting);
	waiting = setTimeout(() => write(history.replaceState), 300);
}
