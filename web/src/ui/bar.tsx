import { useEffect } from "preact/hooks";
import { discard, redo, save, undo } from "../desk";
import * as state from "../state";
import { LookSwitch } from "./look";

/** Ctrl+Z and Ctrl+Shift+Z (or Ctrl+Y), except where a text being typed has its own. */
function steps(e: KeyboardEvent) {
	if (!(e.ctrlKey || e.metaKey) || e.altKey) return;
	const typing = "textarea, input:not([type=range], [type=checkbox])";
	if ((e.target as Element).closest?.(typing)) return;
	const key = e.key.toLowerCase();
	if (key !== "z" && key !== "y") return;
	e.preventDefault();
	void (key === "y" || e.shiftKey ? redo() : undo());
}

/** What is open, what is tried out, and the ways back. */
export function Bar() {
	useEffect(() => {
		window.addEventListener("keydown", steps);
		return () => window.removeEventListener("keydown", steps);
	}, []);
	const session = state.session.value;
	const boat = state.boat.value;
	const changed = boat?.changed ?? [];
	const study = state.shown.value?.study;
	return (
		<header class="bar">
			<h1>{session?.boat ?? "skimwright"}</h1>
			{study && (
				<span>
					{study.mass.shown}, balance {study.balance.x.shown} ahead of the transom
					{study.rests_on && `; predicted ${study.rests_on}`}
				</span>
			)}
			<span class="grow" role="status">
				{state.doing.value ? (
					<span class="busy">{state.doing.value} …</span>
				) : study && !study.full ? (
					<span class="busy">finding how sure this is …</span>
				) : (
					""
				)}
			</span>
			{session?.boat && (
				<>
					{changed.length > 0 && (
						<span class="trying">
							◆ trying {changed.length === 1 ? changed[0]?.what : `${changed.length} changes`}, not
							saved
						</span>
					)}
					<button type="button" disabled={!boat?.undo.length} title={boat?.undo[0]} onClick={undo}>
						Undo
					</button>
					<button type="button" disabled={!boat?.redo.length} title={boat?.redo[0]} onClick={redo}>
						Redo
					</button>
					<button type="button" disabled={changed.length === 0} onClick={discard}>
						Saved boat
					</button>
					<button
						type="button"
						class="main"
						disabled={changed.length === 0 || session.read_only}
						onClick={save}
					>
						Save
					</button>
					<a href="/api/report" target="_blank" rel="noreferrer">
						To print
					</a>
				</>
			)}
			<LookSwitch />
		</header>
	);
}
