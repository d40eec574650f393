export type Standing = "stop" | "watch" | "unsure" | "good";

/** Worst first; a word and a shape each, so that colour is never the only sign. */
export const STANDINGS: Record<Standing, { word: string; shape: string }> = {
	stop: { word: "stop", shape: "■" },
	watch: { word: "watch", shape: "▲" },
	unsure: { word: "unsure", shape: "◇" },
	good: { word: "good", shape: "●" },
};

export function Mark({ standing }: { standing: Standing }) {
	const { word, shape } = STANDINGS[standing];
	return (
		<span class={`mark ${standing}`}>
			<span aria-hidden="true">{shape}</span> {word}
		</span>
	);
}
