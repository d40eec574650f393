import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import { answer, api, Refused } from "../api/client";
import type { AnswerOf, Refusal, Symptom } from "../api/types";
import { work } from "../api/work";
import { attempt } from "../desk";
import { capital, Unusable } from "../pond/answers";
import { outings, readOutings } from "../pond/outing";
import * as state from "../state";
import { show } from "../ui/format";
import "./causes.css";

type Why = AnswerOf<"why">;
type Cause = Why["symptoms"][number]["causes"][number];
type Clue = Cause["for"][number];

/** What was told and what came of it outlives going to another place and back. */
const ticked = signal<string[]>([]);
const words = signal("");
const withOuting = signal("");
const came = signal<{ of: string; why: Why } | null>(null);

/** From what went wrong to its causes for this boat. */
export default function Causes() {
	const [all, setAll] = useState<Symptom[]>([]);
	const [fault, setFault] = useState<Refusal | null>(null);
	const [stop, setStop] = useState<AbortController | null>(null);
	useEffect(() => {
		void attempt("reading the symptoms", async () =>
			setAll(await answer(api.GET("/api/symptoms"))),
		);
		void readOutings();
	}, [state.session.value?.folder]);
	const folder = state.session.value?.folder ?? "";
	const measured = (outings.value ?? []).filter((o) => o.measured);
	const told = [...ticked.value, words.value.trim()].filter((w) => w !== "");
	const ask = async () => {
		const stopper = new AbortController();
		setStop(stopper);
		setFault(null);
		came.value = null;
		try {
			const how = { words: told.join("; "), outing: withOuting.value || null };
			const why = await work("why", how, { of: "whatif", stop: stopper.signal });
			came.value = { of: folder, why };
		} catch (e) {
			if (e instanceof Refused) setFault(e.refusal);
			else if (!stopper.signal.aborted) throw e;
		} finally {
			setStop(null);
		}
	};
	return (
		<div class="causes">
			<section aria-label="What went wrong">
				<h2>What went wrong</h2>
				<form
					onSubmit={(e) => {
						e.preventDefault();
						void ask();
					}}
				>
					<label class="own-words">
						In your own words
						<textarea
							rows={2}
							placeholder="it porpoises and will not turn left"
							value={words.value}
							onInput={(e) => (words.value = e.currentTarget.value)}
						/>
					</label>
					{measured.length > 0 && (
						<label>
							With what was recorded{" "}
							<select
								value={withOuting.value}
								onChange={(e) => (withOuting.value = e.currentTarget.value)}
							>
								<option value="">on no outing</option>
								{measured.map((o) => (
									<option key={o.id}>{o.id}</option>
								))}
							</select>
						</label>
					)}
					<p>
						<button
							type="submit"
							class="main"
							disabled={stop !== null || (told.length === 0 && !withOuting.value)}
						>
							Find causes
						</button>{" "}
						{stop && (
							<button type="button" onClick={() => stop.abort()}>
								Stop
							</button>
						)}
					</p>
					<fieldset>
						<legend>Or choose</legend>
						<ul>
							{all.map((s) => (
								<li key={s.id}>
									<label>
										<input
											type="checkbox"
											checked={ticked.value.includes(s.name)}
											onChange={(e) => {
												const rest = ticked.value.filter((t) => t !== s.name);
												ticked.value = e.currentTarget.checked ? [...rest, s.name] : rest;
											}}
										/>{" "}
										{capital(s.name)}
									</label>
								</li>
							))}
						</ul>
					</fieldset>
				</form>
				<p role="status">
					{stop && <span class="busy">asking the model of this boat about each cause …</span>}
				</p>
				{fault && <Unknown why={fault} />}
			</section>
			<div>{came.value && came.value.of === folder && <Found why={came.value.why} />}</div>
		</div>
	);
}

/** Words in which nothing is found: the list of what is known stands beside them already. */
const Unknown = ({ why }: { why: Refusal }) => (
	<Unusable why={{ ...why, hint: why.hint.split("Known here:")[0] ?? why.hint }} />
);

function Found({ why }: { why: Why }) {
	const told = new Set<string>();
	const once = (caution: string | null | undefined) => {
		if (!caution || told.has(caution)) return null;
		told.add(caution);
		return caution;
	};
	// The next thing to try names its cause by its id.
	const first = why.symptoms.flatMap((s) => s.causes).find((c) => c.id === why.next?.cause);
	const reason = first?.cause ?? why.next?.cause;
	return (
		<>
			{why.next && (
				<section class="next" aria-label="The one thing to try next">
					<h2>Try next: {why.next.try}</h2>
					<p>
						Because {reason}.{why.next.effect && ` On the model: ${why.next.effect}.`}
					</p>
					<p>
						<b>To decide</b>, measure: {why.next.measure}.
					</p>
					<Care words={once(why.next.caution)} />
				</section>
			)}
			{why.steps.length > 0 && (
				<section aria-label="Changes that ease it">
					<h3>Tried on the whole boat, these ease it</h3>
					<ol>
						{why.steps.map((s) => (
							<li key={s.what}>
								<b>{capital(s.what)}</b> ({WORK[s.work]}): {s.gains.map(moved).join(", ")}.
								{s.costs.length > 0 && ` It costs ${s.costs.map(moved).join(", ")}.`}
							</li>
						))}
					</ol>
				</section>
			)}
			{why.symptoms.map((s) => (
				<section key={s.id} aria-label={s.symptom}>
					<h3>{capital(s.symptom)}</h3>
					<p class="quiet">{s.seen_in}</p>
					<ol class="ranked">
						{s.causes.map((c, i) => (
							<Entry key={c.id} of={c} open={i === 0} caution={once(c.caution)} />
						))}
					</ol>
					<Care words={once(s.note)} />
				</section>
			))}
			<p class="quiet">Rests on: {why.basis}.</p>
		</>
	);
}

type Step = Why["steps"][number];

const WORK: Record<Step["work"], string> = {
	minutes: "minutes",
	evening: "an evening",
	days: "days",
	week: "a week",
};

/** `top speed 84 km/h instead of 88 km/h`. */
function moved({ quantity, before, after }: Step["gains"][number]): string {
	if (!after) return `no ${quantity}`;
	const now = show({ ...after, spread: 0 });
	return before
		? `${quantity} ${now} instead of ${show({ ...before, spread: 0 })}`
		: `${quantity} ${now}`;
}

const Care = ({ words }: { words: string | null | undefined }) =>
	words ? (
		<p class="caution">
			<b aria-hidden="true">▲</b> {words}
		</p>
	) : null;

const SHAPES: Record<string, string> = { likely: "●●●", possible: "●●○", unlikely: "●○○" };

function Entry({ of: c, open, caution }: { of: Cause; open: boolean; caution: string | null }) {
	return (
		<li class={`cause ${c.chance}`}>
			<details open={open}>
				<summary>
					<span class="chance">
						<span aria-hidden="true">{SHAPES[c.chance]}</span> {c.chance}
					</span>{" "}
					{capital(c.cause)}
				</summary>
				{c.for.length + c.against.length > 0 ? (
					<ul class="clues">
						{c.for.map((k) => (
							<Evidence key={k.says} of={k} sign="+" word="for" />
						))}
						{c.against.map((k) => (
							<Evidence key={k.says} of={k} sign="−" word="against" />
						))}
					</ul>
				) : (
					<p class="quiet">Neither model nor recordings say anything for or against it.</p>
				)}
				<p>
					<b>Try</b>: {c.try}.{c.effect && ` On the model: ${c.effect}.`}
				</p>
				<p>
					<b>Measure</b>: {c.measure}.
				</p>
				{c.also_explains.length > 0 && <p>It would also explain: {c.also_explains.join(", ")}.</p>}
			</details>
			<Care words={caution} />
		</li>
	);
}

const Evidence = ({ of: k, sign, word }: { of: Clue; sign: string; word: string }) => (
	<li>
		<b aria-hidden="true">{sign}</b>{" "}
		<span class="quiet">
			{word}, {k.by}:
		</span>{" "}
		{k.says}
	</li>
);
