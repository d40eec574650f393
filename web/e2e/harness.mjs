// Starts the program on a scratch folder and a browser on its page.

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { after, before } from "node:test";
import { chromium } from "playwright-core";

export const PROGRAM = resolve(process.env.SKIMWRIGHT ?? "../target/release/skimwright");
export const EXAMPLES = resolve("../examples");
const FLAGS = [
	"--no-sandbox",
	"--disable-gpu",
	"--enable-unsafe-swiftshader",
	"--disable-quic",
	"--no-first-run",
	"--disable-background-networking",
	"--disable-component-update",
	"--disable-sync",
];

const running = new Set();

/** Whatever a failed test left running: a file of tests ends only when its programs have. */
const stopAll = () => Promise.all([...running].map((stop) => stop()));

const scratch = () => mkdtempSync(join(tmpdir(), "skimwright-"));
export const remove = (folder) => rmSync(folder, { recursive: true, force: true });

/** The program, listening; `address` carries its token. */
export async function serve(folder, args = [], port = 0) {
	const given = ["open", ...args, "--no-browser", "--port", String(port), "--json"];
	const env = { ...process.env, XDG_STATE_HOME: join(folder, ".state") };
	const child = spawn(PROGRAM, given, { cwd: folder, env, stdio: ["ignore", "pipe", "inherit"] });
	const ended = new Promise((done) => child.once("exit", done));
	const stop = async () => {
		running.delete(stop);
		child.kill("SIGKILL");
		await ended;
	};
	running.add(stop);
	let text = "";
	for await (const chunk of child.stdout) {
		text += chunk;
		if (text.trimEnd().endsWith("}")) break;
	}
	const { address, phone } = JSON.parse(text);
	return { address, phone, port: Number(new URL(address).port), stop };
}

const browser = () => chromium.launch({ executablePath: "/usr/bin/chromium", args: FLAGS });

/** The page as last built, whatever page the program under test was built with. */
function built(route) {
	const { pathname } = new URL(route.request().url());
	const file = resolve(`dist/${pathname === "/" ? "index.html" : pathname}`);
	return existsSync(file) ? route.fulfill({ path: file }) : route.fallback();
}

/** What the tests of one file share: a browser, and scratch folders that go when they are done. */
export function room() {
	const folders = [];
	const own = {
		chrome: undefined,
		folder() {
			const made = scratch();
			folders.push(made);
			return made;
		},
	};
	before(async () => {
		own.chrome = await browser();
	});
	after(async () => {
		await own.chrome.close();
		await stopAll();
		folders.forEach(remove);
	});
	return own;
}

/** A page that remembers what went wrong on its console. */
export async function page(on, address, options = {}) {
	const context = await on.newContext({ viewport: { width: 1280, height: 900 }, ...options });
	await context.route("**/*", built);
	const tab = await context.newPage();
	const errors = [];
	tab.on("pageerror", (error) => errors.push(String(error)));
	tab.on("console", (line) => {
		if (line.type() === "error") errors.push(line.text());
	});
	await tab.goto(address);
	return { tab, errors, context };
}

/** A binary STL with every triangle cut into four until there are `least`: the same hull, finer. */
export function dense(bytes, least) {
	const count = bytes.readUInt32LE(80);
	if (count >= least) return bytes;
	const out = Buffer.alloc(84 + 4 * count * 50);
	out.writeUInt32LE(4 * count, 80);
	let to = 84;
	const write = (normal, ...corners) => {
		for (const [i, n] of [...normal, ...corners.flat()].entries()) out.writeFloatLE(n, to + 4 * i);
		to += 50;
	};
	const half = (p, q) => p.map((v, i) => Math.fround((v + q[i]) / 2));
	for (let at = 84; at < 84 + count * 50; at += 50) {
		const point = (k) => [0, 4, 8].map((i) => bytes.readFloatLE(at + 12 * k + i));
		const [normal, a, b, c] = [0, 1, 2, 3].map(point);
		const [ab, bc, ca] = [half(a, b), half(b, c), half(c, a)];
		write(normal, a, ab, ca);
		write(normal, ab, b, bc);
		write(normal, ca, bc, c);
		write(normal, ab, bc, ca);
	}
	return dense(out, least);
}

export const percentile = (values, part) =>
	[...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(part * values.length))];

const AXE = createRequire(import.meta.url).resolve("axe-core/axe.min.js");

/** No violation that axe-core knows of, once what fades in has faded in: until then its contrast is too low. */
export async function accessible(tab) {
	await tab.addScriptTag({ path: AXE });
	await tab.evaluate(() => {
		const ends = document
			.getAnimations()
			.filter((a) => Number.isFinite(a.effect?.getComputedTiming().endTime));
		return Promise.allSettled(ends.map((a) => a.finished));
	});
	const found = await tab.evaluate(() => window.axe.run());
	const said = found.violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html).join(" ")}`);
	assert.deepEqual(said, []);
}

/** As in benches/promises.py: a machine shared with others may run this much over before the run fails. */
const ROOM = 2;

/** Holds a time to what was promised; what is over it is printed as late. */
export function promised(what, ms, limit) {
	console.log(`# ${what}: ${ms.toFixed(0)} ms, promised ${limit} ms${ms > limit ? ", LATE" : ""}`);
	assert.ok(ms < ROOM * limit, `${what} took ${ms.toFixed(0)} ms`);
}
