// The pieces apart, to be turned and looked into.
import { useEffect, useRef, useState } from "preact/hooks";
import { look } from "../ui/look";
import { Take } from "../ui/take";
import type { Pieces } from "./cut";
import type { ApartView } from "./exploded3d";

export function Exploded({ of, pointed }: { of: Pieces; pointed: string | null }) {
	const canvas = useRef<HTMLCanvasElement>(null);
	const [view, setView] = useState<ApartView | null>(null);
	const [fault, setFault] = useState(false);
	const [apart, setApart] = useState(0.5);
	useEffect(() => {
		let made: ApartView | null = null;
		let gone = false;
		import("./exploded3d")
			.then(({ ApartView }) => {
				if (gone || !canvas.current) return;
				made = new ApartView(canvas.current);
				made.resize();
				setView(made);
			})
			.catch(() => setFault(true));
		const watch = new ResizeObserver(() => made?.resize());
		if (canvas.current) watch.observe(canvas.current);
		return () => {
			gone = true;
			watch.disconnect();
			made?.dispose();
		};
	}, []);
	useEffect(() => view?.show(of.pieces, of.shapes ?? []), [view, of]);
	useEffect(() => view?.pull(apart), [view, of, apart]);
	useEffect(() => view?.point(pointed), [view, of, pointed]);
	const palette = look.value;
	useEffect(() => view?.repaint(), [view, palette]);
	if (!of.shapes?.length) return null;
	return (
		<figure class="exploded">
			<canvas
				ref={canvas}
				role="img"
				aria-label={`The hull in ${of.pieces.length} pieces: ${of.pieces.map((p) => p.name).join(", ")}`}
			/>
			{fault && <p class="quiet">This browser shows no three-dimensional drawing.</p>}
			<figcaption>
				<label>
					Apart{" "}
					<input
						type="range"
						min={0}
						max={1}
						step={0.05}
						value={apart}
						onInput={(e) => setApart(Number(e.currentTarget.value))}
					/>
				</label>
				<Take name="pieces" picture=".exploded canvas" before={() => view?.picture()} />
			</figcaption>
		</figure>
	);
}
