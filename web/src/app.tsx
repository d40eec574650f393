import { useEffect } from "preact/hooks";
import { begin } from "./desk";
import { here, Shown, Tabs } from "./places";
import { Code } from "./places/code";
import { Start } from "./places/start";
import { Rail } from "./rail/rail";
import { Drawing } from "./scene/drawing";
import { along, attitudeAt, nearest } from "./scene/pose";
import { Scene } from "./scene/scene";
import * as state from "./state";
import { Bar } from "./ui/bar";
import { Fault } from "./ui/fault";

export function App() {
	useEffect(() => void begin(), []);
	const opened = state.session.value?.boat;
	return (
		<>
			<Bar />
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
			<Rail
				poses={shown.poses}
				beside={state.tried.value ? state.saved.value?.poses : undefined}
				speed={state.speed.value}
				onSpeed={(kmh) => {
					state.speed.value = kmh;
					state.keepInUrl();
				}}
			/>
		</>
	);
}

function Afloat() {
	const shown = state.shown.value;
	if (!shown) return null;
	const states = along(shown.poses);
	const kmh = state.speed.value;
	const attitude = attitudeAt(states, kmh);
	const near = nearest(states, kmh);
	const wet = near?.wetted.filter((w) => w.keel_mm > 0) ?? [];
	const words = [
		kmh < 0.05 ? "At rest" : `At ${kmh.toFixed(1)} km/h`,
		`bow ${attitude.trim_deg < 0 ? "down" : "up"} ${Math.abs(attitude.trim_deg).toFixed(1)}°`,
		`${attitude.heel_deg < 0 ? "port" : "starboard"} down ${Math.abs(attitude.heel_deg).toFixed(1)}°`,
		...wet.map((w) => `${w.surface} wet over ${w.keel_mm.toFixed(0)} mm`),
	].join(", ");
	const balance = shown.study.balance;
	const view = state.view.value;
	if (view !== "3D")
		return (
			<figure class="scene">
				<Views />
				<Drawing from={view} attitude={attitude} pose={near} />
				<figcaption aria-live="polite">{`${words}.`}</figcaption>
			</figure>
		);
	return (
		<Scene
			views={<Views />}
			hull={state.hull.value}
			cg={
				[balance.x, balance.y, balance.z].map((n) => (n.value ?? 0) / 1000) as [
					number,
					number,
					number,
				]
			}
			attitude={attitude}
			pose={near}
			words={`${words}.`}
		/>
	);
}

function Views() {
	return (
		<div class="views" role="group" aria-label="View">
			{state.VIEWS.map((view) => (
				<button
					type="button"
					key={view}
					aria-pressed={view === state.view.value}
					onClick={() => {
						state.view.value = view;
						state.keepInUrl();
					}}
				>
					{view}
				</button>
			))}
		</div>
	);
}
