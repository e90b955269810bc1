// Tags: from a choice to a file that prints, in a thread of its own, with the demo job.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { crc32 } from "node:zlib";

import { App } from "../pages/app.mjs";
import { axe } from "../support/axe.mjs";
import { PHONE } from "../support/chromium.mjs";
import { browser, host } from "../support/stage.mjs";
import { watch } from "../support/watch.mjs";
import { tooWide } from "../support/width.mjs";

async function inTheDemoJob(t) {
  const context = await browser.newContext(PHONE);
  t.after(() => context.close());
  const page = await context.newPage();
  const seen = watch(page);
  await new App(page, host).open();
  await page.getByRole("link", { name: "Look round in the demo job" }).click();
  await page.getByRole("heading", { level: 1, name: "At the wall" }).waitFor();
  t.after(() => assert.deepEqual(seen.errors, []));
  return page;
}

const tap = (page, name) => page.getByRole("button", { name }).first().click();
const picture = (page) => page.getByRole("img", { name: /first tag/ });

async function file(page, name) {
  const [download] = await Promise.all([page.waitForEvent("download"), tap(page, name)]);
  return { name: download.suggestedFilename(), bytes: await readFile(await download.path()) };
}

test("tomorrow's tags are three taps away, and what was printed is noted once", async (t) => {
  const page = await inTheDemoJob(t);
  await tap(page, /^⌂ ?Job|^Job$/);
  await tap(page, "Print tags");
  const made = await file(page, /^Make the file/);
  assert.match(made.name, /^marrowby-mill-tags-to-pull-\d{4}-\d\d-\d\d\.pdf$/);
  assert.equal(made.bytes.subarray(0, 5).toString(), "%PDF-");
  await picture(page).waitFor();
  assert.ok((await tooWide(page)) < 1);
  await axe(page);
  await tap(page, /^They are printed/);
  await page.getByText(/^✓? ?Sheet 1: \d+ tags are noted as printed/).waitFor();
  await page.getByText("Every cable that is still to be pulled has its tag.").waitFor();
  await tap(page, "Undo");
  await page.getByRole("button", { name: /^Make the file/ }).waitFor();
});

test("the choice of labels is told with its reason, and bad measures with what to do", async (t) => {
  const page = await inTheDemoJob(t);
  await tap(page, /^⌂ ?Job|^Job$/);
  await tap(page, "Print tags");
  await page.getByText(/flag folded over the cable, with its code, 0.51 mm a module/).first().waitFor();
  await page.getByLabel("On these labels").selectOption("Wraps for data cable, Letter");
  await page.getByText(/wrap with text alone, since a code needs 9.57 mm/).first().waitFor();
  await page.locator("figcaption").getByText(/ labels on .* no QR code: text alone\.$/).waitFor();
  await page.getByLabel("On these labels").selectOption("Flags, A4");
  await page.getByText(/flag folded over the cable, with its code, 0.51 mm a module/).first().waitFor();
  await page.getByText("How they are printed").click();
  await page.getByLabel("First label that is still on the sheet").fill("99");
  await page.getByText("A sheet of Flags, A4 has the labels 1 to 32.").waitFor();
  await tap(page, "Describe other labels");
  await page.getByLabel("What you call them").fill("Yellow flags");
  await tap(page, "Keep these labels");
  await page.getByText("“” is no width.").waitFor();
  assert.equal(await page.getByLabel("What you call them").inputValue(), "Yellow flags");
  await axe(page);
  assert.ok((await tooWide(page)) < 1);
});

test("one cable's tag comes as a picture, and all texts as a table", async (t) => {
  const page = await inTheDemoJob(t);
  await page.getByRole("navigation", { name: "Sections" }).getByRole("button", { name: "Find" }).click();
  await page.getByRole("textbox").first().fill("akit1a");
  await page.locator("main button", { hasText: "AKIT1-A" }).first().click();
  await tap(page, "Print its tag");
  await picture(page).waitFor();
  await page.getByText("Other ways: pen, table, picture").click();
  const svg = await file(page, "The tag as SVG");
  assert.match(svg.bytes.toString(), /^<svg .*AKIT1-A.*<\/svg>$/s);
  const png = await file(page, "The tag as PNG");
  // ISO/IEC 15948: signature, then chunks of length, type, data and check sum. The printer has 300 dots
  // to the inch, which are 300 / 0.0254 = 11 811 to the metre; the check sum is that of zlib.
  assert.deepEqual([...png.bytes.subarray(0, 8)], [137, 80, 78, 71, 13, 10, 26, 10]);
  const at = png.bytes.indexOf("pHYs");
  assert.equal(png.bytes.readUInt32BE(at - 4), 9);
  assert.deepEqual([png.bytes.readUInt32BE(at + 4), png.bytes.readUInt32BE(at + 8), png.bytes[at + 12]], [11811, 11811, 1]);
  assert.equal(png.bytes.readUInt32BE(at + 13), crc32(png.bytes.subarray(at, at + 13)));
  const millimetres = /width="([\d.]+)mm"/.exec(svg.bytes.toString())[1];
  assert.equal(png.bytes.readUInt32BE(16), Math.round((millimetres / 25.4) * 300));
  const table = await file(page, /^Texts as a table/);
  assert.match(table.bytes.toString(), /^Code,Words,Far place/);
});

test("a thousand tags are made while the screen goes on, and can be given up", async (t) => {
  const page = await inTheDemoJob(t);
  await tap(page, /^⌂ ?Job|^Job$/);
  await tap(page, "Print tags");
  await page.getByLabel("Tags for").selectOption({ label: "All cables" });
  await page.getByLabel("On these labels").selectOption("Flags on a roll");
  await page.getByText("How they are printed").click();
  await page.getByLabel("How many").selectOption("6");
  await page.getByRole("button", { name: /^Make the file \(1\d\d\d\)/ }).waitFor();
  // The page itself does none of the work: no task of its own is long.
  await page.evaluate(() => {
    globalThis.longTasks = [];
    new PerformanceObserver((list) => globalThis.longTasks.push(...list.getEntries().map((entry) => entry.duration)))
      .observe({ entryTypes: ["longtask"] });
  });
  const made = await file(page, /^Make the file/);
  assert.ok(made.bytes.length < 2_000_000, `${made.bytes.length} bytes`);
  const tasks = await page.evaluate(() => globalThis.longTasks);
  assert.ok(tasks.every((duration) => duration < 500), `${tasks}`);
  // With text of twice the size, what is to be done next is on the screen, above the sections.
  await page.evaluate(() => (document.documentElement.style.fontSize = "34px"));
  assert.ok((await tooWide(page)) < 1);
  const sections = await page.getByRole("navigation", { name: "Sections" }).boundingBox();
  for (const name of [/^They are printed/, "Hand out the file again"]) {
    const { y, height } = await page.getByRole("button", { name }).boundingBox();
    assert.ok(y > 0 && y + height <= sections.y, `${name}: ${y} ${height}, sections at ${sections.y}`);
  }
  await page.evaluate(() => (document.documentElement.style.fontSize = ""));
  // Given up before it is there, it never comes.
  await page.getByLabel("How many").selectOption("5");
  await page.getByRole("button", { name: /^Make the file/ }).waitFor();
  let came = false;
  page.on("download", () => {
    came = true;
  });
  await page.evaluate(() => {
    const press = (words) => [...document.querySelectorAll("button")].find((button) => button.textContent.startsWith(words))?.click();
    press("Make the file");
    requestAnimationFrame(() => requestAnimationFrame(() => press("Give up")));
  });
  await page.getByRole("button", { name: /^Make the file/ }).waitFor();
  await page.waitForTimeout(1500);
  assert.equal(came, false);
});
