// Where a part may be put: inside the hull that is drawn, unless it is forced.
import type { Form } from "../api/types";
import { mix } from "../rail/scale";

type Range = [number, number];
/** Where something outside of the hull (a propeller, a rudder, a strut) may be put, as a share of the length. */
const AROUND = 0.25;

/** Least and greatest of each cross-section. */
interface Slice {
	x: number;
	y: Range;
	z: Range;
}

const slices = (form: Form): Slice[] =>
	form.sections
		.map((s) => {
			const all = s.lines_m.flat();
			const ends = (axis: 0 | 1): Range => [
				Math.min(...all.map((p) => p[axis] ?? 0)),
				Math.max(...all.map((p) => p[axis] ?? 0)),
			];
			return { x: s.x_m, y: ends(0), z: ends(1), some: all.length > 0 };
		})
		.filter((s) => s.some)
		.sort((a, b) => a.x - b.x);

function sliceAt(all: Slice[], x: number): Slice | undefined {
	const after = all.findIndex((s) => s.x >= x);
	const b = all[after < 0 ? all.length - 1 : after];
	const a = all[after > 0 ? after - 1 : 0];
	if (!a || !b) return undefined;
	const share = b.x > a.x ? Math.min(Math.max((x - a.x) / (b.x - a.x), 0), 1) : 0;
	const both = (of: (s: Slice) => Range): Range => [
		mix(of(a)[0], of(b)[0], share),
		mix(of(a)[1], of(b)[1], share),
	];
	return { x, y: both((s) => s.y), z: both((s) => s.z) };
}

/** One of a part's lengths that nobody gave stands for this much, m. */
const SMALL = 0.014;

/** `to`, or the nearest place for it inside of the hull. Where it was to begin with is never refused. */
export function inside(
	form: Form,
	size_m: readonly number[],
	from: readonly number[],
	to: readonly number[],
): number[] {
	const half = [0, 1, 2].map((i) => (size_m[i] || SMALL) / 2) as [number, number, number];
	const all = slices(form);
	const [first, last] = [all[0], all.at(-1)];
	if (!first || !last) return [...to];
	const x = held([first.x, last.x], half[0], from[0] ?? 0, to[0] ?? 0);
	const here = sliceAt(all, x);
	if (!here) return [...to];
	return [
		x,
		held(here.y, half[1], from[1] ?? 0, to[1] ?? 0),
		held(here.z, half[2], from[2] ?? 0, to[2] ?? 0),
	];
}

/** Within a range by half a size; the place something began at is in it whatever the range. */
function held([low, high]: Range, half: number, from: number, to: number): number {
	const middle = (low + high) / 2;
	const least = Math.min(low + half, middle, from);
	const most = Math.max(high - half, middle, from);
	return Math.min(Math.max(to, least), most);
}

/** `to`, or the nearest place near the hull: for what sits outside of it. */
export function near(form: Form, to: readonly number[]): number[] {
	const over = AROUND * form.length_m;
	return to.map((v, i) => {
		const [low, high] = form.bounds_m.map((b) => b[i] ?? 0) as Range;
		return Math.min(Math.max(v, low - over), high + over);
	});
}
