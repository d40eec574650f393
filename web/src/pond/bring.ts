// A recording on its way in: what has come stays, and after a break only the rest is sent.
import { api, Refused, whole } from "../api/client";
import type { components } from "../api/schema";
import type { Refusal } from "../api/types";

type Coming = components["schemas"]["ComingView"];

/** A piece: so much is asked for again at the most when a connection hangs without breaking, bytes. */
export const PIECE = 8 << 20;
/** A piece that takes longer hangs, ms. */
const HANGS = 120_000;
/** How often in a row nothing may come of it before it is given up. */
const TRIES = 8;

/** Sends a file to an outing; `tell` hears how much of it is there, `back` waits until the program answers again. */
export async function bring(
	outing: string,
	file: File,
	tell: (part: number) => void,
	back: () => Promise<void>,
): Promise<void> {
	const to = { outing, file, stamp: String(file.lastModified) };
	for (let tries = 0; ; ) {
		try {
			let here = await come(to);
			if (here.offset > 0 || here.complete) tell(share(here.offset, file));
			while (!here.complete) {
				const before = here.offset;
				here = await piece(to, before, tell);
				if (here.offset > before) tries = 0;
			}
			return;
		} catch (e) {
			// The connection broke, or somebody else held on to it: it goes on from what is there.
			if (!(e instanceof Refused) || !mends(e) || ++tries === TRIES) throw e;
			if (e.status === 0) await back();
		}
	}
}

/** Worth another try: nothing answered, or what is there is not what was thought. */
const mends = (e: Refused) =>
	e.status === 0 || (e.status === 409 && /bytes|another connection/.test(e.refusal.message));

const share = (offset: number, file: File) => (file.size > 0 ? offset / file.size : 1);

interface To {
	outing: string;
	file: File;
	stamp: string;
}

/** How much of it is there. */
const come = ({ outing, file, stamp }: To) =>
	whole<Coming>(
		api.GET("/api/outings/{id}/uploads/{name}", {
			params: { path: { id: outing, name: file.name }, query: { bytes: file.size, stamp } },
		}),
	);

/** Sends from `offset` on and tells how much of it has gone, which `fetch` cannot. */
function piece({ outing, file, stamp }: To, offset: number, tell: (part: number) => void) {
	const query = new URLSearchParams({ bytes: String(file.size), stamp });
	const to = `/api/outings/${outing}/uploads/${encodeURIComponent(file.name)}?${query}`;
	const end = Math.min(offset + PIECE, file.size);
	return new Promise<Coming>((done, fail) => {
		const request = new XMLHttpRequest();
		request.open("PATCH", to);
		request.timeout = HANGS;
		request.setRequestHeader("content-type", "application/partial-upload");
		request.setRequestHeader("upload-offset", String(offset));
		request.setRequestHeader("upload-complete", end === file.size ? "?1" : "?0");
		request.upload.onprogress = (e) => tell(share(offset + e.loaded, file));
		request.onload = () => {
			if (request.status < 300) return done(JSON.parse(request.responseText) as Coming);
			fail(new Refused(refusal(request.responseText, request.status), request.status));
		};
		const broke = () => {
			const message = `${file.name} did not arrive`;
			fail(new Refused({ message, hint: "send it again: what is there stays", problems: [] }, 0));
		};
		request.onerror = broke;
		request.ontimeout = broke;
		request.send(file.slice(offset, end));
	});
}

function refusal(text: string, status: number): Refusal {
	try {
		return JSON.parse(text) as Refusal;
	} catch {
		return { message: `the server answered ${status}`, hint: "", problems: [] };
	}
}
