import { answer, api, Refused, whole } from "./client";
import type { Answer, AnswerOf, Ask, AskName, AskOf, Job } from "./types";

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

/** A question of one kind, as a job takes it. */
export const question = <Name extends AskName>(name: Name, how: AskOf<Name>) =>
	({ ask: name, with: how }) as unknown as Ask;

/** The answer to a question of that kind, where there is one. */
export function answered<Name extends AskName>(
	name: Name,
	result: Answer | null | undefined,
): AnswerOf<Name> | null {
	const same = result && result.answer === (name as string);
	return (same ? result.is : null) as unknown as AnswerOf<Name> | null;
}

/** Has the program work something out, and gives what came of it; `stop` stops it there too. */
export async function work<Name extends AskName>(
	name: Name,
	how: AskOf<Name>,
	{ of = "saved", stop }: { of?: "saved" | "whatif"; stop?: AbortSignal } = {},
): Promise<AnswerOf<Name>> {
	await turn();
	try {
		stop?.throwIfAborted();
		const body = { of, question: question(name, how) };
		const job = await ended(await whole<Job>(api.POST("/api/jobs", { body })), stop);
		const came = answered(name, job.result);
		if (job.stage === "done" && came !== null) return came;
		throw new Refused(refused(job), 409);
	} finally {
		next();
	}
}

async function ended(started: Job, stop?: AbortSignal): Promise<Job> {
	let job = started;
	const params = { path: { id: job.id } };
	for (let wait = 30; job.stage === "running"; wait = Math.min(wait * 1.3, 400)) {
		if (stop?.aborted) {
			await answer(api.DELETE("/api/jobs/{id}", { params }));
			stop.throwIfAborted();
		}
		await pause(wait);
		job = await whole<Job>(api.GET("/api/jobs/{id}", { params }));
	}
	return job;
}

function refused(job: Job) {
	const refusal = job.refusal ?? { message: "it was stopped", hint: "", problems: [] };
	// The page names recordings, not where the folder is.
	const message = refusal.message.replace(/^\/\S*\/(?=[^/]+: )/, "");
	return { ...refusal, message };
}

/** Starts a question and follows it to its end; `told` hears of every step, `started` how to stop it. */
export async function follow<Name extends AskName>(
	name: Name,
	how: AskOf<Name>,
	told: (job: Job) => void,
	started: (stop: () => void) => void,
): Promise<Job> {
	const body = { of: "whatif" as const, question: question(name, how) };
	return heard(await whole<Job>(api.POST("/api/jobs", { body })), told, started);
}

/** Follows a job that was started to its end. */
export function heard(
	job: Job,
	told: (job: Job) => void,
	started: (stop: () => void) => void,
): Promise<Job> {
	const path = { id: job.id };
	started(() => void answer(api.DELETE("/api/jobs/{id}", { params: { path } })).catch(() => {}));
	return new Promise((done, failed) => {
		const events = new EventSource(`/api/jobs/${job.id}/events`);
		events.onmessage = (event) => {
			const now = JSON.parse(event.data as string) as Job;
			told(now);
			if (now.stage === "running") return;
			events.close();
			done(now);
		};
		events.onerror = () => {
			events.close();
			const message = "the run was lost: the program does not answer";
			failed(
				new Refused({ message, hint: "start it again and run it once more", problems: [] }, 0),
			);
		};
	});
}
