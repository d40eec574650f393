// The score card: each number as it was bet and as it was measured, and how the bets fared over all outings.
import { quantity } from "../pond/units";
import { say } from "../ui/units";
import type { Build } from "./compare";
import { type Scored, scored } from "./score";

const of = (b: Build): Scored[] =>
	scored(
		b,
		b.measured.map((m) => ({
			kind: m.quantity.kind,
			of: quantity(m.quantity),
			outing: m.outing,
		})),
	);

export function ScoreCard({ builds }: { builds: readonly Build[] }) {
	const cards = builds.map((b) => ({ name: b.name ?? "the boat as it is now", all: of(b) }));
	const every = cards.flatMap((c) => c.all);
	if (every.length === 0)
		return (
			<section aria-label="Score card">
				<h3>Bet and measured</h3>
				<p>
					Nothing to score yet: measure an outing, and each number that was predicted stands here
					beside what it was.
				</p>
			</section>
		);
	const hits = every.filter((s) => s.hit).length;
	return (
		<section aria-label="Score card">
			<h3>Bet and measured</h3>
			<p>
				<b>
					{hits} of {every.length}
				</b>{" "}
				within the spread. As many as 19 of 20 should be; fewer means the spreads are told too
				small.
			</p>
			<Strip of={every} />
			{cards
				.filter((c) => c.all.length > 0)
				.map((c) => (
					<div key={c.name}>
						<table>
							<caption>{c.name}</caption>
							<thead>
								<tr>
									<th scope="col">Number</th>
									<th scope="col">Bet</th>
									<th scope="col">Measured</th>
									<th scope="col">Score</th>
								</tr>
							</thead>
							<tbody>
								{c.all.map((s) => (
									<tr key={s.id + s.outing + s.measured.value}>
										<th scope="row">
											{s.id.replaceAll("-", " ")} <span class="quiet">({s.outing})</span>
										</th>
										<td>{say(s.bet)}</td>
										<td>{say(s.measured)}</td>
										<td class={s.hit ? "mark good" : "mark stop"}>{s.hit ? "● hit" : "■ miss"}</td>
									</tr>
								))}
							</tbody>
						</table>
					</div>
				))}
		</section>
	);
}

const WIDE = 420;
const MOST = 2.5;

/** Every bet on one line: in the middle as it was bet, at 1 as far off as both allow. */
function Strip({ of: all }: { of: readonly Scored[] }) {
	const x = (apart: number) =>
		WIDE / 2 + (Math.min(Math.max(apart, -MOST), MOST) / MOST) * (WIDE / 2 - 12);
	return (
		<svg
			class="calibration"
			viewBox={`0 0 ${WIDE} 56`}
			role="img"
			aria-label={`${all.filter((s) => s.hit).length} of ${all.length} bets within the spread`}
		>
			<rect class="within" x={x(-1)} width={x(1) - x(-1)} y={6} height={28} />
			<line x1={x(0)} x2={x(0)} y1={4} y2={36} />
			{all.map((s) => (
				<path
					key={s.id + s.outing + s.measured.value}
					class={s.hit ? "hit" : "miss"}
					d={
						s.hit
							? `M${x(s.apart) - 5} 20a5 5 0 1 0 10 0a5 5 0 1 0 -10 0`
							: `M${x(s.apart) - 5} 15h10v10h-10z`
					}
				>
					<title>{`${s.id.replaceAll("-", " ")}, ${s.outing}`}</title>
				</path>
			))}
			<text x={x(-1)} y={50} text-anchor="middle">
				less
			</text>
			<text x={x(0)} y={50} text-anchor="middle">
				as bet
			</text>
			<text x={x(1)} y={50} text-anchor="middle">
				more
			</text>
		</svg>
	);
}
