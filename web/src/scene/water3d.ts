import {
	DoubleSide,
	FrontSide,
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
import { fitted, ghostly, measured, outline, sizeOf } from "./fitted3d";
import { Hand, type Held } from "./hold";
import { inside } from "./keep";
import { Loads } from "./loads3d";
import { type Attitude, matrix, type Point } from "./pose";
import { clear, colour, Stage } from "./stage";
import { Flow, waterline } from "./surface3d";

type FormPart = Form["parts"][number];

/** How near to an arrow points at it, px. */
const FINGER = 12;
/** A finger has gone sideways, px. */
const SIDEWAYS = 10;
/** Water that passes is drawn no oftener, s. */
const FRAME = 1 / 40;

const world = (a: Attitude) =>
	new Matrix4().set(...matrix(a)[0], ...matrix(a)[1], ...matrix(a)[2], 0, 0, 0, 1);

type Spot = readonly [number, number];

/** From a point to a stretch of line. */
function awayFrom([x, y]: Spot, [ax, ay]: Spot, [bx, by]: Spot): number {
	const [dx, dy] = [bx - ax, by - ay];
	const long = dx * dx + dy * dy || 1;
	const share = Math.min(Math.max(((x - ax) * dx + (y - ay) * dy) / long, 0), 1);
	return Math.hypot(x - ax - share * dx, y - ay - share * dy);
}

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
	/** Where the water stands at rest. */
	private line = new Group();
	/** The saved boat, behind what is tried out. */
	private ghost = new Group();
	private still = new Group();
	private flow: Flow | null = null;
	/** Of the boat through the water, m/s. */
	private speed = 0;
	private gone = 0;
	private flows = false;
	private frame = 0;
	private centre = new Mesh(
		new SphereGeometry(1, 16, 12),
		new MeshBasicMaterial({ depthTest: false, transparent: true }),
	);
	private plane: Plane | null = null;
	private cutAt: Plane | null = null;

	private hand: Hand;
	private held: Held | null = null;
	private form: Form | null = null;
	private from: [number, number] | null = null;

	/** `moved` hears where a part is dragged to; `null` when it is let go. */
	constructor(canvas: HTMLCanvasElement, moved: (part: FormPart, to: Point | null) => void) {
		super(canvas);
		this.hand = new Hand(this.camera, canvas, this.boat);
		const take = (e: PointerEvent) => {
			if (!this.form || !this.inside.children.length) return;
			this.held = this.hand.take(e, this.form.parts);
			if (!this.held) return;
			this.from = e.pointerType === "touch" ? [e.clientX, e.clientY] : null;
			// Before the eye turns with it.
			this.controls.enabled = false;
			canvas.setPointerCapture(e.pointerId);
		};
		canvas.addEventListener("pointerdown", take, { capture: true });
		canvas.addEventListener("pointermove", (e) => {
			const { held, form } = this;
			if (!held || !form || this.mayScroll(e)) return;
			const to = this.hand.place(e, held);
			if (!to) return;
			const { part, from } = held;
			moved(part, e.altKey ? to : (inside(form, sizeOf(part), from, to) as Point));
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
		this.ghost.matrixAutoUpdate = false;
		this.scene.add(this.still, this.ghost);
		this.boat.add(this.around, this.line);
	}

	/** A finger that goes up or down may be scrolling: it holds a part once it has gone sideways. */
	private mayScroll(e: PointerEvent): boolean {
		if (this.from && Math.abs(e.clientX - this.from[0]) > SIDEWAYS) this.from = null;
		return this.from !== null;
	}

	show(hull: HullMesh) {
		const first = !this.skin;
		const before = this.length;
		this.put(hull);
		this.centre.scale.setScalar(0.014 * this.length);
		this.water();
		if (first || Math.abs(before - this.length) > 0.2 * before) this.reset();
		this.draw();
	}

	/** The view it opens with: from the starboard quarter, all of the boat in it. */
	reset() {
		const away = this.camera.aspect < 2 ? 2 / Math.max(this.camera.aspect, 0.7) : 1.1;
		this.look(
			new Vector3(-0.1, -0.86, 0.46).multiplyScalar(this.length * away),
			new Vector3(0.47 * this.length, 0, 0.03 * this.length),
		);
		this.draw();
	}

	/** The saved boat's lines as it would lie; nothing while nothing is tried out. */
	behind(form: Form | null, now: Form | null, at: Attitude) {
		clear(this.ghost);
		if (form && now) this.ghost.add(ghostly(form, now));
		this.ghost.matrix.copy(world(at));
		this.ghost.updateMatrixWorld(true);
		this.draw();
	}

	/** The force nearest to a place of the canvas, by its number; nothing further than a finger away. */
	forceAt(x: number, y: number): number | null {
		const box = this.canvas.getBoundingClientRect();
		const to = (p: Point) => {
			const v = new Vector3(...p).applyMatrix4(this.boat.matrixWorld).project(this.camera);
			return [((v.x + 1) / 2) * box.width, ((1 - v.y) / 2) * box.height] as const;
		};
		let best: number | null = null;
		let least = FINGER;
		for (const arrow of this.loads.arrows) {
			const far = awayFrom([x - box.left, y - box.top], to(arrow.at), to(arrow.tip));
			if (far < least) [best, least] = [arrow.force, far];
		}
		return best;
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
		clear(this.line);
		this.line.add(waterline(form));
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
			// Its own depth hides the water behind it; parts are drawn before it and shine through.
			material.opacity = shown.parts ? 0.5 : 1;
			material.side = shown.cut === null ? FrontSide : DoubleSide;
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
		this.line.visible = pose.speed_km_h < 0.05;
		this.draw();
	}

	private water() {
		clear(this.still);
		const size = 8 * this.length;
		const sheet = new Mesh(
			new PlaneGeometry(5 * size, 5 * size),
			new MeshBasicMaterial({
				color: colour("water"),
				transparent: true,
				opacity: 0.5,
				side: DoubleSide,
				depthWrite: false,
			}),
		);
		sheet.renderOrder = 1;
		this.flow = new Flow(this.length);
		this.flow.at(this.speed);
		this.flow.pass(this.gone);
		this.still.add(sheet, this.flow);
	}

	/** How fast the water passes. */
	run(speed_m_s: number) {
		if (Math.abs(speed_m_s - this.speed) < 0.01) return;
		this.speed = speed_m_s;
		this.flow?.at(speed_m_s);
		this.draw();
		this.begin();
	}

	/** Whether it is seen to pass. */
	move(on: boolean) {
		this.flows = on;
		this.begin();
	}

	private begin() {
		cancelAnimationFrame(this.frame);
		// A fine hull is drawn coarser whatever moves: it is left in peace.
		if (!this.flows || this.speed < 0.05 || this.rough) return;
		let before = performance.now();
		const step = (now: number) => {
			this.frame = requestAnimationFrame(step);
			const dt = (now - before) / 1000;
			if (dt < FRAME || document.hidden) return;
			before = now;
			this.gone += this.speed * Math.min(dt, 0.1);
			this.flow?.pass(this.gone);
			this.draw();
		};
		this.frame = requestAnimationFrame(step);
	}

	override dispose() {
		cancelAnimationFrame(this.frame);
		super.dispose();
	}

	pose(a: Attitude) {
		this.boat.matrix.copy(world(a));
		this.boat.updateMatrixWorld(true);
		if (this.plane) this.turnPlane();
		this.draw();
	}
}
