import { useEffect, useRef, useState } from "preact/hooks";
import { Take } from "../ui/take";
import { useWidth } from "../ui/width";
import type { Heard } from "./analysis";
import { Answers } from "./answers";
import { type Picture, readPicture } from "./binary";
import { fetched } from "./fetched";
import { head, type Recording, setHead } from "./outing";
import { clock } from "./units";

const HIGH = 300;
const LEFT = 40;
const BOTTOM = 30;
/** Points further apart are not one course, s. */
const PAUSE = 0.6;
/** Time each side of a pass, s. */
const REACH = 4;

/** A sound: its picture with what was heard in it, the answers, and the sound itself. */
export function Sound({ of, heard }: { of: Recording; heard?: Heard }) {
	const [part, setPart] = useState<[number, number] | null>(null);
	const [top, setTop] = useState(4000);
	const [wrong, setWrong] = useState("");
	const [picture, setPicture] = useState<Picture | null>(null);
	useEffect(() => {
		const stop = new AbortController();
		const query = new URLSearchParams({ high: String(top), columns: "500", rows: "200" });
		if (part) {
			query.set("from", String(part[0]));
			query.set("to", String(part[1]));
		}
		fetched(`${recordingUrl(of)}/picture?${query}`, stop.signal)
			.then((bytes) => {
				setPicture(readPicture(bytes));
				setWrong("");
			})
			.catch((e: Error) => {
				if (!stop.signal.aborted) setWrong(e.message);
			});
		return () => stop.abort();
	}, [of.file, part?.[0], part?.[1], top]);
	const passes = heard?.passes.filter((p) => !p.why) ?? [];
	return (
		<div class="sound">
			{heard && <Answers of={heard} first={["speed", "pass_distance", "shaft_speed"]} />}
			<div class="traces-tools" role="group" aria-label="Which part is drawn">
				<button type="button" aria-pressed={part === null} onClick={() => setPart(null)}>
					Whole
				</button>
				{passes.map((p) => {
					const at = p.time_s?.value ?? p.near_s;
					return (
						<button
							type="button"
							key={`${p.shaft}${p.near_s}`}
							aria-pressed={part?.[0] === at - REACH}
							onClick={() => setPart([at - REACH, at + REACH])}
						>
							Pass at {clock(at)}
						</button>
					);
				})}
				<label>
					up to{" "}
					<select value={top} onChange={(e) => setTop(Number(e.currentTarget.value))}>
						{[1000, 2000, 4000, 8000].map((hz) => (
							<option key={hz} value={hz}>
								{hz / 1000} kHz
							</option>
						))}
					</select>
				</label>
			</div>
			{wrong ? (
				<p class="caution">{wrong}</p>
			) : picture ? (
				<Drawn picture={picture} heard={heard} name={of.name} />
			) : (
				<p class="busy">drawing the sound …</p>
			)}
			<Player of={of} />
		</div>
	);
}

/** Dark for the noise around, bright for what stands out; readable in grey as well. */
function colour(level: number): [number, number, number] {
	const x = level / 255;
	return [12 + 243 * x ** 1.6, 40 + 205 * x, 52 + 130 * x * (1.4 - x)];
}

function paint(canvas: HTMLCanvasElement, p: Picture) {
	canvas.width = p.columns;
	canvas.height = p.rows;
	const context = canvas.getContext("2d");
	if (!context || p.columns === 0) return;
	const image = context.createImageData(p.columns, p.rows);
	const shades = Array.from({ length: 256 }, (_, level) => colour(level));
	for (let c = 0; c < p.columns; c++)
		for (let r = 0; r < p.rows; r++) {
			const shade = shades[p.levels[c * p.rows + r] as number] as [number, number, number];
			const at = 4 * ((p.rows - 1 - r) * p.columns + c);
			image.data.set([...shade, 255], at);
		}
	context.putImageData(image, 0, 0);
}

function Drawn({ picture: p, heard, name }: { picture: Picture; heard?: Heard; name: string }) {
	const canvas = useRef<HTMLCanvasElement>(null);
	const [box, wide] = useWidth();
	useEffect(() => {
		if (canvas.current) paint(canvas.current, p);
	}, [p]);
	const from = p.from;
	const to = p.from + p.columns * p.column;
	const high = p.low + p.rows * p.row;
	const x = (t: number) => LEFT + ((t - from) / (to - from)) * (wide - LEFT);
	const y = (hz: number) => (1 - (hz - p.low) / (high - p.low)) * HIGH;
	// A course that pauses is not drawn across the pause.
	const path = (points: readonly (readonly [number, number])[]) =>
		points
			.filter(([t, hz]) => t >= from && t <= to && hz <= high && hz >= p.low)
			.map(([t, hz], i, all) => {
				const before = all[i - 1];
				const on = before && t - before[0] < PAUSE;
				return `${on ? "L" : "M"}${x(t).toFixed(1)} ${y(hz).toFixed(1)}`;
			})
			.join("");
	const now = head(name);
	const orders = (shaft: number) => [
		...new Set(heard?.shafts[shaft]?.members.map((m) => m.order) ?? [1]),
	];
	const seek = (e: MouseEvent) => {
		const box = (e.currentTarget as Element).getBoundingClientRect();
		const along = ((e.clientX - box.left) / box.width) * wide;
		if (along >= LEFT) setHead(name, from + ((along - LEFT) / (wide - LEFT)) * (to - from));
	};
	return (
		<figure class="spectrogram">
			<div class="spectrogram-box" ref={box}>
				<canvas
					ref={canvas}
					style={{
						left: `${(100 * LEFT) / wide}%`,
						width: `${100 - (100 * LEFT) / wide}%`,
						height: `${(100 * HIGH) / (HIGH + BOTTOM)}%`,
					}}
				/>
				{/* biome-ignore lint/a11y/useKeyWithClickEvents: the player below moves the head by keyboard */}
				<svg
					viewBox={`0 0 ${wide} ${HIGH + BOTTOM}`}
					role="img"
					aria-label={`Tones of ${name} against time, ${p.low} to ${Math.round(high)} Hz`}
					onClick={seek}
				>
					{ticks(from, to, wide / 110).map((t) => (
						<g key={t}>
							<line class="tick" x1={x(t)} x2={x(t)} y1={HIGH} y2={HIGH + 5} />
							<text
								x={Math.min(Math.max(x(t), LEFT + 24), wide - 24)}
								y={HIGH + 22}
								text-anchor="middle"
							>
								{clock(t)}
							</text>
						</g>
					))}
					{ticks(p.low, high, 5).map((hz) => (
						<text
							key={hz}
							x={LEFT - 6}
							y={Math.min(Math.max(y(hz) + 8, 20), HIGH)}
							text-anchor="end"
						>
							{hz / 1000}
						</text>
					))}
					<text x={0} y={HIGH + 22}>
						kHz
					</text>
					{heard?.passes.flatMap((pass) =>
						orders(pass.shaft).map((order) => (
							<path
								key={`pass${pass.near_s}${pass.shaft}${order}`}
								class="flyby"
								d={path((pass.curve ?? []).map(([t, hz]) => [t, hz * order] as const))}
							/>
						)),
					)}
					{heard?.tones.map((tone, i) => (
						<path key={`tone${i}`} class="tone" d={path(tone.points)} />
					))}
					{now !== null && now >= from && now <= to && (
						<line class="now" x1={x(now)} x2={x(now)} y1={0} y2={HIGH} />
					)}
				</svg>
			</div>
			<figcaption class="quiet">
				<span class="swatch tone-swatch" aria-hidden="true" /> tone that was followed{" "}
				<span class="swatch flyby-swatch" aria-hidden="true" /> fly-by that was fitted. Brighter:
				further out of the noise around it. Press the picture to hear that moment.
				<Take
					name={`sound-${name}`}
					picture=".spectrogram-box canvas, .spectrogram-box svg"
					rows={[
						["tone", "s", "Hz"],
						...(heard?.tones ?? []).flatMap((tone, i) =>
							tone.points.map(([t, hz]) => [i + 1, t, hz]),
						),
					]}
				/>
			</figcaption>
		</figure>
	);
}

/** Round numbers between two, about as many as wanted. */
export function ticks(from: number, to: number, wanted: number): number[] {
	if (!(to > from)) return [];
	const rough = (to - from) / wanted;
	const ten = 10 ** Math.floor(Math.log10(rough));
	const step = [1, 2, 5, 10].map((f) => f * ten).find((s) => s >= rough) ?? rough;
	const out: number[] = [];
	for (let t = Math.ceil(from / step) * step; t <= to; t += step) out.push(Number(t.toFixed(6)));
	return out;
}

/** Plays the recording and moves the head with it. */
export function Player({ of }: { of: Recording }) {
	const audio = useRef<HTMLAudioElement>(null);
	useFollow(audio, of.name);
	return (
		// biome-ignore lint/a11y/useMediaCaption: a boat's sound has no words
		<audio
			ref={audio}
			controls
			preload="metadata"
			src={recordingUrl(of)}
			aria-label={`Play ${of.name}`}
		/>
	);
}

export const recordingUrl = (of: Recording) => {
	const [, id, name] = of.file.split("/") as [string, string, string];
	return `/api/outings/${id}/recordings/${encodeURIComponent(name)}`;
};

/** Keeps a player and the head together, whichever moves. */
export function useFollow(player: { current: HTMLMediaElement | null }, name: string) {
	// A head beyond the recording's ends leaves the player at that end, which must not pull the head back.
	const followed = useRef(false);
	useEffect(() => {
		const on = player.current;
		if (!on) return;
		let frame = 0;
		const tell = () => {
			setHead(name, on.currentTime);
			if (!on.paused) frame = requestAnimationFrame(tell);
		};
		const seeked = () => {
			if (!followed.current) tell();
			followed.current = false;
		};
		on.addEventListener("play", tell);
		on.addEventListener("seeked", seeked);
		return () => {
			cancelAnimationFrame(frame);
			on.removeEventListener("play", tell);
			on.removeEventListener("seeked", seeked);
		};
	}, [name]);
	const now = head(name);
	useEffect(() => {
		const on = player.current;
		if (!on || now === null || !on.paused || on.seeking) return;
		const wanted = Math.min(Math.max(0, now), on.duration || Number.POSITIVE_INFINITY);
		if (Math.abs(on.currentTime - wanted) < 0.02) return;
		followed.current = true;
		on.currentTime = wanted;
	}, [now]);
}
