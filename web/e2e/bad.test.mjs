// What goes wrong around the page: nothing is lost, and each is explained.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { cpSync, mkdirSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { EXAMPLES, page, remove, room, serve } from "./harness.mjs";

const WAIT = 60_000;
const own = room();

async function practice(at) {
	const home = at ?? own.folder();
	const boat = join(home, "practice");
	mkdirSync(boat, { recursive: true });
	for (const name of ["boat.toml", "practice.stl"])
		cpSync(join(EXAMPLES, "practice", name), join(boat, name));
	const server = await serve(home, ["practice"]);
	const shown = await page(own.chrome, `${server.address.replace("/#", "/?place=fitted#")}`);
	await shown.tab.waitForSelector(".rail", { timeout: WAIT });
	return { home, boat, file: join(boat, "boat.toml"), server, ...shown };
}

async function wish(tab, text) {
	const speed = tab.locator("#key-wishes-speed");
	if (!(await speed.isVisible())) await tab.getByText("What you wish for", { exact: true }).click();
	await speed.fill(text);
	await speed.press("Tab");
}

const saveButton = (tab) => tab.getByRole("button", { name: "Save", exact: true });

test("a folder deleted while open: told, kept, saved when it is back", async () => {
	const { tab, boat, file, server, context } = await practice();
	await wish(tab, "71 km/h");
	await tab.getByText(/not saved/).waitFor({ timeout: WAIT });
	renameSync(boat, `${boat}-away`);
	await tab
		.getByText(/cannot be read any more/)
		.first()
		.waitFor({ timeout: WAIT });
	await saveButton(tab).click();
	await tab.getByText(/put the folder back/).waitFor({ timeout: WAIT });
	renameSync(`${boat}-away`, boat);
	await tab
		.getByText(/cannot be read any more/)
		.first()
		.waitFor({ state: "hidden", timeout: WAIT });
	await saveButton(tab).click();
	await tab.getByText(/not saved/).waitFor({ state: "hidden", timeout: WAIT });
	assert.match(readFileSync(file, "utf8"), /71 km\/h/);
	await context.close();
	await server.stop();
});

test("two pages on one boat: other keys both, the same key told", async () => {
	const { tab, server, context } = await practice();
	const { tab: second, context: other } = await page(
		own.chrome,
		server.address.replace("/#", "/?place=fitted#"),
	);
	await second.waitForSelector(".rail", { timeout: WAIT });
	await wish(second, "66 km/h");
	await second.getByText(/not saved/).waitFor({ timeout: WAIT });
	// The first page hears of it without being touched.
	await tab.getByText(/not saved/).waitFor({ timeout: WAIT });
	await tab.waitForFunction(
		() => document.querySelector("#key-wishes-speed")?.value === "66 km/h",
		undefined,
		{ timeout: WAIT },
	);
	// Edited from what it saw before: refused, and nothing lost.
	const refused = await second.evaluate(async () => {
		const asked = {
			edits: [{ path: ["wishes", "speed"], action: "set", value: "1 km/h" }],
			client: "a third page",
			version: 1,
		};
		const headers = { "content-type": "application/json" };
		const got = await fetch("/api/whatif", { method: "PUT", headers, body: JSON.stringify(asked) });
		return [got.status, (await got.json()).message];
	});
	assert.equal(refused[0], 409);
	assert.match(refused[1], /another page changed/);
	await other.close();
	await context.close();
	await server.stop();
});

test("the same key changed in an editor: the builder chooses", async () => {
	const { tab, file, server, context } = await practice();
	await wish(tab, "72 km/h");
	await tab.getByText(/not saved/).waitFor({ timeout: WAIT });
	const text = readFileSync(file, "utf8");
	const speed = text.match(/^speed = .*$/m)?.[0];
	assert.ok(speed, "the practice boat has a wish for speed");
	writeFileSync(file, text.replace(speed, 'speed = "55 km/h"'));
	const theirs = tab.getByRole("button", { name: "Take what the file has" });
	await theirs.waitFor({ timeout: WAIT });
	await tab.getByText("72 km/h").first().waitFor();
	await theirs.click();
	await theirs.waitFor({ state: "hidden", timeout: WAIT });
	await tab.waitForFunction(
		() => document.querySelector("#key-wishes-speed")?.value === "55 km/h",
		undefined,
		{ timeout: WAIT },
	);
	await context.close();
	await server.stop();
});

test("a full disk: the old file stays whole, the change is kept", async (t) => {
	const home = own.folder();
	try {
		execFileSync("mount", ["-t", "tmpfs", "-o", "size=3m", "tmpfs", home], { stdio: "ignore" });
	} catch {
		t.skip("mounting a small disk is not allowed here");
		return;
	}
	try {
		const { tab, file, server, context } = await practice(home);
		const before = readFileSync(file, "utf8");
		await wish(tab, "73 km/h");
		await tab.getByText(/not saved/).waitFor({ timeout: WAIT });
		const full = join(home, "full");
		assert.throws(() => writeFileSync(full, Buffer.alloc(4 << 20)), /ENOSPC/);
		await saveButton(tab).click();
		await tab.getByText(/no space left|disk is full/i).waitFor({ timeout: WAIT });
		assert.equal(readFileSync(file, "utf8"), before);
		remove(full);
		await saveButton(tab).click();
		await tab.getByText(/not saved/).waitFor({ state: "hidden", timeout: WAIT });
		assert.match(readFileSync(file, "utf8"), /73 km\/h/);
		await context.close();
		await server.stop();
	} finally {
		execFileSync("umount", ["-l", home]);
	}
});

test("a mesh over the limit is refused while it comes in", async () => {
	const home = own.folder();
	const server = await serve(home);
	const { tab, context } = await page(own.chrome, server.address);
	await tab.getByText("Your own hull").waitFor();
	await tab.locator(".drop").evaluate((drop) => {
		const data = new DataTransfer();
		const part = new Uint8Array(1 << 20);
		data.items.add(new File(Array(258).fill(part), "huge.stl"));
		drop.dispatchEvent(new DragEvent("drop", { bubbles: true, dataTransfer: data }));
	});
	const said = tab.getByRole("alert");
	await said.waitFor({ timeout: WAIT });
	assert.match(await said.textContent(), /256 MB|too large|limit/i);
	await context.close();
	await server.stop();
});
