import { useMemo, useState } from "preact/hooks";
import { useWidth } from "../ui/width";
import type { Analysis, Point } from "./analysis";
import { Answers } from "./answers";
import { at } from "./decimate";
import { head, type Recording, setHead } from "./outing";
import { ticks } from "./sound";
import { Traces } from "./traces";
import { reading } from "./units";

/** Frames in the strip. */
const FRAMES = [4, 12, 40] as const;

/** Servo pulses: the verdict, the pulses themselves as a strip, and their width against time. */
export function Pulses({ of, analysis }: { of: Recording; analysis?: Analysis }) {
	const points = analysis?.traces.find((t) => t.name === "pulse width")?.points ?? [];
	const lines = useMemo(
		() => [
			{
				name: "pulse width",
				reading: reading("pulse width", "s"),
				time: points.map((p) => p[0]),
				values: points.map((p) => p[1]),
			},
		],
		[points],
	);
	if (!analysis) return null;
	return (
		<div class="pulses">
			<Answers of={analysis} first={["pulse_width", "frame_period"]} />
			{points.length > 1 && (
				<>
					<Strip points={points} now={head(of.name)} />
					<Traces
						label={`Pulse widths of ${of.name}`}
						lines={lines}
						head={head(of.name)}
						onHead={(t) => setHead(of.name, t)}
					/>
				</>
			)}
		</div>
	);
}

/** A few frames around the play head, to scale. */
function Strip({ points, now }: { points: readonly Point[]; now: number | null }) {
	const [box, wide] = useWidth<HTMLElement>();
	const [frames, setFrames] = useState<(typeof FRAMES)[number]>(4);
	const times = useMemo(() => points.map((p) => p[0]), [points]);
	const middle = now === null ? 0 : at(times, now);
	const first = Math.max(0, Math.min(middle - Math.floor(frames / 2), points.length - frames));
	const shown = points.slice(first, first + frames);
	const start = shown[0]?.[0] ?? 0;
	const last = shown.at(-1) ?? [0, 0, 0];
	const span = Math.max(last[0] + last[1] - start, 1e-3) * 1.04;
	const x = (t: number) => ((t - start + 0.02 * span) / span) * wide;
	const wave = shown
		.map(([rise, width]) => `H${x(rise).toFixed(1)}V14H${x(rise + width).toFixed(1)}V74`)
		.join("");
	return (
		<figure class="pulse-strip" ref={box}>
			<div class="traces-tools" role="group" aria-label="How many frames">
				{FRAMES.map((n) => (
					<button type="button" key={n} aria-pressed={n === frames} onClick={() => setFrames(n)}>
						{n} frames
					</button>
				))}
			</div>
			<svg
				viewBox={`0 0 ${wide} 110`}
				role="img"
				aria-label={`${shown.length} pulses from ${(1e3 * start).toFixed(1)} ms on, ${(1e6 * (shown[0]?.[1] ?? 0)).toFixed(0)} µs the first`}
			>
				<path class="wave" d={`M0 74${wave}H${wide}`} />
				{shown.length <= wide / 80 &&
					shown.map(([rise, width]) => (
						<text key={rise} x={x(rise + width / 2)} y={90} text-anchor="middle">
							{(1e6 * width).toFixed(0)} µs
						</text>
					))}
				{ticks(start, start + span / 1.04, wide / 120).map((t) => (
					<text key={t} class="strip-time" x={x(t)} y={107} text-anchor="middle">
						{(1e3 * t).toFixed(1)} ms
					</text>
				))}
			</svg>
			<figcaption class="quiet">
				Half-way crossings of the pulses, drawn square; what slow edges do to them is said above.
			</figcaption>
		</figure>
	);
}
