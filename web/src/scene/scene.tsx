import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { HullMesh } from "../api/mesh";
import type { Pose } from "../api/types";
import type { Attitude, Point } from "./pose";
import type { WaterView } from "./water3d";

interface Props {
	views: ComponentChildren;
	hull: HullMesh | null;
	cg: Point;
	attitude: Attitude;
	pose: Pose | undefined;
	words: string;
}

/** Three dimensions, loaded after the words: numbers are there first. */
export function Scene({ views, hull, cg, attitude, pose, words }: Props) {
	const canvas = useRef<HTMLCanvasElement>(null);
	const [view, setView] = useState<WaterView | null>(null);
	const [paper, setPaper] = useState<string | null>(null);
	const [fault, setFault] = useState<string | null>(null);

	useEffect(() => {
		let made: WaterView | null = null;
		let gone = false;
		import("./water3d")
			.then(({ WaterView }) => {
				if (gone || !canvas.current) return;
				made = new WaterView(canvas.current);
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
	useEffect(() => {
		if (view && hull) view.show(hull);
	}, [view, hull]);
	const [x, y, z] = cg;
	useEffect(() => view?.balance([x, y, z]), [view, hull, x, y, z]);
	useEffect(
		() => view?.pose(attitude),
		[view, hull, attitude.trim_deg, attitude.heel_deg, attitude.rise_m],
	);
	useEffect(() => {
		if (view && pose) view.load(pose);
	}, [view, hull, pose]);

	return (
		<figure class="scene">
			{views}
			<canvas ref={canvas} role="img" aria-label={words} />
			{paper && <img class="paper" src={paper} alt={words} />}
			{fault && <p class="quiet">{fault}</p>}
			<figcaption aria-live="polite">{words}</figcaption>
		</figure>
	);
}
