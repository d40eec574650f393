import { useEffect, useState } from "preact/hooks";
import * as state from "../state";
import type { Heard, Logged } from "./analysis";
import { Answers, Unusable } from "./answers";
import { OneClock } from "./clock";
import { Day } from "./day";
import { Film } from "./film";
import { Beside } from "./learned";
import { Log } from "./log";
import {
	begin,
	came,
	choose,
	coming,
	kindOf,
	listen,
	measure,
	measured,
	outing,
	outings,
	type Recording,
	readOutings,
	takeIn,
	view,
} from "./outing";
import "./pond.css";
import { Pulses } from "./pulses";
import { Said } from "./said";
import { Sound } from "./sound";
import { Track } from "./track";

/** A day on the water: recordings in, measured facts out. */
export default function Pond() {
	useEffect(() => void readOutings(), [state.session.value?.folder]);
	const all = outings.value;
	if (!all) return <p class="busy start">Looking for outings …</p>;
	return (
		<div class="pond">
			<aside>
				<Outings />
				<Drop />
				{outing.value && <Contents />}
			</aside>
			<div class="pond-main">{outing.value ? <Opened /> : <Nothing />}</div>
		</div>
	);
}

function Outings() {
	const all = outings.value ?? [];
	const today = new Date().toISOString().slice(0, 10);
	const [day, setDay] = useState(today);
	return (
		<section aria-label="Outings">
			<h2>Pond day</h2>
			{all.length > 0 && (
				<label>
					Outing{" "}
					<select value={outing.value?.id} onChange={(e) => choose(e.currentTarget.value)}>
						{all.map((o) => (
							<option key={o.id}>{o.id}</option>
						))}
					</select>
				</label>
			)}
			<details open={all.length === 0}>
				<summary>Start an outing</summary>
				<label>
					Day <input type="date" value={day} onInput={(e) => setDay(e.currentTarget.value)} />
				</label>{" "}
				<button
					type="button"
					disabled={state.session.value?.read_only || day === ""}
					onClick={() => begin(day)}
				>
					Start
				</button>
			</details>
		</section>
	);
}

/** Where files come in: dropped, or picked, from a phone too. */
function Drop() {
	const [over, setOver] = useState(false);
	const take = (files: FileList | null | undefined) => {
		if (files?.length) void takeIn([...files]);
	};
	return (
		<section
			aria-label="Recordings in"
			class={`pond-drop${over ? " over" : ""}`}
			onDragOver={(e) => {
				e.preventDefault();
				setOver(true);
			}}
			onDragLeave={() => setOver(false)}
			onDrop={(e) => {
				e.preventDefault();
				setOver(false);
				take(e.dataTransfer?.files);
			}}
		>
			<label for="recordings-in">
				<b>Drop or pick recordings</b>
				<br />
				<span class="quiet">
					sound, film, GPS track, controller or motion log, servo capture. They are copied in once
					and never changed.
				</span>
			</label>
			<input
				id="recordings-in"
				type="file"
				multiple
				disabled={state.session.value?.read_only}
				onChange={(e) => {
					take(e.currentTarget.files);
					e.currentTarget.value = "";
				}}
			/>
			{Object.entries(coming.value).map(([name, part]) => (
				<label key={name}>
					{name} <progress value={part} />
				</label>
			))}
		</section>
	);
}

const KIND_WORDS: Record<string, [shape: string, word: string]> = {
	sound: ["♪", "sound"],
	film: ["▶", "film"],
	track: ["~", "track"],
	log: ["≡", "log"],
	pulses: ["∏", "servo pulses"],
	marks: ["+", "marks"],
	other: ["·", "other"],
};

function Contents() {
	const now = outing.value;
	if (!now) return null;
	const chosen = (name: string) => typeof view.value === "object" && view.value.recording === name;
	return (
		<nav aria-label="Of this outing" class="contents">
			<button
				type="button"
				aria-current={view.value === "day" ? "page" : undefined}
				onClick={() => (view.value = "day")}
			>
				The day
			</button>
			{now.recordings.map((r) => {
				const [shape, word] = KIND_WORDS[r.film ? "film" : (kindOf(r) ?? "other")] as [
					string,
					string,
				];
				return (
					<button
						type="button"
						key={r.name}
						aria-current={chosen(r.name) ? "page" : undefined}
						onClick={() => (view.value = { recording: r.name })}
					>
						<span aria-hidden="true">{shape}</span> {r.name} <span class="quiet">{word}</span>
					</button>
				);
			})}
			<button
				type="button"
				aria-current={view.value === "clock" ? "page" : undefined}
				onClick={() => (view.value = "clock")}
			>
				One clock
			</button>
			<button
				type="button"
				aria-current={view.value === "learned" ? "page" : undefined}
				onClick={() => (view.value = "learned")}
			>
				Measured beside predicted
			</button>
			<button
				type="button"
				class="main"
				disabled={now.recordings.length === 0 || state.session.value?.read_only}
				onClick={measure}
			>
				{measured.value ? "Measure all again" : "Measure all"}
			</button>
			{measured.value && <MeasuredSo />}
		</nav>
	);
}

function MeasuredSo() {
	// A film without sound is still a film.
	const silent = (why: string | null) => why?.includes("no audio track");
	const troubles = measured.value?.recordings.filter((r) => r.trouble && !silent(r.trouble)) ?? [];
	return (
		<>
			{troubles.map((r) => (
				<p class="caution" key={r.file}>
					<b>{r.file}</b>: {r.trouble}
				</p>
			))}
		</>
	);
}

function Nothing() {
	return (
		<section>
			<h2>No outing yet</h2>
			<p>
				An outing is a day on the water: what you say of it, and what your instruments recorded.
				Start one, or drop a recording and one is started for today.
			</p>
			<ul>
				<li>
					A <b>sound</b> of the boat going by gives speed, closest distance and rpm together.
				</li>
				<li>
					A <b>film</b> gives speed from marks you set on a few frames.
				</li>
				<li>
					A <b>track</b> gives speeds held, laps and turns.
				</li>
				<li>
					A <b>log</b> gives rpm, current, voltage and temperature; a motion log hops and landings.
				</li>
				<li>
					A <b>servo capture</b> tells whether the lead is sound.
				</li>
			</ul>
		</section>
	);
}

function Opened() {
	const now = view.value;
	if (now === "day") return <Day />;
	if (now === "clock") return <OneClock />;
	if (now === "learned") return <Beside />;
	if (typeof now === "object") {
		const r = outing.value?.recordings.find((r) => r.name === now.recording);
		return r ? <One key={r.file} of={r} /> : <p>That recording has gone from the folder.</p>;
	}
	return null;
}

/** A recording as what it is. */
function One({ of }: { of: Recording }) {
	const got = came.value[of.file];
	useEffect(() => void listen(of), [of.file, got === undefined]);
	const analysis = got?.stage === "done" ? got.analysis : undefined;
	const kind = kindOf(of);
	return (
		<section aria-label={of.name}>
			<h3>
				{of.name} <span class="quiet">{size(of.bytes)}</span>{" "}
				<a
					href={`/api/outings/${of.file.split("/")[1]}/recordings/${encodeURIComponent(of.name)}`}
					download={of.name}
				>
					the file itself
				</a>
			</h3>
			<p role="status">{got?.stage === "working" && <span class="busy">measuring …</span>}</p>
			{got?.stage === "failed" && !of.film && <Unusable why={got.refusal} />}
			{of.film && <Film of={of} got={got} />}
			{kind === "sound" && !of.film && <Sound of={of} heard={analysis as Heard | undefined} />}
			{kind === "track" && <Track of={of} analysis={analysis} />}
			{kind === "log" && <Log of={of} logged={analysis as Logged | undefined} />}
			{kind === "pulses" && <Pulses of={of} analysis={analysis} />}
			{kind === "marks" && analysis && <Answers of={analysis} first={["speed"]} />}
			{kind === undefined && !of.film && (
				<p>
					It is kept beside the outing. What it is cannot be told from its name: sound is WAV, FLAC,
					OGG, MP3, MP4 or MOV; a track GPX, NMEA or CSV; logs and pulses are CSV.
				</p>
			)}
			<Said of={of} kind={kind} />
		</section>
	);
}

const size = (bytes: number) =>
	bytes < 1e6 ? `${Math.ceil(bytes / 1e3)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
