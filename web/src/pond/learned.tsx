import { useEffect, useState } from "preact/hooks";
import { answer, api, Refused } from "../api/client";
import type { AnswerOf, Quantity, Refusal } from "../api/types";
import { work } from "../api/work";
import { attempt, readAfresh } from "../desk";
import * as state from "../state";
import { best, halfWidth, show } from "../ui/format";
import { capital, Unusable } from "./answers";
import { measure, measured, outing } from "./outing";

type Learned = AnswerOf<"learn">;
type Row = Learned["rows"][number];
type Told = Learned["instruments"]["speed"];

/** Measured beside predicted, what that teaches, and what it cannot tell. */
export function Beside() {
	const id = outing.value?.id ?? "";
	const ready = measured.value !== null;
	const [got, setGot] = useState<Learned | null>(null);
	const [fault, setFault] = useState<Refusal | null>(null);
	useEffect(() => {
		setGot(null);
		setFault(null);
		if (!ready) return;
		const stop = new AbortController();
		work("learn", { outing: [id] }, { stop: stop.signal })
			.then(setGot)
			.catch((e: unknown) => {
				if (e instanceof Refused) setFault(e.refusal);
				else if (!stop.signal.aborted) throw e;
			});
		return () => stop.abort();
	}, [id, ready, measured.value]);
	return (
		<section aria-label="Measured beside predicted" class="beside-predicted">
			<h3>Measured beside predicted</h3>
			{!ready ? (
				<>
					<p>Measure the recordings first; then they are held against the boat as predicted.</p>
					<button type="button" class="main" onClick={measure}>
						Measure all
					</button>
				</>
			) : fault ? (
				<Unusable why={fault} />
			) : got ? (
				<Told of={got} keep={setGot} />
			) : (
				<p class="busy" role="status">
					running the boat again and again to see what fits …
				</p>
			)}
		</section>
	);
}

function Told({ of, keep }: { of: Learned; keep: (l: Learned) => void }) {
	return (
		<>
			<p class="quiet">
				Each with its 95 % interval.{" "}
				{of.build ? `The boat that ran: ${of.build}.` : "The boat as it is now."}{" "}
				{measured.value?.invented && "These recordings are invented, not taken on the water."}
			</p>
			<Key />
			<ul class="rows">
				{of.rows.map((r) => (
					<li key={`${r.quantity}${r.from}`}>
						<Compared row={r} />
					</li>
				))}
			</ul>
			<Instruments of={of} />
			<Taught of={of} />
			<Keep of={of} keep={keep} />
			{of.passed_over.length > 0 && (
				<details>
					<summary>{of.passed_over.length} values are not held against the model</summary>
					<ul>
						{of.passed_over.map((p) => (
							<li key={`${p.quantity}${p.from}${p.measured.value}`}>
								{p.quantity} {show(p.measured)} by {p.from}: {p.why}
							</li>
						))}
					</ul>
				</details>
			)}
		</>
	);
}

const WIDE = 520;
const HIGH = 54;

/** What the shapes stand for. */
function Key() {
	const one = (shape: "dot" | "box" | "diamond", words: string) => (
		<span>
			<svg viewBox="0 0 40 24" width={40} height={24} aria-hidden="true">
				<Whisker y={12} x={20} from={6} to={34} shape={shape} />
			</svg>{" "}
			{words}
		</span>
	);
	return (
		<p class="compared-key">
			{one("dot", "measured")} {one("box", "predicted")}{" "}
			{one("diamond", "predicted after learning")}
		</p>
	);
}

function Whisker(props: {
	x: number;
	from: number;
	to: number;
	y: number;
	shape: "dot" | "box" | "diamond";
}) {
	const { x, from, to, y, shape } = props;
	return (
		<g class={`whisker ${shape}`}>
			{shape === "box" ? (
				<rect x={from} y={y - 6} width={Math.max(2, to - from)} height={12} />
			) : (
				<path d={`M${from} ${y}H${to}M${from} ${y - 4}v8M${to} ${y - 4}v8`} />
			)}
			{shape === "dot" && <circle cx={x} cy={y} r={5} />}
			{shape === "box" && <path d={`M${x} ${y - 6}v12`} />}
			{shape === "diamond" && <path class="diamond" d={`M${x - 6} ${y}l6-6 6 6-6 6z`} />}
		</g>
	);
}

/** How far apart two are, in words. */
export function apartWords(apart: number): string {
	const far = Math.abs(apart);
	const way = apart > 0 ? "more measured" : "less measured";
	if (far < 2) return `within what both allow (${far.toFixed(1)} standard errors ${way})`;
	return `▲ not explained by either spread (${far.toFixed(1)} standard errors ${way})`;
}

function Compared({ row: r }: { row: Row }) {
	const all = [r.measured, r.predicted, r.after];
	const low = Math.min(...all.map((q) => best(q) - halfWidth(q)));
	const high = Math.max(...all.map((q) => best(q) + halfWidth(q)));
	const room = Math.max(0.05 * (high - low), 1e-9);
	const x = (v: number) => 10 + ((v - low + room) / (high - low + 2 * room)) * (WIDE - 20);
	const one = (q: Quantity, y: number, shape: "dot" | "box" | "diamond") => (
		<Whisker
			x={x(best(q))}
			from={x(best(q) - halfWidth(q))}
			to={x(best(q) + halfWidth(q))}
			y={y}
			shape={shape}
		/>
	);
	return (
		<>
			<p>
				<b>
					{capital(r.quantity)} {show(r.measured)}
				</b>{" "}
				by {r.from}; predicted {show(r.predicted)}: {apartWords(r.apart)}. After learning{" "}
				{show(r.after)}.{r.assumed && <span class="quiet"> {capital(r.assumed)}.</span>}
				{r.weight < 0.9 && (
					<span class="quiet">
						{" "}
						It counts {Math.round(100 * r.weight)} % in the fit: it does not fit the rest.
					</span>
				)}
			</p>
			<svg
				class="compared"
				viewBox={`0 0 ${WIDE} ${HIGH}`}
				role="img"
				aria-label={`measured ${show(r.measured)}, predicted ${show(r.predicted)}, after learning ${show(r.after)}`}
			>
				{one(r.predicted, 12, "box")}
				{one(r.measured, 28, "dot")}
				{one(r.after, 44, "diamond")}
			</svg>
		</>
	);
}

const VERDICTS: Record<string, string> = {
	alone: "one alone tells it",
	agree: "all agree",
	odd: "one is odd",
	disagree: "▲ they disagree",
};

function Instruments({ of }: { of: Learned }) {
	const all: [string, Told][] = [
		["Speed", of.instruments.speed],
		["Propeller speed", of.instruments.propeller_speed],
	];
	return (
		<>
			<h3>Instruments against each other</h3>
			{all
				.filter(([, t]) => t.told.length > 0)
				.map(([name, t]) => (
					<details key={name}>
						<summary>
							{name}: {VERDICTS[t.verdict]}
							{t.odd && `: ▲ ${t.odd}`}
						</summary>
						<ul>
							{t.told.map((one) => (
								<li key={one.by}>
									{show(one.value)} by {one.by}
								</li>
							))}
						</ul>
					</details>
				))}
		</>
	);
}

function Taught({ of }: { of: Learned }) {
	const told = of.factors.filter((f) => f.told);
	const untold = of.factors.filter((f) => !f.told);
	return (
		<>
			<h3>What that teaches</h3>
			{told.length === 0 && <p>Nothing: every factor is as unsure as before.</p>}
			<ul>
				{told.map((f) => (
					<li key={f.name}>
						<b>{f.name}</b>: {show(f.before)} becomes {show(f.after)}
						{!f.kept && <span class="quiet"> (not carried into other predictions)</span>}
					</li>
				))}
			</ul>
			<h3>What these recordings cannot tell</h3>
			<p>
				As unsure as before: {untold.map((f) => f.name).join(", ") || "nothing"}.
				{of.not_told_apart.map((p) => (
					<span key={p.a + p.b}>
						{" "}
						{capital(p.a)} and {p.b} are known only together (correlation {p.correlation.toFixed(2)}
						).
					</span>
				))}
			</p>
			<p class="quiet">
				1 is as published or as declared. Speed, turns and current of the same run together tell far
				more than any one of them.
			</p>
		</>
	);
}

function Keep({ of, keep }: { of: Learned; keep: (l: Learned) => void }) {
	const readOnly = state.session.value?.read_only;
	const write = () =>
		attempt("keeping what was learned", async () => {
			const body = { outing: outing.value?.id ?? "" };
			keep(await answer(api.POST("/api/learned", { body })));
			await readAfresh();
		});
	const drop = () =>
		attempt("setting aside what was learned", async () => {
			await answer(api.DELETE("/api/learned"));
			keep({ ...of, carries: null, written: null });
			await readAfresh();
		});
	return (
		<div class="keep">
			<p role="status">
				{of.written
					? "Kept: every prediction now carries it and says so."
					: "Nothing was changed. Keep it, and every prediction carries it and says so; what it replaces is put beside it."}
				{of.moved && ` What was there before is in ${of.moved}.`}
			</p>
			<button type="button" class="main" disabled={readOnly || of.written != null} onClick={write}>
				Keep what this teaches
			</button>{" "}
			<button type="button" disabled={readOnly} onClick={drop}>
				Predict without
			</button>
		</div>
	);
}
