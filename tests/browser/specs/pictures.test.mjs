// Photographs of open walls: nothing but the picture is kept, under its digest, and nothing is lost.

import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { test } from "node:test";

import { App } from "../pages/app.mjs";
import { Pictures } from "../pages/pictures.mjs";
import { Rescue } from "../pages/rescue.mjs";
import { axe } from "../support/axe.mjs";
import { launchProfile, PHONE } from "../support/chromium.mjs";
import { putJob, RACK_JOB } from "../support/job.mjs";
import { another, PLACE, plainPhoto, SECRET, segments, sides, withExif } from "../support/jpeg.mjs";
import { startHost } from "../support/server.mjs";
import { browser, host } from "../support/stage.mjs";
import { countPictures, storedPictures } from "../support/storage.mjs";
import { watch } from "../support/watch.mjs";
import { tooWide } from "../support/width.mjs";

// Runs a test on a phone of its own, which must not complain.
async function onPhone(work) {
  const context = await browser.newContext({ ...PHONE, acceptDownloads: true });
  const page = await context.newPage();
  page.setDefaultTimeout(15_000);
  const seen = watch(page);
  await work(new Pictures(page, host), page);
  assert.deepEqual(seen.errors, []);
  assert.deepEqual(seen.violations(), []);
  await context.close();
}

async function inOrder(page) {
  // At the end of the page the bar at the bottom covers nothing, nor does its own lowest row where
  // what it says is long.
  await page.evaluate(() => {
    scrollTo(0, document.body.scrollHeight);
    document.querySelector(".bottom").scrollTo(0, 10_000);
  });
  await axe(page);
  const wide = await tooWide(page);
  assert.ok(wide <= 0, `${wide} pixels too wide on ${page.url()}`);
}

test("a photograph goes in upright and small, without place, maker or any Exif", () =>
  onPhone(async (pictures, page) => {
    await pictures.kitchen();
    const photo = withExif(await plainPhoto(page));
    // The test itself would be blind otherwise.
    assert.ok(photo.includes(PLACE) && photo.includes(SECRET) && photo.includes("Exif"));
    assert.deepEqual(sides(photo), { width: 4032, height: 3024 });
    const chooser = await pictures.give([photo], "Take a picture");
    assert.equal(await chooser.element().getAttribute("capture"), "environment");
    await pictures.shown(1);
    await pictures.saved();
    const { version, pictures: stored } = await storedPictures(page);
    assert.equal(version, 3);
    assert.deepEqual(stored.map(({ key }) => key[1]), ["small", "whole"]);
    for (const { key, bytes } of stored) {
      const jpeg = Buffer.from(bytes);
      assert.ok(!jpeg.includes("Exif") && !jpeg.includes(SECRET) && !jpeg.includes(PLACE), key[1]);
      // 0xe1 is APP1, the only segment that Exif may stand in.
      assert.deepEqual(segments(jpeg).filter(({ marker }) => marker === 0xe1), []);
      const { width, height } = sides(jpeg);
      const longest = key[1] === "whole" ? 1600 : 320;
      // Turned by a quarter: what was wide is high.
      assert.deepEqual([width, height], [longest * 0.75, longest], key[1]);
    }
    const [small, whole] = stored.map(({ bytes }) => Buffer.from(bytes));
    const digest = createHash("sha256").update(whole).digest("hex");
    assert.deepEqual(stored.map(({ key }) => key[2]), [digest, digest]);
    assert.ok(whole.length < 1_200_000 && small.length < 60_000, `${whole.length} and ${small.length} bytes`);
    await inOrder(page);
  }));

test("the same photograph twice is stored once, and the app says so", () =>
  onPhone(async (pictures, page) => {
    await pictures.kitchen();
    const photo = await plainPhoto(page, { width: 800, height: 600 });
    await pictures.give([photo]);
    await pictures.shown(1);
    await pictures.give([photo]);
    await page.getByText("This picture is here already.").waitFor();
    await pictures.shown(1);
    assert.equal(await countPictures(page), 1);
  }));

test("what is no picture is refused in words, and what was typed stays", () =>
  onPhone(async (pictures, page) => {
    await pictures.kitchen();
    await pictures.give([Buffer.from("not a picture")]);
    await page.getByText("cannot read photo-0.jpg as a picture").waitFor();
    await pictures.at(/KIT1/);
    assert.equal(await pictures.shots.count(), 0);
  }));

test("a tap points a cable out; after a reload it stands where it was tapped", () =>
  onPhone(async (pictures, page) => {
    await pictures.kitchen();
    await pictures.give([await plainPhoto(page, { width: 1600, height: 1200 })]);
    await pictures.shown(1);
    await pictures.openShot();
    await pictures.tapAt(0.31, 0.72);
    await page.getByLabel("What is there").selectOption({ label: "KIT1-B" });
    await page.getByLabel("How far from what").fill("12 in left of the stud");
    await pictures.tap("Point it out");
    await page.getByText("KIT1-B 12 in left of the stud").waitFor();
    // The second by the keyboard alone.
    await page.getByLabel("Where").fill("90 10");
    await page.getByLabel("How far from what").press("Enter");
    await page.getByText("KIT1-A", { exact: false }).first().waitFor();
    assert.equal(await pictures.marks.count(), 2);
    await pictures.saved();
    await inOrder(page);
    await pictures.app.reload();
    await page.waitForFunction(() => document.querySelector(".picture img")?.naturalWidth > 0);
    const [first, second] = await pictures.places();
    const near = (one, other) => assert.ok(Math.abs(one - other) < 0.01, `${one} is not ${other}`);
    near(first.x, 0.31);
    near(first.y, 0.72);
    near(second.x, 0.9);
    near(second.y, 0.1);
    // Every answer about the outlet shows it: the cable, the room, the list before closing.
    await page.locator(".seen-row .row-button").first().click();
    await pictures.at("KIT1-B");
    await pictures.shown(1);
    await page.locator(".shot", { hasText: "12 in left of the stud" }).waitFor();
    await pictures.toWall();
    await pictures.openRoom("Kitchen");
    await pictures.shown(1);
    await pictures.tap("OK to cover?");
    await pictures.shown(1);
    assert.equal(await page.getByText("No picture of the open wall").count(), 0);
    await inOrder(page);
  }));

test("a picture is put away with a reason, and comes back by undo", () =>
  onPhone(async (pictures, page) => {
    await pictures.kitchen();
    await pictures.give([await plainPhoto(page, { width: 800, height: 600 })]);
    await pictures.shown(1);
    await pictures.openShot();
    await page.getByLabel("Why").fill("too dark");
    await pictures.tap("Put the picture away");
    await pictures.at(/KIT1/);
    await page.getByText("The picture is put away.").waitFor();
    assert.equal(await pictures.shots.count(), 0);
    await pictures.undo.click();
    await pictures.shown(1);
  }));

test("a plan of a floor takes a pin for each outlet", () =>
  onPhone(async (pictures, page) => {
    await pictures.kitchen();
    await page.getByRole("navigation").getByRole("button", { name: "Job" }).click();
    await page.getByRole("button", { name: "Rooms and floors" }).click();
    await page.getByLabel("Name of the floor").fill("Ground floor");
    await pictures.tap("Add this floor");
    await page.locator(".row-button", { hasText: "Kitchen" }).first().click();
    await page.getByLabel("Floor", { exact: true }).first().selectOption({ label: "Ground floor" });
    await pictures.tap("Put the room there");
    await page.locator(".row-button", { hasText: "Ground floor" }).last().click();
    await pictures.give([await plainPhoto(page, { width: 1200, height: 1600 })]);
    await pictures.shown(1);
    await inOrder(page);
    await pictures.openShot();
    await pictures.tapAt(0.5, 0.25);
    await pictures.tap("Point it out");
    await page.locator(".seen-row", { hasText: "KIT1" }).locator(".row-button").click();
    await pictures.at(/KIT1/);
    await pictures.shown(1);
  }));

test("where there is no room it says so, the pictures wait, and nothing is lost", () =>
  onPhone(async (pictures, page) => {
    const debug = await page.context().newCDPSession(page);
    const origin = new URL(host.url).origin;
    // Set before anything is written: the browser asks how much room there is, and not again for half
    // a minute. The app itself takes 2 MB of it.
    await debug.send("Storage.overrideQuotaForOrigin", { origin, quotaSize: 4_000_000 });
    await pictures.kitchen();
    await pictures.tap("What it is for …");
    await page.getByLabel("What the outlet is for").fill("behind the sofa");
    const photo = await plainPhoto(page, { width: 1600, height: 1200 });
    const photos = Array.from({ length: 10 }, (_, number) => another(photo, number));
    await pictures.give(photos);
    await page.getByText("There is no room left on this device").waitFor();
    await page.getByText("✗ Not saved").waitFor();
    await pictures.at(/KIT1/);
    assert.equal(await page.getByLabel("What the outlet is for").inputValue(), "behind the sofa");
    await inOrder(page);
    // Out as a file.
    const [download] = await Promise.all([page.waitForEvent("download"), pictures.tap("Take the picture out as a file")]);
    assert.match(download.suggestedFilename(), /^[0-9a-f]{64}\.jpg$/);
    const kept = await countPictures(page);
    assert.ok(kept > 0 && kept < photos.length, `${kept} fitted`);
    // And in, once there is room.
    await debug.send("Storage.overrideQuotaForOrigin", { origin });
    await pictures.tap("Try again");
    await page.getByText(`1 to 6 of ${photos.length}.`).waitFor();
    await pictures.saved();
    await pictures.app.reload();
    await pictures.shown(6);
    assert.equal(await countPictures(page), photos.length);
  }));

test("a picture that is on another phone says so", () =>
  onPhone(async (pictures, page) => {
    await pictures.kitchen();
    await pictures.give([await plainPhoto(page, { width: 800, height: 600 })]);
    await pictures.shown(1);
    await pictures.saved();
    // As if the records had come in a file: pictures do not travel in it.
    await page.goto(`${host.url}rescue.html`);
    await page.evaluate(
      () =>
        new Promise((done, failed) => {
          const request = indexedDB.open("bothends");
          request.onsuccess = () => {
            const writing = request.result.transaction("pictures", "readwrite");
            writing.objectStore("pictures").clear();
            writing.oncomplete = () => done(request.result.close());
            writing.onerror = failed;
          };
        }),
    );
    await page.goBack();
    await page.getByText("Not on this device").waitFor();
    await pictures.shots.first().click();
    await page.getByText("This picture is not on this device. It is on the phone of").waitFor();
    await inOrder(page);
  }));

test("how full the storage is stands on the screen of the job", () =>
  onPhone(async (pictures, page) => {
    await pictures.kitchen();
    await page.getByRole("navigation").getByRole("button", { name: "Job" }).click();
    await page.getByText(/of about \d+ (MB|GB) are used, \d+ %\./).waitFor();
    await page.getByRole("meter", { name: "Room on this device" }).waitFor();
    await inOrder(page);
  }));

test("pictures are there with the host gone, in a new browser process too, and for the rescue", async () => {
  const own = await startHost();
  const profile = await launchProfile();
  let page = profile.context.pages()[0] ?? (await profile.context.newPage());
  let pictures = new Pictures(page, own);
  await pictures.kitchen();
  await pictures.app.keptOffline();
  await pictures.give([await plainPhoto(page, { width: 800, height: 600 })]);
  await pictures.shown(1);
  await pictures.saved();
  const address = page.url();
  await own.stop();
  const context = await profile.reopen();
  page = context.pages()[0] ?? (await context.newPage());
  pictures = new Pictures(page, own);
  await page.goto(address);
  await pictures.shown(1);
  await pictures.openShot();
  const rescue = new Rescue(page, own);
  await rescue.open();
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save pictures 1 to 1 of 1" }).click(),
  ]);
  assert.match(download.suggestedFilename(), /^bothends-picture-[0-9a-f]{12}\.jpg$/);
  await profile.close();
});

test("the storage of the first builds is carried over whole, and takes pictures", () =>
  onPhone(async (pictures, page) => {
    // The page for rescues makes no storage, so what is made here is of version 1.
    await page.goto(`${host.url}rescue.html`);
    await putJob(page, RACK_JOB);
    const found = () => page.evaluate(async () => (await indexedDB.databases())[0].version);
    assert.equal(await found(), 1);
    await new Rescue(page, host).open();
    await page.getByText("Found 1 job with").waitFor();
    const before = await page.getByText("Found 1 job with").innerText();
    await new App(page, host).open();
    await page.getByRole("link", { name: RACK_JOB.name }).click();
    await pictures.at("At the wall");
    assert.equal(await found(), 3);
    await page.locator(".row-button").first().click();
    await pictures.give([await plainPhoto(page, { width: 800, height: 600 })]);
    await pictures.shown(1);
    await pictures.saved();
    await new Rescue(page, host).open();
    await page.getByText(/Found 1 job with/).waitFor();
    const records = (text) => Number(text.match(/with ([\d,]+) record/)[1].replace(",", ""));
    assert.equal(records(await page.getByText("Found 1 job with").innerText()), records(before) + 1);
  }));
