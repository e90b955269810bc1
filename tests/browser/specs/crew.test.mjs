// Two phones on one job without a network: one shows its work as codes, the camera of the other reads
// them; a file is looked at before it is taken in.

import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { test } from "node:test";

import { App } from "../pages/app.mjs";
import { axe } from "../support/axe.mjs";
import { PHONE, launch } from "../support/chromium.mjs";
import { browser, host } from "../support/stage.mjs";
import { film } from "../support/tags.mjs";
import { watch } from "../support/watch.mjs";
import { tooWide } from "../support/width.mjs";

const tap = (page, name) => page.getByRole("button", { name }).first().click();
const section = (page, name) => page.getByRole("navigation", { name: "Sections" }).getByRole("button", { name });
const heading = (page, name) => page.getByRole("heading", { level: 1, name });

async function demo(t, context) {
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  const seen = watch(page);
  t.after(() => {
    assert.deepEqual(seen.errors, []);
    assert.deepEqual(seen.violations(), []);
  });
  await new App(page, host).open();
  await page.getByRole("link", { name: "Look round in the demo job" }).click();
  await heading(page, "At the wall").waitFor();
  return page;
}

async function phone(t) {
  const context = await browser.newContext(PHONE);
  t.after(() => context.close());
  return demo(t, context);
}

async function addRoom(page, name) {
  await section(page, "Wall").click();
  await page.getByLabel("Name of the room").fill(name);
  await tap(page, "Add this room");
  await page.locator(".row-text", { hasText: name }).first().waitFor();
}

// Every code of the series on the screen, as rows of 0 and 1.
async function codes(page) {
  await page.locator(".relay-code").waitFor();
  const found = new Map();
  for (let looks = 0; looks < 600; looks += 1) {
    const [path, size, words] = await page.evaluate(() => [
      document.querySelector(".relay-code path").getAttribute("d"),
      document.querySelector(".relay-code").getAttribute("viewBox"),
      document.querySelector(".relay-code + p").textContent,
    ]);
    const of = Number(/of (\d+)/.exec(words)?.[1] ?? 1);
    // The last code carries less, and may be smaller.
    found.set(path, Number(size.split(" ")[2]) - 8);
    if (found.size === of) {
      return [...found].map(([path, side]) => rows(path, side));
    }
    await page.waitForTimeout(40);
  }
  throw new Error("the codes do not go round");
}

function rows(path, side) {
  const dark = Array.from({ length: side }, () => Array(side).fill("0"));
  for (const [, x, y, length] of path.matchAll(/M(\d+) (\d+)h(\d+)/g)) {
    dark[Number(y)].fill("1", Number(x), Number(x) + Number(length));
  }
  return { rows: dark.map((row) => row.join("")) };
}

// A phone with the demo job whose camera sees these codes.
async function seeing(t, all) {
  const seen = await film(all, { module: 6 });
  t.after(() => seen.remove());
  const other = await launch([
    "--use-fake-device-for-media-stream",
    "--use-fake-ui-for-media-stream",
    `--use-file-for-fake-video-capture=${seen.path}`,
  ]);
  t.after(() => other.close());
  return demo(t, await other.newContext(PHONE));
}

async function toCrew(page) {
  await section(page, "Job").click();
  await tap(page, "Phone to phone");
  await heading(page, "Phone to phone").waitFor();
}

test("a day's work goes from screen to camera, and is looked at before it is taken in", async (t) => {
  const first = await phone(t);
  for (const name of ["Store 1", "Store 2"]) {
    await addRoom(first, name);
  }
  await toCrew(first);
  await axe(first);
  assert.ok((await tooWide(first)) < 1);
  await tap(first, "Show today’s work");
  const all = await codes(first);
  await axe(first);
  assert.ok((await tooWide(first)) < 1);
  const view = await first.locator(".relay-code").boundingBox();
  assert.ok(view.y + view.height <= PHONE.viewport.height, "the whole code is in view");

  const second = await seeing(t, all);
  await section(second, "Scan").click();
  await heading(second, "What would come in").waitFor();
  await second.getByRole("heading", { name: "2 new" }).waitFor();
  await axe(second);
  assert.ok((await tooWide(second)) < 1);
  await second.getByText("Store 2").first().waitFor();
  const rows = second.locator(".row-text", { hasText: "Store 2" });
  assert.equal(await rows.count(), 0, "it is named, and not in yet");
  await tap(second, "Take in 2 records");
  await second.getByText("2 new records were taken in.").waitFor();
  await section(second, "Wall").click();
  await second.locator(".row-text", { hasText: "Store 2" }).first().waitFor();
});

test("the other phone scans what is here, and shows what is lacking", async (t) => {
  const first = await phone(t);
  await toCrew(first);
  await tap(first, "Show what is here");
  const known = await codes(first);
  const second = await seeing(t, known);
  await addRoom(second, "Annex");
  await section(second, "Scan").click();
  await second.getByText("1 record: what the other phone lacks").waitFor();
  await second.locator(".relay-code").waitFor();
});

test("a file is looked at, left, and taken in on a second look", async (t) => {
  const first = await phone(t);
  await addRoom(first, "Annex");
  await section(first, "Job").click();
  await first.getByText("1 record is on this device alone.").waitFor();
  const downloads = first.waitForEvent("download");
  await tap(first, "Whole job as a file");
  const path = await (await downloads).path();
  await first.getByText("It protects them only once it lies on another device").waitFor();
  await first.getByText("Every record here came in from elsewhere or was put in a file").waitFor();

  const second = await phone(t);
  const look = async () => {
    await section(second, "Job").click();
    const chooser = second.waitForEvent("filechooser");
    await tap(second, "Open the file of another phone");
    await (await chooser).setFiles({
      name: "mill.jobfile.txt",
      mimeType: "text/plain",
      buffer: await readFile(path),
    });
    await heading(second, "What would come in").waitFor();
  };
  await look();
  await tap(second, "Take nothing in");
  await second.getByText("Nothing was taken in.").waitFor();
  await look();
  await tap(second, "Take in 1 record");
  await second.getByText("1 new record was taken in.").waitFor();
});

test("a file that is dropped on the page is looked at, and so is one that another app shares", async (t) => {
  const first = await phone(t);
  await addRoom(first, "Annex");
  await section(first, "Job").click();
  const downloads = first.waitForEvent("download");
  await tap(first, "Whole job as a file");
  const text = await readFile(await (await downloads).path(), "utf8");

  const second = await phone(t);
  await second.evaluate((text) => {
    const data = new DataTransfer();
    data.items.add(new File([text], "mill.jobfile.txt", { type: "text/plain" }));
    const how = { dataTransfer: data, bubbles: true, cancelable: true };
    for (const kind of ["dragover", "drop"]) {
      document.body.dispatchEvent(new DragEvent(kind, how));
    }
  }, text);
  await heading(second, "What would come in").waitFor();
  await tap(second, "Take nothing in");
  await heading(second, "At the wall").waitFor();

  // As the system sends it to the installed app: a form, and the page that it leads to.
  await second.waitForFunction(() => navigator.serviceWorker.controller !== null);
  const landed = await second.evaluate(async (text) => {
    const form = new FormData();
    form.append("file", new File([text], "mill.jobfile.txt", { type: "text/plain" }));
    const answer = await fetch("shared", { method: "POST", body: form });
    return answer.redirected;
  }, text);
  assert.ok(landed);
  await second.goto(`${host.url}#/arrived`);
  await heading(second, "What would come in").waitFor();
});

test("where a share sheet is, the file goes to it whole, and one that was closed has saved nothing", async (t) => {
  const page = await phone(t);
  // In the place of the sheet, as the Web Share API of the W3C has it (from memory): closed at first.
  await page.evaluate(() => {
    globalThis.shared = [];
    Object.assign(Navigator.prototype, {
      canShare: ({ files }) => files.length > 0,
      share: async ({ files: [file] }) => {
        globalThis.shared.push([file.name, file.type, await file.text()]);
        if (globalThis.shared.length === 1) throw new DOMException("closed", "AbortError");
      },
    });
  });
  await addRoom(page, "Annex");
  await section(page, "Job").click();
  await page.getByText("1 record is on this device alone.").waitFor();
  for (const [taps, wanted] of [[1, "1 record is on this device alone."], [2, "Every record here came in from elsewhere or was put in a file"]]) {
    await tap(page, "Whole job as a file");
    await page.waitForFunction((taps) => globalThis.shared.length === taps, taps);
    await page.waitForTimeout(300);
    await page.getByText(wanted).waitFor();
  }
  const [name, type, text] = await page.evaluate(() => globalThis.shared[1]);
  assert.match(name, /\.txt$/);
  assert.equal(type, "text/plain");
  const [end, ...lines] = text.trimEnd().split("\n").reverse();
  const whole = `${lines.reverse().join("\n")}\n`;
  assert.ok(end.includes(createHash("sha256").update(whole).digest("hex")), "the last line is the digest of the rest");
});
