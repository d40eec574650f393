// The handle of the rail: it stands on the rail's own axis, and the red line goes down from it.
import { signal } from "@preact/signals";
import * as state from "../state";
import { inUnit, outOf, unitOf } from "../ui/units";
import { scale } from "./scale";

/** What stands left of the axis, and the room at its right end, px. */
export const LEFT = 196;
export const RIGHT = 24;
/** Narrower than this the words stand over each stave, and the axis takes the whole width. */
const NARROW = 520;
/** Width of the rail, px: measured where it is drawn. */
export const width = signal(900);

export const isNarrow = () => width.value < NARROW;
export const leftOf = () => (isNarrow() ? 16 : LEFT);

/** From km/h to pixels, with round numbers of the unit shown. */
export function axis() {
	const end = inUnit(state.railEnd.value, "km/h");
	const about = Math.max(3, Math.min(10, Math.floor((width.value - leftOf()) / 70)));
	const shown = scale(0, end, leftOf(), width.value - RIGHT, about);
	const at = (kmh: number) => shown(inUnit(kmh, "km/h"));
	return { at, ticks: shown.ticks, tick: shown };
}

export function setSpeed(kmh: number) {
	state.speed.value = Math.min(Math.max(kmh, 0), state.railEnd.value);
	state.keepInUrl();
}

export const inWords = (kmh: number) =>
	kmh < 0.05 ? "at rest" : `${inUnit(kmh, "km/h").toFixed(1)} ${unitOf("km/h")}`;

/** One of the unit shown a press, five with Shift, and never between them. */
function keys(e: KeyboardEvent) {
	const way = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 5, PageDown: -5 }[
		e.key
	];
	if (way === undefined || e.ctrlKey || e.metaKey || e.altKey) return;
	e.preventDefault();
	const now = inUnit(state.at.value, "km/h");
	const by = e.shiftKey ? 5 * way : way;
	const next = by > 0 ? Math.floor(now + 1e-6) + by : Math.ceil(now - 1e-6) + by;
	setSpeed(outOf(Math.max(0, next), "km/h"));
}

/** Speed, from rest to a little beyond top speed. */
export function Axis() {
	const { at, ticks, tick } = axis();
	const speed = state.at.value;
	const end = state.railEnd.value;
	const unit = unitOf("km/h");
	const top = state.shown.value?.poses.top_km_h;
	const [from, to] = [at(0), at(end)];
	return (
		<section class={isNarrow() ? "axis narrow" : "axis"} aria-label="Speed">
			<output>{inWords(speed)}</output>
			{ticks.map((t) => {
				// Where the mark of top speed stands there is no room for another number.
				const near = top != null && Math.abs(tick(t) - at(top)) < 48;
				return (
					!near && (
						<span class="tick-word" key={t} style={{ left: `${tick(t)}px` }}>
							{t === 0 ? "rest" : t}
						</span>
					)
				);
			})}
			<input
				type="range"
				id="rail"
				aria-label={`Speed, ${unit}`}
				style={{ left: `${from - 11}px`, width: `${to - from + 22}px` }}
				min={0}
				max={end}
				step="any"
				value={speed}
				aria-valuetext={inWords(speed)}
				onKeyDown={keys}
				onInput={(e) => setSpeed(Number(e.currentTarget.value))}
			/>
			{top != null && (
				<button
					type="button"
					class="tick-word top"
					style={{ left: `${at(top)}px` }}
					onClick={() => setSpeed(top)}
				>
					top {inUnit(top, "km/h").toFixed(0)}
				</button>
			)}
		</section>
	);
}
