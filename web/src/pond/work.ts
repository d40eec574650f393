import { answer, api, Refused } from "../api/client";
import type { components } from "../api/schema";

type Asked = components["schemas"]["JobAsked"];

/** Jobs asked for at once; the rest wait here, so that the program never has to refuse one. */
const AT_ONCE = 3;
let going = 0;
const waiting: (() => void)[] = [];

async function turn() {
	while (going >= AT_ONCE) await new Promise<void>((next) => waiting.push(next));
	going += 1;
}

function next() {
	going -= 1;
	waiting.shift()?.();
}

const pause = (ms: number) => new Promise((done) => setTimeout(done, ms));

/** Has the program work something out, and gives what came of it; `stop` stops it there too. */
export async function work<T>(asked: Partial<Asked> & Pick<Asked, "kind">, stop?: AbortSignal) {
	await turn();
	try {
		return await run<T>({ of: "saved", options: {}, words: [], ...asked }, stop);
	} finally {
		next();
	}
}

async function run<T>(body: Asked, stop?: AbortSignal): Promise<T> {
	stop?.throwIfAborted();
	let job = await answer(api.POST("/api/jobs", { body }));
	const params = { path: { id: job.id } };
	for (let wait = 30; job.stage === "running"; wait = Math.min(wait * 1.3, 400)) {
		if (stop?.aborted) {
			await answer(api.DELETE("/api/jobs/{id}", { params }));
			stop.throwIfAborted();
		}
		await pause(wait);
		job = await answer(api.GET("/api/jobs/{id}", { params }));
	}
	if (job.stage === "done") return job.result as T;
	const refusal = job.refusal ?? { message: "it was stopped", hint: "", problems: [] };
	// The page names recordings, not where the folder is.
	const message = refusal.message.replace(/^\/\S*\/(?=[^/]+: )/, "");
	throw new Refused({ ...refusal, message }, 409);
}
