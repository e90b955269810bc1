// Pictures of every screen, into shots/. Run by `cargo xtask shots`.

import { mkdir, rm } from "node:fs/promises";
import { fileURLToPath } from "node:url";

import { App } from "./pages/app.mjs";
import { Rescue } from "./pages/rescue.mjs";
import { Wall } from "./pages/wall.mjs";
import { launch } from "./support/chromium.mjs";
import { startHost } from "./support/server.mjs";

const FOLDER = fileURLToPath(new URL("../../shots/", import.meta.url));
const SIZES = [
  { name: "phone", viewport: { width: 390, height: 844 }, deviceScaleFactor: 2, isMobile: true, hasTouch: true },
  { name: "desk", viewport: { width: 1280, height: 800 } },
];

// Each screen has a name and the way there. Add a line for each new screen.
const SCREENS = [
  { name: "start", show: (page, host) => new App(page, host).open() },
  {
    name: "records",
    show: async (page, host) => {
      const rescue = new Rescue(page, host);
      await rescue.open();
      await rescue.status.waitFor();
    },
  },
  {
    name: "stopped",
    show: async (page, host) => {
      await new App(page, host).open();
      await page.evaluate(() => globalThis.bothendsFatal("panicked at src/example.rs:1:1"));
      await page.getByRole("status").waitFor();
    },
  },
  { name: "wall", show: (page, host) => new Wall(page, host).begin() },
  {
    name: "room",
    show: async (page, host) => {
      const wall = new Wall(page, host);
      await wall.kitchen();
      await wall.tap("Back");
      await wall.at(/Kitchen/);
    },
  },
  { name: "outlet", show: (page, host) => new Wall(page, host).kitchen() },
  {
    name: "cable-at-the-wall",
    show: async (page, host) => {
      const wall = new Wall(page, host);
      await wall.kitchen();
      await wall.openCable("KIT1-B");
    },
  },
  {
    name: "pen",
    show: async (page, host) => {
      const wall = new Wall(page, host);
      await wall.kitchen();
      await wall.tap("What to write");
      await wall.at(/Write/);
    },
  },
  {
    name: "footage",
    show: async (page, host) => {
      const wall = new Wall(page, host);
      await wall.kitchen();
      await wall.tap("Footage");
      await wall.at(/Footage/);
    },
  },
];

await rm(FOLDER, { recursive: true, force: true });
await mkdir(FOLDER, { recursive: true });
const host = await startHost();
const browser = await launch();
for (const { name: size, ...look } of SIZES) {
  for (const colorScheme of ["light", "dark"]) {
    for (const { name, show } of SCREENS) {
      const context = await browser.newContext({ ...look, colorScheme });
      const page = await context.newPage();
      await show(page, host);
      const file = `${name}-${size}-${colorScheme}.png`;
      await page.screenshot({ path: FOLDER + file });
      await context.close();
      console.log(`wrote shots/${file}`);
    }
  }
}
await browser.close();
await host.stop();
