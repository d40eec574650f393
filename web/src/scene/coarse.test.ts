import { expect, it } from "vitest";
import { coarse } from "./coarse";

/** A sheet of n by n squares, 1 m wide. */
function sheet(n: number) {
	const positions: number[] = [];
	const indices: number[] = [];
	for (let i = 0; i <= n; i++) for (let j = 0; j <= n; j++) positions.push(i / n, j / n, 0);
	for (let i = 0; i < n; i++)
		for (let j = 0; j < n; j++) {
			const a = i * (n + 1) + j;
			indices.push(a, a + n + 1, a + 1, a + 1, a + n + 1, a + n + 2);
		}
	const normals = positions.map((_, k) => (k % 3 === 2 ? 1 : 0));
	return {
		positions: new Float32Array(positions),
		normals: new Float32Array(normals),
		indices: new Uint32Array(indices),
	};
}

it("keeps the shape and drops what cannot be seen", () => {
	const fine = sheet(360);
	const rough = coarse(fine, 1);
	expect(rough.indices.length).toBeLessThan(fine.indices.length / 6);
	const [xs, zs] = [0, 2].map((k) => [...rough.positions].filter((_, i) => i % 3 === k));
	expect(Math.max(...(xs ?? []))).toBeGreaterThan(1 - 1 / 80);
	expect(new Set(zs)).toEqual(new Set([0]));
	expect(Math.max(...rough.indices)).toBeLessThan(rough.positions.length / 3);
});
