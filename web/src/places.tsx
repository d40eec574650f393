import type { FunctionComponent } from "preact";
import { useEffect, useState } from "preact/hooks";
import * as state from "./state";

export interface Place {
	/** In the address: `?place=findings`. */
	name: string;
	/** On its tab, in the builder's words. */
	title: string;
	/** Loaded when first gone to; its default export is what is shown. */
	load: () => Promise<{ default: FunctionComponent }>;
	/** It takes half of the page: the boat and the rail stay, narrower. */
	wide?: boolean;
}

/** Places in the order of the tabs. */
export const PLACES: Place[] = [
	{ name: "findings", title: "Findings", load: () => import("./places/findings") },
	{ name: "fitted", title: "Fitted", load: () => import("./fitted/fitted") },
	{ name: "pieces", title: "Pieces", load: () => import("./pieces"), wide: true },
	{ name: "water", title: "Water", load: () => import("./water"), wide: true },
	{ name: "pond", title: "Pond day", load: () => import("./pond/pond"), wide: true },
	{ name: "causes", title: "What went wrong", load: () => import("./causes/causes"), wide: true },
	{ name: "builds", title: "Builds", load: () => import("./builds/builds"), wide: true },
];

export const here = (): Place =>
	PLACES.find((p) => p.name === state.place.value) ?? (PLACES[0] as Place);

export function Tabs() {
	return (
		<nav class="places" aria-label="Places">
			{PLACES.map((p) => (
				<button
					type="button"
					key={p.name}
					aria-current={here() === p ? "page" : undefined}
					onClick={() => state.go(p.name)}
				>
					{p.title}
				</button>
			))}
		</nav>
	);
}

type Got = { of: Place; Content: FunctionComponent } | null;

/** The place gone to, as soon as it is loaded. */
export function Shown() {
	const place = here();
	const [got, setGot] = useState<Got>(null);
	const again = state.returned.value;
	useEffect(() => {
		let gone = false;
		place
			.load()
			.then(({ default: Content }) => {
				if (!gone) setGot({ of: place, Content });
			})
			.catch(() => {
				// It comes from the program too.
				state.away.value ??= "gone";
			});
		return () => {
			gone = true;
		};
	}, [place, again]);
	if (got?.of !== place) return <p class="busy">{place.title} …</p>;
	// Anew after the program was away: what was asked of it meanwhile never came.
	return <got.Content key={again} />;
}
