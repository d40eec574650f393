// The boat in the water as the rail's speed has it, and what may be shown of it.
import { useMemo } from "preact/hooks";
import type { Form, Pose } from "../api/types";
import { inWords as speedWords } from "../rail/axis";
import * as state from "../state";
import { Take } from "../ui/take";
import { Drawing } from "./drawing";
import { length } from "./outline";
import { flow, flows } from "./passing";
import { type Attitude, along, attitudeAt, nearest, type Point } from "./pose";
import { resets, Scene } from "./scene";

export function Afloat() {
	const shown = state.shown.value;
	const saved = state.tried.value ? state.saved.value : null;
	const states = useMemo(() => (shown ? along(shown.poses) : []), [shown?.poses]);
	const before = useMemo(() => (saved ? along(saved.poses) : []), [saved?.poses]);
	if (!shown) return null;
	const kmh = state.at.value;
	const others = near(shown.poses.others, states, kmh);
	const other = state.otherWay.value ? others[0] : undefined;
	const pose = other ?? nearest(states, kmh);
	const attitude = other ?? attitudeAt(states, kmh);
	const words = described(other?.speed_km_h ?? kmh, attitude, pose);
	const balance = shown.study.balance;
	const cg = [balance.x, balance.y, balance.z].map((n) => (n.value ?? 0) / 1000) as Point;
	const view = state.view.value;
	const form = state.savedForm.value;
	const ghost = saved && form ? { form, attitude: attitudeAt(before, kmh) } : null;
	return (
		<figure class="scene">
			<div class="stage">
				{view === "3D" ? (
					<Scene
						hull={state.hull.value}
						form={state.form.value}
						saved={ghost}
						shown={{ parts: state.parts.value, sizes: state.sizes.value, cut: state.cut.value }}
						cg={cg}
						attitude={attitude}
						pose={pose}
						speed_m_s={(other?.speed_km_h ?? kmh) / 3.6}
						words={words}
					/>
				) : (
					<Drawing from={view} attitude={attitude} pose={pose} saved={ghost} />
				)}
				<div class="overlay upper">
					<Views />
				</div>
				<div class="overlay lower">
					<figcaption>{words}</figcaption>
					{others.length > 0 && (
						<button
							type="button"
							aria-pressed={state.otherWay.value}
							onClick={() => (state.otherWay.value = !state.otherWay.value)}
						>
							◇ {state.otherWay.value ? "As it comes up from rest" : "Its other attitude here"}
						</button>
					)}
				</div>
			</div>
		</figure>
	);
}

/** Other ways to run that belong to this speed: nearer than the states of the curve are to each other. */
function near(others: readonly Pose[], states: readonly Pose[], kmh: number): Pose[] {
	const top = states.at(-1)?.speed_km_h ?? 1;
	const reach = (3 * top) / Math.max(states.length, 8);
	const away = (p: Pose) => Math.abs(p.speed_km_h - kmh);
	return others.filter((p) => away(p) < reach).sort((a, b) => away(a) - away(b));
}

function described(kmh: number, attitude: Attitude, pose: Pose | undefined): string {
	const wet = pose?.wetted.filter((w) => w.keel_mm > 0) ?? [];
	const words = [
		kmh < 0.05 ? "At rest" : `At ${speedWords(kmh)}`,
		`bow ${attitude.trim_deg < 0 ? "down" : "up"} ${Math.abs(attitude.trim_deg).toFixed(1)}°`,
		`${attitude.heel_deg < 0 ? "port" : "starboard"} down ${Math.abs(attitude.heel_deg).toFixed(1)}°`,
		...wet.map((w) => `${w.surface} wet over ${length(w.keel_mm / 1000)}`),
	];
	return `${words.join(", ")}.`;
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
			{state.view.value === "3D" && (
				<>
					<Tick of={state.parts}>parts</Tick>
					<Tick of={state.sizes}>sizes</Tick>
					<label class="tick" title="The water passes at the boat's speed">
						<input
							type="checkbox"
							checked={flows.value}
							onChange={(e) => flow(e.currentTarget.checked)}
						/>{" "}
						flow
					</label>
					<button type="button" onClick={() => resets.value++}>
						Reset view
					</button>
				</>
			)}
			<Aids />
			<Take
				name={`boat-${state.view.value}`}
				picture=".stage > canvas, .stage > .sheet"
				before={() => window.dispatchEvent(new Event("beforeprint"))}
			/>
		</div>
	);
}

function Tick({ of, children }: { of: typeof state.parts; children: string }) {
	return (
		<label class="tick">
			<input
				type="checkbox"
				checked={of.value}
				onChange={(e) => (of.value = e.currentTarget.checked)}
			/>{" "}
			{children}
		</label>
	);
}

/** The cut: along the hull from section to section, with the section itself beside it. */
function Aids() {
	const form = state.form.value;
	if (!form) return null;
	const at = state.cut.value;
	const section = at === null ? undefined : form.sections[at];
	return (
		<span class="aids">
			<label class="tick">
				<input
					type="checkbox"
					checked={at !== null}
					onChange={(e) =>
						(state.cut.value = e.currentTarget.checked
							? Math.floor(form.sections.length / 2)
							: null)
					}
				/>{" "}
				cut
			</label>
			{at !== null && section && (
				<>
					<label>
						<span>at {length(section.x_m)}</span>{" "}
						<input
							type="range"
							min={0}
							max={form.sections.length - 1}
							step={1}
							value={at}
							aria-valuetext={`${length(section.x_m)} ahead of the transom`}
							onInput={(e) => (state.cut.value = Number(e.currentTarget.value))}
						/>
					</label>
					<Section form={form} at={at} />
				</>
			)}
		</span>
	);
}

/** One cross-section seen from ahead, with the parts it goes through. */
function Section({ form, at }: { form: Form; at: number }) {
	const section = form.sections[at];
	if (!section) return null;
	const [low, high] = form.bounds_m as [number[], number[]];
	const [y0, z0, y1, z1] = [low[1] ?? 0, low[2] ?? 0, high[1] ?? 0, high[2] ?? 0];
	const edge = 0.04 * (y1 - y0);
	const through = form.parts.filter(
		(p) =>
			p.at_path.length > 0 &&
			Math.abs((p.at_m[0] ?? 0) - section.x_m) <= Math.max((p.size_m[0] ?? 0) / 2, 0.005),
	);
	return (
		<svg
			class="sheet slice"
			viewBox={`${y0 - edge} ${-z1 - edge} ${y1 - y0 + 2 * edge} ${z1 - z0 + 2 * edge}`}
			role="img"
			aria-label={`Section ${length(section.x_m)} ahead of the transom${through.map((p) => `, through ${p.name}`).join("")}`}
		>
			{section.lines_m.map((line) => (
				<path
					class="section chosen"
					key={String(line[0])}
					d={`M${line.map((p) => `${p[0]} ${-(p[1] ?? 0)}`).join("L")}Z`}
				/>
			))}
			{through.map((p) => {
				const [w, h] = [p.size_m[1] || 0.014, p.size_m[2] || 0.014];
				return (
					<g class="piece" key={p.name}>
						<title>{p.name}</title>
						<rect x={(p.at_m[1] ?? 0) - w / 2} y={-(p.at_m[2] ?? 0) - h / 2} width={w} height={h} />
					</g>
				);
			})}
		</svg>
	);
}
