import { useEffect, useMemo, useState } from "preact/hooks";
import { useWidth } from "../ui/width";
import { type Courses, readCourses } from "./binary";
import { fetched } from "./fetched";
import {
	came,
	clocks,
	commonHead,
	kindOf,
	listen,
	measure,
	measured,
	offset,
	outing,
	type Recording,
	setCommonHead,
} from "./outing";
import { Player, recordingUrl, ticks } from "./sound";
import { type Line, type Mark, Traces } from "./traces";
import { linesOf } from "./track";
import { clock, reading, seconds } from "./units";

/** Room for the names of the recordings, px. */
const NAMES = 150;
/** As much of a name as there is room for. */
const short = (name: string, letters: number) =>
	name.length > letters ? `${name.slice(0, Math.max(3, Math.floor(letters) - 1))}…` : name;
const ROW = 30;

const WORDS: Record<string, string> = {
	launch: "launch",
	throttle_cut: "throttle cut",
	pass: "pass",
	marked: "mark",
};

/** Every recording that is joined to the others, on one clock, with one play head. */
export function OneClock() {
	const all = measured.value;
	const joined = (outing.value?.recordings ?? []).filter((r) => offset(r.name) !== null);
	const lines = useLines(joined);
	const marks = useMemo<Mark[]>(() => {
		const first = new Set<string>();
		const own = (all?.events ?? []).filter((e) => offset(e.recording) !== null);
		// The same event seen by two recordings is drawn once, where the first has it.
		return own.flatMap((e) => {
			const key = `${e.kind}${e.number}`;
			if (first.has(key)) return [];
			first.add(key);
			return [
				{ time: e.time_s.value + (offset(e.recording) ?? 0), word: `${WORDS[e.kind]} ${e.number}` },
			];
		});
	}, [all]);
	if (!all)
		return (
			<section aria-label="One clock">
				<h3>One clock</h3>
				<p>
					Recordings are joined by launches, throttle cuts and passes that more than one of them
					saw, or by the time of day. Measure them all first.
				</p>
				<button type="button" class="main" onClick={measure}>
					Measure all
				</button>
			</section>
		);
	const apart = all.recordings.filter((r) => r.span_s && offset(r.file) === null);
	return (
		<section aria-label="One clock">
			<h3>One clock</h3>
			<ul class="says">
				{clocks.value.map((c) => (
					<li key={c.recording}>
						<b>{c.recording}</b> runs {seconds(c.offset_s)}{" "}
						{c.offset_s.value < 0 ? "ahead of" : "behind"} {c.against}:{" "}
						{c.shared === 0
							? (c.remark ?? "by the time of day")
							: `${c.shared} ${c.shared === 1 ? "event" : "events"} in both${c.remark ? `; ${c.remark}` : ""}`}
					</li>
				))}
				{apart.map((r) => (
					<li key={r.file}>
						<b>{r.file}</b> is on a clock of its own: no event and no time of day joins it to the
						others.
					</li>
				))}
			</ul>
			{clocks.value.length > 0 && <Spans />}
			{joined
				.filter((r) => kindOf(r) === "sound")
				.map((r) => (
					<Player key={r.file} of={r} />
				))}
			{lines.length > 0 && (
				<Traces
					label="All traces on one clock"
					lines={lines}
					marks={marks}
					head={commonHead.value}
					onHead={setCommonHead}
				/>
			)}
		</section>
	);
}

/** The courses of recordings, shifted onto the common clock. */
function useLines(of: readonly Recording[]): Line[] {
	const [got, setGot] = useState<Record<string, Courses>>({});
	const key = of.map((r) => r.file).join();
	useEffect(() => {
		const stop = new AbortController();
		for (const r of of) {
			const kind = kindOf(r);
			if (kind === "sound" || kind === "marks") void listen(r);
			if (kind !== "log" && kind !== "track") continue;
			fetched(`${recordingUrl(r)}/courses`, stop.signal)
				.then((bytes) => setGot((before) => ({ ...before, [r.file]: readCourses(bytes) })))
				// One that cannot be read says so where it is opened.
				.catch(() => {});
		}
		return () => stop.abort();
	}, [key]);
	return useMemo(
		() =>
			of.flatMap((r) => {
				const shift = offset(r.name) ?? 0;
				const courses = got[r.file];
				if (courses) return linesOf(courses, shift, r.name).filter((l) => !PLACES.has(l.name));
				const heard = came.value[r.file];
				if (kindOf(r) !== "sound" || heard?.stage !== "done") return [];
				return heard.analysis.traces.map((t) => ({
					name: t.name,
					reading: reading(t.name, t.unit),
					time: t.points.map((p) => p[0]),
					values: t.points.map((p) => p[1]),
					shift,
					from: r.name,
				}));
			}),
		[key, got, came.value, clocks.value],
	);
}

const PLACES = new Set(["east", "north"]);

/** When each recording ran, and what it saw. */
function Spans() {
	const all = measured.value;
	const rows = (all?.recordings ?? []).flatMap((r) => {
		const shift = offset(r.file);
		return r.span_s && shift !== null
			? [{ file: r.file, from: r.span_s[0] + shift, to: r.span_s[1] + shift, shift }]
			: [];
	});
	const from = Math.min(...rows.map((r) => r.from));
	const to = Math.max(...rows.map((r) => r.to));
	const [place, wide] = useWidth<HTMLElement>();
	const left = Math.min(NAMES, 0.36 * wide);
	const high = rows.length * ROW + 26;
	const x = (t: number) => left + ((t - from) / (to - from)) * (wide - left - 20);
	const now = commonHead.value;
	const press = (e: MouseEvent) => {
		const box = (e.currentTarget as Element).getBoundingClientRect();
		const along = ((e.clientX - box.left) / box.width) * wide;
		if (along > left) setCommonHead(from + ((along - left) / (wide - left - 20)) * (to - from));
	};
	return (
		<figure class="spans" ref={place}>
			{/* biome-ignore lint/a11y/useKeyWithClickEvents: the traces below move the head by keyboard */}
			<svg
				viewBox={`0 0 ${wide} ${high}`}
				role="img"
				aria-label={rows.map((r) => `${r.file} from ${clock(r.from)} to ${clock(r.to)}`).join("; ")}
				onClick={press}
			>
				{rows.map((r, i) => {
					const sigma = clocks.value.find((c) => c.recording === r.file)?.offset_s.sigma ?? 0;
					const y = i * ROW + 6;
					return (
						<g key={r.file}>
							<text x={left - 8} y={y + 14} text-anchor="end">
								{short(r.file, (left - 8) / 9.5)}
							</text>
							<rect
								class="span"
								x={x(r.from)}
								y={y}
								width={Math.max(2, x(r.to) - x(r.from))}
								height={18}
							/>
							{sigma > 0 && (
								<path
									class="unsure-line"
									d={`M${x(r.from - 2 * sigma)} ${y + 9}H${x(r.from + 2 * sigma)}M${x(r.to - 2 * sigma)} ${y + 9}H${x(r.to + 2 * sigma)}`}
								/>
							)}
							{all?.events
								.filter((e) => e.recording === r.file)
								.map((e) => (
									<g key={`${e.kind}${e.number}`}>
										<line
											class="seen"
											x1={x(e.time_s.value + r.shift)}
											x2={x(e.time_s.value + r.shift)}
											y1={y}
											y2={y + 18}
										/>
										<text class="seen-word" x={x(e.time_s.value + r.shift) + 3} y={y + 13}>
											{e.kind === "pass"
												? `p${e.number}`
												: e.kind === "launch"
													? "go"
													: e.kind === "throttle_cut"
														? "cut"
														: "m"}
										</text>
									</g>
								))}
						</g>
					);
				})}
				{ticks(from, to, (wide - left) / 100).map((t) => (
					<text key={t} class="strip-time" x={x(t)} y={high - 6} text-anchor="middle">
						{clock(t)}
					</text>
				))}
				{now !== null && now >= from && now <= to && (
					<line class="head" x1={x(now)} x2={x(now)} y1={0} y2={high - 20} />
				)}
			</svg>
			<figcaption class="quiet">
				go: launch; cut: throttle cut; p1: first pass; m: a mark you set. Whiskers at the ends are
				how far the clocks may be apart.
			</figcaption>
		</figure>
	);
}
