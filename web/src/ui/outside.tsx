import { signal } from "@preact/signals";
import { choose } from "../desk";
import * as state from "../state";

/** Versions whose note was read. */
const read = signal(0);

/** What happened to the file behind the page's back, and the choice where both changed one key. */
export function Outside() {
	const boat = state.boat.value;
	if (state.away.value)
		return (
			<div class="fault" role="alert">
				<p>
					<b>The program does not answer.</b> What you tried out is kept. Start it again with{" "}
					<code>skimwright open</code> and open the address that it prints.
				</p>
			</div>
		);
	if (!boat || boat.outside.state === "calm") return null;
	const { state: how, message, merged, clashes } = boat.outside;
	if (how === "merged")
		return read.value === boat.version ? null : (
			<div class="note" role="status">
				<p>
					● {message}: {merged.join(", ")}.
				</p>
				<button type="button" onClick={() => (read.value = boat.version)}>
					Close
				</button>
			</div>
		);
	return (
		<div class="fault" role="alert">
			<p>
				<b>▲ {message}.</b>{" "}
				{how === "clash" && "Choose which to keep; nothing is written until then."}
			</p>
			{clashes.length > 0 && (
				<table>
					<thead>
						<tr>
							<th scope="col">What</th>
							<th scope="col">Tried out here</th>
							<th scope="col">In the file now</th>
						</tr>
					</thead>
					<tbody>
						{clashes.map((c) => (
							<tr key={c.what}>
								<th scope="row">{c.what}</th>
								<td>{said(c.mine)}</td>
								<td>{said(c.theirs)}</td>
							</tr>
						))}
					</tbody>
				</table>
			)}
			{how === "clash" && (
				<p>
					<button type="button" onClick={() => choose("mine")}>
						Keep what I tried out
					</button>{" "}
					<button type="button" onClick={() => choose("theirs")}>
						Take what the file has
					</button>
				</p>
			)}
		</div>
	);
}

function said(value: unknown): string {
	if (value === null || value === undefined) return "taken away";
	return Array.isArray(value) ? value.join(", ") : String(value);
}
