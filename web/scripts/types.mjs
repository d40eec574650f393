// Types of the API's answers from docs/openapi.json, to the file named (src/api/schema.ts).
import { readFileSync, writeFileSync } from "node:fs";
import openapiTS, { astToString } from "openapi-typescript";

const api = JSON.parse(readFileSync("../docs/openapi.json", "utf8"));
// A parameter whose name is not in the path can only be of the query.
for (const [path, methods] of Object.entries(api.paths)) {
	for (const { parameters = [] } of Object.values(methods)) {
		for (const one of parameters) {
			if (one.in === "path" && !path.includes(`{${one.name}}`)) {
				one.in = "query";
				one.required = false;
			}
		}
	}
}
writeFileSync(process.argv[2] ?? "src/api/schema.ts", astToString(await openapiTS(api, { defaultNonNullable: false })));
