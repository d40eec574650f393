import createClient from "openapi-fetch";
import type { paths } from "./schema";
import type { Refusal } from "./types";

const client = createClient<paths>({ baseUrl: location.origin, credentials: "same-origin" });

/** The server's own words for what cannot be done. */
export class Refused extends Error {
	constructor(
		readonly refusal: Refusal,
		readonly status: number,
	) {
		super(refusal.message);
	}
}

const gone: Refusal = {
	message: "the server does not answer",
	hint: "is skimwright still running? What you tried out is kept; start it again and reload",
	problems: [],
};

/** The answer, or [`Refused`]. */
export async function answer<T>(
	asked: Promise<{ data?: T; error?: unknown; response: Response }>,
): Promise<T> {
	let got: { data?: T; error?: unknown; response: Response };
	try {
		got = await asked;
	} catch {
		throw new Refused(gone, 0);
	}
	if (got.data !== undefined) return got.data;
	const refusal = got.error as Partial<Refusal> | undefined;
	throw new Refused(
		{
			message: refusal?.message ?? `the server answered ${got.response.status}`,
			hint: refusal?.hint ?? "",
			problems: refusal?.problems ?? [],
		},
		got.response.status,
	);
}

/** The answer as the document has it: the client's own types forget how long a list of fixed length is. */
export const whole = async <T>(asked: Parameters<typeof answer>[0]): Promise<T> =>
	(await answer(asked)) as T;

export const api = client;

/** Names this page among several on one boat. */
export const CLIENT = crypto.randomUUID();
