// What 500 photographs in one job cost, or as many as are named: `cargo xtask long`.
//
// All of them are of one outlet, which is the worst case for its screen. First with as many as one
// page shows, then with all: what is held must be the same.

import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

import { Pictures } from "./pages/pictures.mjs";
import { launchProfile } from "./support/chromium.mjs";
import { another, plainPhoto, withExif } from "./support/jpeg.mjs";
import { drawing, heap, say, SLOWER } from "./support/measure.mjs";
import { startHost } from "./support/server.mjs";

const ALL = Number(process.argv[2] ?? 500);
const ONE_PAGE = 6;
const AT_ONCE = 10;

const host = await startHost();
const profile = await launchProfile();
let page;
let pictures;
let debug;
async function begin() {
  page = profile.context.pages()[0] ?? (await profile.context.newPage());
  page.setDefaultTimeout(300_000);
  pictures = new Pictures(page, host);
  debug = await profile.context.newCDPSession(page);
}

// In a browser process of its own, as bringing pictures in takes memory that it keeps for a while.
async function measure(name, count) {
  await debug.send("HeapProfiler.collectGarbage");
  await page.waitForTimeout(3000);
  say(`${name}: memory of the processes that draw, just brought in`, `${await drawing(profile)} MB`);
  const address = page.url();
  await profile.reopen();
  await begin();
  await page.goto(address);
  await pictures.at(/KIT1/);
  await pictures.shown(Math.min(count, ONE_PAGE));
  await pictures.tap("Back");
  await pictures.at(/Kitchen/);
  await page.waitForTimeout(3000);
  await debug.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
  const row = page.locator(".row-button", { hasText: "KIT1" });
  const begun = await page.evaluate(() => performance.now());
  await row.click();
  await pictures.at(/KIT1/);
  const there = (await page.evaluate(() => performance.now())) - begun;
  await pictures.shown(Math.min(count, ONE_PAGE));
  const seen = (await page.evaluate(() => performance.now())) - begun;
  // A key in a field of this screen: how long until the page has drawn again.
  await pictures.tap("What it is for …");
  const field = page.getByLabel("What the outlet is for");
  await page.evaluate(() => {
    globalThis.events = [];
    new PerformanceObserver((list) => globalThis.events.push(...list.getEntries().map((entry) => entry.duration))).observe({ type: "event", durationThreshold: 16 });
  });
  for (const key of "behindthesofa") {
    await field.press(key);
    await page.waitForTimeout(150);
  }
  const events = await page.evaluate(() => globalThis.events);
  await debug.send("Emulation.setCPUThrottlingRate", { rate: 1 });
  const scripts = await heap(debug);
  await page.waitForTimeout(2000);
  say(`${name}: heap of the scripts after collection`, `${scripts} MB`);
  say(`${name}: memory of the processes that draw`, `${await drawing(profile)} MB`);
  say(`${name}: nodes of the page`, await page.evaluate(() => document.querySelectorAll("*").length));
  say(`${name}: pictures on the page`, await page.locator(".shot img").count());
  say(`${name}: open the outlet, slowed ${SLOWER} times`, `${Math.round(there)} ms`);
  say(`${name}: until its pictures are drawn, slowed ${SLOWER} times`, `${Math.round(seen)} ms`);
  say(`${name}: the longest event while typing there, slowed`, `${Math.max(0, ...events)} ms`);
}

await begin();
await pictures.kitchen();
const photo = withExif(await plainPhoto(page, { grain: 200_000 }));
say("a photograph as it comes, 4032 by 3024", `${Math.round(photo.length / 1000)} kB`);
const folder = await mkdtemp(join(tmpdir(), "bothends-photos-"));

// Brings photographs in up to this number, a few at a time.
let there = 0;
async function bring(count) {
  const begun = performance.now();
  const from = there;
  while (there < count) {
    const names = [];
    for (let at = 0; at < AT_ONCE && there + at < count; at += 1) {
      const name = join(folder, `${there + at}.jpg`);
      await writeFile(name, another(photo, there + at));
      names.push(name);
    }
    there += names.length;
    const [chooser] = await Promise.all([page.waitForEvent("filechooser"), pictures.tap("Choose pictures")]);
    await chooser.setFiles(names);
    await page.waitForFunction((count) => {
      const words = document.querySelector(".pictures > .button")?.textContent ?? "";
      return count <= 6 ? document.querySelectorAll(".shot").length === count : words.includes(` of ${count}.`);
    }, there);
    for (const name of names) {
      await rm(name);
    }
  }
  await pictures.saved();
  return Math.round((performance.now() - begun) / (count - from));
}

say("take one in, not slowed", `${await bring(ONE_PAGE)} ms`);
await measure(`${ONE_PAGE} photographs`, ONE_PAGE);
say("take one of the others in, not slowed", `${await bring(ALL)} ms`);
await measure(`${ALL} photographs`, ALL);
const { usage } = await page.evaluate(() => navigator.storage.estimate());
say("room taken in all", `${Math.round(usage / 1e6)} MB`);
await rm(folder, { recursive: true });
await profile.close();
await host.stop();
