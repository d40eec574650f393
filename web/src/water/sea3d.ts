// The boat running over water that moves: the eye goes along with it, the water goes by.
import {
	BufferAttribute,
	BufferGeometry,
	DoubleSide,
	Group,
	Line,
	LineSegments,
	Matrix4,
	Mesh,
	MeshLambertMaterial,
	Vector3,
} from "three";
import type { HullMesh } from "../api/mesh";
import type { Form } from "../api/types";
import { fitted } from "../scene/fitted3d";
import type { Point } from "../scene/pose";
import { clear, colour, ink, Stage } from "../scene/stage";
import { at, type Recording, waterAt } from "./recording";

/** Squares of water each way, and how many boat lengths they cover. */
const SQUARES = 44;
const LENGTHS = 4.4;
const RAD = Math.PI / 180;

export class SeaView extends Stage {
	private sea = new Group();
	private path = new Group();
	private inside = new Group();
	private surface: BufferGeometry | null = null;
	private cg: Point = [0, 0, 0];
	private recording: Recording | null = null;

	constructor(canvas: HTMLCanvasElement) {
		super(canvas);
		this.scene.add(this.sea, this.path);
		this.boat.add(this.inside);
	}

	show(hull: HullMesh, form: Form, cg: Point) {
		this.put(hull);
		this.cg = cg;
		clear(this.inside);
		this.inside.add(fitted(form, false));
		this.water();
		this.look(
			new Vector3(-1.1, -1.5, 0.8).multiplyScalar(this.length),
			new Vector3(0.1 * this.length, 0, 0.05 * this.length),
		);
	}

	play(recording: Recording) {
		this.recording = recording;
		clear(this.path);
		const { ahead_m, port_m } = recording.trace;
		const way = ahead_m.map((x, i) => new Vector3(x, port_m[i] ?? 0, 0.002));
		this.path.add(new Line(new BufferGeometry().setFromPoints(way), ink("mark")));
		this.go(0);
	}

	override repaint() {
		this.water();
		super.repaint();
	}

	/** Boat and water as they are at a time of the run. */
	go(time_s: number) {
		const run = this.recording;
		if (!run) return;
		const of = (name: Parameters<typeof at>[1]) => at(run.trace, name, time_s);
		const [x, y] = [of("ahead_m"), of("port_m")];
		const turn = new Matrix4()
			.makeRotationZ(of("yaw_deg") * RAD)
			.multiply(new Matrix4().makeRotationY(-of("trim_deg") * RAD))
			.multiply(new Matrix4().makeRotationX(of("heel_deg") * RAD));
		this.boat.matrix
			.makeTranslation(0, 0, of("height_m"))
			.multiply(turn)
			.multiply(new Matrix4().makeTranslation(-this.cg[0], -this.cg[1], -this.cg[2]));
		this.boat.updateMatrixWorld(true);
		this.path.position.set(-x, -y, 0);
		this.heave(run, x, y, time_s);
		this.draw();
	}

	/** Corners of the squares stay where they are on the pond, so that one sees it go by. */
	private heave(run: Recording, x: number, y: number, time_s: number) {
		const places = this.surface?.getAttribute("position") as BufferAttribute | undefined;
		if (!places || !this.surface) return;
		const square = (LENGTHS * this.length) / SQUARES;
		const [x0, y0] = [x, y].map((v) => (Math.floor(v / square) - SQUARES / 2) * square) as [
			number,
			number,
		];
		let k = 0;
		for (let i = 0; i <= SQUARES; i++)
			for (let j = 0; j <= SQUARES; j++) {
				const [px, py] = [x0 + i * square, y0 + j * square];
				places.setXYZ(k, px - x, py - y, waterAt(run.surface, px, py, time_s));
				k += 1;
			}
		places.needsUpdate = true;
		this.surface.computeVertexNormals();
		this.surface.computeBoundingSphere();
	}

	private water() {
		clear(this.sea);
		const side = SQUARES + 1;
		const places = new BufferAttribute(new Float32Array(3 * side * side), 3);
		const sheet = new BufferGeometry();
		sheet.setAttribute("position", places);
		const corners: number[] = [];
		const edges: number[] = [];
		for (let i = 0; i < side; i++)
			for (let j = 0; j < side; j++) {
				const a = i * side + j;
				if (i < SQUARES && j < SQUARES)
					corners.push(a, a + side, a + 1, a + 1, a + side, a + side + 1);
				if (i < SQUARES && j % 2 === 0) edges.push(a, a + side);
				if (j < SQUARES && i % 2 === 0) edges.push(a, a + 1);
			}
		sheet.setIndex(corners);
		const lines = new BufferGeometry();
		lines.setAttribute("position", places);
		lines.setIndex(edges);
		const film = new MeshLambertMaterial({
			color: colour("water"),
			transparent: true,
			opacity: 0.6,
			side: DoubleSide,
			depthWrite: false,
			forceSinglePass: true,
		});
		const mesh = new Mesh(sheet, film);
		mesh.renderOrder = 1;
		mesh.frustumCulled = false;
		const net = new LineSegments(lines, ink("ripple"));
		net.material.depthTest = true;
		net.frustumCulled = false;
		this.sea.add(mesh, net);
		this.surface = sheet;
	}
}
