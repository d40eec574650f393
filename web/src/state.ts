import { computed, signal } from "@preact/signals";
import type { HullMesh } from "./api/mesh";
import type { Boat, Form, Poses, Refusal, Session, Study } from "./api/types";

export const VIEWS = ["3D", "side", "plan", "end"] as const;
export type ViewName = (typeof VIEWS)[number];

/** What the program answers of one text. */
export interface Answers {
	study: Study;
	poses: Poses;
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
