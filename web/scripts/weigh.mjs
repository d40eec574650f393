// Fails when the script a visitor loads weighs over 250 kB compressed.
import { readdirSync, readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";

const LIMIT = 250_000;
const files = readdirSync("dist/assets").filter((name) => name.endsWith(".js"));
const bytes = files
  .map((name) => gzipSync(readFileSync(`dist/assets/${name}`)).length)
  .reduce((a, b) => a + b, 0);
console.log(`script ${(bytes / 1000).toFixed(1)} kB compressed, limit ${LIMIT / 1000} kB`);
if (bytes > LIMIT) process.exitCode = 1;
