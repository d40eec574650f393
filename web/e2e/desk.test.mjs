// What once went wrong on the desk: drags, the rail, the ways back, what is said when something is lost.
import assert from "node:assert/strict";
import { cpSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { accessible, EXAMPLES, page, room, serve } from "./harness.mjs";

const WAIT = 60_000;
const own = room();

/** The practice boat in a folder of its own, at an address of the page. */
async function desk(query = "", options = {}) {
	const home = own.folder();
	const boat = join(home, "practice");
	mkdirSync(boat, { recursive: true });
	for (const name of ["boat.toml", "practice.stl"])
		cpSync(join(EXAMPLES, "practice", name), join(boat, name));
	const server = await serve(home, ["practice"]);
	const shown = await page(own.chrome, server.address.replace("/#", `/?${query}#`), options);
	await shown.tab.waitForSelector(".rail", { timeout: WAIT });
	const end = async () => {
		await shown.context.close();
		await server.stop();
	};
	return { home, boat, file: join(boat, "boat.toml"), server, end, ...shown };
}

const settled = (tab) =>
	tab.getByText("finding how sure this is").waitFor({ state: "hidden", timeout: WAIT });
/** The rail has its last line: nothing is asked any more. */
const complete = async (tab) => {
	await settled(tab);
	await tab
		.locator(".folded li", { hasText: "tightest steady turn" })
		.first()
		.waitFor({ timeout: WAIT });
};
const idle = (tab) =>
	tab.getByText("working it out …", { exact: true }).waitFor({ state: "hidden", timeout: WAIT });

/** Where everything stands that must not move while something is dragged. */
const frames = (tab) =>
	tab.evaluate(() =>
		Object.fromEntries(
			[".bar", ".verdict", ".stage", ".axis", ".rail", "aside.beside"].map((name) => {
				const b = document.querySelector(name).getBoundingClientRect();
				return [name, [b.x, b.y, b.width, b.height].map((v) => Math.round(10 * v) / 10).join(" ")];
			}),
		),
	);

const batteryAt = (file) =>
	readFileSync(file, "utf8")
		.split(/^\[\[part\]\]/m)
		.find((t) => /name = "Battery"/.test(t))
		.match(/^at = \[(.*)\]/m)[1]
		.match(/-?[\d.]+/g)
		.map(Number);

/** As tried out. */
const tried = async (tab) => {
	const boat = await tab.evaluate(async () => (await fetch("/api/boat")).json());
	const keys = boat.tables.find((t) => t.path.includes("Battery")).keys;
	return keys.find((k) => k.name === "at").written.map((v) => Number.parseFloat(v));
};

for (const [width, height] of [
	[1024, 700],
	[1280, 720],
	[1440, 900],
	[1920, 1080],
])
	test(`a drag moves the part it holds and nothing else, ${width} wide`, async () => {
		const { tab, errors, file, end } = await desk("view=side", { viewport: { width, height } });
		await settled(tab);
		const before = batteryAt(file);
		const steady = await frames(tab);
		const rect = tab.getByRole("button", { name: /^Battery/ }).locator("rect");
		const box = await rect.boundingBox();
		const mm = await rect.evaluate((r) => {
			const ctm = r.getScreenCTM();
			return 1000 / Math.hypot(ctm.a, ctm.b);
		});
		const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
		await tab.mouse.move(x, y);
		await tab.mouse.down();
		for (let i = 1; i <= 20; i++) {
			await tab.mouse.move(x - 2 * i, y);
			await tab.waitForTimeout(20);
			assert.deepEqual(await frames(tab), steady, `after ${2 * i} px`);
		}
		// Still held: whatever the answers are, nothing moves by itself.
		await tab.waitForTimeout(800);
		assert.deepEqual(await frames(tab), steady, "while held");
		await tab.mouse.up();
		await idle(tab);
		const after = await tried(tab);
		assert.ok(Math.abs(after[0] - (before[0] - 40 * mm)) < 2 * mm + 0.1, `${before} to ${after}`);
		// Across the screen is along the boat, to the few degrees it is trimmed.
		assert.ok(Math.abs(after[2] - before[2]) < 40 * mm * 0.15, `${before} to ${after}`);
		assert.equal(after[1], before[1]);
		assert.deepEqual(await frames(tab), steady, "when let go");
		assert.deepEqual(errors, []);
		await end();
	});

test("what was asked of the boat as it was is let go before the boat changes", async () => {
	const { tab, errors, end } = await desk("view=side");
	await complete(tab);
	// The slow lines of the rail are held back until the program has another boat.
	const asked = [];
	const gone = [];
	tab.on("requestfailed", (r) => r.url().includes("/api/staves") && gone.push(r.url()));
	await tab.route("**/api/staves*", async (route) => {
		asked.push(route.request().url());
		if (asked.length > 1) return route.continue();
		await changed;
		await route.continue().catch(() => {});
	});
	let release;
	const changed = new Promise((done) => {
		release = done;
	});
	const battery = tab.getByRole("button", { name: /^Battery/ });
	await battery.focus();
	await tab.keyboard.press("ArrowLeft");
	for (let i = 0; asked.length === 0 && i < 300; i++) await tab.waitForTimeout(100);
	assert.equal(asked.length, 1, "the lines that take longer are asked for");
	await tab.keyboard.press("ArrowLeft");
	await idle(tab);
	release();
	await complete(tab);
	assert.equal(gone.length, 1, "the first question was let go");
	assert.deepEqual(errors, []);
	await end();
});

test("a part stays inside the hull however far it is dragged, unless Alt is held", async () => {
	const { tab, errors, end } = await desk("view=side");
	await settled(tab);
	const rect = tab.getByRole("button", { name: /^Battery/ }).locator("rect");
	const pull = async (by) => {
		const box = await rect.boundingBox();
		const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
		await tab.mouse.move(x, y);
		await tab.mouse.down();
		await tab.mouse.move(x + by[0], y + by[1], { steps: 6 });
		await tab.mouse.up();
		await idle(tab);
		return tried(tab);
	};
	const form = await tab.evaluate(async () => (await fetch("/api/form")).json());
	const [low, high] = form.bounds_m;
	const up = await pull([0, -200]);
	assert.ok(up[2] <= 1000 * high[2], `${up} is over the deck`);
	const forward = await pull([900, 0]);
	assert.ok(forward[0] <= 1000 * high[0] && forward[0] >= 1000 * low[0]);
	await tab.keyboard.down("Alt");
	const forced = await pull([0, -150]);
	await tab.keyboard.up("Alt");
	assert.ok(forced[2] > 1000 * high[2], `${forced} was asked for with Alt`);
	assert.deepEqual(errors, []);
	await end();
});

test("in three dimensions a few pixels are a few millimetres", async () => {
	const { tab, errors, file, end } = await desk();
	await settled(tab);
	await tab.waitForTimeout(1500);
	const before = batteryAt(file);
	const box = await tab.locator(".stage canvas").boundingBox();
	const steady = await frames(tab);
	const names = () => tab.locator(".trying").textContent();
	// Where a part lies on the screen depends on the view: the first that is met will do.
	const spots = [0.5, 0.55, 0.6, 0.65].flatMap((row) =>
		[0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6].map((column) => [column, row]),
	);
	for (const [column, row] of spots) {
		if (await names()) break;
		const [x, y] = [box.x + box.width * column, box.y + box.height * row];
		await tab.mouse.move(x, y);
		await tab.mouse.down();
		await tab.mouse.move(x + 2, y, { steps: 2 });
		await tab.mouse.move(x + 4, y, { steps: 2 });
		await tab.mouse.up();
		await tab.waitForTimeout(200);
	}
	assert.match(await names(), /trying/);
	await idle(tab);
	const boat = await tab.evaluate(async () => (await fetch("/api/boat")).json());
	const [change] = boat.changed;
	const by = change.whatif.map((v, i) => Number.parseFloat(v) - Number.parseFloat(change.saved[i]));
	assert.ok(Math.hypot(...by) < 30, `4 px moved ${change.what} by ${by} mm`);
	assert.deepEqual(await frames(tab), steady);
	assert.equal(before.length, 3);
	assert.deepEqual(errors, []);
	await end();
});

test("the rail gives no number where it has no line, and opens at top speed", async () => {
	const { tab, errors, end } = await desk();
	await complete(tab);
	const value = async (name) =>
		tab.locator(".folded li", { hasText: name }).locator(".stave-now").textContent();
	const speed = async () => Number.parseFloat(await tab.locator(".axis output").textContent());
	const top = await tab.evaluate(async () => (await fetch("/api/poses")).json());
	assert.ok(Math.abs((await speed()) - top.top_km_h) < 0.06);
	await tab.locator(".axis input").focus();
	await tab.keyboard.press("Home");
	assert.equal(await tab.locator(".axis output").textContent(), "at rest");
	assert.equal((await value("gust")).trim(), "–");
	await tab.keyboard.press("End");
	const reach = await tab.evaluate(async () =>
		(await (await fetch("/api/staves?of=saved&what=turning")).json()).lines.map((l) =>
			Math.max(...l.speeds_km_h.filter((_, i) => l.values[i] !== null), 0),
		),
	);
	const end_ = top.speeds_km_h.at(-1);
	if (reach.every((r) => r < end_ - 1e-6)) assert.equal((await value("turn")).trim(), "–");
	const url = new URL(tab.url());
	url.searchParams.set("speed", "9999");
	await tab.goto(url.href);
	await tab.waitForSelector(".rail", { timeout: WAIT });
	assert.ok(Math.abs((await speed()) - end_) < 0.06, `${await speed()} of ${end_}`);
	assert.deepEqual(errors, []);
	await end();
});

test("handle, line and curve stand at one place, and dragging moves only them", async () => {
	const { tab, errors, end } = await desk();
	await settled(tab);
	const places = () =>
		tab.evaluate(() => {
			const input = document.querySelector(".axis input");
			const box = input.getBoundingClientRect();
			// A thumb of 22 px, whose middle goes from 11 px inside one end to 11 px inside the other.
			const thumb = box.left + 11 + ((box.width - 22) * input.value) / input.max;
			const line = document.querySelector(".moving .now").getBoundingClientRect();
			const bead = document.querySelector(".moving .bead").getBoundingClientRect();
			return [thumb, line.left + line.width / 2, bead.left + bead.width / 2];
		});
	const steady = await frames(tab);
	const score = await tab.locator(".score .moving").boundingBox();
	const y = score.y + 30;
	await tab.mouse.move(score.x + 200, y);
	await tab.mouse.down();
	for (let x = 200; x < 500; x += 30) {
		await tab.mouse.move(score.x + x, y + x / 10);
		await tab.waitForTimeout(30);
		const [thumb, line, bead] = await places();
		assert.ok(
			Math.abs(thumb - line) < 1.5 && Math.abs(line - bead) < 1.5,
			`${thumb} ${line} ${bead}`,
		);
		assert.ok(Math.abs(line - (score.x + x)) < 2, "it is under the hand");
		assert.deepEqual(await frames(tab), steady);
	}
	await tab.mouse.up();
	assert.equal(await tab.evaluate(() => String(getSelection())), "");
	// Taken hold of on the axis itself.
	const [thumb] = await places();
	const axis = await tab.locator(".axis").boundingBox();
	await tab.mouse.move(thumb, axis.y + 32);
	await tab.mouse.down();
	await tab.mouse.move(thumb - 120, axis.y + 32, { steps: 6 });
	await tab.mouse.up();
	const [now, line] = await places();
	assert.ok(Math.abs(now - (thumb - 120)) < 3 && Math.abs(now - line) < 1.5);
	assert.deepEqual(errors, []);
	await end();
});

test("one drag is one step back, and each nudge after it another", async () => {
	const { tab, errors, file, end } = await desk("view=side");
	await settled(tab);
	const battery = tab.getByRole("button", { name: /^Battery/ });
	const box = await battery.locator("rect").boundingBox();
	const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
	await tab.mouse.move(x, y);
	await tab.mouse.down();
	await tab.mouse.move(x - 20, y, { steps: 8 });
	await tab.mouse.up();
	await idle(tab);
	const dragged = await tried(tab);
	await battery.focus();
	for (const key of ["ArrowLeft", "ArrowLeft"]) {
		const heard = tab.waitForResponse((r) => r.url().includes("/api/whatif") && r.ok());
		await tab.keyboard.press(key);
		await heard;
		await idle(tab);
	}
	const undo = async () => {
		const heard = tab.waitForResponse((r) => r.url().includes("/api/whatif/undo") && r.ok());
		await tab.getByRole("button", { name: "Undo" }).click();
		await heard;
		return tried(tab);
	};
	assert.ok(Math.abs((await undo())[0] - (dragged[0] - 1)) < 0.06);
	assert.deepEqual(await undo(), dragged);
	assert.deepEqual(await undo(), batteryAt(file));
	assert.deepEqual(errors, []);
	await end();
});

test("a way home, and the browser's own Back between places", async () => {
	const home = own.folder();
	const server = await serve(home);
	const { tab, errors, context } = await page(own.chrome, server.address);
	await tab
		.getByRole("button", { name: /^Practice/ })
		.first()
		.click();
	await tab.locator(".finding").first().waitFor({ timeout: WAIT });
	await tab.getByRole("button", { name: "Fitted", exact: true }).click();
	await tab.locator(".fitted").waitFor();
	await tab.getByRole("button", { name: "Builds", exact: true }).click();
	await tab.locator(".builds").waitFor();
	await tab.goBack();
	await tab.locator(".fitted").waitFor();
	await tab.goForward();
	await tab.locator(".builds").waitFor();
	await tab.getByRole("button", { name: "Boats" }).click();
	await tab.getByText("Your own hull").waitFor();
	await accessible(tab);
	await tab.getByRole("button", { name: /^Back to/ }).click();
	await tab.locator(".finding").first().waitFor({ timeout: WAIT });
	// Where a saved demonstration went is said.
	await settled(tab);
	await tab.locator(".next").getByRole("button", { name: "Try it" }).click();
	await tab.getByText(/not saved/).waitFor({ timeout: WAIT });
	await tab.keyboard.press("Control+s");
	const note = tab.getByText(/Saved as a boat of your own in/);
	await note.waitFor({ timeout: WAIT });
	assert.match(await note.textContent(), /practice/);
	assert.deepEqual(errors, []);
	await context.close();
	await server.stop();
});

test("a program that is lost is one banner, and the page goes on when it is back", async () => {
	const { home, tab, server, context } = await desk();
	await settled(tab);
	await server.stop();
	await tab.getByRole("button", { name: "Builds", exact: true }).click();
	const banner = tab.getByText(/The program does not answer/);
	await banner.waitFor({ timeout: WAIT });
	assert.equal(await tab.getByRole("alert").count(), 1);
	const seen = await tab.locator(".notices .fault").boundingBox();
	const view = tab.viewportSize();
	assert.ok(seen.y >= 0 && seen.y + seen.height <= view.height, "in sight");
	// The same start of the program, as far as the page can tell: its token is asked for again.
	const again = await serve(home, ["practice"], server.port);
	await tab.getByText(/started anew/).waitFor({ timeout: WAIT });
	await tab.evaluate(
		async (token) => {
			const headers = { "content-type": "application/json" };
			await fetch("/api/session", { method: "POST", headers, body: JSON.stringify({ token }) });
		},
		again.address.match(/token=([0-9a-f]+)/)[1],
	);
	await tab.locator(".notices .fault").waitFor({ state: "hidden", timeout: WAIT });
	await tab.locator(".builds").waitFor({ timeout: WAIT });
	await context.close();
	await again.stop();
});

test("a torn boat file is told by its line, once, and taken up when it is whole", async () => {
	const { tab, file, end } = await desk();
	await complete(tab);
	const whole = readFileSync(file, "utf8");
	writeFileSync(file, whole.replace('mass = "330 g"', 'mass = "330 g'));
	const line = whole.split("\n").findIndex((l) => l.includes('mass = "330 g"')) + 1;
	await tab.getByText(`cannot be read just now: line ${line}`).waitFor({ timeout: WAIT });
	const said = await tab.getByRole("alert").allTextContents();
	assert.equal(said.length, 1, said.join("\n"));
	writeFileSync(file, whole.replace('mass = "330 g"', 'mass = "331 g"'));
	await tab.getByText(/cannot be read just now/).waitFor({ state: "hidden", timeout: WAIT });
	await tab.getByText(/changed outside/).waitFor({ timeout: WAIT });
	writeFileSync(file, `${whole.replace('mass = "330 g"', 'mass = "331 g"')}\n# a remark\n`);
	await tab.waitForTimeout(3500);
	assert.equal(await tab.getByText(/both changes are here: \./).count(), 0);
	await end();
});
