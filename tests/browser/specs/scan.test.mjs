// Scanning with the browser's fake camera, fed from a video of tags; with photographs, by typing, and
// with numbered remotes.

import assert from "node:assert/strict";
import { test } from "node:test";
import { fileURLToPath } from "node:url";

import { App } from "../pages/app.mjs";
import { axe } from "../support/axe.mjs";
import { PHONE, launch } from "../support/chromium.mjs";
import { startHost } from "../support/server.mjs";
import { browser, host } from "../support/stage.mjs";
import { photograph, tags, video } from "../support/tags.mjs";
import { watch } from "../support/watch.mjs";
import { tooWide } from "../support/width.mjs";

const all = await tags();
const codeOf = (tag) => tag.text.split(" ")[0];
const tap = (page, name) => page.getByRole("button", { name }).first().click();
const scanner = (page) => page.getByRole("navigation").getByRole("button", { name: "Scan" });
const answer = (page) => page.getByRole("region", { name: "What was scanned" });

async function demo(context, at = host) {
  const page = await context.newPage();
  page.setDefaultTimeout(15_000);
  const seen = watch(page);
  await new App(page, at).open();
  await page.getByRole("link", { name: "Look round in the demo job" }).click();
  await page.getByRole("heading", { level: 1, name: "At the wall" }).waitFor();
  return { page, seen };
}

// The demo job on a phone whose camera sees one tag.
async function seeing(t, tag, at = host, how = {}) {
  const film = await video(tag, how);
  t.after(() => film.remove());
  const phone = await launch([
    "--use-fake-device-for-media-stream",
    "--use-fake-ui-for-media-stream",
    `--use-file-for-fake-video-capture=${film.path}`,
  ]);
  t.after(() => phone.close());
  const context = await phone.newContext(PHONE);
  const { page, seen } = await demo(context, at);
  t.after(() => {
    assert.deepEqual(seen.errors, []);
    assert.deepEqual(seen.violations(), []);
  });
  return page;
}

// The demo job on a phone whose camera nobody may use.
async function blind(t) {
  const context = await browser.newContext(PHONE);
  t.after(() => context.close());
  const { page } = await demo(context);
  return page;
}

// The field for what is typed. Once it is known that there is no camera the screen is laid out anew, and a button that
// is pressed meanwhile is not where it was.
async function blindField(page) {
  await scanner(page).click();
  await page.getByRole("button", { name: "Try the camera again" }).waitFor();
  return page.getByLabel("What stands on the tag");
}

async function toOutlet(page) {
  const outlet = codeOf(all.outlet);
  // By its wall: what is looked up in the search is not where one stands.
  await tap(page, "Wall");
  await page.locator("main .row-button", { hasText: outlet.replace(/\d+$/, "") }).first().click();
  await page.locator("main .row-button", { hasText: outlet }).first().click();
  await page.getByRole("heading", { level: 1, name: new RegExp(`^${outlet}`) }).waitFor();
}

test("a scan at the wall shows both ends without a tap", async (t) => {
  const page = await seeing(t, all.good);
  await toOutlet(page);
  await scanner(page).click();
  await answer(page).waitFor();
  await page.getByRole("heading", { level: 1, name: codeOf(all.good) }).waitFor();
  await answer(page).getByText(`You stand at ${codeOf(all.outlet)}.`).waitFor();
  await answer(page).getByText(/^The other end: /).waitFor();
  // What is next stands at the bottom, and then the next tag.
  const next = page.locator("#actions .button.main");
  assert.equal(await next.count(), 1);
  assert.ok((await next.boundingBox()).height >= 64);
  await page.getByText(new RegExp(`${codeOf(all.good)}.*seen`)).first().waitFor();
  assert.ok((await tooWide(page)) < 1);
  await axe(page);
});

test("a scan at the rack names the plate where the other end is", async (t) => {
  const page = await seeing(t, all.good);
  await tap(page, "Rack");
  await tap(page, /^Main rack/);
  await scanner(page).click();
  await answer(page).waitFor();
  await answer(page).getByText(/You stand at Main rack, [A-Z]+[0-9]+\./).waitFor();
  await answer(page).getByText(new RegExp(`^The other end: ${codeOf(all.outlet)}`)).waitFor();
});

test("a tag that stays in view is not told again at once to whoever scans on", async (t) => {
  const page = await seeing(t, all.good);
  await toOutlet(page);
  await scanner(page).click();
  await answer(page).waitFor();
  await page.evaluate(() => {
    globalThis.toldAt = undefined;
    new MutationObserver(() => {
      if (document.querySelector(".scanned") !== null) {
        globalThis.toldAt ??= performance.now();
      }
    }).observe(document.body, { childList: true, subtree: true });
  });
  const begun = await page.evaluate(() => performance.now());
  await tap(page, "Scan the next");
  await page.locator("#scan-video").waitFor();
  await page.evaluate(() => { globalThis.toldAt = undefined; });
  await answer(page).waitFor();
  const told = await page.evaluate(() => globalThis.toldAt);
  assert.ok(told - begun > 2000, `told again after ${told - begun} ms`);
});

// A browser with a detector of its own, which sees these texts in whatever it is shown.
async function withDetector(t, ...texts) {
  const context = await browser.newContext({ ...PHONE, serviceWorkers: "block" });
  t.after(() => context.close());
  await context.route(/\/scan-[0-9a-f]+\.js$/, async (route) => {
    const whole = await route.fetch();
    const found = JSON.stringify(texts.map((rawValue) => ({ rawValue })));
    const standIn = `globalThis.BarcodeDetector = class {
      static async getSupportedFormats() { return ["qr_code"]; }
      async detect() { return ${found}; }
    };`;
    await route.fulfill({ response: whole, body: `${await whole.text()}\n${standIn}` });
  });
  return demo(context);
}

test("a strange code beside a tag hides it neither from the browser's detector nor from ours", async (t) => {
  const strange = "HTTPS://ROUTER.EXAMPLE/SN1";
  for (const texts of [[strange], [strange, all.good.text], []]) {
    const { page, seen } = await withDetector(t, ...texts);
    await scanner(page).click();
    const choosing = page.waitForEvent("filechooser");
    await tap(page, "Take or choose a photograph");
    const chooser = await choosing;
    await chooser.setFiles({ name: "tag.png", mimeType: "image/png", buffer: photograph(all.good) });
    await page.getByRole("heading", { level: 1, name: codeOf(all.good) }).waitFor();
    assert.deepEqual(seen.errors, []);
  }
});

test("the tag of an outlet shows all its cables", async (t) => {
  const page = await seeing(t, all.outlet);
  await scanner(page).click();
  await page.getByRole("heading", { level: 1, name: new RegExp(`^${codeOf(all.outlet)}`) }).waitFor();
  await answer(page).getByText(codeOf(all.good), { exact: true }).waitFor();
});

test("a void tag says since when", async (t) => {
  const page = await seeing(t, all.void);
  await scanner(page).click();
  await answer(page).getByText(/This tag is void: .* was pulled anew since \(.*\d{4}-\d\d-\d\d/).waitFor();
});

test("a tag of another job and a strange code have answers of their own", async (t) => {
  const page = await seeing(t, all["another job"]);
  await scanner(page).click();
  await answer(page).getByText(/is of another job/).waitFor();
  await answer(page).getByText(/That job is not on this device/).waitFor();
  await axe(page);
  const other = await seeing(t, all.strange);
  await scanner(other).click();
  await answer(other).getByText(/This is not one of our tags/).waitFor();
  assert.equal(await other.locator(".scanned b b").count(), 0, "nothing is markup");
});

test("a walk goes on from tag to tag without a tap, and says what was seen", async (t) => {
  const page = await seeing(t, all.good);
  await toOutlet(page);
  await page.context().setOffline(true);
  await scanner(page).click();
  await tap(page, /Walk from tag to tag/);
  // The tag may have been read before walking began.
  if (await answer(page).isVisible()) {
    await tap(page, "Scan the next");
  }
  await page.getByText(`${codeOf(all.good)} seen at ${codeOf(all.outlet)}`).first().waitFor();
});

test("a strange code is said on a walk, which goes on", async (t) => {
  const page = await seeing(t, all.strange);
  await toOutlet(page);
  await scanner(page).click();
  await tap(page, /Walk from tag to tag/);
  if (await answer(page).isVisible()) {
    await tap(page, /Scan again|Scan the next/);
  }
  await page.getByText(/is not one of our tags/).first().waitFor();
  await page.locator("#scan-video").waitFor();
});

test("where it is too dark to read a tag, that is what the hint says", async (t) => {
  const page = await seeing(t, all.good, host, { light: 0.05 });
  await scanner(page).click();
  await page.getByText(/^Too dark/).waitFor();
});

test("with the server gone the camera, the reader and the answer are still there", async (t) => {
  const own = await startHost();
  const page = await seeing(t, all.good, own);
  await page.evaluate(() => navigator.serviceWorker.ready);
  // A function that has to be waited for counts as true with `waitForFunction`, so it is asked again and again.
  const isKept = () => page.evaluate(async () => {
    const names = await caches.keys();
    const kept = await Promise.all(names.map(async (name) => (await (await caches.open(name)).keys()).map(({ url }) => url)));
    return kept.flat().some((url) => /scanner-.*\.wasm$/.test(url));
  });
  for (let tries = 0; !(await isKept()); tries += 1) {
    assert.ok(tries < 150, "the reader of tags is kept");
    await page.waitForTimeout(100);
  }
  await page.getByText("✓ Saved").waitFor();
  await own.stop();
  await page.reload();
  await page.getByRole("heading", { level: 1, name: "At the wall" }).waitFor();
  await scanner(page).click();
  // Of the job itself, and not of the tag alone.
  const both = answer(page).getByText(/The other end: |Where do you stand\?/);
  await both.waitFor();
  await answer(page).getByText(codeOf(all.outlet)).first().waitFor();
});

test("a job that was left while it was stored is there whole or not at all", async () => {
  const context = await browser.newContext(PHONE);
  const { page } = await demo(context);
  await page.reload();
  await page.locator("#app :not(main.opening)").first().waitFor();
  const stored = await page.evaluate(
    () =>
      new Promise((resolve, reject) => {
        const opening = indexedDB.open("bothends");
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const database = opening.result;
          const both = database.transaction(["jobs", "acts"]);
          const counts = ["jobs", "acts"].map((name) => both.objectStore(name).count());
          both.oncomplete = () => resolve(counts.map((count) => count.result > 0));
        };
      }),
  );
  assert.equal(stored[0], stored[1]);
  await context.close();
});

test("cables of many legs do not stick out of the answer", async (t) => {
  const page = await blind(t);
  for (const code of ["0A/1A-1", "0A/1A-5", "ROOF1-D", "KILN1-A"]) {
    await scanner(page).click();
    await page.getByLabel("What stands on the tag").fill(code);
    await tap(page, "Show it");
    await answer(page).getByText("Where do you stand?").waitFor();
    assert.ok((await tooWide(page)) < 1, code);
    await page.getByRole("navigation", { name: "Sections" }).getByRole("button", { name: "Wall" }).click();
  }
});

test("a camera that is refused is explained once, and a photograph does as well", async (t) => {
  const page = await blind(t);
  await scanner(page).click();
  await page.getByText(/This app may not use the camera\.|There is no camera on this device\./).waitFor();
  await page.getByText(/Pictures are read on this device and go nowhere\./).waitFor();
  await axe(page);
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    tap(page, "Take or choose a photograph"),
  ]);
  await chooser.setFiles({ name: "tag.png", mimeType: "image/png", buffer: photograph(all.good) });
  await page.getByRole("heading", { level: 1, name: codeOf(all.good) }).waitFor();
  // Nobody said where he stands: both ends are drawn, and he is asked beside them.
  await answer(page).getByText("Where do you stand?").waitFor();
  await answer(page).locator(".jack-here").waitFor();
  const panel = answer(page).locator(".small-panels").first();
  await panel.waitFor();
  const { y, height } = await panel.boundingBox();
  assert.ok(y + height < (await page.locator(".bottom").boundingBox()).y, "both are in view without a tap");
  await axe(page);
  await answer(page).getByRole("button", { name: `At ${codeOf(all.outlet)}` }).click();
  await answer(page).getByText(`You stand at ${codeOf(all.outlet)}.`).waitFor();
  await page.reload();
  await scanner(page).click();
  await page.getByText(/Take a photograph of the tag, or type what stands on it\./).waitFor();
  assert.equal(await page.getByText(/go nowhere/).count(), 0);
  await page.getByLabel("What stands on the tag").fill(all.damaged.text);
  await tap(page, "Show it");
  await page.getByText(/at least one character is wrong/).first().waitFor();
});

test("without a camera the field comes first, and what is left of a code is offered", async (t) => {
  const page = await blind(t);
  const field = await blindField(page);
  const show = await page.getByRole("button", { name: "Show it" }).boundingBox();
  assert.ok(show.y + show.height < (await page.locator(".bottom").boundingBox()).y, "in view without scrolling");
  for (const text of ["kit", "AKI"]) {
    await field.fill(text);
    await tap(page, "Show it");
    await answer(page).getByText("Perhaps it is one of these:").waitFor();
    assert.equal(await answer(page).locator(".row").count(), 4);
    assert.equal(await field.inputValue(), text, "to be mended");
  }
  await axe(page);
  await field.fill("kit");
  await tap(page, "Show it");
  await tap(page, "Find kit");
  await page.getByText(/^\d\d found\.$/).waitFor();
  assert.equal(await page.getByRole("textbox").first().inputValue(), "kit");
});

test("two cables of one code are told apart by what they are for", async (t) => {
  const page = await blind(t);
  await (await blindField(page)).fill("CKIT4-A");
  await tap(page, "Show it");
  await answer(page).getByText("Which of them is it?").waitFor();
  const rows = await answer(page).locator(".row").allInnerTexts();
  assert.equal(rows.length, 2);
  assert.notEqual(rows[0], rows[1]);
});

test("a number that is typed in a room is said to be completed", async (t) => {
  const page = await blind(t);
  await toOutlet(page);
  const [, room] = /^([A-Z]+)/.exec(codeOf(all.outlet));
  const number = codeOf(all.good).slice(room.length);
  await (await blindField(page)).fill(number);
  await tap(page, "Show it");
  await answer(page).getByText(`“${number}” is taken as ${codeOf(all.good)}, since you stand in ${room}.`).waitFor();
});

test("remotes prove a cable at the rack, and a mismatch names the crossed one", async (t) => {
  const page = await blind(t);
  await toOutlet(page);
  await tap(page, "Put numbered remotes in");
  await page.getByRole("heading", { level: 1, name: "Numbered remotes" }).waitFor();
  const left = await page.getByText("to be read").count();
  assert.ok(left > 1, `${left} cables of this outlet take remotes`);
  const next = page.getByRole("region", { name: /which number does the tester show/ });
  await next.getByRole("button", { name: "1", exact: true }).click();
  await page.getByText("verified", { exact: false }).first().waitFor();
  await next.getByRole("button", { name: "3", exact: true }).click();
  await page.getByText(/^Read .* next\. If the tester shows 2 there, the two are crossed\./).waitFor();
  await next.getByRole("button", { name: "2", exact: true }).click();
  await page.getByText(/ are crossed: what is called /).first().waitFor();
  assert.ok((await tooWide(page)) < 1);
  await axe(page);
  await page.getByText(/Or leave them and put the record right: then change their tags here as well/).first().waitFor();
  // What was read and proves nothing is there after a reload.
  await page.reload();
  await page.getByText(/ are crossed: what is called /).first().waitFor();
  await tap(page, /^Put the record right for /);
  await next.waitFor();
});

test("before any job is open a tag says what it says by itself", async (t) => {
  const context = await browser.newContext(PHONE);
  t.after(() => context.close());
  const page = await context.newPage();
  await new App(page, host).open();
  await page.getByRole("link", { name: "Scan a tag" }).click();
  await page.getByLabel("What stands on the tag").fill(all.outlet.text);
  await tap(page, "Show it");
  await page.getByText(/^It is outlet \d+ in the room /).waitFor();
  await page.getByRole("button", { name: "Open a job file" }).waitFor();
  await tap(page, "Scan again");
  await page.getByLabel("What stands on the tag").fill(codeOf(all.good));
  await tap(page, "Show it");
  await page.getByText(/^By its form it names cable /).waitFor();
  // Its job's file is opened from the answer, and the code is answered from it.
  const [chooser] = await Promise.all([page.waitForEvent("filechooser"), tap(page, "Open a job file")]);
  await chooser.setFiles(fileURLToPath(new URL("../../../demo-data/marrowby-mill.jobfile.txt", import.meta.url)));
  await tap(page, /^Take in \d/);
  await page.getByRole("heading", { level: 1, name: codeOf(all.good) }).waitFor();
  await answer(page).getByText("Where do you stand?").waitFor();
});
