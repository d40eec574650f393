// Making: pieces for the printer, whether it holds, and a hull sized for what it carries.
import assert from "node:assert/strict";
import { cpSync, existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { accessible, EXAMPLES, page, room, serve } from "./harness.mjs";

const WAIT = 90_000;
const own = room();

async function pieces(options = {}) {
	const home = own.folder();
	cpSync(join(EXAMPLES, "practice"), join(home, "practice"), { recursive: true });
	const server = await serve(home, ["practice"]);
	const address = server.address.replace("/#", "/?place=pieces#");
	const shown = await page(own.chrome, address, options);
	await shown.tab.locator(".cut tbody tr").first().waitFor({ timeout: WAIT });
	const end = async () => {
		await shown.context.close();
		await server.stop();
	};
	return { home, server, end, ...shown };
}

test("pieces are looked at without a file, then written once and never over anything", async () => {
	const { home, tab, errors, end } = await pieces({ viewport: { width: 1280, height: 720 } });
	const folder = join(home, "practice/pieces");
	const rows = await tab.locator(".cut tbody tr").count();
	assert.ok(rows > 1, `${rows} pieces`);
	assert.ok(!existsSync(folder), "looking writes nothing");
	// Masses of the pieces add up to what is told of all.
	const grams = (text) => Number(/([\d.]+)(?: ± [\d.]+)? g/.exec(text)[1]);
	const each = await tab.locator(".cut tbody td:nth-of-type(3)").allTextContents();
	const all = grams(await tab.locator(".cut .outcome").textContent());
	const sum = each.reduce((s, t) => s + grams(t), 0);
	assert.ok(Math.abs(sum - all) < 0.02 * all + rows, `${sum} g and ${all} g`);
	// Apart and together are two pictures.
	const canvas = tab.locator(".exploded canvas");
	await tab.waitForTimeout(800);
	const apart = await canvas.screenshot();
	await tab.locator(".exploded input").fill("0");
	await tab.waitForTimeout(500);
	assert.ok(!apart.equals(await canvas.screenshot()), "they go together");

	await tab.getByRole("button", { name: "Write the files" }).click();
	await tab.getByText(/Written to .*pieces/).waitFor({ timeout: WAIT });
	const files = readdirSync(folder).sort();
	assert.equal(files.length, rows + 1);
	assert.ok(files.includes("whole.3mf"));
	for (const name of files)
		assert.equal(readFileSync(join(folder, name)).subarray(0, 2).toString(), "PK", name);
	const before = files.map((f) => statSync(join(folder, f)).mtimeMs);
	await tab.getByRole("button", { name: "Write the files" }).click();
	await tab
		.getByText(/is there already, and nothing in it is written over/)
		.waitFor({ timeout: WAIT });
	assert.deepEqual(
		files.map((f) => statSync(join(folder, f)).mtimeMs),
		before,
	);
	await accessible(tab);
	assert.deepEqual(errors, []);
	await end();
});

test("the weakest place, its load and what breaks first are told, and the margin is drawn", async () => {
	const { tab, errors, end } = await pieces();
	await tab.getByText(/^Weakest is the/).waitFor({ timeout: WAIT });
	await tab.locator(".margins .load path").first().waitFor();
	assert.ok((await tab.locator(".margins .joint").count()) > 0);
	// What presses on it in the worst load, each arrow with its force.
	for (const force of await tab.locator(".margins .push").allTextContents())
		assert.match(force, /^[\d.]+ N$/);
	assert.ok((await tab.locator(".margins .push").count()) > 0);
	await tab.getByText("All that was looked at, worst first").click();
	const holds = await tab.locator(".holds td:last-child").allTextContents();
	const worst = Number.parseFloat(holds[0]);
	const said = await tab.locator(".holds .outcome").textContent();
	const [, number, percent] = /holds ([\d.]+)( %)?/.exec(said);
	const told = Number(number) / (percent ? 100 : 1);
	assert.ok(Math.abs(told - worst) <= 0.06, said);
	// A thicker wall is tried out, and it holds more; the pieces follow.
	const mass = await tab.locator(".cut .outcome").textContent();
	await tab.getByRole("button", { name: "Fitted", exact: true }).click();
	await tab.getByText("Hull and shell", { exact: true }).click();
	await tab.getByLabel("Wall", { exact: true }).fill("4");
	await tab.keyboard.press("Enter");
	await tab.getByText(/not saved/).waitFor({ timeout: WAIT });
	await tab.getByRole("button", { name: "Pieces", exact: true }).click();
	await tab.locator(".cut tbody tr").first().waitFor({ timeout: WAIT });
	assert.notEqual(await tab.locator(".cut .outcome").textContent(), mass);
	await tab.getByText(/They are of the boat as it is tried out/).waitFor();
	await tab.getByText(/^Weakest is the/).waitFor({ timeout: WAIT });
	assert.deepEqual(errors, []);
	await end();
});

test("pieces of a demonstration go with a boat of one's own", async () => {
	const home = own.folder();
	const server = await serve(home);
	const { tab, errors, context } = await page(own.chrome, server.address, {
		viewport: { width: 390, height: 844 },
		hasTouch: true,
	});
	await tab
		.getByRole("button", { name: /Tadpole/ })
		.filter({ hasNotText: "spoilt" })
		.click();
	await tab.getByRole("button", { name: "Pieces", exact: true }).click({ timeout: WAIT });
	await tab.locator(".cut tbody tr").first().waitFor({ timeout: WAIT });
	const wide = await tab.evaluate(() => document.documentElement.scrollWidth - innerWidth);
	assert.ok(wide <= 0, `${wide} px too wide`);
	await accessible(tab);
	await tab.getByRole("button", { name: /Save as a boat of your own and write/ }).click();
	await tab.getByText(/Written to/).waitFor({ timeout: WAIT });
	assert.ok(existsSync(join(home, "tadpole/pieces/whole.3mf")));
	assert.deepEqual(errors, []);
	await context.close();
	await server.stop();
});

test("a hull is sized for a load, with what one step does, and opened", async () => {
	const home = own.folder();
	const server = await serve(home);
	const { tab, errors, context } = await page(own.chrome, server.address);
	await tab.getByText("No hull yet?").click();
	await tab.getByLabel("Name").fill("Dipper");
	await tab.getByLabel(/^Hull/).selectOption("vee");
	const button = tab.getByRole("button", { name: "Size it" });
	await tab.getByLabel(/Everything but the hull weighs/).fill("1,2");
	await tab.getByLabel(/Top speed wished for/).fill("55");
	// A gram and a fifth is no load: told, and nothing made.
	await button.click();
	await tab
		.getByRole("alert")
		.getByText(/a load of/)
		.waitFor({ timeout: WAIT });
	assert.ok(!existsSync(join(home, "dipper")));
	await tab.getByLabel(/Everything but the hull weighs/).fill("1200");
	await button.click();
	await tab.locator(".working").waitFor();
	await tab.locator(".sized").waitFor({ timeout: 240_000 });
	assert.ok((await tab.locator(".steps .chosen").count()) === 1);
	await tab.getByText("What each length does, and misses").click();
	assert.ok((await tab.locator(".sizes tbody tr").count()) > 2);
	assert.ok(existsSync(join(home, "dipper/boat.toml")));
	await accessible(tab);
	await tab.getByRole("button", { name: "Open Dipper" }).click();
	await tab.locator(".finding").first().waitFor({ timeout: WAIT });
	assert.equal(await tab.locator(".bar h1").textContent(), "Dipper");
	assert.deepEqual(errors, []);
	await context.close();
	await server.stop();
});

test("what to measure first is marked in the parts list", async () => {
	const home = own.folder();
	cpSync(join(EXAMPLES, "practice"), join(home, "practice"), { recursive: true });
	const server = await serve(home, ["practice"]);
	const address = server.address.replace("/#", "/?place=fitted#");
	const { tab, errors, context } = await page(own.chrome, address);
	await tab.locator(".measure-first li").first().waitFor({ timeout: WAIT });
	const first = await tab.locator(".measure-first li").allTextContents();
	assert.ok(first.length > 0 && first.length <= 3);
	for (const line of first) assert.match(line, /it alone makes \d+ % of how unsure .+ is/);
	await accessible(tab);
	assert.deepEqual(errors, []);
	await context.close();
	await server.stop();
});
