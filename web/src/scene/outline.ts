// What the drawings need from the shape: silhouettes from its sections.
import type { Form } from "../api/types";
import { inUnit, unitOf } from "../ui/units";

type Point = [number, number];
type Sections = Pick<Form, "sections">;
const points = (lines: number[][][]): number[][] => lines.flat();

/** Silhouette from the side: along the top, back along the bottom; (x, z). */
export function profile(form: Sections): Point[] {
	return silhouette(form, 1);
}

/** Silhouette from above; (x, y). */
export function planform(form: Sections): Point[] {
	return silhouette(form, 0);
}

function silhouette(form: Sections, axis: 0 | 1): Point[] {
	const rows = form.sections
		.map((section) => ({
			x: section.x_m,
			values: points(section.lines_m).map((point) => point[axis] ?? 0),
		}))
		.filter((row) => row.values.length > 0);
	const over = rows.map((row): Point => [row.x, Math.max(...row.values)]);
	const under = rows.map((row): Point => [row.x, Math.min(...row.values)]);
	return [...over, ...under.reverse()];
}

/** A length in the unit shown, for the text of a place. */
export function length(m: number): string {
	const unit = unitOf("mm");
	return `${inUnit(m * 1000, "mm").toFixed(unit === "in" ? 2 : 0)} ${unit}`;
}

/** A place as the boat file writes it. */
export const place = (at: number[]) =>
	at.map((m) => `${(m * 1000).toFixed(1).replace(/\.0$/, "")} mm`);
