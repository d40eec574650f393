import { useEffect, useMemo, useState } from "preact/hooks";
import { answer, api, whole } from "../api/client";
import { attempt } from "../desk";
import * as state from "../state";
import type { Column, Logged } from "./analysis";
import { Answers } from "./answers";
import { head, outing, type Recording, set, setHead } from "./outing";
import { Traces } from "./traces";
import { linesOf, useCourses } from "./track";
import { named } from "./units";

/** A controller's or motion log: what its columns hold, agreed to by the builder, and its traces. */
export function Log({ of, logged }: { of: Recording; logged?: Logged }) {
	return (
		<div class="log">
			{logged && <Columns of={of} logged={logged} />}
			{logged?.doubts.map((d) => (
				<p class="caution" key={d}>
					▲ {d}
				</p>
			))}
			{logged?.mapping.confirmed && (
				<Answers
					of={logged}
					first={["current", "shaft_speed", "motor_temperature", "hop_frequency"]}
				/>
			)}
			{/* Another reading of the columns gives other traces. */}
			<Courses
				of={of}
				key={JSON.stringify(logged?.mapping.columns.map((c) => [c.heading, c.quantity]))}
			/>
		</div>
	);
}

function Courses({ of }: { of: Recording }) {
	const [all, wrong] = useCourses(of);
	const lines = useMemo(() => (all ? linesOf(all) : []), [all]);
	if (wrong) return <p class="caution">{wrong}</p>;
	if (!all) return <p class="busy">reading the log …</p>;
	return (
		<>
			{all.thinned && (
				<p class="quiet">
					A very long log: each stretch is drawn by its lowest and highest reading.
				</p>
			)}
			<Traces
				label={`Traces of ${of.name}`}
				lines={lines}
				head={head(of.name)}
				onHead={(t) => setHead(of.name, t)}
			/>
		</>
	);
}

/** What is proposed for the columns, to correct and agree to; nothing is used before. */
function Columns({ of, logged }: { of: Recording; logged: Logged }) {
	const { columns, confirmed } = logged.mapping;
	const [quantities, setQuantities] = useState<string[]>([]);
	const [said, setSaid] = useState<Record<string, { quantity: string; unit: string }>>({});
	useEffect(() => {
		void attempt("reading what a column can hold", async () => {
			setQuantities(await answer(api.GET("/api/quantities")));
		});
	}, []);
	const agree = () =>
		attempt("remembering this logger", async () => {
			const id = outing.value?.id ?? "";
			const changed = Object.entries(said).map(([heading, { quantity, unit }]) => ({
				heading,
				quantity: quantity === "" ? null : (quantity as Column["quantity"]),
				unit: unit.trim() === "" ? null : unit.trim(),
			}));
			const params = { path: { id, name: of.name } };
			const body = { columns: changed };
			const got = await whole<Logged>(
				api.POST("/api/outings/{id}/recordings/{name}/columns", { params, body }),
			);
			set(of, got);
			setSaid({});
		});
	return (
		<details open={!confirmed} class={confirmed ? "" : "agree"}>
			<summary>
				{confirmed
					? "What its columns hold, as you agreed"
					: "◇ What do its columns hold? Nothing is used before you agree"}
			</summary>
			<div class="scroll" role="region" aria-label="Columns">
				<table>
					<thead>
						<tr>
							<th scope="col">Column</th>
							<th scope="col">Holds</th>
							<th scope="col">In</th>
							<th scope="col">How sure</th>
						</tr>
					</thead>
					<tbody>
						{columns.map((c) => (
							<Row
								key={c.heading}
								of={c}
								quantities={quantities}
								confirmed={confirmed}
								said={said[c.heading]}
								say={(to) => setSaid({ ...said, [c.heading]: to })}
							/>
						))}
					</tbody>
				</table>
			</div>
			<button
				type="button"
				class="main"
				disabled={state.session.value?.read_only || (confirmed && Object.keys(said).length === 0)}
				onClick={agree}
			>
				That is right: remember it for this logger
			</button>
		</details>
	);
}

function Row(props: {
	of: Column;
	quantities: readonly string[];
	confirmed: boolean;
	said: { quantity: string; unit: string } | undefined;
	say: (to: { quantity: string; unit: string }) => void;
}) {
	const { of, quantities, confirmed, said, say } = props;
	const now = said ?? { quantity: of.quantity, unit: "" };
	const all = quantities.includes(of.quantity) ? quantities : [of.quantity, ...quantities];
	return (
		<tr>
			<th scope="row">{of.heading}</th>
			<td>
				<select
					aria-label={`${of.heading} holds`}
					value={now.quantity}
					onChange={(e) => say({ ...now, quantity: e.currentTarget.value })}
				>
					<option value="">leave it alone</option>
					{all.map((q) => (
						<option key={q} value={q}>
							{named(q)}
						</option>
					))}
				</select>
			</td>
			<td>
				<input
					aria-label={`Unit of ${of.heading}`}
					size={6}
					placeholder="as it says"
					value={now.unit}
					onChange={(e) => say({ ...now, unit: e.currentTarget.value })}
				/>
			</td>
			<td class="quiet">
				{confirmed ? "agreed" : `${Math.round(100 * of.confidence)} %: ${of.reason}`}
			</td>
		</tr>
	);
}
