// The first screen of a phone at the pond: one number, and three buttons under the thumb.
import { useEffect } from "preact/hooks";
import type { Value } from "./pond/analysis";
import { came, outing, outings, readOutings, takeIn, view } from "./pond/outing";
import { quantity as measuredAs } from "./pond/units";
import * as state from "./state";
import { say } from "./ui/units";
import "./hand.css";

/** Widths at which this stands on the page: see the style sheet. */
const PHONE = "(max-width: 999px), (max-height: 599px)";

export function Hand() {
	const folder = state.session.value?.folder;
	const back = state.returned.value;
	useEffect(() => {
		if (folder && matchMedia(PHONE).matches) void readOutings();
	}, [folder, back]);
	const last = outings.value?.[0]?.recordings.at(-1);
	const readOnly = state.session.value?.read_only;
	const pond = (to: typeof view.value, towards?: string) => {
		state.go("pond");
		view.value = to;
		if (towards) reach(towards);
	};
	return (
		<section class="hand" aria-label="At the pond">
			<Huge />
			<div class="thumbs">
				<label class={readOnly ? "off" : undefined}>
					<span aria-hidden="true">+</span> Add a recording
					<input
						type="file"
						multiple
						disabled={readOnly}
						onChange={(e) => {
							const files = [...(e.currentTarget.files ?? [])];
							e.currentTarget.value = "";
							if (files.length === 0) return;
							pond("day");
							// What it tells stands at the top, in figures that are read at arm's length.
							scrollTo(0, 0);
							void takeIn(files);
						}}
					/>
				</label>
				<button type="button" onClick={() => pond("day", ".notes textarea")}>
					<span aria-hidden="true">✎</span> Say what happened
				</button>
				<button
					type="button"
					disabled={!last && !outing.value}
					onClick={() => pond(last ? { recording: last.name } : "day", ".pond-main")}
				>
					<span aria-hidden="true">◉</span> Last result
				</button>
			</div>
		</section>
	);
}

/** Brings into sight what is there soon. */
function reach(selector: string, tries = 30) {
	const found = document.querySelector<HTMLElement>(selector);
	if (found) {
		found.scrollIntoView();
		if (found.matches("textarea")) found.focus();
	} else if (tries > 0) setTimeout(() => reach(selector, tries - 1), 100);
}

/** The speed of the recording in hand, else the best measured last, else the top speed predicted. */
function Huge() {
	const inHand = typeof view.value === "object" ? view.value.recording : null;
	const file = outing.value?.recordings.find((r) => r.name === inHand)?.file;
	const got = file ? came.value[file] : undefined;
	const own = got?.stage === "done" ? speedOf(got.analysis.quantities) : undefined;
	const last = outings.value?.find((o) => o.measured)?.measured?.quantities ?? [];
	const best = own ?? speedOf(last);
	const top = state.shown.value?.study.verdict.items.find((i) => i.id === "top-speed");
	if (got?.stage === "working")
		return (
			<p class="huge" role="status">
				<b>…</b> measuring {inHand}
			</p>
		);
	if (best)
		return (
			<p class="huge" role="status">
				<b>{say(measuredAs(best))}</b> measured{own && ` from ${inHand}`}
			</p>
		);
	return (
		<p class="huge">
			<b>{top?.number ? say(top.number) : (top?.text ?? "…")}</b> predicted
		</p>
	);
}

const speedOf = (all: readonly Value[]) =>
	all.filter((q) => q.kind === "speed").sort((a, b) => b.value - a.value)[0];
