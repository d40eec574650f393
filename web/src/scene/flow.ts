// Where the water's strokes are: even without being regular, and the same again after a few lengths.

/** After so many boat lengths the strokes are the same again. */
export const PERIOD = 3;
/** That many stretches are drawn, one behind the other. */
const STRETCHES = 4;
/** Strokes of a stretch. */
const EACH = 130;
export const STROKES = EACH * STRETCHES;
/** An eye, or a screen, sees what passed within this, s. */
const BLINK = 1 / 60;
/** So far to each side, boat lengths. */
const ASIDE = 4;

/** Van der Corput's sequence. */
export function spread(i: number, base: number): number {
	let [share, out] = [1 / base, 0];
	for (let n = i; n > 0; n = Math.floor(n / base)) {
		out += (n % base) * share;
		share /= base;
	}
	return out;
}

/** Two pieces of line a stroke: across the way at rest, along it under way. */
export function fill(out: Float32Array, length_m: number, speed_m_s: number) {
	const under = speed_m_s > 0.05;
	const period = PERIOD * length_m;
	let to = 0;
	const put = (...points: number[]) => {
		for (const p of points) out[to++] = p;
	};
	for (let stretch = 0; stretch < STRETCHES; stretch++)
		for (let i = 1; i <= EACH; i++) {
			const x = (stretch - 1) * period + spread(i, 2) * period;
			const side = 2 * spread(i, 3) - 1;
			const y = Math.sign(side) * Math.abs(side) ** 1.7 * ASIDE * length_m;
			const half = length_m * (0.03 + 0.05 * spread(i, 5));
			if (under) {
				const long = Math.max(0.4 * half, 0.5 * speed_m_s * BLINK);
				put(x - long, y, 0, x, y, 0, x, y, 0, x + long, y, 0);
			} else {
				const bow = x + 0.2 * half;
				put(x, y - half, 0, bow, y, 0, bow, y, 0, x, y + half, 0);
			}
		}
}
