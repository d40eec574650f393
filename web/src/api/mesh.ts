export interface HullMesh {
	positions: Float32Array;
	normals: Float32Array;
	indices: Uint32Array;
}

/** As `GET /api/form/mesh` sends it: `SKM1`, counts, positions, normals, corners; little-endian. */
export function readMesh(bytes: ArrayBuffer): HullMesh {
	const head = new DataView(bytes);
	const letters = String.fromCharCode(...new Uint8Array(bytes, 0, 4));
	if (letters !== "SKM1") throw new Error("the hull did not come as a mesh");
	const vertices = head.getUint32(4, true);
	const triangles = head.getUint32(8, true);
	const floats = 3 * vertices;
	return {
		positions: new Float32Array(bytes, 12, floats),
		normals: new Float32Array(bytes, 12 + 4 * floats, floats),
		indices: new Uint32Array(bytes, 12 + 8 * floats, 3 * triangles),
	};
}
