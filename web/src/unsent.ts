import type { Edit } from "./api/types";
import * as state from "./state";

const NAME = "skimwright-unsent";

interface Kept {
	folder: string;
	edits: Edit[];
}

const folder = () => state.session.value?.folder ?? "";

/** Edits of this boat that the program has not heard. */
export function kept(): Edit[] {
	try {
		const found = JSON.parse(localStorage.getItem(NAME) ?? "null") as Kept | null;
		return found?.folder === folder() ? found.edits : [];
	} catch {
		return [];
	}
}

export function keep(edits: Edit[]) {
	const kept: Kept = { folder: folder(), edits };
	localStorage.setItem(NAME, JSON.stringify(kept));
}

export const letGo = () => localStorage.removeItem(NAME);
