// Fails when the script a visitor loads at the start weighs over 250 kB compressed: what the page itself needs, the
// boat in three dimensions and the findings, which come without a click. Other places come when they are gone to.
import { readdirSync, readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";

const LIMIT = 250_000;
const HOME = "dist/assets/";
/** Loaded by itself after the words. */
const SOON = /^(water3d|findings)-/;

const files = readdirSync(HOME).filter((name) => name.endsWith(".js"));
const text = (name) => readFileSync(HOME + name, "utf8");
const weight = (names) =>
  [...names].reduce((sum, name) => sum + gzipSync(readFileSync(HOME + name)).length, 0);

/** What a file imports at once; what it imports by and by is in `import(...)`. */
const imports = (name) =>
  [...text(name).matchAll(/(?:from|import)\s*"\.\/([^"]+\.js)"/g)].map((found) => found[1]);

const page = readFileSync("dist/index.html", "utf8");
const first = [...page.matchAll(/assets\/([^"]+\.js)"/g)].map((found) => found[1]);
const start = new Set();
const take = (name) => {
  if (start.has(name)) return;
  start.add(name);
  imports(name).forEach(take);
};
first.forEach(take);
files.filter((name) => SOON.test(name)).forEach(take);
if (first.length === 0 || start.size < first.length + 2)
  throw new Error("the files of the start were not found: look at what the build names them");

const kb = (bytes) => (bytes / 1000).toFixed(1);
const bytes = weight(start);
console.log(
  `script at the start ${kb(bytes)} kB compressed in ${start.size} files, limit ${LIMIT / 1000} kB; all places ${kb(weight(files))} kB`,
);
if (bytes > LIMIT) process.exitCode = 1;
