type Numbers = Float64Array | Float32Array | readonly number[];

/** Index of the first time that is not before `t`. */
export function at(time: Numbers, t: number): number {
	let low = 0;
	let high = time.length;
	while (low < high) {
		const middle = (low + high) >> 1;
		if ((time[middle] as number) < t) low = middle + 1;
		else high = middle;
	}
	return low;
}

/**
 * What of a course is seen between two times in `pixels` columns: the lowest and the highest of each,
 * in the order they came, and a point beyond each edge, so that lines leave the picture where they should.
 */
export function seen(
	time: Numbers,
	values: Numbers,
	from: number,
	to: number,
	pixels: number,
): [number[], number[]] {
	const first = Math.max(0, at(time, from) - 1);
	const end = Math.min(time.length, at(time, to) + 1);
	const t: number[] = [];
	const v: number[] = [];
	const push = (i: number) => {
		const value = values[i] as number;
		t.push(time[i] as number);
		v.push(Number.isFinite(value) ? value : Number.NaN);
	};
	if (end - first <= 2 * pixels) {
		for (let i = first; i < end; i++) push(i);
		return [t, v];
	}
	const each = (end - first) / pixels;
	for (let p = 0; p < pixels; p++) {
		const start = first + Math.floor(p * each);
		const stop = Math.min(end, first + Math.floor((p + 1) * each));
		let low = start;
		let high = start;
		for (let i = start + 1; i < stop; i++) {
			const value = values[i] as number;
			// A value that is none gives way to any that is.
			if (value < (values[low] as number) || Number.isNaN(values[low])) low = i;
			if (value > (values[high] as number) || Number.isNaN(values[high])) high = i;
		}
		push(Math.min(low, high));
		if (low !== high) push(Math.max(low, high));
	}
	return [t, v];
}
