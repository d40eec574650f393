import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { HullMesh } from "../api/mesh";
import type { Form, Pose } from "../api/types";
import { editLive } from "../desk";
import { look } from "../ui/look";
import { place } from "./outline";
import type { Attitude, Point } from "./pose";
import type { Shown, WaterView } from "./water3d";

interface Props {
	hull: HullMesh | null;
	form: Form | null;
	shown: Shown;
	cg: Point;
	attitude: Attitude;
	pose: Pose | undefined;
	words: string;
	children?: ComponentChildren;
}

/** Once what is on the page already has been drawn. */
const wordsFirst = () =>
	new Promise((done) => requestAnimationFrame(() => setTimeout(done, AFTER)));
const AFTER = 60;

/** Three dimensions, loaded after the words: numbers are there first. */
export function Scene({ hull, form, shown, cg, attitude, pose, words, children }: Props) {
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
		window.addEventListener("resize", resize);
		window.addEventListener("beforeprint", toPaper);
		return () => {
			gone = true;
			window.removeEventListener("resize", resize);
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
	const [x, y, z] = cg;
	useEffect(() => view?.balance([x, y, z]), [view, hull, x, y, z]);
	useEffect(
		() => view?.pose(attitude),
		[view, hull, attitude.trim_deg, attitude.heel_deg, attitude.rise_m],
	);
	useEffect(() => {
		if (view && pose) view.load(pose);
	}, [view, hull, pose, palette]);

	return (
		<>
			<canvas ref={canvas} role="img" aria-label={words} />
			{paper && <img class="paper" src={paper} alt={words} />}
			{fault && <p class="quiet">{fault}</p>}
			{children}
		</>
	);
}
