import { answer, api, CLIENT, Refused } from "./api/client";
import { readMesh } from "./api/mesh";
import type { Boat, Edit } from "./api/types";
import * as state from "./state";
import { keep, kept, letGo } from "./unsent";

/** Runs work and shows what the server refuses. */
export async function attempt(what: string, work: () => Promise<void>) {
	state.doing.value = what;
	try {
		await work();
		state.fault.value = null;
	} catch (e) {
		if (!(e instanceof Refused)) throw e;
		state.fault.value = e.refusal;
	} finally {
		state.doing.value = null;
	}
}

/** Trades the token of the address for a cookie, once, and takes it out of the address. */
export async function begin() {
	await attempt("opening", async () => {
		const token = location.hash.match(/^#token=([0-9a-f]+)$/)?.[1];
		if (token) {
			await answer(api.POST("/api/session", { body: { token } }));
			history.replaceState(null, "", location.pathname + location.search);
		}
		await enter();
	});
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

async function answers(of: "saved" | "whatif", depth: "best" | "quick" | "full") {
	const query = { of, depth };
	const [study, poses] = await Promise.all([
		answer(api.GET("/api/study", { params: { query } })),
		answer(api.GET("/api/poses", { params: { query } })),
	]);
	return { study, poses };
}

/** What is fitted, and the mesh when it is another. */
async function shape() {
	const before = state.form.value?.mesh;
	state.form.value = await answer(api.GET("/api/form", { params: { query: { of: "whatif" } } }));
	if (state.form.value.mesh !== before || !state.hull.value) await mesh();
}

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
	void deepen();
}

async function readTried() {
	state.tried.value = state.isTrying.value ? await answers("whatif", "best") : null;
}

let deepening = 0;

/** The full study, with spreads and adjustments; a later edit makes an earlier one pointless. */
async function deepen() {
	const mine = ++deepening;
	const of = state.isTrying.value ? "whatif" : "saved";
	if (state.shown.value?.study.full) return;
	try {
		const full = await answers(of, "full");
		if (mine !== deepening) return;
		if (of === "whatif") state.tried.value = full;
		else state.saved.value = full;
	} catch (e) {
		// The quick answer stays, and says that it is one.
		if (!(e instanceof Refused)) throw e;
	}
}

async function follow(asked: Promise<Boat>) {
	state.boat.value = await asked;
	await Promise.all([readTried(), shape()]);
	void deepen();
}

/** Edits what is tried out; edits of one gesture are one step back. */
export const edit = (edits: Edit[], gesture?: string) =>
	attempt("working it out", () => {
		const all = [...kept(), ...edits];
		const body = { edits: all, client: CLIENT, version: state.boat.value?.version, gesture };
		return follow(heard(all, answer(api.PUT("/api/whatif", { body }))));
	});

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

export const undo = () => attempt("going back", () => follow(answer(api.POST("/api/whatif/undo"))));
export const redo = () =>
	attempt("going forward", () => follow(answer(api.POST("/api/whatif/redo"))));
export const discard = () =>
	attempt("back to the saved boat", () => follow(answer(api.DELETE("/api/whatif"))));

export const save = () =>
	attempt("saving", async () => {
		const revision = state.boat.value?.revision;
		const done = await answer(api.POST("/api/save", { body: { revision } }));
		state.boat.value = done.boat;
		state.session.value = await answer(api.GET("/api/session"));
		state.saved.value = state.tried.value ?? (await answers("saved", "best"));
		state.tried.value = null;
		void deepen();
	});

/** Opens whatever `asked` put on the desk. */
export const open = (asked: () => Promise<unknown>) =>
	attempt("opening", async () => {
		await asked();
		state.session.value = await answer(api.GET("/api/session"));
		state.saved.value = null;
		state.tried.value = null;
		state.hull.value = null;
		state.form.value = null;
		await readAll();
	});
