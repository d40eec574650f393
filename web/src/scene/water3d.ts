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
	Line,
	LineBasicMaterial,
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
import type { HullMesh } from "../api/mesh";
import type { Pose } from "../api/types";
import { type Attitude, matrix, type Point } from "./pose";

/** The boat on the water: z up, x ahead; drawn only when something changed. */
export class WaterView {
	private renderer: WebGLRenderer;
	private scene = new Scene();
	private camera = new PerspectiveCamera(35, 1, 0.01, 50);
	private boat = new Group();
	private arrows = new Group();
	private wet = new Group();
	private centre = new Mesh(
		new SphereGeometry(1, 16, 12),
		new MeshBasicMaterial({ color: "#d5573b", depthTest: false }),
	);
	private skin: Mesh | null = null;
	private length = 1;
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
		this.centre.renderOrder = 2;
		this.boat.matrixAutoUpdate = false;
		this.controls = new OrbitControls(this.camera, canvas);
		this.controls.addEventListener("change", () => this.draw());
	}

	show(hull: HullMesh) {
		const shape = new BufferGeometry();
		shape.setAttribute("position", new BufferAttribute(hull.positions, 3));
		shape.setAttribute("normal", new BufferAttribute(hull.normals, 3));
		shape.setIndex(new BufferAttribute(hull.indices, 1));
		shape.computeBoundingBox();
		const box = shape.boundingBox;
		this.length = box ? box.max.x - box.min.x : 1;
		const skin = new MeshStandardMaterial({ color: "#d8a24a", roughness: 0.6, side: DoubleSide });
		this.skin?.geometry.dispose();
		this.skin = new Mesh(shape, skin);
		this.centre.scale.setScalar(0.014 * this.length);
		this.boat.clear();
		this.boat.add(this.skin, this.centre, this.arrows, this.wet);
		this.water(this.length);
		this.controls.target.set(0.5 * this.length, 0, 0);
		this.camera.position.set(-0.9 * this.length, -1.5 * this.length, 0.75 * this.length);
		this.controls.update();
		this.draw();
	}

	/** The centre of gravity. */
	balance(at: Point) {
		this.centre.position.set(...at);
		this.draw();
	}

	/** Wet surfaces painted and forces to one scale: the boat's weight is a third of its length. */
	load(pose: Pose) {
		this.arrows.clear();
		this.wet.clear();
		const largest = Math.max(1e-6, ...pose.forces.map((f) => Math.hypot(...(f.force_n as Point))));
		for (const f of pose.forces) {
			const v = new Vector3(...(f.force_n as Point));
			const size = (0.35 * this.length * v.length()) / largest;
			if (size < 0.02 * this.length) continue;
			const at = new Vector3(...(f.at_m as Point));
			const head = 0.04 * this.length;
			this.arrows.add(new ArrowHelper(v.normalize(), at, size, "#12343b", head, 0.6 * head));
		}
		for (const w of pose.wetted) {
			if (w.outline_m.length < 3) continue;
			const points = w.outline_m.map((p) => new Vector3(...(p as Point)));
			const first = points[0];
			if (!first) continue;
			const line = new BufferGeometry().setFromPoints([...points, first]);
			this.wet.add(new Line(line, new LineBasicMaterial({ color: "#a8321a", depthTest: false })));
			const corners = points.slice(1, -1).flatMap((p, i) => [first, p, points[i + 2] ?? first]);
			const patch = new BufferGeometry().setFromPoints(corners);
			const paint = new MeshBasicMaterial({
				color: "#2a7f8e",
				transparent: true,
				opacity: 0.5,
				side: DoubleSide,
				depthTest: false,
			});
			this.wet.add(new Mesh(patch, paint));
		}
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
		const m = new Matrix4().set(...matrix(a)[0], ...matrix(a)[1], ...matrix(a)[2], 0, 0, 0, 1);
		this.boat.matrix.copy(m);
		this.boat.updateMatrixWorld(true);
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
