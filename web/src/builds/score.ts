// What a build was expected to do, and what it did.
import { best, halfWidth, type Quantity } from "../ui/format";

/** What outings measure of what is predicted. */
export const MEASURED: Record<string, string> = {
	"top-speed": "speed",
	current: "current",
	"motor-temperature": "motor_temperature",
};

/** One number of a build against an outing. */
export interface Scored {
	id: string;
	bet: Quantity;
	measured: Quantity;
	outing: string;
	/** Whether each lies within what both allow. */
	hit: boolean;
	/** How far apart they are in half-widths of both together; positive when more was measured. */
	apart: number;
}

interface Bets {
	predicted: readonly { id: string; number: Quantity }[];
}

/** Each number that was both predicted and measured, in one unit. */
export function scored(
	build: Bets,
	measured: readonly { kind: string; of: Quantity; outing: string }[],
): Scored[] {
	return build.predicted.flatMap(({ id, number: bet }) =>
		measured
			.filter((m) => m.kind === MEASURED[id] && m.of.unit === bet.unit)
			.flatMap(({ of, outing }) => {
				const both = Math.hypot(halfWidth(bet), halfWidth(of));
				const by = best(of) - best(bet);
				if (!Number.isFinite(by) || both === 0) return [];
				return [{ id, bet, measured: of, outing, apart: by / both, hit: Math.abs(by) <= both }];
			}),
	);
}
