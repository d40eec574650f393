/** A sound as a picture, as `GET …/picture` sends it. */
export interface Picture {
	from: number;
	column: number;
	low: number;
	row: number;
	columns: number;
	rows: number;
	levels: Uint8Array;
}

export function readPicture(bytes: ArrayBuffer): Picture {
	const head = new DataView(bytes);
	const number = (i: number) => head.getFloat64(8 * i, true);
	const columns = head.getUint32(32, true);
	const rows = head.getUint32(36, true);
	return {
		from: number(0),
		column: number(1),
		low: number(2),
		row: number(3),
		columns,
		rows,
		levels: new Uint8Array(bytes, 40, columns * rows),
	};
}

export interface Course {
	name: string;
	/** SI. */
	unit: string;
	values: Float32Array;
}

/** Every reading of a log or a track, as `GET …/courses` sends it. */
export interface Courses {
	time: Float64Array;
	start_unix_s: number | null;
	confirmed: boolean;
	thinned: boolean;
	courses: Course[];
}

export function readCourses(bytes: ArrayBuffer): Courses {
	const length = new DataView(bytes).getUint32(0, true);
	const head = JSON.parse(new TextDecoder().decode(new Uint8Array(bytes, 4, length))) as {
		count: number;
		start_unix_s: number | null;
		confirmed: boolean;
		thinned: boolean;
		courses: { name: string; unit: string }[];
	};
	const first = 4 + length;
	const values = first + 8 * head.count;
	const courses = head.courses.map((c, i) => ({
		...c,
		values: new Float32Array(bytes, values + 4 * head.count * i, head.count),
	}));
	return { ...head, time: new Float64Array(bytes, first, head.count), courses };
}
