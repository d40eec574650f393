// The hull cut for the printer: looked at without a file written, and written when asked.
import { useEffect, useRef, useState } from "preact/hooks";
import { Refused } from "../api/client";
import type { AnswerOf, Job } from "../api/types";
import { answered, follow } from "../api/work";
import { attempt, save } from "../desk";
import { length } from "../scene/outline";
import * as state from "../state";
import { best } from "../ui/format";
import { inUnit, inWords, say, unitOf } from "../ui/units";
import { Working } from "../ui/working";
import { Exploded } from "./exploded";

export type Pieces = AnswerOf<"pieces">;
type Piece = Pieces["pieces"][number];
type Joint = Pieces["joints"][number];

/** The last that were cut, by the boat they are of. */
let known: { of: string; pieces: Pieces } | null = null;

export function Cut() {
	const revision = state.boat.value?.whatif_revision ?? "";
	const of = `${state.session.value?.folder} ${revision}`;
	const [got, setGot] = useState<Pieces | null>(known?.of === of ? known.pieces : null);
	const [job, setJob] = useState<Job | null>(null);
	const [refused, setRefused] = useState<{ message: string; hint: string } | null>(null);
	const [pointed, setPointed] = useState<string | null>(null);
	const [again, setAgain] = useState(0);
	const stop = useRef<() => void>(() => {});
	useEffect(() => {
		let gone = false;
		setRefused(null);
		if (known?.of === of) {
			setGot(known.pieces);
			return;
		}
		setGot(null);
		const tell = (now: Job) => {
			if (!gone) setJob(now);
		};
		// A boat in hand changes at every move: cut once it was left alone.
		const soon = setTimeout(() => {
			follow("pieces", { list_only: true, shapes: true }, tell, (way) => {
				stop.current = way;
				if (gone) way();
			})
				.then((done) => {
					if (gone) return;
					const pieces = answered("pieces", done.result);
					if (pieces) known = { of, pieces };
					setGot(pieces);
					if (!pieces)
						setRefused(
							done.refusal ?? { message: "The cutting was stopped.", hint: "Cut it again." },
						);
				})
				.catch((e) => {
					if (!(e instanceof Refused)) throw e;
					if (!gone) setRefused(e.refusal);
				})
				.finally(() => !gone && setJob(null));
		}, 400);
		return () => {
			gone = true;
			clearTimeout(soon);
			stop.current();
		};
	}, [of, again]);
	return (
		<section class="cut" aria-label="Pieces for the printer">
			<h2>Pieces</h2>
			{job && <Working job={job} onStop={() => stop.current()} />}
			{!job && !got && !refused && <p class="busy">Cutting it for the printer …</p>}
			{refused && (
				<div class="caution" role="alert">
					<p>
						{refused.message}. {refused.hint}
					</p>
					<button type="button" onClick={() => setAgain(again + 1)}>
						Cut it again
					</button>
				</div>
			)}
			{got && (
				<>
					<p class="outcome">
						<b>{counted(got)}</b>
					</p>
					<Exploded of={got} pointed={pointed} />
					<Table of={got} pointed={pointed} point={setPointed} />
					<Joints of={got.joints} />
					{got.notes.map((n) => (
						<p class="quiet" key={n}>
							{inWords(n)}
						</p>
					))}
				</>
			)}
			<Write ready={got !== null} />
		</section>
	);
}

const hours = (q: Piece["time"]) => {
	const minutes = best(q) * (q.unit === "s" ? 1 / 60 : 1);
	return minutes >= 90 ? `${(minutes / 60).toFixed(1)} h` : `${minutes.toFixed(0)} min`;
};

/** Filament is bought by the metre. */
const metres = (q: Piece["filament"]) =>
	say({ value: Math.round(best(q) / 1000), spread: (q.spread ?? 0) / 1000, unit: "m" });

/** `144 x 74 x 225`, in the unit shown. */
const edges = (size: Piece["size"]) =>
	size.map((n) => inUnit(best(n), "mm").toFixed(unitOf("mm") === "in" ? 1 : 0)).join(" x ");

/** `3 pieces for a bed of 220 x 220 x 250 mm: 212 ± 17 g, about 14 h, 71 m of filament.` */
function counted(p: Pieces): string {
	const many = p.pieces.length === 1 ? "One piece" : `${p.pieces.length} pieces`;
	const bed = `${edges(p.bed)} ${unitOf("mm")}${p.bed_given ? "" : ", assumed"}`;
	const cost = p.cost ? `, costs ${say(p.cost)}` : "";
	return `${many} for a bed of ${bed}: ${say(p.mass)}, about ${hours(p.time)}, ${metres(p.filament)} of filament${cost}.`;
}

interface Listed {
	of: Pieces;
	pointed: string | null;
	point: (name: string | null) => void;
}

function Table({ of, pointed, point }: Listed) {
	const paid = of.pieces.some((p) => p.cost);
	return (
		<div class="wide">
			<table>
				<thead>
					<tr>
						<th scope="col">piece</th>
						<th scope="col">prints</th>
						<th scope="col">on the bed, {unitOf("mm")}</th>
						<th scope="col">mass</th>
						<th scope="col">time</th>
						<th scope="col">filament</th>
						{paid && <th scope="col">costs</th>}
					</tr>
				</thead>
				<tbody>
					{of.pieces.map((p) => (
						<tr
							key={p.name}
							class={pointed === p.name ? "pointed" : undefined}
							onPointerEnter={() => point(p.name)}
							onPointerLeave={() => point(null)}
						>
							<th scope="row">
								<button
									type="button"
									aria-pressed={pointed === p.name}
									onClick={() => point(pointed === p.name ? null : p.name)}
								>
									{p.name}
								</button>
							</th>
							<td>{p.lies}</td>
							<td class="size">{edges(p.size)}</td>
							<td>
								{say(p.mass)}
								{p.weighed && " weighed"}
							</td>
							<td>{hours(p.time)}</td>
							<td>{metres(p.filament)}</td>
							{paid && <td>{p.cost ? say(p.cost) : "–"}</td>}
						</tr>
					))}
				</tbody>
			</table>
			{of.pieces.flatMap((p) =>
				p.notes.map((n) => (
					<p class="quiet" key={p.name + n}>
						<b>{p.name}</b>: {inWords(n)}
					</p>
				)),
			)}
		</div>
	);
}

const KINDS: Record<string, string> = {
	lap: "Lap joint: a rim inside, glued all round",
	flange: "Flange: faces glued flat, with dowels",
	butt: "Butt joint: wall against wall",
};

/** Where a joint lies. */
function placed(j: Joint): string {
	const at = best(j.at) / 1000;
	if (j.across === "x") return `${length(at)} ahead of the transom`;
	if (Math.abs(at) < 5e-4) return "along the middle";
	return `lengthwise, ${length(Math.abs(at))} to ${at > 0 ? "port" : "starboard"}`;
}

function Joints({ of }: { of: readonly Joint[] }) {
	if (of.length === 0) return null;
	return (
		<ul class="joints">
			{of.map((j) => (
				<li key={j.across + best(j.at)}>
					{KINDS[j.kind] ?? j.kind}, {placed(j)}
					{j.dowels.length > 0 && `, ${j.dowels.length} dowels of ${say(j.dowels[0] ?? j.at)}`}.
					{best(j.bending) >= 1 &&
						` It bears ${best(j.bending).toFixed(0)} % of the greatest bending.`}
					{j.through.length > 0 && ` It goes through ${j.through.join(", ")}.`}
				</li>
			))}
		</ul>
	);
}

/** A button writes; nothing that is there is written over. */
function Write({ ready }: { ready: boolean }) {
	const [came, setCame] = useState<Pieces | null>(null);
	const [job, setJob] = useState<Job | null>(null);
	const [refused, setRefused] = useState<{ message: string; hint: string } | null>(null);
	const stop = useRef<() => void>(() => {});
	const session = state.session.value;
	const demo = session?.demo != null;
	const put = async () => {
		setCame(null);
		setRefused(null);
		// A demonstration is nobody's: its pieces go with a boat of one's own.
		if (demo) {
			await save();
			if (state.session.value?.demo != null) return;
		}
		await attempt("writing the pieces", async () => {
			try {
				const done = await follow("pieces", { list_only: false }, setJob, (way) => {
					stop.current = way;
				});
				setCame(answered("pieces", done.result));
				if (done.refusal) setRefused(done.refusal);
			} finally {
				setJob(null);
			}
		});
	};
	return (
		<div class="write">
			<button
				type="button"
				disabled={!ready || job !== null || session?.read_only}
				onClick={() => void put()}
			>
				{demo ? "Save as a boat of your own and write the files" : "Write the files"}
			</button>
			<span class="quiet">
				{session?.read_only
					? "Opened read-only: nothing is written."
					: "One 3MF a piece, turned as it prints, and one of the whole, into the folder pieces of the boat. Nothing that is there is written over."}
				{state.isTrying.value && " They are of the boat as it is tried out."}
			</span>
			{job && <Working job={job} onStop={() => stop.current()} />}
			{refused && (
				<p class="caution" role="alert">
					{refused.message}. {refused.hint}
				</p>
			)}
			{came?.folder && (
				<p class="note" role="status">
					Written to <b>{came.folder}</b>: {came.files.join(", ")}.
				</p>
			)}
			{came && !came.folder && (
				<p class="note" role="status">
					{came.notes.at(-1)}
				</p>
			)}
		</div>
	);
}
