// What every three-dimensional view has: light, camera, the hull, and drawing only when something changed.
import {
	AmbientLight,
	BufferAttribute,
	BufferGeometry,
	CanvasTexture,
	Color,
	DirectionalLight,
	DoubleSide,
	EdgesGeometry,
	Group,
	LineBasicMaterial,
	LineSegments,
	type Material,
	Mesh,
	MeshLambertMaterial,
	type Object3D,
	PerspectiveCamera,
	type Plane,
	Scene,
	Sprite,
	SpriteMaterial,
	SRGBColorSpace,
	type Vector3,
	WebGLRenderer,
} from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import type { HullMesh } from "../api/mesh";
import { hasCard } from "./card";
import { coarse } from "./coarse";

/** Colours of the style sheet, so that every palette reaches the drawing too. */
export function colour(name: string): Color {
	const text = getComputedStyle(document.documentElement).getPropertyValue(`--${name}`).trim();
	return new Color(text || "#888888");
}

/** Triangles above which moving is drawn coarser, and sharp again when it has rested for so long, ms. */
const MANY = 15_000;
const REST = 300;
/** Faces that meet at more than this are drawn with their edge, degrees. */
const SHARP = 24;

export class Stage {
	protected renderer: WebGLRenderer;
	protected scene = new Scene();
	protected camera = new PerspectiveCamera(35, 1, 0.01, 80);
	protected boat = new Group();
	protected length = 1;
	protected controls: OrbitControls;
	protected skin: Mesh<BufferGeometry, MeshLambertMaterial> | null = null;
	private edges: LineSegments | null = null;
	private asked = false;
	private fine: BufferGeometry | null = null;
	/** Of a hull of many triangles. */
	protected rough: BufferGeometry | null = null;
	private resting: ReturnType<typeof setTimeout> | undefined;

	constructor(protected canvas: HTMLCanvasElement) {
		// Without a card every edge smoothed costs the processor.
		this.renderer = new WebGLRenderer({ canvas, antialias: hasCard() });
		// Asking after each shader stops everything until it is compiled.
		this.renderer.debug.checkShaderErrors = false;
		this.renderer.localClippingEnabled = true;
		this.camera.up.set(0, 0, 1);
		this.scene.add(new AmbientLight(0xffffff, 1.6));
		const sun = new DirectionalLight(0xffffff, 2.2);
		sun.position.set(1, -2, 3);
		this.scene.add(sun, this.boat);
		this.boat.matrixAutoUpdate = false;
		this.controls = new OrbitControls(this.camera, canvas);
		this.controls.addEventListener("change", () => this.draw());
		this.scene.background = colour("sky");
	}

	/** Takes the colours of the palette now chosen. */
	repaint() {
		this.scene.background = colour("sky");
		this.skin?.material.color.copy(colour("hull"));
		if (this.edges) (this.edges.material as LineBasicMaterial).color.copy(colour("ink"));
		this.draw();
	}

	/** Puts a hull into `boat`, and the camera where all of it is seen. */
	protected put(hull: HullMesh) {
		this.fine?.dispose();
		this.rough?.dispose();
		this.fine = solid(hull);
		this.fine.computeBoundingBox();
		const box = this.fine.boundingBox;
		this.length = box ? box.max.x - box.min.x : 1;
		const many = hull.indices.length / 3 > MANY;
		this.rough = many ? solid(coarse(hull, this.length)) : null;
		this.edged(many ? null : this.fine);
		if (this.skin) {
			this.skin.geometry = this.fine;
			return;
		}
		const material = new MeshLambertMaterial({ color: colour("hull"), side: DoubleSide });
		material.forceSinglePass = true;
		this.skin = new Mesh(this.fine, material);
		this.boat.add(this.skin);
	}

	/** The hull's edges; of a fine mesh there are too many to be told apart. */
	private edged(shape: BufferGeometry | null) {
		if (this.edges) {
			this.boat.remove(this.edges);
			this.edges.geometry.dispose();
			this.edges = null;
		}
		if (!shape) return;
		const colour = paint(
			"edge",
			"ink",
			() => new LineBasicMaterial({ transparent: true, opacity: 0.55 }),
		);
		this.edges = new LineSegments(new EdgesGeometry(shape, SHARP), colour);
		this.boat.add(this.edges);
	}

	/** Cut ahead of `x_m`, so that the rest is looked into; whole without it. */
	clip(plane: Plane | null) {
		if (!this.skin) return;
		this.skin.material.clippingPlanes = plane ? [plane] : [];
		this.draw();
	}

	protected look(from: Vector3, at: Vector3) {
		this.controls.target.copy(at);
		this.camera.position.copy(from);
		this.controls.update();
	}

	resize() {
		const { clientWidth: w, clientHeight: h } = this.canvas;
		if (w === 0 || h === 0) return;
		this.renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2));
		this.renderer.setSize(w, h, false);
		this.camera.aspect = w / h;
		this.camera.updateProjectionMatrix();
		this.draw();
	}

	/** For paper: a canvas prints blank. */
	picture(): string {
		this.renderer.render(this.scene, this.camera);
		return this.canvas.toDataURL("image/png");
	}

	protected draw() {
		if (this.asked) return;
		this.asked = true;
		requestAnimationFrame(() => {
			this.asked = false;
			if (this.rough) this.roughly(this.rough);
			this.renderer.render(this.scene, this.camera);
		});
	}

	private roughly(shape: BufferGeometry) {
		if (this.skin) this.skin.geometry = shape;
		clearTimeout(this.resting);
		const due = performance.now() + REST;
		this.resting = setTimeout(() => {
			// Rung late, the machine is busy: there may be moves waiting.
			if (performance.now() > due + REST / 3) return this.roughly(shape);
			if (this.skin && this.fine) this.skin.geometry = this.fine;
			this.renderer.render(this.scene, this.camera);
		}, REST);
	}

	dispose() {
		clearTimeout(this.resting);
		paints.clear();
		this.controls.dispose();
		this.renderer.dispose();
	}
}

function solid(hull: HullMesh): BufferGeometry {
	const shape = new BufferGeometry();
	shape.setAttribute("position", new BufferAttribute(hull.positions, 3));
	shape.setAttribute("normal", new BufferAttribute(hull.normals, 3));
	shape.setIndex(new BufferAttribute(hull.indices, 1));
	return shape;
}

/** Empties a group and gives back the shapes and words the card holds for it; paints are shared and stay. */
export function clear(group: Group) {
	const drop = (o: Object3D) => {
		(o as Mesh).geometry?.dispose();
		if (o instanceof Sprite) {
			o.material.map?.dispose();
			o.material.dispose();
		}
	};
	for (const child of group.children) child.traverse(drop);
	group.clear();
}

const paints = new Map<string, Material>();

/** One paint of each kind and colour: making one anew compiles its shader anew. */
export function paint<M extends Material & { color: Color }>(
	kind: string,
	name: string,
	make: () => M,
): M {
	const known = paints.get(kind + name) as M | undefined;
	const made = known ?? make();
	if (!known) paints.set(kind + name, made);
	made.color.copy(colour(name));
	return made;
}

export const ink = (name: string) =>
	paint("line", name, () => new LineBasicMaterial({ depthTest: false }));

/** A word in space, always facing the eye. */
export function word(text: string, height_m: number): Sprite {
	const size = 44;
	const canvas = document.createElement("canvas");
	const pen = canvas.getContext("2d");
	const font = `600 ${size}px "DejaVu Sans", system-ui, sans-serif`;
	if (pen) {
		pen.font = font;
		canvas.width = Math.ceil(pen.measureText(text).width) + 20;
		canvas.height = size + 16;
		pen.font = font;
		pen.fillStyle = `#${colour("sheet").getHexString()}`;
		pen.globalAlpha = 0.85;
		pen.fillRect(0, 0, canvas.width, canvas.height);
		pen.globalAlpha = 1;
		pen.fillStyle = `#${colour("ink").getHexString()}`;
		pen.fillText(text, 10, size);
	}
	const map = new CanvasTexture(canvas);
	map.colorSpace = SRGBColorSpace;
	const material = new SpriteMaterial({ map, depthTest: false });
	const sprite = new Sprite(material);
	sprite.scale.set((height_m * canvas.width) / canvas.height, height_m, 1);
	sprite.renderOrder = 5;
	return sprite;
}
