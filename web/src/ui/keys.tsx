import { effect, signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { redo, save, undo } from "../desk";
import * as state from "../state";

/** Whether the list of keys is shown. */
export const listing = signal(false);

const KEYS: [keys: string, what: string][] = [
	["Tab, Tab", "to the speed rail from the top of the page"],
	["← →", "on the rail: 1 km/h slower or faster (with Shift 5)"],
	["Home, End", "on the rail: at rest, or where it ends"],
	["← → ↑ ↓", "on a part in the side, plan or end view: 1 mm (with Shift 10 mm)"],
	["Ctrl+Z, Ctrl+Shift+Z", "undo and redo"],
	["Ctrl+S", "save"],
	["Space", "in Water: play and pause"],
	["?", "this list"],
];

const typing = "textarea, select, input:not([type=range], [type=checkbox])";

/** Saves what is tried out, once what is being worked out is there. */
async function saveSoon() {
	await new Promise<void>((done) => {
		const stop = effect(() => {
			if (state.doing.value) return;
			queueMicrotask(() => stop());
			done();
		});
	});
	const may = state.isTrying.value && !state.session.value?.read_only;
	if (may) await save();
}

/** Keys of the whole page, except where a text being typed has its own. */
export function shortcuts(e: KeyboardEvent) {
	const key = e.key.toLowerCase();
	const control = (e.ctrlKey || e.metaKey) && !e.altKey;
	if (control && key === "s") {
		e.preventDefault();
		void saveSoon();
		return;
	}
	if ((e.target as Element).closest?.(typing)) return;
	if (e.key === "?" && !control) {
		e.preventDefault();
		listing.value = !listing.value;
		return;
	}
	if (!control || (key !== "z" && key !== "y")) return;
	e.preventDefault();
	void (key === "y" || e.shiftKey ? redo() : undo());
}

/** The list of keys, over the page. */
export function Keys() {
	const dialog = useRef<HTMLDialogElement>(null);
	const wanted = listing.value;
	useEffect(() => {
		if (wanted) dialog.current?.showModal();
		else dialog.current?.close();
	}, [wanted]);
	return (
		<dialog ref={dialog} class="keys" aria-label="Keys" onClose={() => (listing.value = false)}>
			<h2>Keys</h2>
			<dl>
				{KEYS.map(([keys, what]) => (
					<div key={keys + what}>
						<dt>
							<kbd>{keys}</kbd>
						</dt>
						<dd>{what}</dd>
					</div>
				))}
			</dl>
			<button type="button" onClick={() => (listing.value = false)}>
				Close
			</button>
		</dialog>
	);
}
