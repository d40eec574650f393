import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { answer, api, Refused } from "../api/client";
import * as state from "../state";
import type { Heard } from "./analysis";
import { Answers, capital, Unusable } from "./answers";
import { Field } from "./field";
import {
	Marking,
	type Marks,
	missing,
	type Pixel,
	same,
	withEvent,
	withPoint,
	withPost,
} from "./marking";
import { type Came, head, offset, type Recording, setHead } from "./outing";
import { Reel, type Shown } from "./reel";
import { recordingUrl, Sound } from "./sound";

type Tool = "bow" | "stern" | "fixed" | 0 | 1 | 2 | 3;
const TOOLS: [Tool, string][] = [
	["bow", "Bow"],
	["stern", "Stern"],
	["fixed", "Something fixed"],
	[0, "Point 1"],
	[1, "Point 2"],
	[2, "Point 3"],
	[3, "Point 4"],
];
const LETTERS: Record<string, string> = { bow: "B", stern: "S", fixed: "F" };
const EVENTS: [string, string][] = [
	["pass", "Boat passes"],
	["launch", "Launch"],
	["throttle_cut", "Throttle cut"],
];
const ZOOMS = [1, 2, 4] as const;

/** A film: stepped frame by frame, marks that give speed, and its sound. */
export function Film({ of, got }: { of: Recording; got: Came | undefined }) {
	const [times, setTimes] = useState<number[] | null>(null);
	const [why, setWhy] = useState("");
	useEffect(() => {
		const [, id, name] = of.file.split("/") as [string, string, string];
		const params = { path: { id, name } };
		answer(api.GET("/api/outings/{id}/recordings/{name}/frames", { params }))
			.then((got) => setTimes(got.shown_s))
			.catch((e: unknown) => {
				if (!(e instanceof Refused)) throw e;
				setWhy(e.refusal.message);
				setTimes([]);
			});
	}, [of.file]);
	if (!times) return <p class="busy">reading when each frame is shown …</p>;
	return (
		<div class="film">
			<Stepped of={of} times={times} why={why} />
			<details>
				<summary>Its sound</summary>
				{got?.stage === "failed" ? (
					<p>{capital(got.refusal.message)}.</p>
				) : (
					<Sound of={of} heard={got?.stage === "done" ? (got.analysis as Heard) : undefined} />
				)}
			</details>
		</div>
	);
}

function Stepped({ of, times, why }: { of: Recording; times: number[]; why: string }) {
	const player = useRef<HTMLVideoElement>(null);
	const reel = useRef<Reel | null>(null);
	const marking = useMemo(() => new Marking(of, times.length > 0), [of.file, times]);
	const [now, setNow] = useState<Shown>({ time_s: 0, ...(times.length > 0 && { frame: 0 }) });
	const [tool, setTool] = useState<Tool>("bow");
	const [cross, setCross] = useState<Pixel>([0, 0]);
	const [size, setSize] = useState<Pixel | null>(null);
	const [zoom, setZoom] = useState<(typeof ZOOMS)[number]>(1);
	const [broken, setBroken] = useState(false);
	const marks = marking.marks.value;
	const readOnly = state.session.value?.read_only ?? false;
	// A film is on the clock of its sound, or else of its marks.
	const clockName = offset(of.name) === null ? `${of.name}.marks.json` : of.name;

	useEffect(() => {
		void marking.read();
	}, [marking]);

	const loaded = () => {
		const on = player.current;
		if (!on) return;
		reel.current = new Reel(on, times);
		setSize([on.videoWidth, on.videoHeight]);
		setCross([Math.round(on.videoWidth / 2), Math.round(on.videoHeight / 2)]);
		const start = head(clockName);
		void (start && start > 0 ? go(reel.current.frameAt(start)) : go(now));
	};
	const tell = (to: Shown) => {
		setNow(to);
		setHead(clockName, to.time_s);
	};
	const go = async (to: Shown) => {
		const on = reel.current;
		if (!on) return;
		player.current?.pause();
		tell(to.frame === undefined ? { time_s: await on.seek(to.time_s) } : await on.show(to.frame));
	};
	const step = async (by: number) => {
		const on = reel.current;
		if (!on) return;
		player.current?.pause();
		tell(await on.step(now, by));
		if (typeof tool === "string") setTool("bow");
	};
	const moment =
		now.frame === undefined ? { time_s: Number(now.time_s.toFixed(6)) } : { frame: now.frame };
	const place = (pixel: Pixel) => {
		if (readOnly) return;
		setCross(pixel);
		marking.change(put(marking.marks.value, tool, moment, pixel));
		if (tool === "bow") setTool("stern");
		else if (tool === "stern" && marks.mark.some((m) => m.fixed)) setTool("fixed");
	};
	const move = (dx: number, dy: number) => {
		if (!size) return;
		const to: Pixel = [
			Math.min(Math.max(cross[0] + dx, 0), size[0]),
			Math.min(Math.max(cross[1] + dy, 0), size[1]),
		];
		setCross(to);
	};
	const keys = (e: KeyboardEvent) => {
		if ((e.target as Element).matches("input, select, textarea")) return;
		const far = e.ctrlKey ? 1 : 8;
		const act: Record<string, () => void> = {
			",": () => void step(-1),
			".": () => void step(1),
			ArrowLeft: () => (e.shiftKey ? move(-far, 0) : void step(-1)),
			ArrowRight: () => (e.shiftKey ? move(far, 0) : void step(1)),
			ArrowUp: () => move(0, -far),
			ArrowDown: () => move(0, far),
			b: () => setTool("bow"),
			s: () => setTool("stern"),
			f: () => setTool("fixed"),
		};
		if (e.ctrlKey && e.key.toLowerCase() === "z")
			act[e.key] = () => (e.shiftKey ? marking.redo() : marking.undo());
		if (e.key === "Enter" && e.target === e.currentTarget) act.Enter = () => place(cross);
		if ((e.key === "ArrowUp" || e.key === "ArrowDown") && !e.shiftKey) return;
		const found = act[e.key];
		if (!found) return;
		e.preventDefault();
		// Elsewhere on the page Ctrl+Z steps the boat back.
		e.stopPropagation();
		found();
	};
	const told = now.frame === undefined ? "" : `frame ${now.frame} of ${times.length - 1}, `;
	if (broken)
		return (
			<p class="caution">
				This browser cannot show the film. Another may; or turn it into MP4 with H.264, which all
				do.
			</p>
		);
	return (
		<>
			{why && (
				<p class="quiet">
					{capital(why)}. Frame times are taken from what the browser shows instead.
				</p>
			)}
			<div
				class="film-keys"
				// biome-ignore lint/a11y/noNoninteractiveTabindex: the picture is stepped and marked by keyboard
				tabIndex={0}
				role="application"
				aria-label={`${of.name}: comma and full stop step frames, Shift with arrows moves the cross, Enter marks, B, S and F choose what`}
				onKeyDown={keys}
			>
				<div class="film-window">
					<div class="film-box" style={{ width: `${100 * zoom}%` }}>
						<video
							ref={player}
							src={recordingUrl(of)}
							muted
							playsInline
							preload="auto"
							onLoadedData={loaded}
							onError={() => setBroken(true)}
							onPause={() =>
								reel.current && tell(reel.current.frameAt(player.current?.currentTime ?? 0))
							}
						/>
						{size && <Overlay {...{ size, marks, moment, cross, tool, place }} />}
					</div>
				</div>
				<p class="film-now" role="status">
					{told}
					{now.time_s.toFixed(3)} s
				</p>
				<div class="traces-tools">
					<button type="button" onClick={() => step(-10)}>
						◀ 10 frames
					</button>
					<button type="button" onClick={() => step(-1)}>
						◀ frame
					</button>
					<button type="button" onClick={() => step(1)}>
						frame ▶
					</button>
					<button type="button" onClick={() => step(10)}>
						10 frames ▶
					</button>
					<button
						type="button"
						onClick={() => {
							const on = player.current;
							if (on?.paused) void on.play();
							else on?.pause();
						}}
					>
						Run, stop
					</button>
					<label>
						size{" "}
						<select
							value={zoom}
							onChange={(e) => setZoom(Number(e.currentTarget.value) as 1 | 2 | 4)}
						>
							{ZOOMS.map((z) => (
								<option key={z} value={z}>
									× {z}
								</option>
							))}
						</select>
					</label>
				</div>
				<div class="traces-tools" role="group" aria-label="What to mark">
					{TOOLS.slice(0, marks.plane_error || typeof tool === "number" ? 7 : 3).map(
						([t, word]) => (
							<button type="button" key={word} aria-pressed={t === tool} onClick={() => setTool(t)}>
								{word}
							</button>
						),
					)}
					<span class="nudge" role="group" aria-label={`Cross at ${cross[0]}, ${cross[1]}`}>
						{(
							[
								["←", -1, 0],
								["↑", 0, -1],
								["↓", 0, 1],
								["→", 1, 0],
							] as const
						).map(([arrow, dx, dy]) => (
							<button
								type="button"
								key={arrow}
								aria-label={`cross ${arrow}`}
								onClick={() => move(dx, dy)}
							>
								{arrow}
							</button>
						))}
						<button type="button" disabled={readOnly} onClick={() => place(cross)}>
							Mark here
						</button>
					</span>
					<button
						type="button"
						disabled={marking.past.value.length === 0}
						onClick={() => marking.undo()}
					>
						Undo mark
					</button>
					<button
						type="button"
						disabled={marking.future.value.length === 0}
						onClick={() => marking.redo()}
					>
						Redo mark
					</button>
				</div>
			</div>
			<div role="status" aria-live="polite">
				{marking.busy.value && <span class="busy">working it out …</span>}
				{marking.fault.value ? (
					<Unusable why={marking.fault.value} />
				) : marking.came.value ? (
					<Answers of={marking.came.value} first={["speed"]} />
				) : (
					<p>{missing(marks)}</p>
				)}
			</div>
			<Scales marking={marking} moment={moment} go={go} pointing={() => setTool(0)} times={times} />
		</>
	);
}

function put(
	marks: Marks,
	tool: Tool,
	moment: { frame?: number; time_s?: number },
	pixel: Pixel,
): Marks {
	if (typeof tool === "string") return withPoint(marks, moment, tool, pixel);
	const plane = [...marks.plane];
	plane[tool] = { pixel, place_m: plane[tool]?.place_m ?? [0, 0] };
	return { ...marks, plane: plane.filter(Boolean) };
}

/** Marks over the picture, in its own pixels. */
function Overlay(props: {
	size: Pixel;
	marks: Marks;
	moment: { frame?: number; time_s?: number };
	cross: Pixel;
	tool: Tool;
	place: (at: Pixel) => void;
}) {
	const { size, marks, moment, cross, tool, place } = props;
	const here = marks.mark.find((m) => same(m, moment));
	const r = size[0] / 90;
	const press = (e: MouseEvent) => {
		const box = (e.currentTarget as Element).getBoundingClientRect();
		const round = (x: number) => Math.round(2 * x) / 2;
		place([
			round(((e.clientX - box.left) / box.width) * size[0]),
			round(((e.clientY - box.top) / box.height) * size[1]),
		]);
	};
	const ring = ([x, y]: Pixel, letter: string) => (
		<g key={letter} class="film-mark">
			<circle cx={x} cy={y} r={r} />
			<path d={`M${x - r} ${y}h${2 * r}M${x} ${y - r}v${2 * r}`} />
			<text x={x + 1.4 * r} y={y - 0.8 * r} font-size={2.4 * r}>
				{letter}
			</text>
		</g>
	);
	return (
		// biome-ignore lint/a11y/useKeyWithClickEvents: Enter marks at the cross
		<svg
			viewBox={`0 0 ${size[0]} ${size[1]}`}
			role="img"
			aria-label="Marks on this frame"
			onClick={press}
		>
			{marks.mark.map(
				(m) =>
					m.bow &&
					m.stern &&
					m !== here && (
						<path
							key={`${m.frame}${m.time_s}`}
							class="film-trail"
							d={`M${m.stern.join(" ")}L${m.bow.join(" ")}`}
						/>
					),
			)}
			{marks.plane.map((p, i) => ring(p.pixel, String(i + 1)))}
			{(["bow", "stern", "fixed"] as const).map(
				(w) => here?.[w] && ring(here[w], LETTERS[w] as string),
			)}
			<path
				class="film-cross"
				d={`M${cross[0] - 2 * r} ${cross[1]}h${1.5 * r}m${r} 0h${1.5 * r}M${cross[0]} ${cross[1] - 2 * r}v${1.5 * r}m0 ${r}v${1.5 * r}`}
			/>
			<text class="film-tool" x={cross[0] + 2.2 * r} y={cross[1] + 3 * r} font-size={2 * r}>
				{typeof tool === "string" ? tool : `point ${tool + 1}`}
			</text>
		</svg>
	);
}

/** What the marks are measured by, and the moments that were marked. */
function Scales(props: {
	marking: Marking;
	moment: { frame?: number; time_s?: number };
	go: (to: Shown) => Promise<void>;
	pointing: () => void;
	times: readonly number[];
}) {
	const { marking, moment, go, pointing, times } = props;
	const marks = marking.marks.value;
	const write = (key: "boat_length" | "post_spacing" | "plane_error", text: string) =>
		marking.change({ ...marks, [key]: text.trim() === "" ? undefined : text.trim() });
	const timeOf = (m: { frame?: number; time_s?: number }) => m.time_s ?? times[m.frame ?? 0] ?? 0;
	return (
		<div class="notes film-scales">
			<Field
				name="Length from the bow mark to the stern mark"
				value={marks.boat_length ?? ""}
				hint="560 mm ± 3 mm"
				say={(text) => write("boat_length", text)}
			/>
			<Field
				name="Distance from post to post"
				value={marks.post_spacing ?? ""}
				hint="40 m ± 0.1 m"
				say={(text) => write("post_spacing", text)}
			/>
			<div class="traces-tools wide">
				<button
					type="button"
					aria-pressed={marks.post.some((p) => same(p, moment))}
					onClick={() => marking.change(withPost(marks, moment))}
				>
					Bow passes a post on this frame
				</button>
				{EVENTS.map(([kind, word]) => (
					<button
						type="button"
						key={kind}
						aria-pressed={marks.event.some((e) => e.kind === kind && same(e, moment))}
						onClick={() => marking.change(withEvent(marks, moment, kind))}
					>
						{word} here
					</button>
				))}
				<button type="button" onClick={pointing}>
					Four known points
				</button>
			</div>
			{marks.plane.map((p, i) => (
				<Field
					key={`${p.pixel}`}
					name={`Where point ${i + 1} is, m along and across`}
					value={p.place_m.join(", ")}
					hint="0, 0"
					say={(text) => {
						const [x, y] = text.split(/[,;]\s*|\s+/).map(Number);
						if (x === undefined || y === undefined || Number.isNaN(x + y)) return;
						const place: Pixel = [x, y];
						const plane = marks.plane.map((old, j) => (j === i ? { ...old, place_m: place } : old));
						marking.change({ ...marks, plane });
					}}
				/>
			))}
			<ol class="marked wide" aria-label="Marked frames">
				{marks.mark.map((m) => (
					<li key={`${m.frame}${m.time_s}`}>
						<button type="button" onClick={() => go({ frame: m.frame, time_s: timeOf(m) })}>
							{timeOf(m).toFixed(3)} s:{" "}
							{["bow", "stern", "fixed"].filter((w) => m[w as "bow"]).join(", ")}
						</button>
						<button
							type="button"
							aria-label={`take away the marks at ${timeOf(m).toFixed(3)} s`}
							onClick={() => marking.change({ ...marks, mark: marks.mark.filter((x) => x !== m) })}
						>
							×
						</button>
					</li>
				))}
				{marks.post.map((m, i) => (
					<li key={`post${m.frame}${m.time_s}`}>
						<button type="button" onClick={() => go({ frame: m.frame, time_s: timeOf(m) })}>
							{timeOf(m).toFixed(3)} s: post {i + 1}
						</button>
					</li>
				))}
				{marks.event.map((m) => (
					<li key={`${m.kind}${m.frame}${m.time_s}`}>
						<button type="button" onClick={() => go({ frame: m.frame, time_s: timeOf(m) })}>
							{timeOf(m).toFixed(3)} s: {m.kind.replace("_", " ")}
						</button>
					</li>
				))}
			</ol>
		</div>
	);
}
