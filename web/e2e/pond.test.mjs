// A pond day in a real browser, on the program itself: recordings in, measured facts out.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { cpSync, existsSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { accessible, EXAMPLES, page, percentile, promised, room, serve } from "./harness.mjs";

const WAIT = 30_000;
const OUTING = "practice/outings/2026-05-17";
const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true };
const own = room();

/** A copy of the practice boat, its pond day shown. */
async function pond({ place = "pond", add = () => {}, options } = {}) {
	const home = own.folder();
	cpSync(join(EXAMPLES, "practice"), join(home, "practice"), { recursive: true });
	// A day that nobody has measured or agreed to anything of yet.
	rmSync(join(home, OUTING, "measured.json"), { force: true });
	rmSync(join(home, "practice/loggers.json"), { force: true });
	add(home);
	const server = await serve(home, ["practice"]);
	const shown = await page(own.chrome, server.address.replace("/#", `/?place=${place}#`), options);
	await shown.tab.locator(".pond, .builds, .causes").waitFor({ timeout: WAIT });
	const end = async () => {
		await shown.context.close();
		await server.stop();
	};
	return { home, server, end, ...shown };
}

const open = (tab, name) =>
	tab.getByRole("navigation", { name: "Of this outing" }).getByText(name).first().click();

/** A WAV of 16 bits, one channel. */
function wav(rate, samples) {
	const out = Buffer.alloc(44 + 2 * samples.length);
	out.write("RIFF");
	out.writeUInt32LE(36 + 2 * samples.length, 4);
	out.write("WAVEfmt ", 8);
	out.writeUInt32LE(16, 16);
	out.writeUInt16LE(1, 20);
	out.writeUInt16LE(1, 22);
	out.writeUInt32LE(rate, 24);
	out.writeUInt32LE(2 * rate, 28);
	out.writeUInt16LE(2, 32);
	out.writeUInt16LE(16, 34);
	out.write("data", 36);
	out.writeUInt32LE(2 * samples.length, 40);
	for (const [i, s] of samples.entries())
		out.writeInt16LE(Math.round(32767 * Math.max(-1, Math.min(1, s))), 44 + 2 * i);
	return out;
}

/** Noise that is the same every time: a linear congruential generator (Numerical Recipes' constants, from memory). */
function noise(seed) {
	let state = seed >>> 0;
	return () => {
		state = (Math.imul(1664525, state) + 1013904223) >>> 0;
		return state / 2 ** 31 - 1;
	};
}

/**
 * A boat going by, its sound heard as late as it is: emission time te solves t = te + r(te) / c with
 * r^2 = closest^2 + (speed te)^2.
 */
function flyBy({ speed, closest, tone, c = 340.3, seconds = 8, rate = 16_000 }) {
	const random = noise(7);
	const samples = Array.from({ length: seconds * rate }, (_, i) => {
		const t = i / rate - seconds / 2;
		const a = c * c - speed * speed;
		const b = c * c * t;
		const emitted = (b - Math.sqrt(b * b - a * (c * c * t * t - closest * closest))) / a;
		const far = Math.hypot(closest, speed * emitted);
		const wave = (times) => Math.sin(2 * Math.PI * times * tone * emitted);
		return (2.4 / far) * (0.5 * wave(1) + 0.2 * wave(2)) + 0.02 * random();
	});
	return wav(rate, samples);
}

const take = (tab, files) => tab.getByLabel(/Drop or pick recordings/).setInputFiles(files);
const file = (name, buffer) => ({ name, mimeType: "application/octet-stream", buffer });

test("a recording is dropped and gives a speed, and is never altered", async () => {
	const { tab, errors, home, end } = await pond();
	const sound = flyBy({ speed: 20, closest: 6, tone: 1000 });
	await take(tab, file("by the bank.wav", sound));
	const told = tab.locator(".leading li", { hasText: /^Speed/ });
	await told.waitFor({ timeout: WAIT });
	const [, value, spread] = (await told.textContent()).match(/Speed ([\d.]+) ± ([\d.]+) km\/h/);
	console.log(`# fly-by at 72 km/h heard as ${value} ± ${spread} km/h`);
	assert.ok(Math.abs(value - 72) < Math.max(spread, 0.02 * 72));
	assert.ok(spread < 6);
	// 2 blades on a tone of 1000 Hz: 30 000 rpm.
	const rpm = tab.locator(".leading li", { hasText: /^Propeller speed/ });
	assert.ok(Math.abs((await rpm.textContent()).match(/speed (\d+)/)[1] - 30_000) < 300);
	await tab.locator(".spectrogram canvas").waitFor();
	const lit = await tab.locator(".spectrogram canvas").evaluate((canvas) => {
		const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
		let bright = 0;
		for (let i = 0; i < data.length; i += 4) if (data[i] > 120) bright += 1;
		return bright / (data.length / 4);
	});
	assert.ok(lit > 0.002 && lit < 0.2, `a tone, not noise: ${lit}`);
	assert.ok((await tab.locator(".flyby").count()) > 0);
	assert.deepEqual(readFileSync(join(home, OUTING, "by the bank.wav")), sound);
	await take(tab, file("by the bank.wav", Buffer.from("another")));
	await tab.getByText(/never replaced/).waitFor();
	assert.deepEqual(readFileSync(join(home, OUTING, "by the bank.wav")), sound);
	await accessible(tab);
	assert.deepEqual(
		errors.filter((e) => !e.includes("409")),
		[],
	);
	await end();
});

test("what is said of a day is kept in its file, and counts", async () => {
	const { tab, errors, home, end } = await pond();
	await tab.getByLabel("Wind").fill("brisk");
	await tab.getByLabel("Wind").press("Tab");
	await tab.getByRole("alert").waitFor();
	await tab.getByLabel("Wind").fill("3 m/s");
	await tab.getByLabel("Wind").press("Tab");
	await tab.getByRole("alert").waitFor({ state: "hidden" });
	const text = () => readFileSync(join(home, OUTING, "outing.toml"), "utf8");
	assert.match(text(), /wind = "3 m\/s"/);
	assert.match(text(), /^# Invented, like its recordings/);
	await open(tab, "bank.wav");
	const told = tab.locator(".leading li", { hasText: /^Closest/ });
	await told.waitFor({ timeout: WAIT });
	const before = await told.textContent();
	await tab.getByText("What you know of it").click();
	await tab.getByLabel("Closest distance of the pass").fill("7.3 m ± 0.1 m");
	await tab.getByLabel("Closest distance of the pass").press("Tab");
	await tab.getByText(before).waitFor({ state: "hidden", timeout: WAIT });
	await told.waitFor({ timeout: WAIT });
	const [, metres] = (await told.textContent()).match(/distance ([\d.]+) ±/);
	assert.ok(
		metres > before.match(/distance ([\d.]+) ±/)[1] && metres < 7.4,
		`drawn towards what was paced out: ${metres} m`,
	);
	assert.match(text(), /closest = "7.3 m ± 0.1 m"/);
	assert.deepEqual(
		errors.filter((e) => !e.includes("422")),
		[],
	);
	await end();
});

/** A white boat of 100 pixels goes by at 600 pixels a second; false without ffmpeg. */
function film(to, codec) {
	const boat = "color=c=0x2a7f8e:s=640x360:r=30:d=1.2[a];color=c=white:s=100x12:r=30:d=1.2[b]";
	const filter = `${boat};[a][b]overlay=x='-100+600*t':y=170`;
	try {
		execFileSync("ffmpeg", ["-loglevel", "error", "-filter_complex", filter, ...codec, to]);
		return true;
	} catch {
		return false;
	}
}

const CODECS = {
	"run.mp4": ["-c:v", "libx264", "-pix_fmt", "yuv420p"],
	"run.webm": ["-c:v", "libvpx", "-pix_fmt", "yuv420p", "-b:v", "1M"],
};

for (const [name, codec] of Object.entries(CODECS))
	test(`a film is stepped, marked and gives a speed at once: ${name}`, async (t) => {
		let made = false;
		const { tab, errors, home, end } = await pond({
			add: (home) => {
				made = film(join(home, OUTING, name), codec);
			},
		});
		if (!made) {
			await end();
			return t.skip("there is no ffmpeg here to make a film with");
		}
		await open(tab, name);
		const picture = tab.locator(".film-box svg");
		await picture.waitFor({ timeout: WAIT });
		const now = tab.locator(".film-now");
		const seconds = async () => Number((await now.textContent()).match(/([\d.]+) s$/)[1]);
		/** Where the boat is by what the film was drawn with: bow and stern, pixels. */
		const boat = (s) => [600 * s, -100 + 600 * s];
		const press = async (x) => {
			const box = await picture.boundingBox();
			await tab.mouse.click(box.x + (box.width * x) / 640, box.y + (box.height * 176) / 360);
		};
		const on = async (frames) => {
			const before = await seconds();
			for (let i = 0; i < frames; i++) {
				const was = await now.textContent();
				await tab.keyboard.press(".");
				await tab.waitForFunction(
					(was) => document.querySelector(".film-now").textContent !== was,
					was,
				);
			}
			assert.ok(Math.abs((await seconds()) - before - frames / 30) < 0.002, "a frame is a frame");
		};
		await tab.locator(".film-keys").focus();
		await on(12);
		for (const x of boat(await seconds())) await press(x);
		await tab.locator(".film-keys").focus();
		await on(12);
		await press(boat(await seconds())[0]);
		// The stern by keyboard alone: the cross starts at the bow, a hundred pixels further on.
		await tab.locator(".film-keys").focus();
		for (let i = 0; i < 12; i++) await tab.keyboard.press("Shift+ArrowLeft");
		for (let i = 0; i < 4; i++) await tab.keyboard.press("Control+Shift+ArrowLeft");
		await tab.keyboard.press("Enter");
		await tab.getByText(/Give the boat's length/).waitFor();
		const length = tab.getByLabel(/Length from the bow mark/);
		await length.fill("560 mm ± 3 mm");
		await length.press("Tab");
		// 600 pixels a second at 560 mm for 100 pixels are 3.36 m/s.
		const told = tab.locator(".leading li", { hasText: /^Speed/ });
		await told.waitFor({ timeout: WAIT });
		const [, value, spread] = (await told.textContent()).match(/Speed ([\d.]+) ± ([\d.]+) km\/h/);
		console.log(`# ${name}: film of a boat at 12.1 km/h marked as ${value} ± ${spread} km/h`);
		assert.ok(Math.abs(value - 12.096) < spread && spread < 2);
		await accessible(tab);
		const kept = () => JSON.parse(readFileSync(join(home, OUTING, `${name}.marks.json`), "utf8"));
		assert.equal(kept().mark.length, 2);
		const timed = name.endsWith("mp4") ? "frame" : "time_s";
		assert.ok(
			kept().mark.every((m) => timed in m),
			"frame times are the film's own",
		);
		await tab.getByRole("button", { name: "Undo mark" }).click();
		await tab.getByText(/Give the boat's length/).waitFor();
		await tab.getByRole("button", { name: "Redo mark" }).click();
		await told.waitFor();
		await tab.reload();
		await open(tab, name);
		await told.waitFor({ timeout: WAIT });
		assert.deepEqual(
			errors.filter((e) => !e.includes("422")),
			[],
		);
		await end();
	});

/** An hour of a controller's log, ten rows a second. */
function hour() {
	const random = noise(3);
	const rows = Array.from({ length: 36_000 }, (_, i) => {
		const t = i / 10;
		const on = t % 60 < 40 ? 1 : 0;
		const values = [
			t.toFixed(1),
			100 * on,
			33_000 * on + 200 * random(),
			12.4 - on - t / 3600,
			55 * on + 2 * random(),
			30 + 40 * (1 - Math.exp(-t / 900)),
		];
		return values.map((v) => (typeof v === "number" ? v.toFixed(2) : v)).join(",");
	});
	return `Time (s),Throttle (%),RPM,Voltage (V),Current (A),Motor temp (degC)\n${rows.join("\n")}\n`;
}

test("an hour of log is agreed to, panned and zoomed smoothly", async () => {
	const { tab, errors, home, end } = await pond();
	const began = Date.now();
	await take(tab, file("hour.csv", Buffer.from(hour())));
	await tab.locator(".strip").nth(4).waitFor({ timeout: WAIT });
	console.log(`# an hour of log dropped to traces: ${Date.now() - began} ms`);
	assert.ok(!existsSync(join(home, "practice/loggers.json")), "nothing is agreed to by itself");
	await tab.getByRole("button", { name: /That is right/ }).click();
	await tab.getByText("as you agreed").waitFor({ timeout: WAIT });
	assert.ok(existsSync(join(home, "practice/loggers.json")));
	await tab.locator(".strip").nth(4).waitFor({ timeout: WAIT });
	const { times, long } = await tab.evaluate(async () => {
		const long = [];
		new PerformanceObserver((list) =>
			long.push(...list.getEntries().map((e) => e.duration)),
		).observe({
			entryTypes: ["longtask"],
		});
		const box = document.querySelector(".traces-box");
		const press = async (key, shiftKey) => {
			const began = performance.now();
			box.dispatchEvent(
				new KeyboardEvent("keydown", { key, shiftKey, bubbles: true, cancelable: true }),
			);
			await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
			return performance.now() - began;
		};
		const times = [];
		for (const [key, shift, count] of [
			["+", false, 6],
			["ArrowRight", true, 20],
			["-", false, 6],
			["+", false, 2],
			["ArrowLeft", true, 20],
			["ArrowRight", false, 20],
		])
			for (let i = 0; i < count; i++) times.push(await press(key, shift));
		return { times, long };
	});
	console.log(
		`# an hour of log, pan and zoom to redraw: median ${percentile(times, 0.5).toFixed(0)} ms, p95 ${percentile(times, 0.95).toFixed(0)} ms; long tasks ${long.length}`,
	);
	promised("panning an hour of log, p95", percentile(times, 0.95), 100);
	// What is panned is what is drawn, and a press puts the head there.
	await tab.locator(".strip-plot").first().scrollIntoViewIfNeeded();
	const box = await tab.locator(".strip-plot").first().boundingBox();
	const range = () => tab.locator(".traces-tools .quiet").textContent();
	const before = await range();
	await tab.mouse.move(box.x + 0.5 * box.width, box.y + 40);
	await tab.mouse.down();
	await tab.mouse.move(box.x + 0.2 * box.width, box.y + 40, { steps: 4 });
	await tab.mouse.up();
	assert.notEqual(await range(), before);
	await tab.mouse.click(box.x + 0.5 * box.width, box.y + 40);
	await tab.getByText(/play head at/).waitFor();
	assert.match(await tab.locator(".strip output").first().textContent(), /rpm$/);
	await accessible(tab);
	assert.deepEqual(errors, []);
	await end();
});

test("one clock, measured beside predicted, kept only when asked, on a phone", async () => {
	const { tab, errors, home, end } = await pond({
		options: PHONE,
	});
	const narrow = async (what) => {
		const wide = await tab.evaluate(() => document.documentElement.scrollWidth - innerWidth);
		assert.ok(wide <= 0, `${what} is ${wide} px too wide`);
		await accessible(tab);
	};
	await narrow("the day");
	for (const name of ["bank.wav", "track.gpx", "rudder.csv", "marks.toml", "controller.csv"]) {
		await open(tab, name);
		await tab.locator(".answers, .agree").first().waitFor({ timeout: WAIT });
		await tab.waitForTimeout(400);
		await narrow(name);
	}
	await tab.getByRole("button", { name: /That is right/ }).tap();
	await tab.getByText("as you agreed").waitFor({ timeout: WAIT });
	await tab.getByRole("button", { name: "Measure all" }).tap();
	await tab.getByRole("button", { name: "Measure all again" }).waitFor({ timeout: WAIT });
	await open(tab, "One clock");
	await tab.getByText(/behind track.gpx: 2 events in both/).waitFor({ timeout: WAIT });
	await tab.locator(".strip").nth(5).waitFor({ timeout: WAIT });
	await narrow("one clock");
	// One head for all: put on the common clock, found again on a recording's own.
	await tab.locator(".traces-box").focus();
	await tab.keyboard.press("ArrowRight");
	const head = async () => {
		const told = tab.locator(".traces-tools .quiet", { hasText: /play head at/ });
		return Number((await told.textContent()).match(/play head at ([\d.]+) s/)[1]);
	};
	const common = await head();
	await open(tab, "track.gpx");
	await tab.getByRole("heading", { name: "track.gpx" }).waitFor({ timeout: WAIT });
	// Told to a tenth of a second, rounded on each clock apart.
	const own = await head();
	assert.ok(Math.abs(own - common) < 0.11, `${own} and ${common} s`);
	await open(tab, "Measured beside predicted");
	await tab.getByText("What these recordings cannot tell").waitFor({ timeout: WAIT });
	assert.ok((await tab.locator(".compared").count()) >= 5);
	await narrow("measured beside predicted");
	assert.ok(!existsSync(join(home, "practice/learned.toml")), "nothing is applied by itself");
	await tab.getByText("finding how sure this is").waitFor({ state: "hidden", timeout: WAIT });
	const top = () =>
		tab
			.locator(".told", { hasText: /tops out/ })
			.locator("b")
			.textContent();
	const unlearned = await top();
	await tab.getByRole("button", { name: "Keep what this teaches" }).tap();
	await tab.getByText(/every prediction now carries it/).waitFor({ timeout: WAIT });
	assert.ok(existsSync(join(home, "practice/learned.toml")));
	// At once and without a reload: the head of the page says what its numbers rest on.
	const rests = tab.locator("header", {
		hasText: "predicted from what was measured on 17 May 2026",
	});
	await rests.waitFor({ timeout: WAIT });
	await tab.getByText("finding how sure this is").waitFor({ state: "hidden", timeout: WAIT });
	assert.notEqual(await top(), unlearned, "the numbers are others, too");
	const places = tab.getByRole("navigation", { name: "Places" });
	await places.getByRole("button", { name: "Findings", exact: true }).click();
	await tab
		.locator(".findings")
		.getByText("Predicted from what was measured on 17 May 2026")
		.waitFor({ timeout: WAIT });
	await places.getByRole("button", { name: "Pond day", exact: true }).click();
	await tab.getByText("What these recordings cannot tell").waitFor({ timeout: WAIT });
	await tab.getByRole("button", { name: "Predict without" }).tap();
	await tab.getByText("Nothing was changed.").waitFor({ timeout: WAIT });
	await rests.waitFor({ state: "detached", timeout: WAIT });
	assert.ok(!existsSync(join(home, "practice/learned.toml")));
	assert.ok(existsSync(join(home, "practice/learned-before-1.toml")), "and nothing is lost");
	assert.deepEqual(errors, []);
	await end();
});

test("by night the plan is dark, and the sound's picture has its digits", async () => {
	const { tab, errors, end } = await pond({ options: { colorScheme: "dark" } });
	await open(tab, "track.gpx");
	await tab.locator(".plan-box").waitFor({ timeout: WAIT });
	const light = await tab.locator(".plan-box").evaluate((box) => {
		const [r, g, b] = getComputedStyle(box)
			.backgroundColor.match(/[\d.]+/g)
			.map(Number);
		return (0.2126 * r + 0.7152 * g + 0.0722 * b) / 255;
	});
	assert.ok(light < 0.2, `the plan's paper is ${light} light`);
	await open(tab, "bank.wav");
	const digits = tab.locator(".spectrogram-box text");
	await digits.first().waitFor({ timeout: WAIT });
	const seen = await digits.evaluateAll((all) => {
		const box = all[0].closest("svg").getBoundingClientRect();
		return all.map((t) => {
			const b = t.getBoundingClientRect();
			const inside =
				b.left >= box.left - 1 && b.right <= box.right + 1 && b.bottom <= box.bottom + 4;
			return [t.textContent, inside && b.top >= box.top - 4];
		});
	});
	assert.ok(seen.filter(([text]) => /\d/.test(text)).length >= 6, JSON.stringify(seen));
	assert.deepEqual(
		seen.filter(([, inside]) => !inside),
		[],
	);
	assert.deepEqual(errors, []);
	await end();
});

test("symptoms lead to causes for this boat, by keyboard, on a phone's width", async () => {
	const { tab, errors, end } = await pond({ place: "causes", options: PHONE });
	await tab.getByLabel(/Porpoising/).focus();
	await tab.keyboard.press("Space");
	await tab.getByLabel("In your own words").fill("it will not turn left");
	await tab.getByRole("button", { name: "Find causes" }).focus();
	await tab.keyboard.press("Enter");
	await tab.getByText(/^Try next/).waitFor({ timeout: WAIT });
	assert.ok((await tab.locator(".cause").count()) > 3);
	await tab.getByText(/the propeller is live/).waitFor();
	assert.ok(await tab.evaluate(() => document.documentElement.scrollWidth <= innerWidth));
	await accessible(tab);
	await tab.getByLabel(/Porpoising/).uncheck();
	await tab.getByLabel("In your own words").fill("xyzzy");
	await tab.getByRole("button", { name: "Find causes" }).click();
	await tab.getByText(/No known symptom/).waitFor({ timeout: WAIT });
	assert.deepEqual(errors, []);
	await end();
});

test("an outing counts among causes while something is tried out that is not saved", async () => {
	const { tab, errors, end } = await pond({ place: "causes" });
	await tab.evaluate(async (outing) => {
		const send = async (path, method, body) => {
			const headers = { "content-type": "application/json" };
			const got = await fetch(path, { method, headers, body: JSON.stringify(body) });
			if (!got.ok) throw new Error(await got.text());
			return got.json();
		};
		const edits = [{ path: ["water", "temperature"], value: "12 degC" }];
		await send("/api/whatif", "PUT", { edits });
		const question = { ask: "measure", with: { outing } };
		let job = await send("/api/jobs", "POST", { question });
		while (job.stage === "running") {
			await new Promise((done) => setTimeout(done, 200));
			job = await (await fetch(`/api/jobs/${job.id}`)).json();
		}
		if (job.stage !== "done") throw new Error(JSON.stringify(job.refusal));
	}, "2026-05-17");
	await tab.reload();
	await tab.getByLabel("With what was recorded").selectOption("2026-05-17", { timeout: WAIT });
	await tab.getByLabel("In your own words").fill("it porpoises");
	await tab.getByRole("button", { name: "Find causes" }).click();
	// The boat is studied anew at the same time.
	await tab.getByText(/^Try next/).waitFor({ timeout: 3 * WAIT });
	assert.deepEqual(errors, []);
	await end();
});

test("builds are kept with a reason and set side by side", async () => {
	const { tab, errors, home, end } = await pond({ place: "builds", options: PHONE });
	await tab.getByLabel(/Why it is kept/).fill("as it first ran");
	await tab.getByRole("button", { name: "Keep this build" }).click();
	await tab.getByText(/Nothing has changed since 1-as-it-first-ran/).waitFor({ timeout: 120_000 });
	await accessible(tab);
	const path = join(home, "practice/boat.toml");
	const frozen = readFileSync(join(home, "practice/builds/1-as-it-first-ran/boat.toml"), "utf8");
	assert.equal(frozen, readFileSync(path, "utf8"));
	writeFileSync(path, frozen.replace('mass = "330 g"', 'mass = "310 g"'));
	await tab.reload();
	await tab.getByRole("row", { name: /mass 330 g 310 g/ }).waitFor({ timeout: WAIT });
	await tab.getByRole("row", { name: /top speed/ }).waitFor({ timeout: WAIT });
	// The build now is worked out when the page has its findings.
	await tab.locator(".over .predicted").nth(1).waitFor({ timeout: WAIT });
	assert.equal(await tab.locator(".over .predicted").count(), 2);
	assert.ok(await tab.evaluate(() => document.documentElement.scrollWidth <= innerWidth));
	await accessible(tab);
	assert.deepEqual(errors, []);
	await end();
});
