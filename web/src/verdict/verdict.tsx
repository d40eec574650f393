// The line across the top: what a builder asks first, and what to do next.
import type { components } from "../api/schema";
import { edit } from "../desk";
import * as state from "../state";
import { STANDINGS, type Standing } from "../ui/mark";
import { inWords, say } from "../ui/units";
import { difference } from "./difference";
import "./verdict.css";

type Schemas = components["schemas"];
export type Item = Schemas["ItemView"];
export type NextStep = Schemas["StepView"];
type Effect = Schemas["EffectView"];

/** The seven, in the builder's order; one that is not there yet keeps its place. */
const SEVEN: [id: string, label: string][] = [
	["freeboard", "floats with"],
	["planes", "planes from"],
	["top-speed", "tops out at"],
	["run-time", "lasts"],
	["heat", "hottest"],
	["tightest-turn", "turns in"],
	["flight-margin", "blows over at"],
];

export function Verdict() {
	const study = state.shown.value?.study;
	if (!study) return null;
	const { items, next } = study.verdict;
	const of = (id: string) =>
		items.find((i) => i.id === id || (id === "freeboard" && i.id === "floats"));
	return (
		<section class="verdict" aria-label="Verdict">
			<ul>
				{SEVEN.map(([id, label]) => (
					<li key={id}>
						<Told id={id} label={label} item={of(id)} full={study.full} />
					</li>
				))}
			</ul>
			<div class="next">
				<Difference />
				{study.full ? (
					<Next step={next ?? null} />
				) : (
					<p class="busy">Working out what to do next …</p>
				)}
			</div>
		</section>
	);
}

interface Props {
	id: string;
	label: string;
	item: Item | undefined;
	full: boolean;
}

/** One number; pressed, it opens the finding that tells more. */
function Told({ id, label, item, full }: Props) {
	const standing = item?.standing ?? "pending";
	const mark = STANDINGS[standing as Standing];
	const says = item ? (item.number ? say(item.number) : item.text) : full ? "not known" : "…";
	return (
		<button
			type="button"
			class={`told ${standing}`}
			onClick={() => {
				state.pointed.value = item?.id ?? id;
				state.go("findings");
			}}
		>
			<span class="label">
				{item?.label ?? label}{" "}
				{mark ? (
					<span class={`mark ${standing}`}>
						<span aria-hidden="true">{mark.shape}</span> {mark.word}
					</span>
				) : (
					<span class="mark">{full ? "" : "◌"}</span>
				)}
			</span>
			<b>{says}</b>
			<span class="beside-it">{item?.beside ? inWords(item.beside) : ""}</span>
		</button>
	);
}

/** `top speed 84 km/h instead of 88 km/h`. */
export function effect(e: Effect): string {
	const [before, after] = [e.before && plain(e.before), e.after && plain(e.after)];
	if (!after) return `no ${e.quantity}`;
	return before && before !== after
		? `${e.quantity} ${after} instead of ${before}`
		: `${e.quantity} ${after}`;
}

const plain = (n: Schemas["NumberView"]) => say({ ...n }).replace(/ ± [\d.]+/, "");

function Next({ step }: { step: NextStep | null }) {
	if (!step) return <p>Nothing that was tried is worth touching the boat for.</p>;
	const gains = step.gains.map(effect).join(", ");
	const costs = step.costs.map(effect).join(", ");
	const all = `${gains}${costs && `; costs ${costs}`}`;
	return (
		<>
			<p title={`${step.what} (${step.work}): ${all}`}>
				<b>Next: {inWords(step.what)}</b> ({step.work}): {all}.
			</p>
			{step.edits.length > 0 && (
				<button type="button" class="main" onClick={() => edit(step.edits)}>
					Try it
				</button>
			)}
		</>
	);
}

/** What is tried out beside the saved boat, in words. */
function Difference() {
	const tried = state.tried.value?.study;
	const saved = state.saved.value?.study;
	if (!tried || !saved) return null;
	const words = difference(
		state.boat.value?.changed ?? [],
		saved.verdict.items,
		tried.verdict.items,
	);
	return (
		<p class="difference" title={words}>
			<b>◆ {words}</b>
		</p>
	);
}
