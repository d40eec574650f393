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
	/** It takes the whole page, in place of the boat and the rail. */
	fills?: boolean;
}

/** Places in the order of the tabs. */
export const PLACES: Place[] = [
	{ name: "findings", title: "Findings", load: () => import("./places/findings") },
	{ name: "fitted", title: "Fitted", load: () => import("./places/fitted") },
	{ name: "water", title: "Water", load: () => import("./water"), fills: true },
	{ name: "pond", title: "Pond day", load: () => import("./pond/pond"), fills: true },
	{ name: "causes", title: "What went wrong", load: () => import("./causes/causes"), fills: true },
	{ name: "builds", title: "Builds", load: () => import("./builds/builds"), fills: true },
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
					onClick={() => {
						state.place.value = p.name;
						state.keepInUrl();
					}}
				>
					{p.title}
				</button>
			))}
		</nav>
	);
}

/** The place gone to, as soon as it is loaded. */
export function Shown() {
	const place = here();
	const [got, setGot] = useState<{ of: Place; Content: FunctionComponent } | null>(null);
	useEffect(() => {
		let gone = false;
		void place.load().then(({ default: Content }) => {
			if (!gone) setGot({ of: place, Content });
		});
		return () => {
			gone = true;
		};
	}, [place]);
	return got?.of === place ? <got.Content /> : <p class="busy">{place.title} …</p>;
}
