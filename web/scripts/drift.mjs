// Fails when src/api/schema.ts is not what docs/openapi.json gives.
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const folder = mkdtempSync(join(tmpdir(), "types-"));
const fresh = join(folder, "schema.ts");
try {
  execFileSync(process.execPath, ["scripts/types.mjs", fresh], {
    stdio: ["ignore", "ignore", "inherit"],
  });
  if (readFileSync(fresh, "utf8") !== readFileSync("src/api/schema.ts", "utf8")) {
    console.error("src/api/schema.ts is stale: run `npm run types` in web/");
    process.exitCode = 1;
  }
} finally {
  rmSync(folder, { recursive: true });
}
