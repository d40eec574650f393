import { answer, api, CLIENT, Refused } from "./api/client";
import { readMesh } from "./api/mesh";
import type { Boat, Edit, Line, Session, StaveKind } from "./api/types";
import * as state from "./state";
import { keep, kept, letGo } from "./unsent";

/** Nothing long is begun before the boat was left alone for so long, ms. */
const QUIET = 350;
/** How often the program is asked whether the boat changed elsewhere, ms. */
const LOOK = 2500;
/** Answers remembered, by the text they are of. */
const REMEMBERED = 16;

/** Runs work and shows what the server refuses. */
export async function attempt(what: string, work: () => Promise<void>) {
	state.doing.value = what;
	const before = state.fault.value;
	try {
		await work();
		// What was refused meanwhile belongs to other work and stays.
		if (state.fault.value === before) state.fault.value = null;
	} catch (e) {
		if (!(e instanceof Refused)) throw e;
		tell(e);
	} finally {
		state.doing.value = null;
	}
}

/** Shows what was refused. A program that does not answer at all is one banner, whatever was asked of it. */
export function tell(e: Refused) {
	if (e.status === 0) state.away.value = "gone";
	else state.fault.value = e.refusal;
}

/** Trades the token of the address for a cookie, once, and takes it out of the address. */
export async function begin() {
	await attempt("opening", async () => {
		const token = location.hash.match(/^#token=([0-9a-f]+)$/)?.[1];
		// As the picture in the terminal has it for a phone's camera.
		const code = location.hash.match(/^#code=(\d{8})$/)?.[1];
		if (token || code) {
			history.replaceState(null, "", location.pathname + location.search);
			await answer(api.POST("/api/session", { body: token ? { token } : { code } })).catch((e) => {
				if (e instanceof Refused && code) state.locked.value = true;
				throw e;
			});
		}
		await enter();
	});
	setInterval(() => void look(), LOOK);
}

/** From a phone: the code that the computer shows, for a cookie. */
export const enterWith = (code: string) =>
	attempt("opening", async () => {
		await answer(api.POST("/api/session", { body: { code } }));
		await enter();
	});

async function enter() {
	try {
		state.session.value = await answer(api.GET("/api/session"));
	} catch (e) {
		state.locked.value = e instanceof Refused && e.status === 401;
		throw e;
	}
	state.locked.value = false;
	if (!state.session.value.boat) return;
	await resend();
	await readAll();
}

const remembered = new Map<string, state.Answers>();

function remember(revision: string, answers: state.Answers) {
	remembered.delete(revision);
	remembered.set(revision, answers);
	const oldest = remembered.keys().next().value;
	if (remembered.size > REMEMBERED && oldest !== undefined) remembered.delete(oldest);
}

/** From memory where this text was asked about already. */
async function answers(
	of: "saved" | "whatif",
	depth: "best" | "full",
	signal?: AbortSignal,
): Promise<state.Answers> {
	const boat = state.boat.value;
	const revision = of === "saved" ? boat?.revision : boat?.whatif_revision;
	const known = revision ? remembered.get(revision) : undefined;
	if (known && (depth === "best" || known.study.full)) return known;
	const query = { of, depth };
	const [study, poses] = await Promise.all([
		answer(api.GET("/api/study", { params: { query }, signal })),
		answer(api.GET("/api/poses", { params: { query }, signal })),
	]);
	const got = { study, poses, later: known?.later ?? [] };
	remember(study.revision, got);
	return got;
}

/** What is fitted, and the mesh when it is another. */
async function shape() {
	const before = state.form.value?.mesh;
	const form = await shapeOf("whatif");
	state.form.value = form;
	if (!state.isTrying.value) state.savedForm.value = form;
	else state.savedForm.value ??= await shapeOf("saved");
	if (form.mesh !== before || !state.hull.value) await mesh();
}

const shapeOf = (of: "saved" | "whatif") =>
	answer(api.GET("/api/form", { params: { query: { of } } }));

async function mesh() {
	const got = await answer(
		api.GET("/api/form/mesh", { params: { query: { of: "whatif" } }, parseAs: "arrayBuffer" }),
	);
	state.hull.value = readMesh(got as unknown as ArrayBuffer);
}

/** After a boat was opened: words first, then the shape, then the spreads. */
export async function readAll() {
	state.boat.value = await answer(api.GET("/api/boat"));
	state.saved.value = await answers("saved", "best");
	await shape();
	await readTried();
	deepen();
}

/** After something that every answer rests on changed: what is remembered is of before. */
export async function readAfresh() {
	remembered.clear();
	await readAll();
}

async function readTried() {
	state.tried.value = state.isTrying.value ? await answers("whatif", "best") : null;
}

const LATER: StaveKind[] = ["stability", "flight", "heat", "turning"];
let deepening = new AbortController();

/** What takes longer, once the boat is left alone; a later edit makes an earlier one pointless. */
function deepen() {
	const { signal } = overtake();
	setTimeout(() => {
		if (!signal.aborted) void deep(signal);
	}, QUIET);
}

/** Before the boat is changed: the program would refuse what was asked of the boat as it was. */
function overtake() {
	deepening.abort();
	deepening = new AbortController();
	return deepening;
}

async function deep(signal: AbortSignal) {
	const of = state.isTrying.value ? "whatif" : "saved";
	try {
		// The verdict and what to do next come before the staves that are folded.
		if (!state.shown.value?.study.full) {
			const full = await answers(of, "full", signal);
			if (!signal.aborted) put(of, full);
		}
		if (!signal.aborted) await later(of, signal);
	} catch (e) {
		// The quick answer stays, and says that it is one.
		if (!(e instanceof Refused)) throw e;
	}
}

/** Each kind of line by itself: the rail gains it when it comes. */
async function later(of: "saved" | "whatif", signal: AbortSignal) {
	if (state.shown.value?.later.length) return;
	const got: Line[] = [];
	for (const what of LATER) {
		const params = { query: { of, what } };
		const answered = await answer(api.GET("/api/staves", { params, signal }));
		if (signal.aborted) return;
		got.push(...answered.lines);
		const shown = state.shown.value;
		if (shown) put(of, { ...shown, later: [...got] });
	}
}

function put(of: "saved" | "whatif", answers: state.Answers) {
	remember(answers.study.revision, answers);
	if (of === "whatif") state.tried.value = answers;
	else state.saved.value = answers;
}

async function follow(change: () => Promise<Boat>) {
	overtake();
	state.boat.value = await change();
	await Promise.all([readTried(), shape()]);
	deepen();
}

/** Edits what is tried out; edits of one gesture are one step back. */
export const edit = (edits: Edit[], gesture?: string) =>
	attempt("working it out", () => {
		const all = [...kept(), ...edits];
		const body = { edits: all, client: CLIENT, version: state.boat.value?.version, gesture };
		return follow(() => heard(all, answer(api.PUT("/api/whatif", { body }))));
	});

let next: { edits: Edit[]; gesture: string } | null = null;
let going: Promise<void> | null = null;

/** Edits of a drag, as fast as the program answers and no faster: what is overtaken is never sent. */
export function editLive(edits: Edit[], gesture: string): Promise<void> {
	next = { edits, gesture };
	going ??= run().finally(() => {
		going = null;
	});
	return going;
}

async function run() {
	while (next) {
		const now = next;
		next = null;
		await edit(now.edits, now.gesture);
	}
}

/** Keeps the edits in the browser until the program took or refused them. */
async function heard(edits: Edit[], asked: Promise<Boat>): Promise<Boat> {
	keep(edits);
	try {
		const boat = await asked;
		letGo();
		return boat;
	} catch (e) {
		if (!(e instanceof Refused) || e.status !== 0) letGo();
		throw e;
	}
}

/** What the program did not hear before it stopped. */
async function resend() {
	const edits = kept();
	if (edits.length === 0) return;
	await heard(edits, answer(api.PUT("/api/whatif", { body: { edits, client: CLIENT } })));
}

export const undo = () =>
	attempt("going back", () => follow(() => answer(api.POST("/api/whatif/undo"))));
export const redo = () =>
	attempt("going forward", () => follow(() => answer(api.POST("/api/whatif/redo"))));
export const discard = () =>
	attempt("back to the saved boat", () => follow(() => answer(api.DELETE("/api/whatif"))));

export const save = () =>
	attempt("saving", async () => {
		const revision = state.boat.value?.revision;
		const demo = state.session.value?.demo;
		const done = await answer(api.POST("/api/save", { body: { revision } }));
		state.boat.value = done.boat;
		state.savedForm.value = state.form.value;
		if (demo != null)
			state.note.value = `Saved as a boat of your own in ${done.folder}. The demonstration stays as it was.`;
		state.session.value = await answer(api.GET("/api/session"));
		state.saved.value = state.tried.value ?? (await answers("saved", "best"));
		state.tried.value = null;
		deepen();
	});

/** Which of two changes of one key to keep. */
export const choose = (side: "mine" | "theirs") =>
	attempt("choosing", async () => {
		overtake();
		const asked = answer(api.POST("/api/boat/choice", { body: { keep: side } }));
		await again(await asked);
	});

/** Both texts may be others now. */
async function again(boat: Boat) {
	state.boat.value = boat;
	state.savedForm.value = null;
	state.saved.value = await answers("saved", "best");
	await Promise.all([readTried(), shape()]);
	deepen();
}

/** Whether the boat was changed elsewhere: in an editor, by another page. While the program is away, whether it is back. */
async function look() {
	if (state.away.value) return void (await lookOut());
	const before = state.session.value;
	if (!before?.boat || document.hidden || state.doing.value || state.locked.value) return;
	try {
		const now = await answer(api.GET("/api/session"));
		if (state.doing.value || now.changes === state.boat.value?.version) return;
		await takeUp(now);
	} catch (e) {
		if (!(e instanceof Refused)) throw e;
		lost(e);
	}
}

async function takeUp(now: Session) {
	state.session.value = now;
	if (!now.boat) return;
	const boat = await answer(api.GET("/api/boat"));
	if (state.doing.value) return;
	// What was refused while the file was away may be done now.
	const was = state.boat.value?.outside.state;
	if (was === "gone" && boat.outside.state !== "gone") state.fault.value = null;
	// The mesh beside the file may have changed with it.
	remembered.clear();
	await again(boat);
}

function lost(e: Refused) {
	// Overtaken while it looked: the next look asks again.
	if (e.status === 409) return;
	if (e.status === 0) state.away.value = "gone";
	else if (e.status === 401) state.away.value = "another";
	else tell(e);
}

let looking = false;

/** Tries again by itself; what the program did not hear is told to it first. */
export async function lookOut() {
	if (looking) return;
	looking = true;
	try {
		const now = await answer(api.GET("/api/session"));
		state.away.value = null;
		state.returned.value++;
		await resend();
		await takeUp(now);
	} catch (e) {
		if (!(e instanceof Refused)) throw e;
		lost(e);
	} finally {
		looking = false;
	}
}

/** Opens whatever `asked` put on the desk. */
export const open = (asked: () => Promise<unknown>) =>
	attempt("opening", async () => {
		overtake();
		await asked();
		state.session.value = await answer(api.GET("/api/session"));
		state.saved.value = null;
		state.tried.value = null;
		state.hull.value = null;
		state.form.value = null;
		state.savedForm.value = null;
		state.speed.value = null;
		if (state.place.value === state.START) state.go("findings");
		await readAll();
	});
