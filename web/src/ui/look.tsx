// Palettes: paper, night, and one for bright sun. Each is a set of values in the style sheet.
import { signal } from "@preact/signals";

export const LOOKS = {
	auto: "as the system",
	paper: "paper",
	night: "night",
	sun: "bright sun",
} as const;
export type Look = keyof typeof LOOKS;

const NAME = "skimwright-look";
const kept = (): Look => {
	const found = localStorage.getItem(NAME);
	return found && found in LOOKS ? (found as Look) : "auto";
};

const dark = matchMedia("(prefers-color-scheme: dark)");
const harsh = matchMedia("(prefers-contrast: more)");
const chosen = signal<Look>(kept());
/** The palette shown. */
export const look = signal<Exclude<Look, "auto">>("paper");

function apply() {
	const wished = chosen.value;
	const own = harsh.matches ? "sun" : dark.matches ? "night" : "paper";
	const now = wished === "auto" ? own : wished;
	document.documentElement.dataset.look = now;
	look.value = now;
}
apply();
dark.addEventListener("change", apply);
harsh.addEventListener("change", apply);

export function LookSwitch() {
	return (
		<span class="look">
			<select
				aria-label="Colours"
				value={chosen.value}
				onChange={(e) => {
					chosen.value = e.currentTarget.value as Look;
					localStorage.setItem(NAME, chosen.value);
					apply();
				}}
			>
				{Object.entries(LOOKS).map(([name, words]) => (
					<option key={name} value={name}>
						{words}
					</option>
				))}
			</select>
		</span>
	);
}
