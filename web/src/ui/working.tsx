import type { Job } from "../api/types";
import "./working.css";

/** How far long work is, and the way to stop it. */
export function Working({ job, onStop }: { job: Job; onStop: () => void }) {
	const part = job.part ?? undefined;
	return (
		<div class="working" role="status">
			<label>
				<span class="busy">{job.doing} …</span>
				<progress max={1} value={part} />
			</label>
			<button type="button" onClick={onStop}>
				Stop
			</button>
		</div>
	);
}
