// The page with the first five minutes and a sheet for each trade: there without a network, legible to
// everybody, one sheet a page on A4 and on Letter.

import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { afterEach, beforeEach, test } from "node:test";

import { App } from "../pages/app.mjs";
import { axe } from "../support/axe.mjs";
import { launchProfile } from "../support/chromium.mjs";
import { DIST, startHost } from "../support/server.mjs";
import { watch } from "../support/watch.mjs";
import { tooWide } from "../support/width.mjs";

const SHEETS = ["The tech at the wall", "The rack builder", "The service tech", "The lead"];

let host;
let profile;
let page;

beforeEach(async () => {
  host = await startHost({ folder: DIST });
  profile = await launchProfile();
  page = profile.context.pages()[0] ?? (await profile.context.newPage());
});

afterEach(async () => {
  await profile.close();
  await host.stop().catch(() => {});
});

test("the first screen leads to the guide, which is there without a network", async () => {
  const app = new App(page, host);
  await app.open();
  await page.getByText("The app is kept on this device: it opens without a network.").waitFor();
  await host.stop();
  await page.getByRole("link", { name: /The first five minutes/ }).click();
  await page.getByRole("heading", { name: "The first five minutes" }).waitFor();
  await page.getByRole("link", { name: "Back to Bothends" }).click();
  await app.started();
});

test("from inside a job it leads back to the same screen, in the same window", async () => {
  await page.goto(host.url);
  await page.getByLabel("Name of the job").fill("Barn");
  await page.getByRole("button", { name: "Start this job" }).click();
  await page.getByText("✓ Saved").waitFor();
  await page.getByRole("navigation", { name: "Sections" }).getByRole("button", { name: "Job" }).click();
  await page.getByRole("link", { name: /The first five minutes/ }).click();
  await page.getByRole("heading", { name: "The first five minutes" }).waitFor();
  await page.getByRole("link", { name: "the lead" }).click();
  assert.equal(profile.context.pages().length, 1);
  await page.getByRole("link", { name: "Back to Bothends" }).click();
  await page.getByRole("heading", { level: 1, name: "Barn" }).waitFor();
});

test("it is as dark as the device or the app is", async () => {
  const paper = () => page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
  await page.goto(`${host.url}guide.html`);
  const bright = await paper();
  await page.emulateMedia({ colorScheme: "dark" });
  const dark = await paper();
  assert.notEqual(dark, bright);
  await axe(page);
  await page.emulateMedia({ colorScheme: "light" });
  await page.evaluate(() => localStorage.setItem("theme", JSON.stringify("cellar")));
  await page.reload();
  assert.equal(await paper(), dark);
  await page.emulateMedia({ media: "print" });
  assert.equal(await paper(), bright, "paper is white");
});

test("each sheet fits on one page, on A4 and on Letter", async () => {
  await page.goto(`${host.url}guide.html`);
  for (const format of ["A4", "Letter"]) {
    const pdf = (await page.pdf({ format, preferCSSPageSize: false })).toString("latin1");
    const pages = pdf.match(/\/Type\s*\/Page\b/g) ?? [];
    assert.equal(pages.length, 1 + SHEETS.length, format);
  }
});

test("it is legible to everybody, and as wide as the narrowest phone", async () => {
  const seen = watch(page);
  await page.setViewportSize({ width: 320, height: 700 });
  await page.goto(`${host.url}guide.html`);
  for (const name of SHEETS) {
    await page.getByRole("heading", { name, exact: true }).waitFor();
  }
  await axe(page);
  assert.ok((await tooWide(page)) < 1);
  assert.deepEqual(seen.errors, []);
});

test("what it says to tap is called so in the app", async () => {
  const folder = new URL("../../../src/", import.meta.url);
  const sources = readdirSync(folder, { recursive: true }).filter((name) => name.endsWith(".rs"));
  const source = sources.map((name) => readFileSync(new URL(name, folder), "utf8")).join("\n") + readFileSync(new URL("../../../web/front.js", import.meta.url), "utf8");
  const words = source.replaceAll("\\u{a0}", " ");
  const guide = readFileSync(new URL("../../../web/guide.html", import.meta.url), "utf8");
  const quoted = [...guide.matchAll(/“([^”]+)”/g)].map(([, words]) => words);
  // A code, a number or a name in the place of "…" is the app's to say.
  const parts = (text) => text.split(/…|B01 to B12/).map((part) => part.trim()).filter((part) => part !== "");
  const missing = quoted.filter((text) => !parts(text).every((part) => words.includes(part)));
  assert.ok(quoted.length > 20);
  assert.deepEqual(missing, []);
});
