import { answer, api, Refused } from "../api/client";
import type { Job } from "../api/types";

/** Starts a run and follows it to its end; `told` hears of every step, `started` how to stop it. */
export async function run(
	options: Record<string, string>,
	told: (job: Job) => void,
	started: (stop: () => void) => void,
): Promise<Job> {
	const body = { kind: "pond" as const, of: "whatif" as const, options, words: [] };
	const job = await answer(api.POST("/api/jobs", { body }));
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
