// What one step larger or smaller does: every length that was tried, one chosen.
import { best } from "../ui/format";
import { Take } from "../ui/take";
import { inUnit, inWords, say, unitOf } from "../ui/units";
import { useWidth } from "../ui/width";
import type { Row } from "./size";

type Quantity = NonNullable<Row["top_speed"]>;

/** What differs between sizes, each a strip of its own. */
const STRIPS: { title: string; of: (s: Row) => Quantity | null | undefined }[] = [
	{ title: "top speed", of: (s) => s.top_speed },
	{ title: "planes from", of: (s) => s.planes_from },
	{ title: "freeboard", of: (s) => s.freeboard },
	{ title: "all-up", of: (s) => s.mass },
	{ title: "print", of: (s) => s.print_mass },
];
/** Left of the strips, over them, a strip, between two, under them, px. */
const [LEFT, TOP, HIGH, GAP, FOOT] = [128, 20, 40, 14, 44];

export function Sizes({ of }: { of: readonly Row[] }) {
	const [box, wide] = useWidth();
	const step = (wide - LEFT - 10) / Math.max(of.length, 1);
	const bar = Math.min(0.7 * step, 46);
	const middle = (i: number) => LEFT + (i + 0.5) * step;
	const tall = TOP + STRIPS.length * (HIGH + GAP) + FOOT;
	const unit = unitOf("mm");
	const chosen = of.findIndex((s) => s.chosen);
	const size = (s: Row) => inUnit(best(s.length), "mm").toFixed(unit === "in" ? 1 : 0);
	return (
		<div class="sizes" ref={box}>
			<svg
				class="steps"
				width={wide}
				height={tall}
				role="img"
				aria-label={`${of.length} lengths beside each other; ${of[chosen] ? say((of[chosen] as Row).length) : "none"} is chosen`}
			>
				{chosen >= 0 && (
					<rect class="chosen" x={middle(chosen) - step / 2} y={2} width={step} height={tall - 4} />
				)}
				{STRIPS.map((strip, row) => {
					const top = TOP + row * (HIGH + GAP);
					const values = of.map((s) => strip.of(s) ?? null);
					const most = Math.max(...values.map((v) => (v ? best(v) : 0)), 1e-9);
					return (
						<g key={strip.title}>
							<text x={LEFT - 8} y={top + HIGH - 4} text-anchor="end">
								{strip.title}, {unitOf(values.find((v) => v)?.unit ?? "")}
							</text>
							{values.map((v, i) => {
								const high = v ? Math.max(1, (HIGH * best(v)) / most) : 0;
								const s = of[i] as Row;
								const near = Math.abs(i - chosen) <= 1 || of.length < 6;
								return (
									<g key={s.length.value}>
										<rect
											class={s.misses.length > 0 ? "bar misses" : "bar"}
											x={middle(i) - bar / 2}
											y={top + HIGH - high}
											width={bar}
											height={high}
										/>
										{near && step > 38 && (
											<text x={middle(i)} y={top + HIGH - high - 3} text-anchor="middle">
												{v
													? say(v)
															.replace(/ ± \S+/, "")
															.replace(/ .*$/, "")
													: "–"}
											</text>
										)}
									</g>
								);
							})}
						</g>
					);
				})}
				{of.map((s, i) => (
					<g key={s.length.value}>
						{(step > 34 || i === chosen || i % 3 === chosen % 3) && (
							<text x={middle(i)} y={tall - 26} text-anchor="middle">
								{size(s)}
							</text>
						)}
						<text x={middle(i)} y={tall - 10} text-anchor="middle">
							{s.chosen ? "this" : s.misses.length > 0 ? "✗" : ""}
						</text>
					</g>
				))}
				<text x={LEFT - 8} y={tall - 26} text-anchor="end">
					length, {unit}
				</text>
			</svg>
			<Take name="sizes" picture=".steps" rows={table(of)} />
			<details>
				<summary>What each length does, and misses</summary>
				<div class="wide">
					<table>
						<thead>
							<tr>
								<th scope="col">length</th>
								{STRIPS.map((s) => (
									<th scope="col" key={s.title}>
										{s.title}
									</th>
								))}
								<th scope="col">misses</th>
							</tr>
						</thead>
						<tbody>
							{of.map((s) => (
								<tr key={s.length.value}>
									<th scope="row">
										{say(s.length)}
										{s.chosen && " (this)"}
									</th>
									{STRIPS.map((strip) => {
										const v = strip.of(s);
										return <td key={strip.title}>{v ? say(v) : "–"}</td>;
									})}
									<td>{inWords(s.misses.join("; "))}</td>
								</tr>
							))}
						</tbody>
					</table>
				</div>
			</details>
		</div>
	);
}

const table = (of: readonly Row[]) => [
	["length [mm]", ...STRIPS.map((s) => s.title), "misses"],
	...of.map((s) => [
		best(s.length),
		...STRIPS.map((strip) => {
			const v = strip.of(s);
			return v ? `${best(v)} ${v.unit}` : "";
		}),
		s.misses.join("; "),
	]),
];
