import { at } from "./decimate";

/** The frame of a film that is shown. */
export interface Shown {
	/** By number, where the film has a table that the program reads. */
	frame?: number;
	time_s: number;
}

/** A guess for a film without a table, until two frames were seen, s. */
const GUESS_S = 1 / 30;
const ENOUGH_MS = 250;

/** Steps a film frame by frame. Times come from the film itself, never from a nominal rate. */
export class Reel {
	private gap = GUESS_S;

	constructor(
		private readonly player: HTMLVideoElement,
		/** When each frame is shown; empty where the film has no table. */
		readonly times: readonly number[],
	) {}

	/** What is shown at a time on the player's clock. */
	frameAt(time: number): Shown {
		if (this.times.length === 0) return { time_s: time };
		const frame = Math.max(0, at(this.times, time + 1e-6) - 1);
		return { frame, time_s: this.times[frame] as number };
	}

	/** Shows a frame by number: to the middle of its time, where no rounding shows a neighbour. */
	async show(frame: number): Promise<Shown> {
		const last = this.times.length - 1;
		const i = Math.min(Math.max(frame, 0), last);
		const start = this.times[i] as number;
		const end = this.times[i + 1] ?? start + (start - (this.times[i - 1] ?? start - GUESS_S));
		await this.seek((start + end) / 2);
		return { frame: i, time_s: start };
	}

	/** Goes on or back by frames. */
	async step(from: Shown, by: number): Promise<Shown> {
		if (from.frame !== undefined) return this.show(from.frame + by);
		let now = from;
		for (let i = 0; i < Math.abs(by); i++) now = await this.one(now, Math.sign(by));
		return now;
	}

	/** To the neighbouring frame of a film without a table: further and further until another is shown. */
	private async one(from: Shown, way: number): Promise<Shown> {
		for (let far = 0.6; far < 4; far += 0.4) {
			const to = from.time_s + way * far * this.gap + (way > 0 ? 0.4 * this.gap : 0);
			if (to < 0) return from;
			const time_s = await this.seek(to);
			if (Math.abs(time_s - from.time_s) > 1e-4) {
				this.gap = Math.min(0.2, Math.abs(time_s - from.time_s));
				return { time_s };
			}
		}
		return from;
	}

	/** Goes to a time; gives the time of the frame that is shown then. */
	seek(time: number): Promise<number> {
		const { player } = this;
		return new Promise((done) => {
			let told = false;
			const tell = (t: number) => {
				if (told) return;
				told = true;
				done(t);
			};
			player.requestVideoFrameCallback?.((_, about) => tell(about.mediaTime));
			// A frame that is shown already is not told again.
			player.addEventListener(
				"seeked",
				() => setTimeout(() => tell(player.currentTime), ENOUGH_MS),
				{
					once: true,
				},
			);
			player.currentTime = time;
		});
	}
}
