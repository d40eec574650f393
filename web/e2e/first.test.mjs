// The first minute: nothing open, a demonstration, a drag, a finding that changes, a saved boat.
import assert from "node:assert/strict";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { accessible, EXAMPLES, page, promised, room, serve } from "./harness.mjs";

const WAIT = 60_000;
const own = room();

const findings = (tab) => tab.locator(".finding summary").allTextContents();
const comments = (text) => text.split("\n").filter((line) => line.trimStart().startsWith("#"));

test("a demonstration: rail, battery dragged, finding changed, one step back, saved", async () => {
	const home = own.folder();
	const server = await serve(home);
	const { tab, errors, context } = await page(own.chrome, server.address);
	const card = tab.getByRole("button", { name: /Tadpole/ }).filter({ hasNotText: "spoilt" });
	await card.waitFor();
	const began = Date.now();
	await card.click();
	await tab.locator(".finding").first().waitFor({ timeout: WAIT });
	promised("demonstration to first findings", Date.now() - began, 2000);
	await tab.getByText("finding how sure this is").waitFor({ state: "hidden", timeout: WAIT });
	await tab.getByText("tightest steady turn").first().waitFor({ timeout: WAIT });

	// The rail, by the mouse on the score itself.
	const score = await tab.locator(".score .moving").boundingBox();
	const along = (share) => [score.x + score.width * share, score.y + 30];
	await tab.mouse.move(...along(0.3));
	await tab.mouse.down();
	await tab.mouse.move(...along(0.6), { steps: 8 });
	await tab.mouse.up();
	await tab.waitForFunction(
		() => Number.parseFloat(document.querySelector(".axis output").textContent) > 10,
	);

	await tab.getByRole("button", { name: "side", exact: true }).click();
	const before = await findings(tab);
	const balance = () => tab.locator(".bar .standing").textContent();
	const was = await balance();
	const battery = await tab
		.getByRole("button", { name: /^Battery/ })
		.locator("rect")
		.boundingBox();
	const [x, y] = [battery.x + battery.width / 2, battery.y + battery.height / 2];
	await tab.mouse.move(x, y);
	await tab.mouse.down();
	await tab.mouse.move(x - 40, y, { steps: 10 });
	// Still held: the balance and what is said of it follow the hand.
	await tab.waitForFunction(
		(was) => document.querySelector(".bar .standing").textContent !== was,
		was,
		{ timeout: WAIT },
	);
	await tab.waitForFunction(
		(before) =>
			[...document.querySelectorAll(".finding summary")].some(
				(s) => !before.includes(s.textContent),
			),
		before,
		{ timeout: WAIT },
	);
	await tab.mouse.up();
	await tab.getByText(/trying/).waitFor({ timeout: WAIT });
	await tab
		.getByText("working it out …", { exact: true })
		.waitFor({ state: "hidden", timeout: WAIT });

	await tab.getByRole("button", { name: "Undo" }).click();
	await tab.getByText(/not saved/).waitFor({ state: "hidden", timeout: WAIT });
	assert.equal(await balance(), was);
	assert.ok(await tab.getByRole("button", { name: "Undo" }).isDisabled());
	await tab.getByRole("button", { name: "Redo" }).click();
	await tab.getByText(/not saved/).waitFor({ timeout: WAIT });
	await accessible(tab);

	await tab.getByRole("button", { name: "Save", exact: true }).click();
	await tab.getByText(/not saved/).waitFor({ state: "hidden", timeout: WAIT });
	const file = join(home, "tadpole/boat.toml");
	assert.ok(existsSync(file), "the demonstration is now a folder of one's own");
	const [now, then] = [file, join(EXAMPLES, "tadpole/boat.toml")].map((f) =>
		readFileSync(f, "utf8"),
	);
	assert.notEqual(now, then);
	assert.deepEqual(comments(now), comments(then));
	assert.deepEqual(errors, []);
	await context.close();
	await server.stop();
});

test("an STL dropped on the page starts a boat with findings", async () => {
	const home = own.folder();
	const server = await serve(home);
	const { tab, errors, context } = await page(own.chrome, server.address);
	await tab.getByText("Your own hull").waitFor();
	const bytes = readFileSync(join(EXAMPLES, "tadpole/tadpole.stl")).toString("base64");
	const began = Date.now();
	await tab.locator(".drop").evaluate((drop, base64) => {
		const data = new DataTransfer();
		const raw = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
		data.items.add(new File([raw], "my hull.stl"));
		drop.dispatchEvent(new DragEvent("drop", { bubbles: true, dataTransfer: data }));
	}, bytes);
	const start = tab.getByRole("button", { name: "Start with this hull" });
	await start.waitFor({ timeout: WAIT });
	promised("dropped mesh to its picture", Date.now() - began, 5000);
	await tab.getByText(/long, .* wide, .* high/).waitFor();
	await accessible(tab);
	// Bow for stern and back: the axes are told, the picture is another and the same again.
	const told = tab.locator(".turns [role=status]");
	const hull = tab.locator(".as-read .hull").first();
	const [was, drawn] = [await told.textContent(), await hull.getAttribute("d")];
	const swap = tab.getByRole("button", { name: /Bow and stern swapped/ });
	await swap.click();
	await tab.waitForFunction(
		(was) =>
			!["reading …", was].includes(document.querySelector(".turns [role=status]").textContent),
		was,
		{ timeout: WAIT },
	);
	assert.notEqual(await hull.getAttribute("d"), drawn);
	await swap.click();
	await tab.waitForFunction(
		(was) => document.querySelector(".turns [role=status]").textContent === was,
		was,
		{ timeout: WAIT },
	);
	assert.equal(await hull.getAttribute("d"), drawn);
	await tab.getByLabel(/^Motor/).fill("3100");
	await tab.getByLabel(/^All-up mass/).fill("900");
	const pressed = Date.now();
	await start.click();
	await tab.locator(".finding").first().waitFor({ timeout: WAIT });
	promised("own hull to first findings", Date.now() - pressed, 10_000);
	await tab
		.getByText(/put in by common practice/)
		.first()
		.waitFor({ timeout: WAIT });
	const text = readFileSync(join(home, "my-hull/boat.toml"), "utf8");
	assert.match(text, /kv = "3100 rpm\/V"/);
	assert.match(text, /assumed = true/);
	assert.ok(existsSync(join(home, "my-hull/my hull.stl")));
	assert.deepEqual(errors, []);
	await context.close();
	await server.stop();
});

test("what is no mesh is explained, and a starter hull is one press away", async () => {
	const home = own.folder();
	const server = await serve(home);
	const { tab, context } = await page(own.chrome, server.address);
	await tab.getByText("Your own hull").waitFor();
	const file = { name: "notes.stl", mimeType: "model/stl", buffer: Buffer.from("not a mesh") };
	await tab.locator('input[type="file"]').setInputFiles(file);
	await tab.getByRole("alert").waitFor({ timeout: WAIT });
	assert.ok(!existsSync(join(home, "notes")), "nothing was made");
	await tab.getByRole("button", { name: /^vee/ }).click();
	await tab.locator(".finding").first().waitFor({ timeout: WAIT });
	await context.close();
	await server.stop();
});

for (const look of ["night", "bright sun"]) {
	test(`colours for ${look} are readable`, async () => {
		const home = own.folder();
		const server = await serve(home);
		const { tab, errors, context } = await page(own.chrome, server.address);
		await tab.getByLabel("Colours").selectOption({ label: look });
		await tab
			.getByRole("button", { name: /Tadpole/ })
			.first()
			.click();
		await tab.locator(".finding").first().waitFor({ timeout: WAIT });
		await tab.getByText("tightest steady turn").first().waitFor({ timeout: WAIT });
		await accessible(tab);
		await tab.getByRole("button", { name: "Fitted" }).click();
		await tab.locator(".key:visible").first().waitFor();
		await accessible(tab);
		assert.deepEqual(errors, []);
		await context.close();
		await server.stop();
	});
}

test("a part is taken hold of in three dimensions too", async () => {
	const home = own.folder();
	const server = await serve(home);
	const { tab, errors, context } = await page(own.chrome, server.address);
	await tab
		.getByRole("button", { name: /Tadpole/ })
		.first()
		.click();
	await tab.locator(".finding").first().waitFor({ timeout: WAIT });
	await tab.getByText("tightest steady turn").first().waitFor({ timeout: WAIT });
	const box = await tab.locator(".scene canvas").boundingBox();
	const tried = tab.getByText(/not saved/);
	// Where it lies on the screen depends on the hull: the first part met along the middle will do.
	for (let share = 0.3; share < 0.75 && !(await tried.isVisible()); share += 0.03) {
		const [x, y] = [box.x + box.width * share, box.y + box.height * (0.62 - 0.4 * (share - 0.3))];
		await tab.mouse.move(x, y);
		await tab.mouse.down();
		await tab.mouse.move(x + 3, y);
		await tab.mouse.move(x + 6, y);
		await tab.mouse.up();
		await tab.waitForTimeout(250);
	}
	await tried.waitFor({ timeout: WAIT });
	await tab
		.getByText("working it out …", { exact: true })
		.waitFor({ state: "hidden", timeout: WAIT });
	await tab.getByRole("button", { name: "Undo" }).click();
	await tried.waitFor({ state: "hidden", timeout: WAIT });
	assert.deepEqual(errors, []);
	await context.close();
	await server.stop();
});

/** Presses Tab until what is wanted has the focus; fails when all of the page was gone through. */
async function tabTo(tab, wanted) {
	for (let i = 0; i < 250; i++) {
		await tab.keyboard.press("Tab");
		const on = await tab.evaluate(() => {
			const e = document.activeElement;
			return `${e?.tagName} ${e?.getAttribute("aria-label") ?? ""} ${e?.textContent ?? ""}`;
		});
		if (wanted.test(on)) return;
	}
	assert.fail(`the keyboard does not reach ${wanted}`);
}

test("all of it by keyboard alone", async () => {
	const home = own.folder();
	const server = await serve(home);
	const { tab, errors, context } = await page(own.chrome, server.address);
	await tab
		.getByRole("button", { name: /Tadpole/ })
		.first()
		.waitFor();
	await tabTo(tab, /^BUTTON.*Tadpole/);
	await tab.keyboard.press("Enter");
	await tab.locator(".finding").first().waitFor({ timeout: WAIT });
	await tabTo(tab, /^BUTTON +side/);
	await tab.keyboard.press("Enter");
	await tabTo(tab, /Battery.*Arrow keys move it/);
	const balance = () => tab.locator(".bar .standing").textContent();
	const was = await balance();
	await tab.keyboard.press("Shift+ArrowLeft");
	await tab.keyboard.press("Shift+ArrowLeft");
	await tab.waitForFunction(
		(was) => document.querySelector(".bar .standing").textContent !== was,
		was,
		{ timeout: WAIT },
	);
	await tab
		.getByText("working it out …", { exact: true })
		.waitFor({ state: "hidden", timeout: WAIT });
	const tried = tab.getByText(/not saved/);
	// Each press was a step of its own.
	await tab.keyboard.press("Control+z");
	await tab.getByText("going back").waitFor({ state: "hidden", timeout: WAIT });
	await tried.waitFor();
	await tab.keyboard.press("Control+z");
	await tried.waitFor({ state: "hidden", timeout: WAIT });
	await tab.keyboard.press("Control+Shift+z");
	await tried.waitFor({ timeout: WAIT });
	await tab.getByText("going forward").waitFor({ state: "hidden", timeout: WAIT });
	await tabTo(tab, /^SUMMARY/);
	await tab.keyboard.press("Enter");
	await tabTo(tab, /^INPUT/);
	for (let i = 0; i < 5; i++) await tab.keyboard.press("ArrowRight");
	assert.notEqual(await tab.locator(".axis output").textContent(), "at rest");
	await tabTo(tab, /^BUTTON +Save$/);
	await tab.keyboard.press("Enter");
	await tab.getByText(/not saved/).waitFor({ state: "hidden", timeout: WAIT });
	assert.ok(existsSync(join(home, "tadpole/boat.toml")));
	assert.deepEqual(errors, []);
	await context.close();
	await server.stop();
});
