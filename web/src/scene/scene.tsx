import { useEffect, useRef, useState } from "preact/hooks";
import type { Attitude } from "../model";
import type { HullMesh, WaterView } from "./water3d";

interface Props {
	hull: HullMesh | null;
	cg: [number, number, number];
	attitude: Attitude;
	words: string;
}

/** Three dimensions, loaded after the words: numbers are there first. */
export function Scene({ hull, cg, attitude, words }: Props) {
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
			.catch(() => setFault("This browser shows no three-dimensional drawing; the numbers are all here."));
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
		if (view && hull) view.show(hull, cg);
	}, [view, hull, cg]);
	useEffect(() => view?.pose(attitude), [view, hull, attitude]);

	return (
		<figure class="scene">
			<canvas ref={canvas} role="img" aria-label={words} tabIndex={0} />
			{paper && <img class="paper" src={paper} alt={words} />}
			{fault && <p class="quiet">{fault}</p>}
			<figcaption aria-live="polite">{words}</figcaption>
		</figure>
	);
}
