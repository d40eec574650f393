import {
	DoubleSide,
	GridHelper,
	Group,
	Matrix4,
	Mesh,
	MeshBasicMaterial,
	Plane,
	PlaneGeometry,
	SphereGeometry,
	Vector3,
} from "three";
import type { HullMesh } from "../api/mesh";
import type { Form, Pose } from "../api/types";
import { fitted, measured, outline } from "./fitted3d";
import { Hand, type Held } from "./hold";
import { Loads } from "./loads3d";
import { type Attitude, matrix, type Point } from "./pose";
import { clear, colour, Stage } from "./stage";

type FormPart = Form["parts"][number];

/** What is shown besides the hull. */
export interface Shown {
	parts: boolean;
	sizes: boolean;
	cut: number | null;
}

/** The boat on still water, as it runs at one speed: z up, x ahead. */
export class WaterView extends Stage {
	private loads = new Loads();
	private inside = new Group();
	private around = new Group();
	private still = new Group();
	private centre = new Mesh(
		new SphereGeometry(1, 16, 12),
		new MeshBasicMaterial({ depthTest: false, transparent: true }),
	);
	private plane: Plane | null = null;
	private cutAt: Plane | null = null;

	private hand: Hand;
	private held: Held | null = null;
	private form: Form | null = null;

	/** `moved` hears where a part is dragged to; `null` when it is let go. */
	constructor(canvas: HTMLCanvasElement, moved: (part: FormPart, to: Point | null) => void) {
		super(canvas);
		this.hand = new Hand(this.camera, canvas, this.boat);
		const take = (e: PointerEvent) => {
			if (!this.form || !this.inside.children.length) return;
			this.held = this.hand.take(e, this.form.parts);
			if (!this.held) return;
			// Before the eye turns with it.
			this.controls.enabled = false;
			canvas.setPointerCapture(e.pointerId);
		};
		canvas.addEventListener("pointerdown", take, { capture: true });
		canvas.addEventListener("pointermove", (e) => {
			const to = this.held && this.hand.place(e, this.held);
			if (this.held && to) moved(this.held.part, to);
		});
		const drop = () => {
			if (this.held) moved(this.held.part, null);
			this.held = null;
			this.controls.enabled = true;
		};
		canvas.addEventListener("pointerup", drop);
		canvas.addEventListener("pointercancel", drop);
		this.centre.renderOrder = 4;
		this.centre.material.color = colour("mark");
		this.boat.add(this.centre, this.loads, this.inside);
		this.scene.add(this.still);
		this.boat.add(this.around);
	}

	show(hull: HullMesh) {
		const first = !this.skin;
		const before = this.length;
		this.put(hull);
		this.centre.scale.setScalar(0.014 * this.length);
		this.water();
		if (first || Math.abs(before - this.length) > 0.2 * before) {
			this.look(
				new Vector3(-0.55, -1.15, 0.6).multiplyScalar(this.length),
				new Vector3(0.45 * this.length, 0, 0),
			);
		}
		this.draw();
	}

	override repaint() {
		this.centre.material.color = colour("mark");
		this.loads.repaint();
		this.water();
		super.repaint();
	}

	/** The centre of gravity. */
	balance(at: Point) {
		this.centre.position.set(...at);
		this.draw();
	}

	/** Parts seen through the hull, sizes round it, and the hull cut open. */
	add(form: Form, shown: Shown) {
		this.form = form;
		clear(this.inside);
		clear(this.around);
		if (shown.parts) this.inside.add(fitted(form));
		if (shown.sizes) this.around.add(measured(form));
		const section = shown.cut === null ? undefined : form.sections[shown.cut];
		this.plane = section ? new Plane(new Vector3(-1, 0, 0), section.x_m) : null;
		if (shown.cut !== null) this.around.add(outline(form, shown.cut));
		const material = this.skin?.material;
		if (material) {
			material.transparent = shown.parts;
			material.opacity = shown.parts ? 0.55 : 1;
			material.depthWrite = !shown.parts;
			material.needsUpdate = true;
		}
		this.turnPlane();
		this.draw();
	}

	/** The cut goes with the boat. */
	private turnPlane() {
		this.cutAt = this.plane ? this.plane.clone().applyMatrix4(this.boat.matrixWorld) : null;
		this.clip(this.cutAt);
	}

	/** Forces and wet surfaces. */
	load(pose: Pose) {
		this.loads.show(pose, this.length);
		this.draw();
	}

	private water() {
		clear(this.still);
		const size = 8 * this.length;
		const sheet = new Mesh(
			new PlaneGeometry(size, size),
			new MeshBasicMaterial({
				color: colour("water"),
				transparent: true,
				opacity: 0.5,
				side: DoubleSide,
				depthWrite: false,
			}),
		);
		sheet.renderOrder = 1;
		const lines = new GridHelper(size, 32, colour("ink"), colour("ripple"));
		lines.rotation.x = Math.PI / 2;
		this.still.add(sheet, lines);
	}

	pose(a: Attitude) {
		const m = new Matrix4().set(...matrix(a)[0], ...matrix(a)[1], ...matrix(a)[2], 0, 0, 0, 1);
		this.boat.matrix.copy(m);
		this.boat.updateMatrixWorld(true);
		if (this.plane) this.turnPlane();
		this.draw();
	}
}
