import { useEffect, useState } from "preact/hooks";
import type { Key, Problem, Step, Table } from "../api/types";
import { edit } from "../desk";
import * as state from "../state";
import { say, unitOf } from "../ui/units";
import { bareUnit, parsed, quantity, shownAs, text } from "./entry";
import { first, GROUPS, labelled, plain, titled } from "./words";
import "./fitted.css";
import { called, first as measured, readWorth, worthOf } from "./worth";

/** What is fitted and what it is like, in groups a builder has in hand. */
export default function Fitted() {
	const [all, setAll] = useState(false);
	const boat = state.boat.value;
	const full = state.shown.value?.study.full;
	const revision = state.shown.value?.study.revision;
	useEffect(() => {
		if (full) void readWorth();
	}, [full, revision]);
	if (!boat) return null;
	const mesh = boat.tables.some((t) =>
		t.keys.some((k) => k.path.join("/") === "hull/file" && k.written),
	);
	const few = boat.tables.flatMap((t) => t.keys).filter((k) => first(k, mesh));
	const tables = boat.tables
		.filter((t) => t.present || all)
		.map((t) => ({ ...t, keys: t.keys.filter((k) => !few.includes(k)) }));
	const groups = GROUPS.map(({ title, has }, i) => ({
		title,
		tables: tables.filter((t) => has(t) && !GROUPS.slice(0, i).some((g) => g.has(t))),
	}));
	return (
		<section class="fitted" aria-label="Fitted">
			<h2>Fitted</h2>
			<Sum />
			<p class="quiet">
				A number without a unit means the one shown; a tolerance may stand behind it: 38 ± 1.
				Nothing reaches your file until you save.
			</p>
			<label class="tick">
				<input type="checkbox" checked={all} onChange={(e) => setAll(e.currentTarget.checked)} />{" "}
				Show what else could be told
			</label>
			<details open>
				<summary>
					<b>What matters most</b>
				</summary>
				<fieldset>
					<legend>How the mesh was read, and what drives it</legend>
					{few.map((k) => (
						<KeyRow key={k.path.join("/")} of={k} problems={boat.problems} within />
					))}
				</fieldset>
			</details>
			{groups
				.filter((g) => g.tables.length > 0)
				.map((g, i) => (
					<details key={g.title} open={i < 2}>
						<summary>
							<b>{g.title}</b>
						</summary>
						{g.title === "On the scale" ? (
							<Scale tables={g.tables} problems={boat.problems} all={all} />
						) : (
							g.tables.map((t) => (
								<OneTable key={t.path.join("/")} of={t} problems={boat.problems} all={all} />
							))
						)}
					</details>
				))}
		</section>
	);
}

/** All of it against what the hull floats, and what nobody told. */
function Sum() {
	const study = state.shown.value?.study;
	if (!study) return null;
	const assumed = study.assumptions;
	return (
		<>
			<p>
				<b>{say(study.mass)}</b> all-up; the whole hull floats {say(study.floats)}.
			</p>
			<First />
			{assumed.length > 0 && (
				<details>
					<summary>{assumed.length} numbers are assumed: nobody told them</summary>
					<ul>
						{assumed.map((a) => (
							<li key={a.what}>
								{plain(a.what)}: {say(a.number)} <span class="quiet">({plain(a.why)})</span>
							</li>
						))}
					</ul>
				</details>
			)}
		</>
	);
}

/** What a number is called in this list; as the program calls it where it stands deeper. */
function inHand(what: string): string {
	for (const t of state.boat.value?.tables ?? []) {
		const key = t.keys.find((k) => called(what, k.path));
		if (key) return `${titled(t)}, ${labelled(key.name).toLowerCase()}`;
	}
	return plain(what);
}

/** Numbers nobody told that move the answers most: a list, since some stand deep in the file. */
function First() {
	const list = measured();
	if (list.length === 0) return null;
	return (
		<div class="measure-first">
			<p>
				<b class="mark watch">▲ Measure this first</b>
			</p>
			<ul>
				{list.map((w) => (
					<li key={w.what}>
						{inHand(w.what)}: it alone makes {percent(w.share)} of how unsure {w.moves} is
					</li>
				))}
			</ul>
		</div>
	);
}

interface Props {
	problems: readonly Problem[];
	all: boolean;
}

const wanted = (k: Key, all: boolean) =>
	k.form.what !== "table" &&
	!isPutIn(k) &&
	(k.written != null || all || k.required || worthOf(k.path) !== undefined);

/** The mark of what common practice put in. */
const isPutIn = (k: Key) => k.name === "assumed" && k.form.what === "flag";

/** Nobody told what stands in this table; a press says that it is true. */
function PutIn({ of: t }: { of: Table }) {
	const mark = t.keys.find((k) => isPutIn(k) && k.written === true);
	if (!mark) return null;
	return (
		<p class="put-in">
			<span class="mark unsure">◇ put in by common practice</span>{" "}
			<button
				type="button"
				aria-label={`${titled(t)}: these are my numbers`}
				onClick={() => change(mark, "")}
			>
				These are my numbers
			</button>
		</p>
	);
}

function OneTable({ of: t, problems, all }: Props & { of: Table }) {
	return (
		<fieldset>
			<legend>{titled(t)}</legend>
			<PutIn of={t} />
			{t.keys
				.filter((k) => wanted(k, all))
				.map((k) => (
					<KeyRow key={k.path.join("/")} of={k} problems={problems} />
				))}
		</fieldset>
	);
}

/** What is carried: a line each with its mass and its place. */
function Scale({ tables, problems, all }: Props & { tables: Table[] }) {
	return (
		<>
			{tables.map((t) => {
				const key = (name: string) => t.keys.find((k) => k.name === name);
				const [mass, at] = [key("mass"), key("at")];
				if (!mass || !at)
					return <OneTable key={t.path.join("/")} of={t} problems={problems} all={all} />;
				const name = titled(t);
				return (
					<fieldset key={t.path.join("/")} class="carried">
						<legend>{name}</legend>
						<PutIn of={t} />
						<MeasureFirst path={mass.path} />
						<MeasureFirst path={at.path} />
						<div class="four">
							<Small of={mass} label={`Mass of ${name}`} head={unitOf("g")} />
							<Place of={at} name={name} />
						</div>
						<Problems of={mass} problems={problems} />
						<Problems of={at} problems={problems} />
						{all &&
							t.keys
								.filter((k) => !["name", "mass", "at"].includes(k.name) && !isPutIn(k))
								.map((k) => <KeyRow key={k.path.join("/")} of={k} problems={problems} />)}
					</fieldset>
				);
			})}
		</>
	);
}

/** Beside a number nobody told that moves the answers most. */
function MeasureFirst({ path }: { path: Key["path"] }) {
	const worth = worthOf(path);
	if (!worth) return null;
	return (
		<span
			class="mark watch first"
			title={`It alone makes ${percent(worth.share)} of how unsure ${worth.moves} is`}
		>
			▲ measure this first
			<span class="quiet">
				{" "}
				({percent(worth.share)} of how unsure {worth.moves} is)
			</span>
		</span>
	);
}

const percent = (share: number | null | undefined) => `${(100 * (share ?? 0)).toFixed(0)} %`;

const change = (k: Key, value: unknown) => {
	const path = k.path as Step[];
	void edit([value === "" ? { path, action: "remove" } : { path, action: "set", value }]);
};

function Small({ of: k, label, head }: { of: Key; label: string; head: string }) {
	const written = text(k.written);
	const now = shownAs(written);
	return (
		<label>
			<span class="quiet">{head}</span>
			<input
				aria-label={label}
				value={now}
				onChange={(e) => {
					const typed = e.currentTarget.value;
					if (typed !== now) change(k, quantity(k, typed, written));
				}}
			/>
		</label>
	);
}

const WAYS = ["ahead", "to port", "up"];

/** Three lengths, each by itself. */
function Place({ of: k, name }: { of: Key; name: string }) {
	const written = Array.isArray(k.written) ? k.written.map(String) : ["", "", ""];
	return (
		<>
			{WAYS.map((way, i) => {
				const own = written[i] ?? "";
				const now = shownAs(own);
				return (
					<label key={way}>
						<span class="quiet">{way}</span>
						<input
							aria-label={`${name} ${way}`}
							value={now}
							onChange={(e) => {
								const typed = e.currentTarget.value;
								if (typed === now) return;
								const next = [...written];
								next[i] = String(quantity(k, typed, own));
								change(k, next);
							}}
						/>
					</label>
				);
			})}
		</>
	);
}

function Problems({ of: k, problems }: { of: Key; problems: readonly Problem[] }) {
	const here = k.line > 0 ? problems.filter((p) => p.line === k.line) : [];
	return (
		<>
			{here.map((p) => (
				<span class="problem" role="alert" key={p.text}>
					{p.warning ? "▲" : "✗"} {plain(p.text)}. {plain(p.hint)}
				</span>
			))}
		</>
	);
}

interface Row {
	of: Key;
	problems: readonly Problem[];
	/** Of several things, told with whose it is. */
	within?: boolean;
}

function KeyRow({ of: k, problems, within }: Row) {
	const id = `key-${k.path.join("-").replaceAll(/[^a-zA-Z0-9-]/g, "_")}`;
	const here = k.line > 0 ? problems.filter((p) => p.line === k.line) : [];
	const written = text(k.written);
	const now = k.form.what === "quantity" ? shownAs(written) : written;
	const take = (typed: string) => {
		if (typed === now) return;
		change(k, typed.trim() === "" ? "" : parsed(k, typed, written));
	};
	const hint = k.assumed ? `${plain(k.assumed)} assumed` : "not told";
	const unit = k.form.what === "quantity" ? unitOf(bareUnit(k, written)) : "";
	const about = [
		plain(k.doc),
		k.form.range ? `Between ${k.form.range}.` : "",
		unit ? `A number alone is in ${unit}.` : "",
		k.why ? `Assumed: ${plain(k.why)}.` : "",
	];
	return (
		<div class="key">
			<label for={id}>
				<MeasureFirst path={k.path} />
				{within && k.path[0] === "drive" && `${titled({ path: k.path.slice(0, -1) })}: `}
				{within && k.path[0] === "drive" ? labelled(k.name).toLowerCase() : labelled(k.name)}
			</label>
			{k.form.what === "choice" ? (
				<select id={id} value={written} onChange={(e) => take(e.currentTarget.value)}>
					{written === "" && <option value="">{hint}</option>}
					{k.form.words.map((w) => (
						<option key={w}>{w}</option>
					))}
				</select>
			) : (
				<input
					id={id}
					value={now}
					placeholder={hint}
					aria-describedby={`${id}-about`}
					aria-invalid={here.some((p) => !p.warning)}
					onChange={(e) => take(e.currentTarget.value)}
				/>
			)}
			<span class="quiet" id={`${id}-about`}>
				{about.filter(Boolean).join(" ")}
			</span>
			<Problems of={k} problems={problems} />
		</div>
	);
}
