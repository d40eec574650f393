// The build sheet on paper: each 50 mm line is 50 mm long on A4 and on Letter, and all of it is on the page. No words or
// numbers of its pictures lie on each other or are cut off.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { pathToFileURL } from "node:url";
import { inflateSync } from "node:zlib";
import { EXAMPLES, PROGRAM, room } from "./harness.mjs";

const own = room();
const MM = 72 / 25.4;
const PAPER = { A4: [210, 297], Letter: [215.9, 279.4] };
/** As wide as the sheet's style draws the line to measure, mm; nothing else is. */
const GAUGE = 0.3;

/** What is drawn on each page: the text of its content stream, and how wide its pens are. */
function pages(pdf) {
	const text = pdf.toString("latin1");
	const object = (number) => text.indexOf(`\n${number} 0 obj`);
	const pen = (number) => Number(/\/LW ([\d.]+)/.exec(text.slice(object(number)))[1]);
	return [...text.matchAll(/\/Type \/Page\n[\s\S]*?endobj/g)].map(([page]) => {
		const at = object(/\/Contents (\d+) 0 R/.exec(page)[1]);
		const [head, length] = /\/Length (\d+)>> stream\n/.exec(text.slice(at, at + 200));
		const from = text.indexOf(head, at) + head.length;
		const [, , wide, high] = /\/MediaBox \[([^\]]+)\]/.exec(page)[1].split(" ").map(Number);
		const drawn = inflateSync(pdf.subarray(from, from + Number(length))).toString("latin1");
		const pens = [...page.matchAll(/\/(G\d+) (\d+) 0 R/g)].map(([, g, of]) => [g, pen(of)]);
		return { wide: wide / MM, high: high / MM, drawn, pens: Object.fromEntries(pens) };
	});
}

/** Straight strokes of two points with their width, mm on the paper. */
function strokes({ drawn, pens }) {
	const found = [];
	const held = [];
	let [matrix, width, path] = [[1, 0, 0, 1, 0, 0], 1, []];
	const times = ([a, b, c, d, e, f], [A, B, C, D, E, F]) => [
		a * A + b * C,
		a * B + b * D,
		c * A + d * C,
		c * B + d * D,
		e * A + f * C + E,
		e * B + f * D + F,
	];
	const point = (x, y) =>
		times([1, 0, 0, 1, x, y], matrix)
			.slice(4)
			.map((v) => v / MM);
	for (const line of drawn.split("\n")) {
		const words = line.trim().split(" ");
		const op = words.pop();
		const n = words.map(Number);
		if (op === "q") held.push([matrix, width]);
		else if (op === "Q") [matrix, width] = held.pop();
		else if (op === "cm") matrix = times(n, matrix);
		else if (op === "gs") width = pens[words[0].slice(1)];
		else if (op === "m") path = [point(...n)];
		else if (op === "l") path.push(point(...n));
		else if (op === "S" && path.length === 2)
			found.push({
				from: path[0],
				to: path[1],
				width: (width * Math.hypot(...matrix.slice(0, 2))) / MM,
			});
	}
	return found;
}

/** Lines to measure: as wide as they are drawn at that scale, and longer than their end marks. */
const gauges = (page, scale) =>
	strokes(page)
		.map((s) => ({ ...s, long: Math.hypot(s.to[0] - s.from[0], s.to[1] - s.from[1]) }))
		.filter((s) => Math.abs(s.width - GAUGE * scale) < 0.01 && s.long > 10);

/** Writes a boat's sheet, a fresh file each. */
function sheet(boat) {
	const file = join(own.folder(), `${boat}.html`);
	execFileSync(PROGRAM, ["sheet", join(EXAMPLES, boat), "--variations", "0", "-o", file], {
		stdio: "ignore",
	});
	return file;
}

/** Boxes of what is written in each picture, and the picture's own. */
const written = () =>
	[...document.querySelectorAll("svg")].map((svg) => {
		const box = (of) => {
			const { left, top, right, bottom } = of.getBoundingClientRect();
			return { left, top, right, bottom, words: of.textContent };
		};
		const rings = [...svg.querySelectorAll("circle.tag")];
		const texts = [...svg.querySelectorAll("text")];
		return {
			id: svg.getAttribute("aria-labelledby"),
			dots: svg.querySelectorAll("circle.mark").length,
			whole: box(svg),
			boxes: (rings.length > 0 ? rings : texts).map(box),
		};
	});

test("nothing written in a build sheet's pictures is cut off or lies on another", async () => {
	const tab = await own.chrome.newPage();
	for (const boat of ["tadpole", "practice", "longshank", "millrace", "twin-thistle"]) {
		await tab.goto(pathToFileURL(sheet(boat)).href);
		const pictures = await tab.evaluate(written);
		assert.ok(pictures.length >= 6, `${boat}: ${pictures.length} pictures`);
		assert.equal(pictures[0].boxes.length, pictures[0].dots, `${boat}: a number for each dot`);
		for (const { id, whole, boxes } of pictures) {
			const said = `${boat}, ${id}`;
			for (const [i, a] of boxes.entries()) {
				const inside =
					a.left > whole.left &&
					a.right < whole.right &&
					a.top > whole.top &&
					a.bottom < whole.bottom;
				assert.ok(inside, `${said}: ${a.words} is cut off`);
				for (const b of boxes.slice(i + 1)) {
					const apart =
						a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top;
					assert.ok(apart, `${said}: ${a.words} lies on ${b.words}`);
				}
			}
		}
	}
	await tab.close();
});

test("the 50 mm lines of a build sheet are 50 mm on A4 and on Letter", async () => {
	const tab = await own.chrome.newPage();
	for (const boat of ["tadpole", "twin-thistle"]) {
		const file = sheet(boat);
		const patterns = [...readFileSync(file, "utf8").matchAll(/id="[^"]*-50mm"/g)].length;
		assert.ok(patterns >= 4, `${patterns} patterns`);
		await tab.goto(pathToFileURL(file).href);
		// Fitted to a page that is too small for it, a line must come out short: the paper is measured, not the page.
		for (const [format, [wide, high]] of Object.entries(PAPER))
			for (const scale of [1, 0.95]) {
				const printed = pages(await tab.pdf({ format, scale }));
				const lines = printed.flatMap((page) => {
					assert.ok(Math.abs(page.wide - wide) < 0.5 && Math.abs(page.high - high) < 0.5);
					const of = gauges(page, scale);
					for (const [x, y] of of.flatMap((l) => [l.from, l.to]))
						assert.ok(x > 5 && x < wide - 5 && y > 5 && y < high - 5, `${boat}: ${x}, ${y} mm`);
					return of.map((l) => l.long);
				});
				assert.equal(lines.length, patterns, `${boat} on ${format}`);
				for (const long of lines)
					assert.ok(Math.abs(long - 50 * scale) < 0.1, `${boat} on ${format}: ${long} mm`);
			}
	}
	await tab.close();
});
