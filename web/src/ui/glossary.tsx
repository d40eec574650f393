// What the trade's words mean, where a sentence uses one.
import { useId, useState } from "preact/hooks";
import { inWords } from "./units";

/** One line each; the word as sentences have it, and what it means. */
export const TERMS: Record<string, string> = {
	"1C": "The current that would empty the pack in an hour: 5 A for a 5000 mAh pack.",
	GM: "Height of the metacentre over the centre of gravity: the more, the harder it heels at rest. Below nothing it falls over.",
	kv: "Turns a minute a motor makes for each volt with nothing to drive.",
	BEC: "The small supply in the controller that feeds receiver and servo.",
	hump: "The hardest place before planing: the boat drags its stern wave along.",
	planing: "Carried by the water it pushes down, not by what it floats on.",
	planes: "Is carried by the water it pushes down, not by what it floats on.",
	trim: "How far the bow is up.",
	freeboard: "From the water up to the lowest place where it would come in.",
	deadrise: "How far a bottom slopes up from level, to each side.",
	porpoising: "A hop that keeps itself going: bow up, bow down, at a steady beat.",
	hops: "Bow up, bow down, at a steady beat that keeps itself going.",
	slip: "How much less the boat goes forward than the propeller's pitch would screw.",
	pitch: "How far a propeller would screw itself forward in one turn.",
	ventilation: "Air drawn down to the propeller or a fin: it lets go for a moment.",
	ventilates: "Draws air down: propeller or fin lets go for a moment.",
	"blow over": "Air under the bow lifts it until the boat goes over backwards.",
	"blows over": "Air under the bow lifts it until the boat goes over backwards.",
	chine: "The edge where the bottom meets the side.",
	transom: "The flat back end of the hull. Lengths are told ahead of it.",
	hook: "A bottom that bends down towards the stern: it pushes the bow down.",
	strut: "The bracket under the hull that holds the shaft's end.",
	sponson: "The float at the side that carries a three-point boat.",
	spread: "The true number lies within it 19 times of 20, as far as what is known goes.",
};

const words = Object.keys(TERMS).sort((a, b) => b.length - a.length);
const FOUND = new RegExp(`\\b(${words.join("|")})\\b`);

interface Part {
	text: string;
	term?: string;
}

/** A sentence in pieces: each term once, the rest as it is. */
export function pieces(text: string): Part[] {
	const out: Part[] = [];
	const told = new Set<string>();
	let rest = text;
	for (let found = FOUND.exec(rest); found; found = FOUND.exec(rest)) {
		const [term] = found;
		const until = found.index;
		if (until > 0) out.push({ text: rest.slice(0, until) });
		out.push(told.has(term) ? { text: term } : { text: term, term });
		told.add(term);
		rest = rest.slice(until + term.length);
	}
	if (rest) out.push({ text: rest });
	return out;
}

/** A sentence of the program: in the units chosen, its terms underlined and explained when pressed. */
export function Words({ text }: { text: string }) {
	const [open, setOpen] = useState<string | null>(null);
	const id = useId();
	return (
		<>
			{pieces(inWords(text)).map((p) =>
				p.term ? (
					<button
						type="button"
						class="term"
						key={p.term}
						aria-expanded={open === p.term}
						aria-controls={id}
						onClick={() => setOpen(open === p.term ? null : (p.term ?? null))}
					>
						{p.text}
					</button>
				) : (
					p.text
				),
			)}
			<span class="means" id={id} role="status">
				{open && (
					<>
						<b>{open}</b>: {TERMS[open]}
					</>
				)}
			</span>
		</>
	);
}
