// Quarter turns of a mesh in its file, as the axes that point to the bow and up.

type Turn = [forward: string, up: string];

const AXES = ["x", "y", "z"];
const vector = (axis: string) => AXES.map((a) => (axis[1] === a ? (axis[0] === "-" ? -1 : 1) : 0));
const named = (v: readonly number[]) => {
	const k = v.findIndex((x) => x !== 0);
	return `${(v[k] ?? 0) < 0 ? "-" : "+"}${AXES[k] ?? "x"}`;
};
const minus = (axis: string) => `${axis[0] === "-" ? "+" : "-"}${axis[1]}`;

/** To port: up across ahead. */
function port(forward: string, up: string): string {
	const [a, b] = [vector(up), vector(forward)] as [number[], number[]];
	const at = (v: number[], i: number) => v[i % 3] ?? 0;
	return named([0, 1, 2].map((i) => at(a, i + 1) * at(b, i + 2) - at(a, i + 2) * at(b, i + 1)));
}

/** Stern for bow, the deck still up. */
export const reversed = (forward: string, up: string): Turn => [minus(forward), up];
/** Deck for bottom, the bow still ahead. */
export const flipped = (forward: string, up: string): Turn => [forward, minus(up)];
/** A quarter turn about its length: what was to port is up. */
export const rolled = (forward: string, up: string): Turn => [forward, port(forward, up)];
/** A quarter turn seen from above: what was to port is ahead. */
export const quarter = (forward: string, up: string): Turn => [port(forward, up), up];
