/** Whether there is a graphics card: without one the processor draws every picture. */
export function hasCard(): boolean {
	const gl = document.createElement("canvas").getContext("webgl");
	if (!gl) return false;
	const about = gl.getExtension("WEBGL_debug_renderer_info");
	const name = about ? String(gl.getParameter(about.UNMASKED_RENDERER_WEBGL)) : "";
	gl.getExtension("WEBGL_lose_context")?.loseContext();
	return !/swiftshader|llvmpipe|software/i.test(name);
}
