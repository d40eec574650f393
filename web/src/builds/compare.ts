import type { components } from "../api/schema";
import { best, halfWidth, type Quantity, show } from "../ui/format";

export type Build = components["schemas"]["Build"];
export type Change = Build["changed"][number];
export type Predicted = Build["predicted"][number];

/** What changed from one build to a later one: the steps between them, taken together. */
export function changesBetween(builds: readonly Build[], from: number, to: number): Change[] {
	const all = new Map<string, Change>();
	for (const build of builds.slice(from + 1, to + 1))
		for (const c of build.changed) {
			const before = all.get(c.key)?.before;
			all.set(c.key, { ...c, before: before === undefined ? c.before : before });
		}
	return [...all.values()].filter((c) => c.before !== c.after);
}

/** Predicted numbers of two builds beside each other, those that only one has too. */
export function beside(a: Build, b: Build): { id: string; a?: Predicted; b?: Predicted }[] {
	const ids = [...new Set([...a.predicted, ...b.predicted].map((p) => p.id))];
	return ids.map((id) => ({
		id,
		a: a.predicted.find((p) => p.id === id),
		b: b.predicted.find((p) => p.id === id),
	}));
}

/** How a change stands against what is not known: in words. */
export function differs(a: Quantity, b: Quantity): string {
	const by = best(b) - best(a);
	const spread = Math.hypot(halfWidth(a), halfWidth(b));
	if (show(a) === show(b)) return "the same";
	const way = by > 0 ? "more" : "less";
	// A number without a spread says nothing of how sure it is.
	if (spread === 0) return way;
	return Math.abs(by) > spread ? `clearly ${way}` : `${way}, within the spread`;
}
