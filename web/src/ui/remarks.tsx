import { signal } from "@preact/signals";
import * as state from "../state";

/** How many were read. */
const read = signal(0);

/** What became of what was tried out before: what could not be read, or was found twice. */
export function Remarks() {
	const all = state.session.value?.remarks ?? [];
	if (all.length <= read.value) return null;
	return (
		<div class="note" role="status">
			{all.map((remark) => (
				<p key={remark}>● {remark}.</p>
			))}
			<button type="button" onClick={() => (read.value = all.length)}>
				Close
			</button>
		</div>
	);
}
