// A builder's own mesh before a boat is made of it: how it is read, a way to turn it, and what matters most.
import { useEffect, useRef, useState } from "preact/hooks";
import { answer, api, Refused, whole } from "../api/client";
import type { components } from "../api/schema";
import type { Edit, Starter } from "../api/types";
import { edit, open, save, tell } from "../desk";
import { length, planform, profile } from "../scene/outline";
import * as state from "../state";
import { outOf, system, unitOf } from "../ui/units";
import { useWidth } from "../ui/width";
import { flipped, quarter, reversed, rolled } from "./turn";
import "./start.css";

type Look = components["schemas"]["MeshLook"];

/** As the program is asked to read it; what is empty it finds by itself. */
interface Said {
	unit: string;
	forward: string;
	up: string;
	hull: string;
}

/** What matters most: told to whoever fits it out, or written into the file afterwards. */
interface Matter {
	label: string;
	unit?: string;
	hint: string;
	/** Of the form that makes the boat. */
	field?: string;
	/** Of the boat file. */
	path?: string[];
	/** Of what was typed, in the program's own unit. */
	into?: (typed: number) => number;
}
const MATTERS: Matter[] = [
	{ label: "All-up mass", unit: "g", hint: "1200", field: "all_up_kg", into: (g) => g / 1000 },
	{ label: "Cells", hint: "3", field: "cells", into: Math.round },
	{
		label: "Capacity of the pack",
		unit: "mAh",
		hint: "2200",
		path: ["drive", "0", "battery", "capacity"],
	},
	{ label: "Motor's kv", unit: "rpm/V", hint: "3200", path: ["drive", "0", "motor", "kv"] },
	{
		label: "Propeller, diameter",
		unit: "mm",
		hint: "36",
		path: ["drive", "0", "propeller", "diameter"],
	},
	{
		label: "Top speed wished for",
		unit: "km/h",
		hint: "55",
		field: "speed_m_s",
		path: ["wishes", "speed"],
		into: (kmh) => kmh / 3.6,
	},
];

interface Props {
	file: File;
	starters: readonly Starter[];
	onGone: () => void;
}

export default function OwnMesh({ file, starters, onGone }: Props) {
	const [said, setSaid] = useState<Said>({ unit: "", forward: "", up: "", hull: "" });
	const [look, setLook] = useState<Look | null>(null);
	const [busy, setBusy] = useState(true);
	const [name, setName] = useState(file.name.replace(/\.[^.]*$/, ""));
	const [told, setTold] = useState<Record<string, string>>({});
	const first = useRef<HTMLHeadingElement>(null);
	useEffect(() => first.current?.focus(), []);
	useEffect(() => {
		let gone = false;
		setBusy(true);
		whole<Look>(
			api.POST("/api/meshes/look", { body: sent(file, said) as never, bodySerializer: (b) => b }),
		)
			.then((now) => {
				if (!gone) setLook(now);
				state.fault.value = null;
			})
			.catch((e) => {
				if (!(e instanceof Refused)) throw e;
				if (gone) return;
				tell(e);
				if (!look) onGone();
			})
			.finally(() => !gone && setBusy(false));
		return () => {
			gone = true;
		};
	}, [file, said.unit, said.forward, said.up]);
	if (!look) return <p class="busy">Reading {file.name} …</p>;
	const hull = said.hull || look.hull || "";
	const turn = (how: (forward: string, up: string) => [string, string]) => {
		const [forward, up] = how(look.forward, look.up);
		setSaid({ ...said, forward, up });
	};
	const begin = async () => {
		const body = sent(file, { ...said, hull: said.hull });
		body.append("name", name);
		MATTERS.forEach((m, i) => {
			const typed = number(told[i]);
			if (m.field && m.into && typed !== null)
				body.append(m.field, String(m.into(outOf(typed, m.unit ?? ""))));
		});
		await open(() =>
			answer(api.POST("/api/boats/mesh", { body: body as never, bodySerializer: (b) => b })),
		);
		if (state.fault.value) return;
		const edits: Edit[] = MATTERS.flatMap((m, i) => {
			const text = (told[i] ?? "").trim().replace(",", ".");
			if (text === "" || !m.path) return [];
			const path = m.path.map((p) => (/^\d+$/.test(p) ? Number(p) : p));
			const value = m.unit && /^[\d.]+$/.test(text) ? `${text} ${unitOf(m.unit)}` : text;
			return [{ path, action: "set" as const, value }];
		});
		if (edits.length > 0) {
			await edit(edits, "what matters most");
			if (!state.fault.value) await save();
		}
		if (!state.fault.value)
			state.note.value = `${name} is in ${state.session.value?.folder}. What you did not tell was put in by common practice and is marked so under Fitted: give your own numbers there.`;
	};
	return (
		<section class="own-mesh" aria-label="Your own hull">
			<h2 ref={first} tabIndex={-1}>
				{file.name}, as it was read
			</h2>
			<Picture of={look} />
			<p>
				<b>
					{length(look.length_m)} long, {length(look.beam_m)} wide, {length(look.height_m)} high
				</b>
				; bow to the right. {look.surfaces.length > 0 && `It runs on ${list(look.surfaces)}.`}
			</p>
			<div class="turns" role="group" aria-label="Turn it">
				<button type="button" disabled={busy} onClick={() => turn(reversed)}>
					↔ Bow and stern swapped
				</button>
				<button type="button" disabled={busy} onClick={() => turn(flipped)}>
					↕ Deck down
				</button>
				<button type="button" disabled={busy} onClick={() => turn(rolled)}>
					⟳ On its side
				</button>
				<button type="button" disabled={busy} onClick={() => turn(quarter)}>
					⤾ Across: turn a quarter
				</button>
				<label>
					Unit{" "}
					<select
						value={said.unit}
						onChange={(e) => setSaid({ ...said, unit: e.currentTarget.value })}
					>
						<option value="">by its size</option>
						{["mm", "cm", "m", "in"].map((u) => (
							<option key={u}>{u}</option>
						))}
					</select>
				</label>
				<span class="quiet" role="status">
					{busy ? "reading …" : `in the file the bow points to ${look.forward}, up is ${look.up}`}
				</span>
			</div>
			{look.notices.length > 0 && (
				<ul>
					{look.notices.map((n) => (
						<li key={n.text} class={n.serious ? "mark watch" : undefined}>
							{n.serious && "▲ "}
							{n.text}
						</li>
					))}
				</ul>
			)}
			<form
				onSubmit={(e) => {
					e.preventDefault();
					void begin();
				}}
			>
				<label>
					Name
					<input value={name} maxLength={60} onInput={(e) => setName(e.currentTarget.value)} />
				</label>
				<label>
					What hull it is
					<select
						value={said.hull}
						onChange={(e) => setSaid({ ...said, hull: e.currentTarget.value })}
					>
						<option value="">{look.hull ? `${look.hull}, by its shape` : "choose one"}</option>
						{starters.map((s) => (
							<option key={s.hull}>{s.hull}</option>
						))}
					</select>
				</label>
				<fieldset>
					<legend>What matters most; leave out what you do not know</legend>
					{MATTERS.map((m, i) => (
						<label key={m.label}>
							{m.label}
							{m.unit && `, ${unitOf(m.unit)}`}
							<input
								value={told[i] ?? ""}
								placeholder={
									system.value === "inch" && m.unit !== unitOf(m.unit ?? "")
										? ""
										: `such as ${m.hint}`
								}
								onInput={(e) => setTold({ ...told, [i]: e.currentTarget.value })}
							/>
						</label>
					))}
				</fieldset>
				<button type="submit" class="main" disabled={busy || hull === "" || name.trim() === ""}>
					Start with this hull
				</button>{" "}
				<button type="button" onClick={onGone}>
					Another file
				</button>
			</form>
		</section>
	);
}

/** A decimal comma is a point, and `3S` is three. */
function number(text: string | undefined): number | null {
	const read = Number.parseFloat((text ?? "").replace(",", "."));
	return Number.isFinite(read) ? read : null;
}

function sent(file: File, said: Said): FormData {
	const form = new FormData();
	for (const [key, value] of Object.entries(said)) if (value) form.append(key, value);
	form.append("file", file, file.name);
	return form;
}

const list = (names: readonly string[]) =>
	names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;

/** From the side over from above, to one scale, bow to the right. */
function Picture({ of }: { of: Look }) {
	const [box, wide] = useWidth();
	const [side, plan] = [profile(of), planform(of)];
	const range = (points: readonly (readonly number[])[], axis: 0 | 1) => {
		const all = points.map((p) => p[axis] ?? 0);
		return [Math.min(...all), Math.max(...all)] as const;
	};
	const [x0, x1] = range(side, 0);
	const [z0, z1] = range(side, 1);
	const [y0, y1] = range(plan, 1);
	const scale = Math.min(
		(wide - 130) / Math.max(x1 - x0, 1e-6),
		260 / Math.max(z1 - z0 + y1 - y0, 1e-6),
	);
	const x = (m: number) => 50 + (m - x0) * scale;
	const floor = 26 + (z1 - z0) * scale;
	const middle = floor + 30 + ((y1 - y0) / 2) * scale;
	const path = (points: readonly (readonly number[])[], at: (v: number) => number) =>
		`M${points.map((p) => `${x(p[0] ?? 0).toFixed(1)} ${at(p[1] ?? 0).toFixed(1)}`).join("L")}Z`;
	return (
		<div class="as-read" ref={box}>
			<svg
				width={wide}
				height={middle + ((y1 - y0) / 2) * scale + 16}
				role="img"
				aria-label={`The hull from the side and from above, ${length(of.length_m)} long, bow to the right`}
			>
				<path class="hull" d={path(side, (z) => floor - (z - z0) * scale)} />
				<path class="hull" d={path(plan, (y) => middle - (y - (y0 + y1) / 2) * scale)} />
				<text x={4} y={floor - 4}>
					side
				</text>
				<text x={4} y={middle + 4}>
					above
				</text>
				<text x={x(x1) + 10} y={floor - 4}>
					bow →
				</text>
				<text x={x(x1) + 10} y={middle + 4}>
					bow →
				</text>
				<path class="measure" d={`M${x(x0)} 10h${(x1 - x0) * scale}m0 -5v10M${x(x0)} 5v10`} />
				<text x={x((x0 + x1) / 2)} y={22} text-anchor="middle">
					{length(of.length_m)}
				</text>
			</svg>
		</div>
	);
}
