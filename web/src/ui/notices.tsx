import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { choose, lookOut } from "../desk";
import * as state from "../state";
import { Remarks } from "./remarks";

/** Versions whose note was read. */
const read = signal(0);

/** Everything the page has to say of itself, in one place that is always in sight and moves nothing else. */
export function Notices() {
	return (
		<div class="notices">
			<Away />
			<Fault />
			<Outside />
			<Remarks />
			<Note />
		</div>
	);
}

/** How often the program is tried again, ms. */
const AGAIN = 1500;

/** One banner, whatever was asked of the program while it was away. */
function Away() {
	const away = state.away.value;
	useEffect(() => {
		if (!away) return;
		const timer = setInterval(() => void lookOut(), AGAIN);
		return () => clearInterval(timer);
	}, [away]);
	if (!away) return null;
	return (
		<div class="fault" role="alert">
			{away === "gone" ? (
				<p>
					<b>■ The program does not answer.</b> What you tried out is kept. Start it again with{" "}
					<code>skimwright open</code>: this page looks for it every two seconds and goes on by
					itself.
				</p>
			) : (
				<p>
					<b>■ The program was started anew and does not know this page.</b> Open the address that
					it printed; what you tried out comes along.
				</p>
			)}
			<button type="button" onClick={() => void lookOut()}>
				Try now
			</button>
		</div>
	);
}

/** What the server refused, as it said it. */
function Fault() {
	const f = state.fault.value;
	if (!f) return null;
	// A folder that is gone is told below already, and by itself.
	const outside = state.boat.value?.outside;
	const same = outside?.state === "gone" && f.message.includes(outside.message);
	return (
		<div class="fault" role="alert">
			<p>
				<b>■ {same ? "It was not saved." : f.message}</b> {f.hint}
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

function Note() {
	const text = state.note.value;
	if (!text) return null;
	return (
		<div class="note" role="status">
			<p>● {text}</p>
			<button type="button" onClick={() => (state.note.value = null)}>
				Close
			</button>
		</div>
	);
}

/** What happened to the file behind the page's back, and the choice where both changed one key. */
function Outside() {
	const boat = state.boat.value;
	if (!boat || state.away.value || boat.outside.state === "calm") return null;
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
				<p class="choice">
					<button type="button" onClick={() => choose("mine")}>
						Keep what I tried out
					</button>
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
