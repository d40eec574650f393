import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import { answer, api } from "../api/client";
import type { Quantity } from "../api/types";
import { attempt } from "../desk";
import { capital } from "../pond/answers";
import { quantity } from "../pond/units";
import * as state from "../state";
import { best, halfWidth, show } from "../ui/format";
import { Mark, STANDINGS, type Standing } from "../ui/mark";
import { Take } from "../ui/take";
import "./builds.css";
import { ScoreCard } from "./card";
import { type Build, beside, changesBetween, differs, type Predicted } from "./compare";
import { MEASURED } from "./score";

const all = signal<{ folder: string; builds: Build[] } | null>(null);

const read = () =>
	attempt("looking at the builds", async () => {
		const got = await answer(api.GET("/api/builds"));
		all.value = { folder: state.session.value?.folder ?? "", builds: got.builds };
	});

/** Frozen builds of the boat: what changed, what was predicted, what happened. */
export default function Builds() {
	const folder = state.session.value?.folder ?? "";
	useEffect(() => void read(), [folder, state.returned.value]);
	const got = all.value;
	if (!got || got.folder !== folder) return <p class="busy start">Looking at the builds …</p>;
	const builds = got.builds.map((b) => (b.name == null ? { ...b, predicted: now() } : b));
	return (
		<div class="builds">
			<section aria-label="Keep a build">
				<h2>Builds</h2>
				<p class="quiet">
					A build freezes the saved boat, its meshes and what is predicted of it, with the reason.
					It is never changed afterwards.
				</p>
				<KeepOne />
				<ol class="build-list">
					{builds.map((b) => (
						<li key={b.name ?? ""}>
							<b>{called(b)}</b> {b.date && <span class="quiet">{b.date}</span>}
							{b.why && <p>{capital(b.why)}</p>}
							{b.name != null && b.changed.length > 0 && (
								<p class="quiet">
									{b.changed.length === 1 ? "one change" : `${b.changed.length} changes`} from the
									one before
								</p>
							)}
						</li>
					))}
				</ol>
			</section>
			<div>
				<ScoreCard builds={builds} />
				{builds.length > 1 ? (
					<>
						<Compare builds={builds} />
						<Over builds={builds} />
					</>
				) : (
					<p>
						{builds[0]?.name
							? `Nothing has changed since ${builds[0].name}. Change the boat and save it: what changed, and what that does, will stand here.`
							: "Keep a build before you change the boat: then what changed, and what came of it, stand here."}
					</p>
				)}
			</div>
		</div>
	);
}

const called = (b: Build) => b.name ?? "the boat as it is now";

/** Predictions of the saved boat, as they are in frozen builds. */
function now(): Predicted[] {
	const found = state.saved.value?.study.findings ?? [];
	return found.flatMap((f) =>
		f.number?.value != null && f.standing in STANDINGS
			? [{ id: f.id, standing: f.standing as Standing, number: f.number }]
			: [],
	);
}

function KeepOne() {
	const [why, setWhy] = useState("");
	const keep = () =>
		attempt("freezing the boat: predicting it once more, with its spreads", async () => {
			await answer(api.POST("/api/builds", { body: { why: why.trim() } }));
			setWhy("");
			await read();
		});
	const trying = state.isTrying.value;
	return (
		<form
			onSubmit={(e) => {
				e.preventDefault();
				void keep();
			}}
		>
			<label>
				Why it is kept, or what was changed for it
				<input
					value={why}
					maxLength={500}
					placeholder="wider pads: it would not plane"
					onInput={(e) => setWhy(e.currentTarget.value)}
				/>
			</label>
			{trying && (
				<p class="trying">
					◆ What you are trying out is not saved, and does not go into the build.
				</p>
			)}
			<button
				type="submit"
				class="main"
				disabled={why.trim() === "" || state.doing.value !== null || state.session.value?.read_only}
			>
				Keep this build
			</button>
		</form>
	);
}

function Choice(props: {
	label: string;
	value: number;
	builds: readonly Build[];
	choose: (i: number) => void;
}) {
	return (
		<label>
			{props.label}{" "}
			<select value={props.value} onChange={(e) => props.choose(Number(e.currentTarget.value))}>
				{props.builds.map((b, i) => (
					<option key={b.name ?? ""} value={i}>
						{called(b)}
					</option>
				))}
			</select>
		</label>
	);
}

/** Two builds side by side. */
function Compare({ builds }: { builds: readonly Build[] }) {
	const last = builds.length - 1;
	const [pair, setPair] = useState<[number, number]>([last - 1, last]);
	const [from, to] = [Math.min(...pair, last), Math.min(Math.max(...pair), last)];
	const [a, b] = [builds[from], builds[to]] as [Build, Build];
	const changes = changesBetween(builds, from, to);
	return (
		<section aria-label="Side by side">
			<div class="pair">
				<Choice
					label="From"
					value={pair[0]}
					builds={builds}
					choose={(i) => setPair([i, pair[1]])}
				/>
				<Choice label="to" value={pair[1]} builds={builds} choose={(i) => setPair([pair[0], i])} />
			</div>
			<h3>What changed</h3>
			{changes.length === 0 ? (
				<p>Nothing: boat file and meshes are the same.</p>
			) : (
				<Table label="What changed" head={["Key", called(a), called(b)]}>
					{changes.map((c) => (
						<tr key={c.key}>
							<th scope="row">{c.key}</th>
							<td>{c.before ?? "not given"}</td>
							<td>{c.after ?? "not given"}</td>
						</tr>
					))}
				</Table>
			)}
			<h3>What was predicted</h3>
			<Table label="What was predicted" head={["Number", called(a), called(b), "Difference"]}>
				{beside(a, b).map((row) => (
					<tr key={row.id}>
						<th scope="row">{row.id.replaceAll("-", " ")}</th>
						<td>{row.a && <Figure of={row.a} />}</td>
						<td>{row.b && <Figure of={row.b} />}</td>
						<td>{row.a && row.b && differs(row.a.number, row.b.number)}</td>
					</tr>
				))}
			</Table>
			<h3>What was measured</h3>
			{[a, b].map((x) => (
				<div key={called(x)}>
					<b>{called(x)}</b>
					{x.measured.length === 0 ? (
						<p>Nothing yet: name the build in an outing's notes.</p>
					) : (
						<ul>
							{x.measured.map((m) => (
								<li key={m.says + m.outing}>
									{m.says} <span class="quiet">({m.outing})</span>
								</li>
							))}
						</ul>
					)}
				</div>
			))}
		</section>
	);
}

const Figure = ({ of }: { of: Predicted }) => (
	<>
		<Mark standing={of.standing} /> {show(of.number)}
	</>
);

function Table(props: { label: string; head: string[]; children: preact.ComponentChildren }) {
	return (
		// biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
		<div class="scroll" role="region" aria-label={props.label} tabIndex={0}>
			<table>
				<thead>
					<tr>
						{props.head.map((h) => (
							<th scope="col" key={h}>
								{h}
							</th>
						))}
					</tr>
				</thead>
				<tbody>{props.children}</tbody>
			</table>
		</div>
	);
}

const WIDE = 640;
const HIGH = 220;
const LEFT = 70;

const settled = (q: Quantity) => ({ unit: q.unit, value: best(q), spread: halfWidth(q) });

/** One predicted number over the builds, with what was measured of it. */
function Over({ builds }: { builds: readonly Build[] }) {
	const ids = [...new Set(builds.flatMap((b) => b.predicted.map((p) => p.id)))];
	const [chosen, setChosen] = useState(ids.includes("top-speed") ? "top-speed" : (ids[0] ?? ""));
	const points = builds.flatMap((b, i) => {
		const p = b.predicted.find((p) => p.id === chosen);
		return p ? [{ i, ...settled(p.number) }] : [];
	});
	const kind = MEASURED[chosen];
	const measured = builds.flatMap((b, i) => {
		const of = b.measured
			.filter((m) => m.quantity.kind === kind)
			.map((m) => settled(quantity(m.quantity)));
		return of.filter((q) => q.unit === points[0]?.unit).map((q) => ({ i, ...q }));
	});
	if (points.length === 0) return null;
	const ends = [...points, ...measured].flatMap((q) => [q.value - q.spread, q.value + q.spread]);
	const [low, high] = [Math.min(...ends), Math.max(...ends)];
	const room = Math.max(0.08 * (high - low), 1e-6);
	const y = (v: number) => HIGH - 40 - ((v - low + room) / (high - low + 2 * room)) * (HIGH - 60);
	const x = (i: number) => LEFT + ((i + 0.5) / builds.length) * (WIDE - LEFT);
	const unit = points[0]?.unit ?? "";
	return (
		<section aria-label="Over the builds">
			<h3>Over the builds</h3>
			<label>
				Number{" "}
				<select value={chosen} onChange={(e) => setChosen(e.currentTarget.value)}>
					{ids.map((id) => (
						<option key={id} value={id}>
							{id.replaceAll("-", " ")}
						</option>
					))}
				</select>
			</label>
			<svg
				class="over"
				viewBox={`0 0 ${WIDE} ${HIGH}`}
				role="img"
				aria-label={points.map((p) => `${called(builds[p.i] as Build)} ${show(p)}`).join("; ")}
			>
				{[low, (low + high) / 2, high].map((v) => (
					<g key={v}>
						<line class="rule" x1={LEFT} x2={WIDE} y1={y(v)} y2={y(v)} />
						<text x={LEFT - 6} y={y(v) + 4} text-anchor="end">
							{show({ value: v, spread: 0, unit })}
						</text>
					</g>
				))}
				{points.map((p) => (
					<g key={p.i} class="predicted">
						<rect
							x={x(p.i) - 14}
							width={28}
							y={y(p.value + p.spread)}
							height={Math.max(2, y(p.value - p.spread) - y(p.value + p.spread))}
						/>
						<path d={`M${x(p.i) - 14} ${y(p.value)}h28`} />
						<text x={x(p.i)} y={HIGH - 16} text-anchor="middle">
							{p.i === builds.length - 1 ? "now" : (builds[p.i]?.name?.split("-")[0] ?? "")}
						</text>
					</g>
				))}
				{measured.map((q, n) => (
					<circle
						key={`${q.i}${q.value}`}
						class="happened"
						cx={x(q.i) + 18 + 3 * (n % 5)}
						cy={y(q.value)}
						r={4}
					/>
				))}
			</svg>
			<p class="quiet">
				Open boxes: predicted, with the spread. Filled dots: measured on outings with that build.
			</p>
			<Take
				name={`builds-${chosen}`}
				picture="svg.over"
				rows={[
					["build", "what", unit, "±"],
					...points.map((p) => [called(builds[p.i] as Build), "predicted", p.value, p.spread]),
					...measured.map((q) => [called(builds[q.i] as Build), "measured", q.value, q.spread]),
				]}
			/>
		</section>
	);
}
