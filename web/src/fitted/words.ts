// What the boat file's tables and keys are called by who has the thing in hand.
import type { Key, Table } from "../api/types";

/** Groups in the order a builder takes things up; each table belongs to the first that knows it. */
export const GROUPS: { title: string; has: (t: Table) => boolean }[] = [
	{ title: "What you wish for", has: (t) => t.path[0] === "wishes" },
	{ title: "On the scale", has: (t) => t.path[0] === "part" },
	{ title: "Battery, motor, propeller", has: (t) => t.path[0] === "drive" },
	{
		title: "Rudder, fins, wings",
		has: (t) => ["rudder", "fin", "wing"].includes(String(t.path[0])),
	},
	{ title: "Hull and shell", has: (t) => t.path[0] === "hull" || t.path.length === 0 },
	{
		title: "Openings and foam",
		has: (t) => ["opening", "float"].includes(String(t.path[0])),
	},
	{ title: "Water and air", has: (t) => ["water", "air"].includes(String(t.path[0])) },
	{ title: "Printing and glue", has: () => true },
];

/** What a boat cannot be told without; asked for first of all. */
const FIRST = [
	"hull/unit",
	"hull/forward",
	"hull/up",
	"drive/0/battery/cells",
	"drive/0/battery/capacity",
	"drive/0/motor/kv",
	"drive/0/propeller/diameter",
	"drive/0/propeller/pitch",
	"drive/0/propeller/pitch_ratio",
];
/** Asked for whether they are told or not. */
const ASKED = new Set(FIRST.filter((k) => !/pitch|hull/.test(k)));

/** Whether a key is among the few that matter most; those of a mesh only where there is one. */
export function first(k: Pick<Key, "path" | "written">, mesh: boolean): boolean {
	const name = k.path.join("/");
	if (!FIRST.includes(name)) return false;
	return k.written != null || ASKED.has(name) || (mesh && name.startsWith("hull/"));
}

const TABLES: Record<string, string> = {
	"": "The boat",
	wishes: "Wishes",
	water: "Water",
	air: "Air and wind",
	hull: "Hull",
	"hull.print": "How the shell is printed",
	"hull.weighed": "The shell on a scale",
	"hull.running": "Running surfaces as measured",
	"hull.starter": "Starter hull",
	printer: "Printer",
	glue: "Glue",
	cut: "Cut",
	piece: "Piece",
	rod: "Rod",
	"drive.battery": "Battery",
	"drive.controller": "Speed controller",
	"drive.motor": "Motor",
	"drive.cooling": "Water cooling",
	"drive.shaft": "Shaft",
	"drive.strut": "Strut",
	"drive.propeller": "Propeller",
	"drive.propeller.measured": "Propeller as measured",
	rudder: "Rudder",
	fin: "Fin",
	wing: "Wing",
	float: "Foam or sealed void",
	opening: "Opening",
	part: "Part",
};

const KEYS: Record<string, string> = {
	at: "Where",
	from: "From",
	to: "To",
	kv: "kv",
	cup: "Cup",
	run_time: "Run time at full throttle",
	speed: "Top speed",
	freeboard: "Least freeboard",
	ripple: "Height of the ripple",
	headwind: "Headwind",
	edge_radius: "Radius of the trailing edges",
	finish: "What was done to the bottom",
	layer_lines: "Layer lines run",
	unit: "Unit of the mesh",
	forward: "Axis of the mesh to the bow",
	up: "Axis that points up",
	file: "Mesh",
	files: "Meshes",
	top_bottom: "Top and bottom layers",
	extra: "Frames and spigots",
	coating: "Resin, primer, paint",
	cells: "Cells",
	cell_resistance: "Resistance of a cell",
	state_of_charge: "Charge left",
	max_temperature: "Hottest allowed",
	max_current: "Most current allowed",
	rated_current: "Rated current",
	current_limit: "Holds back at",
	no_load_current: "No-load current",
	winding_temperature: "Winding temperature",
	resistance: "Resistance",
	lead: "Wire added",
	order: "Cools",
	rise: "Highest point of the line",
	recovery: "Ram pressure kept",
	lid: "Hatch",
	bore: "Bore of the tube",
	length: "Length",
	ends: "Bearings hold it",
	stub: "Free end",
	pitch_ratio: "Pitch over diameter",
	area_ratio: "Blade area over disc",
	lift_fraction: "Lift as a share of thrust",
	rotation: "Turns, from astern",
	throw: "Most angle",
	stock: "Stock behind the edge",
	servo_time: "Servo, for 60°",
	servo_torque: "Servo holds",
	movable: "Can be slid",
	hollow: "Hollow",
	incidence: "Nose up",
	toe: "Toe",
	lean: "Lean",
};

const list = (t: Pick<Table, "path">) => t.path.filter((s) => typeof s === "string");

/** A heading in words: a thing of a list by the name its builder gave it. */
export function titled(t: Pick<Table, "path">): string {
	const names = list(t) as string[];
	const [first, second] = names;
	if (first === "drive") {
		const which = t.path[1] === 0 || t.path[1] === undefined ? "" : ` ${Number(t.path[1]) + 1}`;
		const inner = names.slice(1).join(".");
		return (TABLES[`drive.${inner}`] ?? (inner ? inner : "Drive")) + which;
	}
	const known = TABLES[names.join(".")];
	if (known) {
		const at = t.path.find((s) => typeof s === "number");
		return typeof at === "number" && at > 0 ? `${known} ${at + 1}` : known;
	}
	return second && TABLES[String(first)] ? second : names.join(" ");
}

/** A field's label. */
export function labelled(name: string): string {
	const words = KEYS[name] ?? name.replaceAll("_", " ");
	return words === "kv" ? words : words.charAt(0).toUpperCase() + words.slice(1);
}

/** The program's own sentence without the marks of its file. */
export const plain = (doc: string) => doc.replaceAll("`", "");
