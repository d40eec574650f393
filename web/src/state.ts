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

/** The URL holds what is worth sharing: the place and the speed. */
const fromUrl = new URLSearchParams(location.search);

export const session = signal<Session | null>(null);
/** The server does not know this browser. */
export const locked = signal(false);
export const boat = signal<Boat | null>(null);
export const saved = signal<Answers | null>(null);
export const tried = signal<Answers | null>(null);
export const hull = signal<HullMesh | null>(null);
export const form = signal<Form | null>(null);
export const view = signal<ViewName>(VIEWS.find((v) => v === fromUrl.get("view")) ?? "3D");
/** Name of the place gone to: see `places.tsx`. */
export const place = signal(fromUrl.get("place") ?? "findings");
export const speed = signal(Number(fromUrl.get("speed")) || 0);
export const fault = signal<Refusal | null>(null);
export const doing = signal<string | null>(null);
/** The program was there and does not answer now. */
export const away = signal(false);
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

let waiting: ReturnType<typeof setTimeout> | undefined;

/** Not at every move of a drag: browsers refuse more than a hundred in half a minute. */
export function keepInUrl() {
	clearTimeout(waiting);
	waiting = setTimeout(() => {
		const url = new URL(location.href);
		url.searchParams.set("place", place.value);
		url.searchParams.set("view", view.value);
		url.searchParams.set("speed", speed.value.toFixed(1));
		history.replaceState(null, "", url);
	}, 300);
}
