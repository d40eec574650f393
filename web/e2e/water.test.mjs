// A run in time: asked for, stopped, played, gone through.
import assert from "node:assert/strict";
import { cpSync } from "node:fs";
import { join } from "node:path";
import { before, test } from "node:test";
import { accessible, EXAMPLES, page, room, serve } from "./harness.mjs";

const WAIT = 60_000;
const own = room();
let home;
before(() => {
	home = own.folder();
	cpSync(join(EXAMPLES, "practice"), join(home, "practice"), { recursive: true });
});

async function water(options) {
	const server = await serve(home, ["practice"]);
	const address = server.address.replace("/#", "/?place=water#");
	const shown = await page(own.chrome, address, options);
	await shown.tab.locator(".days").waitFor({ timeout: WAIT });
	await shown.tab.getByText("A day of your own", { exact: true }).click();
	await shown.tab.locator(".ask").waitFor({ timeout: WAIT });
	return { server, ...shown };
}

const shownAt = async (tab) => Number.parseFloat(await tab.locator(".scrub output").textContent());

test("ripple is run, played, gone through by keys and by what happened", async () => {
	const { tab, errors, server, context } = await water();
	await tab.locator(".ask select").first().selectOption("ripple");
	await tab.getByLabel("Seconds").fill("3");
	await tab.getByRole("button", { name: "Run it" }).click();
	await tab.locator(".player").waitFor({ timeout: WAIT });
	await tab.getByText(/^More: /).click();
	await tab.locator(".trace canvas").nth(6).waitFor();
	assert.equal(await shownAt(tab), 0);

	const scrub = tab.locator(".scrub input");
	await scrub.focus();
	await tab.keyboard.press("ArrowRight");
	assert.ok(Math.abs((await shownAt(tab)) - 0.1) < 0.011);
	await tab.keyboard.press("Home");
	const still = await tab.locator(".player canvas").screenshot();
	await tab.keyboard.press("Space");
	await tab.getByRole("button", { name: /Pause/ }).waitFor();
	await tab.waitForFunction(
		() => Number.parseFloat(document.querySelector(".scrub output").textContent) > 0.3,
	);
	await tab.keyboard.press("Space");
	await tab.getByRole("button", { name: /Play/ }).waitFor();
	const stopped = await shownAt(tab);
	await tab.waitForTimeout(300);
	assert.equal(await shownAt(tab), stopped);
	assert.ok(!still.equals(await tab.locator(".player canvas").screenshot()), "nothing moved");

	const event = tab.getByRole("button", { name: /leaves at/ }).first();
	const time = Number((await event.textContent()).match(/at ([\d.]+) s/)[1]);
	await event.click();
	assert.ok(Math.abs((await shownAt(tab)) - time) < 0.011);
	await tab.getByText("The run as numbers").click();
	assert.ok((await tab.locator(".traces tbody tr").count()) > 10);
	await accessible(tab);
	assert.deepEqual(errors, []);
	await context.close();
	await server.stop();
});

test("hands by a table are followed", async () => {
	const { tab, errors, server, context } = await water();
	await tab.getByText("Throttle and rudder from a file").click();
	const rows = "time [s], throttle [%], rudder [deg]\n0, 30, 0\n1, 60, 0\n2, 60, 0";
	await tab.locator(".ask textarea").fill(rows);
	await tab.getByLabel("Seconds").fill("2");
	await tab.getByRole("button", { name: "Run it" }).click();
	await tab.getByText(/^More: /).click({ timeout: WAIT });
	await tab.getByText(/throttle, % 30\.0 to 60\.0/).waitFor({ timeout: WAIT });
	await tab.getByText(/hands by the table/).waitFor();
	assert.deepEqual(errors, []);
	await context.close();
	await server.stop();
});

test("odds over speed and ripple come as a table", async () => {
	const { tab, errors, server, context } = await water();
	await tab.getByLabel("Seconds").fill("1");
	await tab.getByLabel(/How often it ends upside down/).check();
	await tab.getByRole("button", { name: "Run it" }).click();
	await tab.getByText(/Ends upside down within 3 s, of 20 runs each/).waitFor({ timeout: 550_000 });
	assert.ok((await tab.locator(".summary tbody tr").count()) >= 3);
	const cell = tab.locator(".summary td button").first();
	assert.match(await cell.textContent(), /^\d+ % \d+ % to \d+ %; lifting off \d+ %$/);
	// What was counted is not what is shown, and it is said how; one of those is a press away.
	await tab.getByText(/counted over 3 s, shown for 1 s/).waitFor();
	const speed = Number(await tab.locator(".summary tbody th").first().textContent());
	await cell.click();
	await tab.getByText(/ripple 10mm water/).waitFor({ timeout: WAIT });
	const start = await tab.locator(".summary .quiet").first().textContent();
	assert.ok(Math.abs(Number(/start (\d+) km\/h/.exec(start)?.[1]) - speed) <= 1, start);
	assert.deepEqual(errors, []);
	await context.close();
	await server.stop();
});

test("a long job shows how far it is and is stopped; what cannot be run is explained", async () => {
	const { tab, errors, server, context } = await water({ viewport: { width: 390, height: 844 } });
	await tab.getByLabel("Seconds").fill("5");
	await tab.getByLabel("Runs to count").fill("5000");
	await tab.getByRole("button", { name: "Run it" }).click();
	await tab.getByText(/counting how runs end/).waitFor({ timeout: WAIT });
	await tab.getByRole("button", { name: "Stop" }).click({ timeout: WAIT });
	await tab.locator(".working").waitFor({ state: "hidden", timeout: WAIT });
	// What was counted up to then is kept.
	const counted = await tab.getByText(/^Of \d+ runs/).textContent();
	const runs = Number(/^Of (\d+) runs/.exec(counted)?.[1]);
	assert.ok(runs > 0 && runs < 5000, counted);

	await tab.getByLabel("Runs to count").fill("1");
	await tab.getByLabel("Seconds").fill("2");
	await tab.locator(".ask select").nth(1).selectOption("waves");
	await tab.getByLabel("Height, mm").fill("400");
	await tab.getByLabel("Length, m").fill("1");
	await tab.getByRole("button", { name: "Run it" }).click();
	await tab.getByText(/they break when higher than a seventh/).waitFor({ timeout: WAIT });
	const wider = await tab.evaluate(() => document.documentElement.scrollWidth > innerWidth);
	assert.equal(wider, false);
	assert.deepEqual(errors, []);
	await context.close();
	await server.stop();
});
