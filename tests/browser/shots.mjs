// Pictures of every screen, into shots/. Run by `cargo xtask shots`.

import { mkdir, rm } from "node:fs/promises";
import { fileURLToPath } from "node:url";

import { SCREENS } from "./pages/screens.mjs";
import { launch } from "./support/chromium.mjs";
import { startHost } from "./support/server.mjs";

const FOLDER = fileURLToPath(new URL("../../shots/", import.meta.url));
const READ = "wall rack first scan punch";
const SIZES = [
  { name: "phone", viewport: { width: 390, height: 844 }, deviceScaleFactor: 2, isMobile: true, hasTouch: true },
  { name: "desk", viewport: { width: 1280, height: 800 } },
];

await rm(FOLDER, { recursive: true, force: true });
await mkdir(FOLDER, { recursive: true });
const host = await startHost();
const browser = await launch();
for (const { name: size, ...look } of SIZES) {
  for (const theme of ["day", "cellar"]) {
    for (const { name, show } of SCREENS) {
      const context = await browser.newContext(look);
      // The settings are kept as JSON.
      await context.addInitScript((words) => localStorage.setItem("theme", words), JSON.stringify(theme));
      // What is shown once is put away.
      await context.addInitScript((words) => localStorage.setItem("cautions", words), JSON.stringify(READ));
      const page = await context.newPage();
      await show(page, host);
      const file = `${name}-${size}-${theme}.png`;
      await page.screenshot({ path: FOLDER + file });
      await context.close();
      console.log(`wrote shots/${file}`);
    }
  }
}
await browser.close();
await host.stop();
