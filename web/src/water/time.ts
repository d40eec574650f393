// The clock of the run being shown.
import { signal } from "@preact/signals";
import { length_s, type Recording } from "./recording";

export const recording = signal<Recording | null>(null);
/** Revision of the boat it was run with. */
export const ranWith = signal("");
/** Where the play head stands, s. */
export const now = signal(0);
export const playing = signal(false);
export const rate = signal(1);

export const end = () => (recording.value ? length_s(recording.value.trace) : 0);

export function seek(time_s: number) {
	now.value = Math.min(Math.max(time_s, 0), end());
}

export function toggle() {
	if (!playing.value && now.value >= end()) now.value = 0;
	playing.value = !playing.value;
}

/** Runs the clock while it plays; gives back how to stop. */
export function tick(): () => void {
	let before: number | null = null;
	let frame = 0;
	const step = (at: number) => {
		if (playing.value) {
			if (before !== null) seek(now.value + ((at - before) / 1000) * rate.value);
			if (now.value >= end()) playing.value = false;
		}
		before = playing.value ? at : null;
		frame = requestAnimationFrame(step);
	};
	frame = requestAnimationFrame(step);
	return () => cancelAnimationFrame(frame);
}
