import { Refused } from "../api/client";
import type { Refusal } from "../api/types";

/** Bytes of the program's, or its words for why not. */
export async function fetched(path: string, signal?: AbortSignal): Promise<ArrayBuffer> {
	const got = await fetch(path, { signal, credentials: "same-origin" });
	if (got.ok) return got.arrayBuffer();
	const refusal = (await got.json().catch(() => null)) as Refusal | null;
	throw new Refused(
		refusal ?? { message: `the server answered ${got.status}`, hint: "", problems: [] },
		got.status,
	);
}
