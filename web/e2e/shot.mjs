import { chromium } from "playwright-core";

const [url, out, width = "1400", height = "1000"] = process.argv.slice(2);
const browser = await chromium.launch({
	executablePath: "/usr/bin/chromium",
	args: [
		"--no-sandbox",
		"--disable-gpu",
		"--enable-unsafe-swiftshader",
		"--disable-quic",
		"--no-first-run",
		"--disable-background-networking",
		"--disable-component-update",
		"--disable-sync",
	],
});
const page = await browser.newPage({ viewport: { width: Number(width), height: Number(height) } });
page.on("console", (m) => console.log(m.type(), m.text()));
page.on("pageerror", (e) => console.log("pageerror", e.message));
await page.goto(url);
await page.waitForTimeout(Number(process.env.WAIT ?? 6000));
if (process.env.SPEED) {
	await page.locator("input[type=range]").fill(process.env.SPEED);
	await page.waitForTimeout(800);
}
await page.screenshot({ path: out, fullPage: true });
await browser.close();
