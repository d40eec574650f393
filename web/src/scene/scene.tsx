import { signal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { HullMesh } from "../api/mesh";
import type { Form, Pose } from "../api/types";
import { editLive } from "../desk";
import { look } from "../ui/look";
import { place } from "./outline";
import { flows } from "./passing";
import type { Attitude, Point } from "./pose";
import type { Shown, WaterView } from "./water3d";

interface Props {
	hull: HullMesh | null;
	form: Form | null;
	/** Of the saved boat, behind what is tried out. */
	saved: { form: Form; attitude: Attitude } | null;
	shown: Shown;
	cg: Point;
	attitude: Attitude;
	pose: Pose | undefined;
	/** Through the water. */
	speed_m_s: number;
	words: string;
	children?: ComponentChildren;
}

/** Counts how often the first view is wished back. */
export const resets = signal(0);

/** Once what is on the page already has been drawn. */
const wordsFirst = () =>
	new Promise((done) => requestAnimationFrame(() => setTimeout(done, AFTER)));
const AFTER = 60;

/** Three dimensions, loaded after the words: numbers are there first. */
export function Scene(props: Props) {
	const { hull, form, saved, shown, cg, attitude, pose, speed_m_s, words, children } = props;
	const canvas = useRef<HTMLCanvasElement>(null);
	const [view, setView] = useState<WaterView | null>(null);
	const [paper, setPaper] = useState<string | null>(null);
	const [fault, setFault] = useState<string | null>(null);

	useEffect(() => {
		let made: WaterView | null = null;
		let gone = false;
		wordsFirst()
			.then(() => import("./water3d"))
			.then(({ WaterView }) => {
				if (gone || !canvas.current) return;
				let gesture = crypto.randomUUID();
				made = new WaterView(canvas.current, (part, to) => {
					if (to) void editLive([{ path: part.at_path, value: place(to) }], gesture);
					else gesture = crypto.randomUUID();
				});
				made.resize();
				setView(made);
			})
			.catch(() =>
				setFault("This browser shows no three-dimensional drawing; the numbers are all here."),
			);
		const resize = () => made?.resize();
		const toPaper = () => setPaper(made?.picture() ?? null);
		const watch = new ResizeObserver(resize);
		if (canvas.current) watch.observe(canvas.current);
		window.addEventListener("beforeprint", toPaper);
		return () => {
			gone = true;
			watch.disconnect();
			window.removeEventListener("beforeprint", toPaper);
			made?.dispose();
		};
	}, []);
	const palette = look.value;
	useEffect(() => {
		if (view && hull) view.show(hull);
	}, [view, hull]);
	useEffect(() => view?.repaint(), [view, palette]);
	useEffect(() => {
		if (view && form) view.add(form, shown);
	}, [view, hull, form, shown.parts, shown.sizes, shown.cut, palette]);
	useEffect(() => {
		view?.behind(saved?.form ?? null, form, saved?.attitude ?? attitude);
	}, [
		view,
		form,
		saved?.form,
		saved?.attitude.trim_deg,
		saved?.attitude.heel_deg,
		saved?.attitude.rise_m,
		palette,
	]);
	const [pointed, setPointed] = useState<{ x: number; y: number; text: string } | null>(null);
	const point = (e: PointerEvent) => {
		const force = e.buttons === 0 && pose && view?.forceAt(e.clientX, e.clientY);
		const named = typeof force === "number" ? pose?.forces[force] : undefined;
		if (!named) return setPointed(null);
		const size = Math.hypot(...named.force_n);
		const box = (e.currentTarget as Element).getBoundingClientRect();
		setPointed({
			x: e.clientX - box.left,
			y: e.clientY - box.top,
			text: `${named.name} ${size < 10 ? size.toFixed(1) : size.toFixed(0)} N`,
		});
	};
	const wished = resets.value;
	useEffect(() => {
		if (wished > 0) view?.reset();
	}, [view, wished]);
	const [x, y, z] = cg;
	useEffect(() => view?.balance([x, y, z]), [view, hull, x, y, z]);
	useEffect(
		() => view?.pose(attitude),
		[view, hull, attitude.trim_deg, attitude.heel_deg, attitude.rise_m],
	);
	useEffect(() => {
		if (view && pose) view.load(pose);
	}, [view, hull, pose, palette]);
	useEffect(() => view?.run(speed_m_s), [view, hull, speed_m_s]);
	const passing = flows.value;
	useEffect(() => view?.move(passing), [view, hull, passing]);

	return (
		<>
			<canvas
				ref={canvas}
				role="img"
				aria-label={words}
				onPointerMove={point}
				onPointerLeave={() => setPointed(null)}
			/>
			{pointed && (
				<span class="pointed" style={{ left: `${pointed.x}px`, top: `${pointed.y}px` }}>
					{pointed.text}
				</span>
			)}
			{paper && <img class="paper" src={paper} alt={words} />}
			{fault && <p class="quiet">{fault}</p>}
			{children}
		</>
	);
}
