// Whether the water is seen to pass under the boat.
import { signal } from "@preact/signals";
import { hasCard } from "./card";

const NAME = "skimwright-flow";
const still = matchMedia("(prefers-reduced-motion: reduce)");

/** Where nobody chose: not where movement is unwelcome, nor where the processor would have to draw it. */
const usual = () => !still.matches && hasCard();

const chosen = localStorage.getItem(NAME);
export const flows = signal(chosen === null ? usual() : chosen === "on");

export function flow(on: boolean) {
	flows.value = on;
	localStorage.setItem(NAME, on ? "on" : "off");
}

still.addEventListener("change", () => {
	if (localStorage.getItem(NAME) === null) flows.value = usual();
});
