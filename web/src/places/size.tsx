// How big it has to be: a load, cells, a speed and a type of hull, and a boat folder comes of it.
import { useRef, useState } from "preact/hooks";
import { answer, api, Refused, whole } from "../api/client";
import type { AnswerOf, Job, Starter } from "../api/types";
import { answered, heard } from "../api/work";
import { open } from "../desk";
import { best } from "../ui/format";
import { inWords, outOf, say, unitOf } from "../ui/units";
import { Working } from "../ui/working";
import { Sizes } from "./sizes";
import "./start.css";

type Sized = AnswerOf<"size">;

interface Wish {
	name: string;
	hull: string;
	carry: string;
	cells: string;
	speed: string;
}

const FIRST: Wish = { name: "My boat", hull: "three-point", carry: "", cells: "3", speed: "" };

/** A decimal comma is a point. */
const number = (text: string) => Number.parseFloat(text.replace(",", "."));

export default function Size({ starters }: { starters: readonly Starter[] }) {
	const [wish, setWish] = useState(FIRST);
	const [job, setJob] = useState<Job | null>(null);
	const [came, setCame] = useState<{ id: number; sized: Sized } | null>(null);
	const [refused, setRefused] = useState<{ message: string; hint: string } | null>(null);
	const stop = useRef<() => void>(() => {});
	const set = (key: keyof Wish) => (e: { currentTarget: { value: string } }) =>
		setWish({ ...wish, [key]: e.currentTarget.value });
	const run = async () => {
		setCame(null);
		setRefused(null);
		try {
			const asked = api.POST("/api/sizes", {
				body: {
					name: wish.name,
					hull: wish.hull,
					carry_kg: outOf(number(wish.carry), "g") / 1000,
					cells: Number(wish.cells),
					speed_m_s: outOf(number(wish.speed), "km/h") / 3.6,
				},
			});
			const done = await heard(await whole<Job>(asked), setJob, (way) => {
				stop.current = way;
			});
			const sized = answered("size", done.result);
			if (sized) setCame({ id: done.id, sized });
			else
				setRefused(
					done.refusal ?? { message: "It was stopped", hint: "nothing had been found yet" },
				);
		} catch (e) {
			if (!(e instanceof Refused)) throw e;
			setRefused(e.refusal);
		} finally {
			setJob(null);
		}
	};
	const ready =
		wish.name.trim() !== "" && number(wish.carry) > 0 && number(wish.speed) > 0 && job === null;
	return (
		<section class="size" aria-label="Size a hull">
			<form
				onSubmit={(e) => {
					e.preventDefault();
					if (ready) void run();
				}}
			>
				<label>
					Name
					<input value={wish.name} maxLength={60} onInput={set("name")} />
				</label>
				<label>
					Hull
					<select value={wish.hull} onChange={set("hull")}>
						{starters.map((s) => (
							<option key={s.hull}>{s.hull}</option>
						))}
					</select>
				</label>
				<label>
					Everything but the hull weighs, {unitOf("g")}
					<input inputMode="decimal" value={wish.carry} onInput={set("carry")} />
				</label>
				<label>
					Cells
					<select value={wish.cells} onChange={set("cells")}>
						{[2, 3, 4, 5, 6, 8, 10, 12].map((n) => (
							<option key={n} value={n}>
								{n}S
							</option>
						))}
					</select>
				</label>
				<label>
					Top speed wished for, {unitOf("km/h")}
					<input inputMode="decimal" value={wish.speed} onInput={set("speed")} />
				</label>
				<button type="submit" class="main" disabled={!ready}>
					Size it
				</button>
			</form>
			{job && <Working job={job} onStop={() => stop.current()} />}
			{refused && (
				<p class="caution" role="alert">
					{refused.message}. {inWords(refused.hint.replaceAll("`", ""))}
				</p>
			)}
			{came && <Told of={came.sized} id={came.id} />}
		</section>
	);
}

/** Why this size, what stands in the way, and where it is. */
function Told({ of: s, id }: { of: Sized; id: number }) {
	const chosen = s.sizes.find((x) => x.chosen);
	const up = s.set_up;
	return (
		<div class="sized">
			<p class="outcome">
				<b>
					{s.name}:{" "}
					{chosen && `${say(chosen.length)} long, ${say(chosen.beam)} wide, ${say(chosen.mass)}`}
					{chosen?.top_speed && `, ${say(chosen.top_speed)}`}
				</b>
			</p>
			{s.stopped && <p>You stopped it: this is the best that had been found.</p>}
			<p>
				{up.drives > 1 ? `${up.drives} drives, each with a` : "A"} propeller of {say(up.diameter)},
				pitch {up.pitch_ratio.toFixed(1)} of that, a motor of {say(up.kv)}, {say(up.capacity)} at{" "}
				{s.cells}S, a controller for {say(up.rated_current)}.
			</p>
			<Sizes of={s.sizes} />
			<ul>
				{s.why.map((line) => (
					<li key={line}>{inWords(line)}</li>
				))}
				{s.in_the_way.map((line) => (
					<li key={line}>
						<span class="mark watch">▲ in the way</span> {inWords(line)}
					</li>
				))}
			</ul>
			<p class="quiet">
				{s.tried.reduce((sum, t) => sum + t.boats, 0)} boats were tried. Everything on this one was
				put in by common practice and is marked so until you give your own numbers.
			</p>
			<button
				type="button"
				class="main"
				onClick={() =>
					open(() => answer(api.POST("/api/sizes/{id}", { params: { path: { id } } })))
				}
			>
				Open {s.name}
			</button>{" "}
			<span class="quiet">It is in {s.made.replace(/[/\\]boat\.toml$/, "")}.</span>
		</div>
	);
}

export type Row = Sized["sizes"][number];
export const value = (n: Row["top_speed"]) => (n ? best(n) : null);
