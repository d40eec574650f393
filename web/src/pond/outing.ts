import { computed, signal } from "@preact/signals";
import { api, Refused, whole } from "../api/client";
import type { components } from "../api/schema";
import type { Refusal } from "../api/types";
import { work } from "../api/work";
import { attempt } from "../desk";
import * as state from "../state";
import type { Analysis, Clock } from "./analysis";
import { bring } from "./bring";

export type Outing = components["schemas"]["OutingView"];
export type Recording = components["schemas"]["RecordingView"];
export type Note = components["schemas"]["Note"];

/** What is shown of an outing besides its recordings. */
export type View = "day" | "clock" | "learned" | { recording: string };

/** What came of measuring a recording. */
export type Came =
	| { stage: "working" }
	| { stage: "done"; analysis: Analysis }
	| { stage: "failed"; refusal: Refusal };

export const outings = signal<Outing[] | null>(null);
export const chosen = signal<string | null>(new URLSearchParams(location.search).get("outing"));
export const view = signal<View>("day");
/** By `outings/2026-05-17/run.wav`. */
export const came = signal<Record<string, Came>>({});
/** Part of each file that is on its way in. */
export const coming = signal<Record<string, number>>({});
export const outing = computed(
	() => outings.value?.find((o) => o.id === chosen.value) ?? outings.value?.[0] ?? null,
);
export const measured = computed(() => outing.value?.measured ?? null);

let folder = "";

/** The outings of the boat that is open. */
export const readOutings = () =>
	attempt("looking for outings", async () => {
		const here = state.session.value?.folder ?? "";
		if (here !== folder) forget();
		folder = here;
		outings.value = await whole<Outing[]>(api.GET("/api/outings"));
	});

/** Another boat's. */
function forget() {
	outings.value = null;
	came.value = {};
	view.value = "day";
}

/** Puts one outing in its place among the others. */
function put(one: Outing) {
	const others = (outings.value ?? []).filter((o) => o.id !== one.id);
	outings.value = [one, ...others].sort((a, b) => (a.id < b.id ? 1 : -1));
}

export function choose(id: string) {
	chosen.value = id;
	view.value = "day";
	const url = new URL(location.href);
	url.searchParams.set("outing", id);
	history.replaceState(null, "", url);
}

/** A free name for an outing of a day. */
export function freeName(day: string, taken: readonly string[]): string {
	if (!taken.includes(day)) return day;
	for (let n = 2; ; n++) if (!taken.includes(`${day}-${n}`)) return `${day}-${n}`;
}

export const begin = (day: string) =>
	attempt("starting an outing", async () => {
		const id = freeName(day, outings.value?.map((o) => o.id) ?? []);
		put(await whole<Outing>(api.POST("/api/outings", { body: { id, text: "" } })));
		choose(id);
	});

export const write = (notes: Note[]) =>
	attempt("keeping the notes", async () => {
		const id = outing.value?.id;
		if (!id) return;
		const params = { path: { id } };
		put(await whole<Outing>(api.POST("/api/outings/{id}/notes", { params, body: { notes } })));
		// What is said of the day changes what its recordings tell.
		came.value = {};
	});

/** Takes files in, one after the other: a phone's connection is slow enough with one. */
export async function takeIn(files: readonly File[]) {
	let refused: Refusal | null = null;
	for (const file of files) {
		await attempt(`taking in ${file.name}`, () => one(file));
		refused ??= state.fault.value;
	}
	await readOutings();
	// Neither the next file nor the list of what is there makes good what was refused.
	state.fault.value ??= refused;
	const last = files.at(-1);
	if (last && !state.fault.value) view.value = { recording: last.name };
}

const today = () => new Date(Date.now() - 60_000 * new Date().getTimezoneOffset()).toISOString();

async function one(file: File) {
	if (!outing.value) await begin(today().slice(0, 10));
	const id = outing.value?.id;
	if (!id) return;
	const tell = (part: number) => {
		coming.value = { ...coming.value, [file.name]: part };
	};
	try {
		await bring(id, file, tell, back);
	} finally {
		const { [file.name]: _, ...rest } = coming.value;
		coming.value = rest;
	}
}

/** Until the program answers again. */
const back = () =>
	new Promise<void>((done) => {
		state.away.value ??= "gone";
		const stop = state.away.subscribe((away) => {
			if (away) return;
			queueMicrotask(() => stop());
			done();
		});
	});

const KINDS = ["sound", "marks", "track", "log", "pulses"] as const;
export const kindOf = (r: Recording) => {
	const said = outing.value?.notes?.recording?.find((e) => e.file === r.name)?.kind;
	return KINDS.find((k) => k === (said ?? r.kind));
};

/** `outing.toml` as far as the page shows it. */
export const notes = computed<Partial<NonNullable<Outing["notes"]>>>(
	() => outing.value?.notes ?? {},
);

function measureOne(kind: (typeof KINDS)[number], file: string): Promise<Analysis> {
	switch (kind) {
		case "sound":
			return work("hear", { file });
		case "marks":
			return work("marks", { file });
		case "track":
			return work("track", { file });
		case "log":
			return work("log", { file });
		case "pulses":
			return work("pulses", { file });
	}
}

/** Has a recording measured, once. */
export async function listen(r: Recording) {
	const kind = kindOf(r);
	if (!kind || came.value[r.file]) return;
	const set = (c: Came) => {
		came.value = { ...came.value, [r.file]: c };
	};
	set({ stage: "working" });
	try {
		set({ stage: "done", analysis: await measureOne(kind, r.file) });
	} catch (e) {
		if (!(e instanceof Refused)) throw e;
		set({ stage: "failed", refusal: e.refusal });
	}
}

export const set = (r: Recording, analysis: Analysis) => {
	came.value = { ...came.value, [r.file]: { stage: "done", analysis } };
};

/** Measures all of an outing: writes its `measured.json`, and with it the common clock. */
export const measure = () =>
	attempt("measuring every recording", async () => {
		const id = outing.value?.id;
		if (!id) return;
		await work("measure", { outing: id });
		outings.value = await whole<Outing[]>(api.GET("/api/outings"));
	});

// --- one clock -----------------------------------------------------------------------------------

export const clocks = computed<Clock[]>(() => measured.value?.clocks ?? []);

/** Seconds to add to a recording's own time; nothing when it is joined to no other. */
export function offset(name: string): number | null {
	const own = clocks.value.find((c) => c.recording === name);
	if (own) return own.offset_s.value;
	return clocks.value.some((c) => c.against === name) ? 0 : null;
}

/** The play head, on the common clock; recordings that are on none have one each. */
const heads = signal<Record<string, number>>({});
const COMMON = " common";

export function head(name: string): number | null {
	const shift = offset(name);
	const at = heads.value[shift === null ? name : COMMON];
	return at === undefined ? null : at - (shift ?? 0);
}

export function setHead(name: string, time: number) {
	const shift = offset(name);
	const key = shift === null ? name : COMMON;
	heads.value = { ...heads.value, [key]: time + (shift ?? 0) };
}

export const commonHead = computed(() => heads.value[COMMON] ?? null);
export const setCommonHead = (time: number) => {
	heads.value = { ...heads.value, [COMMON]: time };
};
