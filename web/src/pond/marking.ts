import { signal } from "@preact/signals";
import { answer, api, Refused } from "../api/client";
import type { Refusal } from "../api/types";
import { work } from "../api/work";
import * as state from "../state";
import type { Analysis } from "./analysis";
import { fetched } from "./fetched";
import { outing, type Recording, readOutings } from "./outing";
import { recordingUrl } from "./sound";

export type Pixel = [number, number];

/** A frame by its number in the film's own table, or by its time where the film has no table. */
export interface Moment {
	frame?: number;
	time_s?: number;
}

export interface MarkEntry extends Moment {
	bow?: Pixel;
	stern?: Pixel;
	fixed?: Pixel;
}

export interface PlanePoint {
	pixel: Pixel;
	place_m: [number, number];
}

/** The marks of a film, as `docs/recordings.md` has them; single marks may still be missing. */
export interface Marks {
	film?: string;
	boat_length?: string;
	post_spacing?: string;
	plane_error?: string;
	mark: MarkEntry[];
	post: Moment[];
	plane: PlanePoint[];
	event: (Moment & { kind: string })[];
}

export const empty = (film: string): Marks => ({ film, mark: [], post: [], plane: [], event: [] });

export const same = (a: Moment, b: Moment) =>
	a.frame !== undefined ? a.frame === b.frame : a.time_s === b.time_s;

const byTime = (a: Moment, b: Moment) => (a.frame ?? a.time_s ?? 0) - (b.frame ?? b.time_s ?? 0);

/** With one point of a frame set. */
export function withPoint(
	marks: Marks,
	at: Moment,
	what: "bow" | "stern" | "fixed",
	pixel: Pixel | undefined,
): Marks {
	const old = marks.mark.find((m) => same(m, at)) ?? { ...at };
	const now = { ...old, [what]: pixel };
	const rest = marks.mark.filter((m) => !same(m, at));
	const some = now.bow || now.stern || now.fixed;
	return { ...marks, mark: (some ? [...rest, now] : rest).sort(byTime) };
}

/** With a moment put into a list, or taken out when it is there. */
export function withPost(marks: Marks, at: Moment): Marks {
	const there = marks.post.some((m) => same(m, at));
	const rest = marks.post.filter((m) => !same(m, at));
	return { ...marks, post: (there ? rest : [...rest, { ...at }]).sort(byTime) };
}

/** With something that happened at a moment, or without it when it is there. */
export function withEvent(marks: Marks, at: Moment, kind: string): Marks {
	const there = marks.event.some((e) => e.kind === kind && same(e, at));
	const rest = marks.event.filter((e) => e.kind !== kind || !same(e, at));
	return { ...marks, event: (there ? rest : [...rest, { ...at, kind }]).sort(byTime) };
}

/** What of the marks can be measured: whole ones only, and a scale only with its marks. */
export function complete(marks: Marks) {
	const mark = marks.mark.filter((m) => m.bow && m.stern);
	// The fixed point is in every frame or in none.
	const fixed = mark.length > 0 && mark.every((m) => m.fixed);
	const boat = mark.length > 1 && marks.boat_length;
	const posts = marks.post.length > 1 && marks.post_spacing;
	const plane = mark.length > 1 && marks.plane.length === 4;
	return {
		film: marks.film,
		...(boat && { boat_length: marks.boat_length }),
		mark: mark.map((m) => ({ ...m, fixed: fixed ? m.fixed : undefined })),
		...(plane && { plane: marks.plane, plane_error: marks.plane_error }),
		...(posts && { post_spacing: marks.post_spacing, post: marks.post }),
		event: marks.event,
		enough: Boolean(boat || posts || plane),
	};
}

/** What is missing for a speed, in a sentence; empty when nothing is. */
export function missing(marks: Marks): string {
	if (complete(marks).enough) return "";
	const whole = marks.mark.filter((m) => m.bow && m.stern).length;
	if (whole === 0 && marks.post.length === 0)
		return "Mark bow and stern on a frame, then on others further on: two give a speed, five a good one.";
	if (whole === 1) return "Mark bow and stern on one more frame at least.";
	if (whole > 1) return "Give the boat's length between the two marks, or four known points.";
	if (marks.post.length < 2) return "Mark when the bow passes the next post.";
	return "Give the distance from post to post.";
}

const STEPS = 200;

/** Marks of one film: kept beside it at every change, undone step by step, measured at once. */
export class Marking {
	readonly marks = signal<Marks>(empty(""));
	readonly came = signal<Analysis | null>(null);
	readonly fault = signal<Refusal | null>(null);
	readonly busy = signal(false);
	readonly past = signal<Marks[]>([]);
	readonly future = signal<Marks[]>([]);
	private readonly name: string;
	private readonly id: string;
	private readonly file: string;
	private saving: Promise<void> = Promise.resolve();
	private latest = 0;

	constructor(
		private readonly of: Recording,
		/** The film has a table of frame times that the program reads. */
		private readonly numbered: boolean,
	) {
		this.marks.value = empty(of.name);
		this.name = `${of.name}.marks.json`;
		this.id = of.file.split("/")[1] as string;
		this.file = `outings/${this.id}/${this.name}`;
	}

	/** What was marked before. */
	async read() {
		try {
			await this.readKept();
		} catch (e) {
			if (!(e instanceof Refused)) throw e;
			this.fault.value = e.refusal;
		}
	}

	private async readKept() {
		const there = outing.value?.recordings.find((r) => r.name === this.name);
		if (!there) return;
		const text = new TextDecoder().decode(await fetched(recordingUrl(there)));
		const kept = { ...empty(this.of.name), ...(JSON.parse(text) as Marks) };
		this.marks.value = this.draft(text) ?? kept;
		await this.measure(++this.latest);
	}

	/** Marks that are not whole yet have no place in the file; the browser keeps them beside it. */
	private draft(text: string): Marks | null {
		try {
			const kept = JSON.parse(localStorage.getItem(this.place()) ?? "null");
			return kept?.text === text ? (kept.marks as Marks) : null;
		} catch {
			return null;
		}
	}

	private place = () => `skimwright-marks ${state.session.value?.folder} ${this.file}`;

	change(to: Marks) {
		this.past.value = [...this.past.value, this.marks.value].slice(-STEPS);
		this.future.value = [];
		this.take(to);
	}

	undo() {
		const before = this.past.value.at(-1);
		if (!before) return;
		this.past.value = this.past.value.slice(0, -1);
		this.future.value = [...this.future.value, this.marks.value];
		this.take(before);
	}

	redo() {
		const next = this.future.value.at(-1);
		if (!next) return;
		this.future.value = this.future.value.slice(0, -1);
		this.past.value = [...this.past.value, this.marks.value];
		this.take(next);
	}

	private take(marks: Marks) {
		this.marks.value = marks;
		const mine = ++this.latest;
		this.saving = this.saving.then(() => this.keep(mine));
	}

	/** Later changes overtake earlier ones. */
	private async keep(mine: number) {
		if (mine !== this.latest) return;
		this.busy.value = true;
		try {
			await this.save();
			await this.measure(mine);
		} catch (e) {
			if (!(e instanceof Refused)) throw e;
			this.fault.value = e.refusal;
		} finally {
			this.busy.value = false;
		}
	}

	private async save() {
		const { enough: _, ...whole } = complete(this.marks.value);
		const film = this.numbered ? this.of.name : undefined;
		const params = { path: { id: this.id, name: this.name } };
		const body = JSON.stringify({ ...whole, film }, null, 1);
		localStorage.setItem(this.place(), JSON.stringify({ text: body, marks: this.marks.value }));
		await answer(
			api.PUT("/api/outings/{id}/marks/{name}", {
				params,
				body,
				bodySerializer: (text: string) => text,
				headers: { "content-type": "text/plain" },
			}),
		);
		const known = outing.value?.recordings.some((r) => r.name === this.name);
		if (!known) await readOutings();
	}

	private async measure(mine: number) {
		if (!complete(this.marks.value).enough) {
			this.came.value = null;
			this.fault.value = null;
			return;
		}
		try {
			const came = await work("marks", { file: this.file });
			if (mine !== this.latest) return;
			this.came.value = came;
			this.fault.value = null;
		} catch (e) {
			if (!(e instanceof Refused)) throw e;
			if (mine === this.latest) this.fault.value = e.refusal;
		}
	}
}
