// Pictures of every screen, into shots/, and those of the README, into docs/pictures/. Run by `cargo xtask
// shots`; `node tests/browser/shots.mjs readme` after `cargo xtask dist` makes the second alone.

import { mkdir, rm } from "node:fs/promises";
import { fileURLToPath } from "node:url";

import { SCREENS } from "./pages/screens.mjs";
import { launch, PHONE } from "./support/chromium.mjs";
import { startHost } from "./support/server.mjs";

const FOLDER = fileURLToPath(new URL("../../shots/", import.meta.url));
const READ = "wall rack first scan punch";
const SIZES = [
  { name: "phone", viewport: { width: 390, height: 844 }, deviceScaleFactor: 2, isMobile: true, hasTouch: true },
  { name: "desk", viewport: { width: 1280, height: 800 } },
];

// Those of the README, by the names that they have there.
const PICTURES = fileURLToPath(new URL("../../docs/pictures/", import.meta.url));
const OF_README = { wall: "demo-wall", rack: "elevation", punch: "punch", tags: "tags", scan: "answer" };

await rm(FOLDER, { recursive: true, force: true });
await mkdir(FOLDER, { recursive: true });
const host = await startHost();
const browser = await launch();

async function shoot(name, look, theme, file) {
  const { show } = SCREENS.find((screen) => screen.name === name);
  const context = await browser.newContext(look);
  // The settings are kept as JSON.
  await context.addInitScript((words) => localStorage.setItem("theme", words), JSON.stringify(theme));
  // What is shown once is put away.
  await context.addInitScript((words) => localStorage.setItem("cautions", words), JSON.stringify(READ));
  const page = await context.newPage();
  await show(page, host);
  // The flash that says a tag was read is over by then.
  await page.waitForTimeout(1000);
  await page.screenshot({ path: file });
  await context.close();
  console.log(`wrote ${file}`);
}

for (const [file, name] of Object.entries(OF_README)) {
  await shoot(name, { ...PHONE, deviceScaleFactor: 1 }, "day", `${PICTURES}${file}.png`);
}
for (const { name: size, ...look } of process.argv.includes("readme") ? [] : SIZES) {
  for (const theme of ["day", "cellar"]) {
    for (const { name } of SCREENS) {
      await shoot(name, look, theme, `${FOLDER}${name}-${size}-${theme}.png`);
    }
  }
}
await browser.close();
await host.stop();
