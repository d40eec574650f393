import { expect, test } from "vitest";
import { complete, empty, missing, withPoint, withPost } from "./marking";

const marked = (frames: number[]) =>
	frames.reduce(
		(marks, frame) =>
			withPoint(withPoint(marks, { frame }, "bow", [frame, 9]), { frame }, "stern", [0, 9]),
		empty("run.mp4"),
	);

test("marks of a frame come together, in the order of the film", () => {
	const marks = marked([9, 2]);
	expect(marks.mark.map((m) => m.frame)).toEqual([2, 9]);
	expect(marks.mark[0]).toEqual({ frame: 2, bow: [2, 9], stern: [0, 9] });
});

test("a point taken away leaves no empty frame", () => {
	let marks = marked([4]);
	marks = withPoint(marks, { frame: 4 }, "bow", undefined);
	expect(marks.mark).toHaveLength(1);
	expect(withPoint(marks, { frame: 4 }, "stern", undefined).mark).toHaveLength(0);
});

test("what is sent is whole, and says when it is enough", () => {
	const half = withPoint(marked([1, 2]), { frame: 3 }, "bow", [3, 9]);
	expect(complete(half).mark).toHaveLength(2);
	expect(complete(half).enough).toBe(false);
	expect(missing(half)).toMatch(/length/);
	const scaled = { ...half, boat_length: "560 mm ± 3 mm" };
	expect(complete(scaled).enough).toBe(true);
	expect(missing(scaled)).toBe("");
});

test("a fixed point counts only when it is in every frame", () => {
	const one = withPoint(marked([1, 2]), { frame: 1 }, "fixed", [5, 5]);
	expect(complete(one).mark.some((m) => m.fixed)).toBe(false);
	const both = withPoint(one, { frame: 2 }, "fixed", [6, 5]);
	expect(complete(both).mark.every((m) => m.fixed)).toBe(true);
});

test("posts are set and taken away again, by time where the film has no table", () => {
	let marks = withPost(withPost(empty("a.webm"), { time_s: 2 }), { time_s: 1 });
	expect(marks.post).toEqual([{ time_s: 1 }, { time_s: 2 }]);
	marks = withPost(marks, { time_s: 2 });
	expect(marks.post).toHaveLength(1);
	expect(missing(marks)).toMatch(/next post/);
});
