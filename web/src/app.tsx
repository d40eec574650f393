import { useEffect } from "preact/hooks";
import { begin } from "./desk";
import { Hand } from "./hand";
import { here, Shown, Tabs } from "./places";
import { Code } from "./places/code";
import { Start } from "./places/start";
import { Axis } from "./rail/axis";
import { Rail } from "./rail/rail";
import { Afloat } from "./scene/afloat";
import * as state from "./state";
import { Bar } from "./ui/bar";
import { Keys, shortcuts } from "./ui/keys";
import { Notices } from "./ui/notices";
import { Verdict } from "./verdict/verdict";

export function App() {
	useEffect(() => {
		void begin();
		// Wanted as soon as a boat is open.
		void here().load();
		window.addEventListener("keydown", shortcuts);
		return () => window.removeEventListener("keydown", shortcuts);
	}, []);
	const opened = state.session.value?.boat;
	const starting = !opened || state.place.value === state.START;
	if (!state.locked.value && !starting) return <Desk />;
	return (
		<div class="plain">
			<Bar />
			<Notices />
			<main>{state.locked.value ? <Code /> : state.session.value && <Start />}</main>
			<Keys />
		</div>
	);
}

/** The answer across the top, the boat in the middle, the rail under it, and one place beside them. */
function Desk() {
	const shown = state.shown.value;
	if (!shown)
		return (
			<div class="plain">
				<Bar />
				<Notices />
				<main>
					<p class="busy start">Putting it in the water …</p>
				</main>
			</div>
		);
	return (
		<div class={here().wide ? "desk wide" : "desk"}>
			{/* First, so that the rail is one Tab from the top; the style sheet puts it under the boat. */}
			<a class="skip" href="#beside">
				To {here().title.toLowerCase()}
			</a>
			<Axis />
			<Bar />
			<Verdict />
			<Hand />
			<Notices />
			<main class="boat">
				<Afloat />
				<Rail
					of={shown}
					beside={state.tried.value ? (state.saved.value ?? undefined) : undefined}
				/>
			</main>
			<aside class="beside" id="beside" tabIndex={-1}>
				<Tabs />
				<div class="panel">
					<Shown />
				</div>
			</aside>
			<Keys />
		</div>
	);
}
