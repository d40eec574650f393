import { discard, redo, save, undo } from "../desk";
import * as state from "../state";
import { listing } from "./keys";
import { LookSwitch } from "./look";
import { say, system, UnitSwitch } from "./units";

/** What is open, what is tried out, and the ways back. Its height is always the same. */
export function Bar() {
	const session = state.session.value;
	const boat = state.boat.value;
	const starting = state.place.value === state.START || !session?.boat;
	return (
		<header class="bar">
			{session?.boat && !starting && (
				<button type="button" onClick={() => state.go(state.START)}>
					<span aria-hidden="true">⌂</span> Boats
				</button>
			)}
			<h1 title={session?.folder ?? undefined}>{starting ? "skimwright" : session?.boat}</h1>
			{!starting && <Standing />}
			{session?.boat && starting && (
				<button type="button" class="main" onClick={() => state.go("findings")}>
					Back to {session.boat}
				</button>
			)}
			<span class="grow" role="status">
				<Doing />
			</span>
			{!starting && boat && <Steps />}
			<UnitSwitch />
			<LookSwitch />
			<button
				type="button"
				class="list-keys"
				aria-label="Keys"
				onClick={() => (listing.value = true)}
			>
				?
			</button>
		</header>
	);
}

/** What it weighs and where it balances; and what that rests on. */
function Standing() {
	const study = state.shown.value?.study;
	if (!study) return null;
	const x = study.balance.x;
	const by = 1000 * state.shift.value[0];
	// At once while a part is in hand; the program's own number follows.
	const balance = by === 0 || x.value == null ? x : { ...x, value: x.value + by, shown: undefined };
	return (
		<span class="standing">
			{say(study.mass)}, balances {say(balance)} ahead of the transom
			{study.rests_on && `; predicted ${study.rests_on}`}
		</span>
	);
}

function Doing() {
	const study = state.shown.value?.study;
	if (state.doing.value) return <span class="busy">{state.doing.value} …</span>;
	if (study && !study.full) return <span class="busy">finding how sure this is …</span>;
	return null;
}

function Steps() {
	const boat = state.boat.value;
	const changed = boat?.changed ?? [];
	const readOnly = state.session.value?.read_only;
	return (
		<>
			<span class="trying">
				{changed.length > 0 &&
					`◆ trying ${changed.length === 1 ? "1 change" : `${changed.length} changes`}, not saved`}
			</span>
			<button type="button" disabled={!boat?.undo.length} title={boat?.undo[0]} onClick={undo}>
				Undo
			</button>
			<button type="button" disabled={!boat?.redo.length} title={boat?.redo[0]} onClick={redo}>
				Redo
			</button>
			<button type="button" disabled={changed.length === 0} onClick={discard}>
				Discard<span class="long"> changes</span>
			</button>
			<button
				type="button"
				class="main"
				disabled={changed.length === 0 || readOnly}
				title={readOnly ? "opened with --read-only" : undefined}
				onClick={save}
			>
				Save
			</button>
			<a href={`/api/report?units=${system.value}`} target="_blank" rel="noreferrer">
				Print
			</a>
		</>
	);
}
