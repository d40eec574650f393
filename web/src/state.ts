import { computed, signal } from "@preact/signals";
import type { Study } from "./model";
import type { HullMesh } from "./scene/water3d";

export type PlaceName = "scene" | "fitted" | "water" | "pond" | "builds";

/** Places in the order of the tabs, in the builder's words. */
export const PLACES: { name: PlaceName; title: string }[] = [
	{ name: "scene", title: "Findings" },
	{ name: "fitted", title: "Fitted" },
	{ name: "water", title: "Water" },
	{ name: "pond", title: "Pond day" },
	{ name: "builds", title: "Builds" },
];

/** The URL holds what is worth sharing: the place and the speed. */
const fromUrl = new URLSearchParams(location.search);
const wanted = fromUrl.get("place");

export const place = signal<PlaceName>(PLACES.find((p) => p.name === wanted)?.name ?? "scene");
export const speed = signal(Number(fromUrl.get("speed")) || 0);
export const saved = signal<Study | null>(null);
export const tried = signal<Study | null>(null);
export const hull = signal<HullMesh | null>(null);
export const fault = signal<{ message: string; hint?: string } | null>(null);
export const busy = signal<string | null>(null);

/** What is on the water: the what-if when there is one. */
export const shown = computed(() => tried.value ?? saved.value);

export function keepInUrl() {
	const url = new URL(location.href);
	url.searchParams.set("place", place.value);
	url.searchParams.set("speed", speed.value.toFixed(1));
	history.replaceState(null, "", url);
}
