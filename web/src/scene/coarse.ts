import type { HullMesh } from "../api/mesh";

/** Cells along the hull. */
const CELLS = 80;

/** The same hull with everything of one small cube drawn together: for while it moves. */
export function coarse(hull: HullMesh, length_m: number): HullMesh {
	const cell = length_m / CELLS;
	const { positions, normals, indices } = hull;
	const count = positions.length / 3;
	const at = (i: number) => Math.floor((positions[i] as number) / cell) + 4096;
	const numbers = new Map<number, number>();
	const to = new Uint32Array(count);
	for (let v = 0; v < count; v++) {
		const key = (at(3 * v) * 8192 + at(3 * v + 1)) * 8192 + at(3 * v + 2);
		const known = numbers.get(key) ?? numbers.size;
		numbers.set(key, known);
		to[v] = known;
	}
	const sums = new Float32Array(3 * numbers.size);
	const turned = new Float32Array(3 * numbers.size);
	const many = new Uint32Array(numbers.size);
	for (let v = 0; v < count; v++) {
		const c = to[v] as number;
		many[c] = (many[c] as number) + 1;
		for (let k = 0; k < 3; k++) {
			sums[3 * c + k] = (sums[3 * c + k] as number) + (positions[3 * v + k] as number);
			turned[3 * c + k] = (turned[3 * c + k] as number) + (normals[3 * v + k] as number);
		}
	}
	for (let i = 0; i < sums.length; i++) {
		sums[i] = (sums[i] as number) / (many[Math.floor(i / 3)] as number);
	}
	const kept: number[] = [];
	for (let t = 0; t < indices.length; t += 3) {
		const [a, b, c] = [0, 1, 2].map((k) => to[indices[t + k] as number] as number) as [
			number,
			number,
			number,
		];
		if (a !== b && b !== c && c !== a) kept.push(a, b, c);
	}
	return { positions: sums, normals: turned, indices: new Uint32Array(kept) };
}
