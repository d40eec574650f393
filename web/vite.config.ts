import preact from "@preact/preset-vite";
import { defineConfig } from "vitest/config";

const SERVER = "http://127.0.0.1:4173";

// The server prints its address; `npm run dev` talks to one started with
// `skimwright open BOAT --no-browser --port 4173`.
export default defineConfig({
	plugins: [preact()],
	test: { environment: "happy-dom", include: ["src/**/*.test.ts"] },
	build: { target: "es2022", sourcemap: false, chunkSizeWarningLimit: 800 },
	server: {
		proxy: { "/api": { target: SERVER, changeOrigin: true, headers: { origin: SERVER } } },
	},
});
