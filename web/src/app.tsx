import { useEffect } from "preact/hooks";
import { begin } from "./desk";
import { here, Shown, Tabs } from "./places";
import { Code } from "./places/code";
import { Start } from "./places/start";
import { Rail } from "./rail/rail";
import { Afloat } from "./scene/afloat";
import * as state from "./state";
import { Bar } from "./ui/bar";
import { Fault } from "./ui/fault";
import { Outside } from "./ui/outside";
import { Remarks } from "./ui/remarks";

export function App() {
	useEffect(() => {
		void begin();
		// Wanted as soon as a boat is open.
		void here().load();
	}, []);
	const opened = state.session.value?.boat;
	return (
		<>
			<Bar />
			<Outside />
			<Remarks />
			<Fault />
			<main>
				{state.locked.value ? <Code /> : opened ? <Desk /> : state.session.value && <Start />}
			</main>
		</>
	);
}

/** The boat in the water, the rail below it, and one place beside it. */
function Desk() {
	const shown = state.shown.value;
	if (!shown) return <p class="busy start">Putting it in the water …</p>;
	if (here().fills)
		return (
			<>
				<Tabs />
				<Shown />
			</>
		);
	return (
		<>
			<Tabs />
			<div class="deck">
				<Afloat />
				<div class="panel">
					<Shown />
				</div>
			</div>
			<Rail of={shown} beside={state.tried.value ? (state.saved.value ?? undefined) : undefined} />
		</>
	);
}
