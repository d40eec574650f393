import * as state from "../state";

/** What the server refused, as it said it. */
export function Fault() {
	const f = state.fault.value;
	if (!f) return null;
	return (
		<div class="fault" role="alert">
			<p>
				<b>{f.message}</b> {f.hint}
			</p>
			{f.problems.length > 0 && (
				<ul>
					{f.problems.map((p) => (
						<li key={`${p.line}${p.text}`}>
							line {p.line}: {p.text}. {p.hint}
						</li>
					))}
				</ul>
			)}
			<button type="button" onClick={() => (state.fault.value = null)}>
				Close
			</button>
		</div>
	);
}
