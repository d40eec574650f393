import {
	AmbientLight,
	ArrowHelper,
	BufferAttribute,
	BufferGeometry,
	Color,
	DirectionalLight,
	DoubleSide,
	GridHelper,
	Group,
	Matrix4,
	Mesh,
	MeshBasicMaterial,
	MeshStandardMaterial,
	PerspectiveCamera,
	PlaneGeometry,
	Scene,
	SphereGeometry,
	Vector3,
	WebGLRenderer,
} from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import type { Attitude } from "../model";
import { matrix } from "./pose";

export interface HullMesh {
	positions: Float32Array;
	indices: Uint32Array;
}

export interface Force {
	name: string;
	at: [number, number, number];
	force: [number, number, number];
}

/** The boat on the water: z up, x ahead; drawn only when something changed. */
export class WaterView {
	private renderer: WebGLRenderer;
	private scene = new Scene();
	private camera = new PerspectiveCamera(35, 1, 0.01, 50);
	private boat = new Group();
	private arrows = new Group();
	private controls: OrbitControls;
	private asked = false;

	constructor(private canvas: HTMLCanvasElement) {
		this.renderer = new WebGLRenderer({ canvas, antialias: true, preserveDrawingBuffer: true });
		this.scene.background = new Color("#e9eef0");
		this.camera.up.set(0, 0, 1);
		this.scene.add(new AmbientLight(0xffffff, 1.4));
		const sun = new DirectionalLight(0xffffff, 2.2);
		sun.position.set(1, -2, 3);
		this.scene.add(sun, this.boat);
		this.boat.add(this.arrows);
		this.boat.matrixAutoUpdate = false;
		this.controls = new OrbitControls(this.camera, canvas);
		this.controls.addEventListener("change", () => this.draw());
	}

	show(hull: HullMesh, cg: [number, number, number]) {
		const shape = new BufferGeometry();
		shape.setAttribute("position", new BufferAttribute(hull.positions, 3));
		shape.setIndex(new BufferAttribute(hull.indices, 1));
		shape.computeVertexNormals();
		shape.computeBoundingBox();
		const box = shape.boundingBox;
		const length = box ? box.max.x - box.min.x : 1;
		const skin = new MeshStandardMaterial({
			color: "#d8a24a",
			roughness: 0.6,
			side: DoubleSide,
			flatShading: true,
		});
		const centre = new Mesh(
			new SphereGeometry(0.012 * length),
			new MeshBasicMaterial({ color: "#d5573b", depthTest: false }),
		);
		centre.position.set(...cg);
		centre.renderOrder = 2;
		this.boat.clear();
		this.boat.add(new Mesh(shape, skin), centre, this.arrows);
		this.water(length);
		const middle = new Vector3(0.5 * length, 0, 0);
		this.controls.target.copy(middle);
		this.camera.position.set(-0.9 * length, -1.5 * length, 0.75 * length);
		this.controls.update();
		this.draw();
	}

	private water(length: number) {
		for (const old of this.scene.children.filter((c) => c.name === "water")) this.scene.remove(old);
		const sheet = new Mesh(
			new PlaneGeometry(8 * length, 8 * length),
			new MeshStandardMaterial({
				color: "#2a7f8e",
				transparent: true,
				opacity: 0.55,
				side: DoubleSide,
				depthWrite: false,
			}),
		);
		sheet.name = "water";
		sheet.renderOrder = 1;
		const lines = new GridHelper(8 * length, 32, "#1d5c68", "#6fa9b3");
		lines.rotation.x = Math.PI / 2;
		lines.name = "water";
		this.scene.add(sheet, lines);
	}

	pose(a: Attitude) {
		const [x, y, z] = matrix(a);
		if (!x || !y || !z) return;
		const m = new Matrix4();
		m.set(
			x[0] ?? 1, x[1] ?? 0, x[2] ?? 0, x[3] ?? 0,
			y[0] ?? 0, y[1] ?? 1, y[2] ?? 0, y[3] ?? 0,
			z[0] ?? 0, z[1] ?? 0, z[2] ?? 1, z[3] ?? 0,
			0, 0, 0, 1,
		);
		this.boat.matrix.copy(m);
		this.boat.updateMatrixWorld(true);
		this.draw();
	}

	/** Arrows to one scale; length 1 m is `newtons`. */
	forces(list: Force[], newtons: number) {
		this.arrows.clear();
		for (const f of list) {
			const v = new Vector3(...f.force);
			const size = v.length() / newtons;
			if (size < 0.005) continue;
			const arrow = new ArrowHelper(v.normalize(), new Vector3(...f.at), size, "#12343b", 0.02, 0.012);
			this.arrows.add(arrow);
		}
		this.draw();
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

	private draw() {
		if (this.asked) return;
		this.asked = true;
		requestAnimationFrame(() => {
			this.asked = false;
			this.renderer.render(this.scene, this.camera);
		});
	}

	dispose() {
		this.controls.dispose();
		this.renderer.dispose();
	}
}
