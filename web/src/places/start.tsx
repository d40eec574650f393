import type { FunctionComponent } from "preact";
import { useEffect, useState } from "preact/hooks";
import { answer, api } from "../api/client";
import type { Demo, Starter } from "../api/types";
import { attempt, open } from "../desk";
import * as state from "../state";

/** With no boat open: a mesh of one's own, a starter hull, or a demonstration boat. */
export function Start() {
	const [demos, setDemos] = useState<Demo[]>([]);
	const [starters, setStarters] = useState<Starter[]>([]);
	const [mesh, setMesh] = useState<File | null>(null);
	const [sizing, setSizing] = useState(false);
	useEffect(() => {
		void attempt("looking", async () => {
			setStarters(await answer(api.GET("/api/starters")));
			const found = await answer(api.GET("/api/demos"));
			setDemos([...found].sort((a, b) => Number(a.fault) - Number(b.fault)));
		});
	}, []);
	const fromMesh = (file: File | undefined) => {
		if (!file) return;
		const most = state.session.value?.most_mesh_bytes ?? Number.POSITIVE_INFINITY;
		if (file.size > most) {
			const mb = (bytes: number) => `${(bytes / (1 << 20)).toFixed(0)} MB`;
			state.fault.value = {
				message: `${file.name} has ${mb(file.size)}; a mesh may have ${mb(most)}.`,
				hint: "A hull needs no more than a few hundred thousand triangles: reduce them where it was drawn.",
				problems: [],
			};
			return;
		}
		setMesh(file);
	};
	if (mesh)
		return (
			<div class="start">
				<Later
					load={() => import("./mesh")}
					with={{ file: mesh, starters, onGone: () => setMesh(null) }}
				/>
			</div>
		);
	return (
		<div class="start">
			<p>
				Will it float, will it plane, how fast, and what is wrong with it? Drop the hull you drew,
				or look at a boat that is here already.
			</p>
			<h2>Your own hull</h2>
			<label
				class="drop"
				onDragOver={(e) => e.preventDefault()}
				onDrop={(e) => {
					e.preventDefault();
					fromMesh(e.dataTransfer?.files[0]);
				}}
			>
				Drop an STL, 3MF or OBJ here, or choose one
				<input
					type="file"
					accept=".stl,.3mf,.obj"
					onChange={(e) => fromMesh(e.currentTarget.files?.[0])}
				/>
			</label>
			<details class="sizing" onToggle={(e) => setSizing(sizing || e.currentTarget.open)}>
				<summary>
					<b>No hull yet?</b> Have one sized for what you carry
				</summary>
				{sizing && <Later load={() => import("./size")} with={{ starters }} />}
			</details>
			<h2>A demonstration boat</h2>
			<ul class="cards">
				{demos.map((d) => (
					<li key={d.id}>
						<button
							type="button"
							onClick={() =>
								open(() =>
									answer(api.POST("/api/demos/{name}", { params: { path: { name: d.id } } })),
								)
							}
						>
							<b>{d.name}</b>
							{d.fault && " (spoilt on purpose)"}
							<span class="says">{d.says.replace(`${d.name}: `, "")}</span>
						</button>
					</li>
				))}
			</ul>
			<h2>A starter hull</h2>
			<ul class="cards">
				{starters.map((s) => (
					<li key={s.hull}>
						<button
							type="button"
							onClick={() =>
								open(() =>
									answer(api.POST("/api/boats", { body: { name: `My ${s.hull}`, hull: s.hull } })),
								)
							}
						>
							<b>{s.hull}</b>
							<span class="says">{s.says}</span>
						</button>
					</li>
				))}
			</ul>
		</div>
	);
}

interface Lately<P> {
	load: () => Promise<{ default: FunctionComponent<P> }>;
	with: P;
}

/** What is not needed at the start comes when it is. */
function Later<P extends object>({ load, with: props }: Lately<P>) {
	const [got, setGot] = useState<{ Content: FunctionComponent<P> } | null>(null);
	useEffect(() => {
		let gone = false;
		load()
			.then((m) => !gone && setGot({ Content: m.default }))
			.catch(() => {
				state.away.value ??= "gone";
			});
		return () => {
			gone = true;
		};
	}, []);
	return got ? <got.Content {...props} /> : <p class="busy">Loading …</p>;
}
