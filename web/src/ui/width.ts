import { useEffect, useRef, useState } from "preact/hooks";

/** The width something is drawn at, px, so that its words keep their size. */
export function useWidth<E extends HTMLElement = HTMLDivElement>(): [
	{ current: E | null },
	number,
] {
	const box = useRef<E>(null);
	const [wide, setWide] = useState(600);
	useEffect(() => {
		const on = box.current;
		if (!on) return;
		const measure = () => on.clientWidth > 0 && setWide(on.clientWidth);
		measure();
		const watch = new ResizeObserver(measure);
		watch.observe(on);
		return () => watch.disconnect();
	}, []);
	return [box, wide];
}
