import { describe, expect, it } from "vitest";
import { readMesh } from "./mesh";

describe("a mesh", () => {
	it("is read as it was sent", () => {
		const bytes = new ArrayBuffer(12 + 2 * 9 * 4 + 3 * 4);
		const view = new DataView(bytes);
		for (const [i, c] of [..."SKM1"].entries()) view.setUint8(i, c.charCodeAt(0));
		view.setUint32(4, 3, true);
		view.setUint32(8, 1, true);
		for (let i = 0; i < 18; i++) view.setFloat32(12 + 4 * i, i, true);
		for (let i = 0; i < 3; i++) view.setUint32(12 + 72 + 4 * i, 2 - i, true);
		const mesh = readMesh(bytes);
		expect([...mesh.positions]).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8]);
		expect(mesh.normals[0]).toBe(9);
		expect([...mesh.indices]).toEqual([2, 1, 0]);
	});
	it("is refused when it is something else", () => {
		expect(() => readMesh(new ArrayBuffer(20))).toThrow("mesh");
	});
});
