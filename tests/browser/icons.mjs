// Draws the PNG icons from web/icons/*.svg. Run by `cargo xtask icons`.

import { readFile, writeFile } from "node:fs/promises";

import { launch } from "./support/chromium.mjs";

const FOLDER = new URL("../../web/icons/", import.meta.url);
const ICONS = [
  { drawing: "icon.svg", size: 192, name: "icon-192.png" },
  { drawing: "icon.svg", size: 512, name: "icon-512.png" },
  { drawing: "maskable.svg", size: 512, name: "maskable-512.png" },
  { drawing: "icon.svg", size: 180, name: "apple-touch-180.png" },
];

const browser = await launch();
for (const { drawing, size, name } of ICONS) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  const svg = await readFile(new URL(drawing, FOLDER), "utf8");
  await page.setContent(`<style>body { margin: 0 } body > svg { display: block; width: ${size}px; height: ${size}px }</style>${svg}`);
  await writeFile(new URL(name, FOLDER), await page.screenshot());
  await page.close();
  console.log(`wrote web/icons/${name}`);
}
await browser.close();
