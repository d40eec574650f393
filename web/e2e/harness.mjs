// Starts the program on a scratch folder and a browser on its page.
import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { chromium } from "playwright-core";

export const PROGRAM = resolve(process.env.SKIMWRIGHT ?? "../target/debug/skimwright");
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

export const scratch = () => mkdtempSync(join(tmpdir(), "skimwright-"));
export const remove = (folder) => rmSync(folder, { recursive: true, force: true });

/** The program, listening; `address` carries its token. */
export async function serve(folder, args = [], port = 0) {
	const given = ["open", ...args, "--no-browser", "--port", String(port), "--json"];
	const child = spawn(PROGRAM, given, { cwd: folder, stdio: ["ignore", "pipe", "inherit"] });
	let text = "";
	for await (const chunk of child.stdout) {
		text += chunk;
		if (text.trimEnd().endsWith("}")) break;
	}
	const { address } = JSON.parse(text);
	const ended = new Promise((done) => child.once("exit", done));
	const stop = async () => {
		child.kill("SIGKILL");
		await ended;
	};
	return { address, port: Number(new URL(address).port), stop };
}

export const browser = () => chromium.launch({ executablePath: "/usr/bin/chromium", args: FLAGS });

/** The page as last built, whatever page the program under test was built with. */
function built(route) {
	const { pathname } = new URL(route.request().url());
	const file = resolve(`dist/${pathname === "/" ? "index.html" : pathname}`);
	return existsSync(file) ? route.fulfill({ path: file }) : route.fallback();
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

export const percentile = (values, part) =>
	[...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(part * values.length))];
