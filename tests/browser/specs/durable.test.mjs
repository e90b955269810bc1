// What was called saved stays, whatever happens to the browser, its storage, or the other tabs.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";

import { App } from "../pages/app.mjs";
import { Rescue } from "../pages/rescue.mjs";
import { launchProfile, PHONE } from "../support/chromium.mjs";
import { putLines } from "../support/job.mjs";
import { DIST, DIST_NEXT, startHost } from "../support/server.mjs";
import { browser, host } from "../support/stage.mjs";
import { storedCounts, storedLines } from "../support/storage.mjs";
import { browserProcess, storm } from "../support/storm.mjs";

const section = (page, name) => page.getByRole("navigation", { name: "Sections" }).getByRole("button", { name });

async function aJob(t, at = host) {
  const context = await browser.newContext({ ...PHONE, acceptDownloads: true });
  t.after(() => context.close());
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  await new App(page, at).open();
  await page.getByLabel("Name of the job").fill("Marrowby Mill");
  await page.getByRole("button", { name: "Start this job" }).click();
  await page.getByText("✓ Saved").waitFor();
  return page;
}

async function addRoom(page, name) {
  await page.getByLabel("Name of the room").fill(name);
  await page.getByRole("button", { name: "Add this room" }).click();
}

const room = (page, name) => page.locator(".row-text", { hasText: name }).first();

test("a browser that is killed five times loses nothing that was called saved", async () => {
  const { promised, durabilities } = await storm(5);
  assert.ok(promised > 0, "nothing was saved before the kills");
  // Killing a process cannot tell a strict transaction from a relaxed one, so that is asserted by itself.
  assert.deepEqual([...durabilities], ["strict"]);
});

// The demo job, as if so many others had written its lines once more each.
async function demoLines(times) {
  const file = await readFile(new URL("../../../demo-data/marrowby-mill.jobfile.txt", import.meta.url), "utf8");
  const lines = file.split("\n").filter((line) => line.startsWith('{"v":1'));
  const again = (time) => lines.map((line) => line.replace(/"writer":"(.{14})../, `"writer":"$1${time}${time}`));
  return [...Array(times).keys()].flatMap((time) => (time === 0 ? lines : again(time)));
}

const DEMO = { id: "9NGQ4WKFEX6PJV3C", name: "Marrowby Mill" };

// Every line is stored once; how many of them are stored together.
async function allThere(page, lines) {
  const { singles, together } = await storedLines(page);
  assert.deepEqual([...singles, ...together.flat()].sort(), [...lines].sort());
  return together.flat().length;
}

test("lines that are stored singly are put together, and a browser killed over it loses none", async () => {
  const lines = await demoLines(9);
  const profile = await launchProfile(PHONE);
  const aPage = async () => profile.context.pages()[0] ?? (await profile.context.newPage());
  let page = await aPage();
  await new App(page, host).open();
  await putLines(page, { ...DEMO, lines });
  const whole = lines.length - (lines.length % 1000);
  let together = 0;
  for (let kill = 1; kill <= 3; kill += 1) {
    await new App(page, host).open();
    await page.getByRole("link", { name: DEMO.name }).click();
    await section(page, "Wall").waitFor();
    await page.waitForTimeout(100 * kill);
    process.kill(await browserProcess(profile.folder), "SIGKILL");
    await profile.reopen();
    page = await aPage();
    await page.goto(`${host.url}rescue.html`);
    const before = together;
    together = await allThere(page, lines);
    assert.ok(together >= before && together % 1000 === 0, `${before}, then ${together}`);
  }
  await new App(page, host).open();
  await page.getByRole("link", { name: DEMO.name }).click();
  await section(page, "Wall").waitFor();
  for (let wait = 0; wait < 100 && together < whole; wait += 1) {
    await page.waitForTimeout(100);
    together = await allThere(page, lines);
  }
  assert.equal(together, whole);
  // What is read without the app, and the app itself, have all of it.
  const rescue = new Rescue(page, host);
  await rescue.open();
  await rescue.save.first().waitFor();
  assert.equal(await rescue.status.innerText(), `Found 1 job with ${lines.length} records.`);
  await new App(page, host).open();
  await page.getByRole("link", { name: DEMO.name }).click();
  await section(page, "Find").click();
  await page.getByRole("textbox").first().fill("ABED1-A");
  await page.locator("main .find-row", { hasText: "ABED1-A" }).first().waitFor();
  assert.equal(await page.getByText(/cannot be read|could not be read/).count(), 0);
  await profile.close();
});

test("many lines that come at once are stored together", async (t) => {
  const context = await browser.newContext(PHONE);
  t.after(() => context.close());
  const page = await context.newPage();
  await new App(page, host).open();
  await page.getByRole("link", { name: "Look round in the demo job" }).click();
  await page.getByText("✓ Saved").waitFor();
  const lines = await demoLines(1);
  assert.equal(await allThere(page, lines), 1000);
  await new App(page, host).reload();
  await section(page, "Find").click();
  await page.getByRole("textbox").first().fill("ABED1-A");
  await page.locator("main .find-row", { hasText: "ABED1-A" }).first().waitFor();
});

test("where there is no room nothing is lost, it says so, and offers the file", async (t) => {
  const page = await aJob(t);
  await section(page, "Wall").click();
  const debug = await page.context().newCDPSession(page);
  const origin = new URL(host.url).origin;
  await debug.send("Storage.overrideQuotaForOrigin", { origin, quotaSize: 1 });
  // The browser asks how much room there is, and not again for half a minute; so it goes on until then.
  const names = [];
  const full = page.getByText("There is no room left on this device");
  while (!(await full.isVisible())) {
    assert.ok(names.length < 400, "the storage never was full");
    const name = `Store ${names.length}.`;
    await addRoom(page, name);
    await page.getByText(name, { exact: false }).first().waitFor();
    names.push(name);
    await page.waitForTimeout(100);
  }
  await page.getByText("✗ Not saved").waitFor();
  await addRoom(page, "Annex.");
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Take the whole job out as a file" }).click(),
  ]);
  const file = await readFile(await download.path(), "utf8");
  for (const name of [...names, "Annex."]) {
    assert.ok(file.includes(`"${name}"`), `${name} is not in the file`);
  }
  // Once there is room, one tap stores all of it.
  await debug.send("Storage.overrideQuotaForOrigin", { origin });
  await page.getByRole("button", { name: "Try again" }).first().click();
  await page.getByText("✓ Saved").waitFor();
  await new App(page, host).reload();
  await section(page, "Find").click();
  await page.getByRole("textbox").first().fill("Annex");
  await page.locator("main .find-row", { hasText: "Annex" }).first().waitFor();
});

test("a build that meets a newer store reads it, writes nothing, and says so", async (t) => {
  const page = await aJob(t);
  await section(page, "Wall").click();
  await addRoom(page, "Annex");
  await page.getByText("✓ Saved").waitFor();
  // As a newer build leaves it: another version of the stores, with one more in it.
  await page.goto(`${host.url}rescue.html`);
  await page.evaluate(
    () =>
      new Promise((done, failed) => {
        const request = indexedDB.open("bothends", 99);
        request.onupgradeneeded = () => request.result.createObjectStore("later");
        request.onerror = () => failed(request.error);
        request.onsuccess = () => done(request.result.close());
      }),
  );
  const app = new App(page, host);
  await app.open();
  await page.getByRole("link", { name: "Marrowby Mill" }).click();
  await room(page, "Annex").waitFor();
  // Before anything is noted that could not be stored; what is noted all the same is refused.
  await page.getByText("✗ Read only").waitFor();
  await page.getByText("kept by a newer version of this app").first().waitFor();
  await page.getByRole("button", { name: "Take the whole job out as a file" }).waitFor();
  await addRoom(page, "Boiler room");
  await page.getByText("nothing can be noted here").first().waitFor();
  assert.equal(await room(page, "Boiler room").count(), 0);
  assert.equal(await page.getByText(/^✓ /).count(), 0);
});

test("two tabs of two builds work on one job, and neither loses what the other did", async (t) => {
  const later = await startHost({ folder: DIST });
  t.after(() => later.stop());
  const old = await aJob(t, later);
  await section(old, "Wall").click();
  later.folder = DIST_NEXT;
  const fresh = await old.context().newPage();
  fresh.setDefaultTimeout(20_000);
  // What is kept of the older build is cleared away, as a browser may; its page runs on.
  await old.evaluate(async () => {
    for (const registration of await navigator.serviceWorker.getRegistrations()) {
      await registration.unregister();
    }
    for (const name of await caches.keys()) {
      await caches.delete(name);
    }
  });
  const app = new App(fresh, later);
  await app.open();
  assert.notEqual(await app.build(), await new App(old, later).build());
  await fresh.getByRole("link", { name: "Marrowby Mill" }).click();
  await fresh.getByRole("heading", { level: 1, name: "At the wall" }).waitFor();
  await addRoom(old, "Annex");
  await room(fresh, "Annex").waitFor();
  await addRoom(fresh, "Boiler room");
  await room(old, "Boiler room").waitFor();
});

test("a job that is taken off leaves nothing behind, in no window, and its file brings it back", async (t) => {
  const page = await aJob(t);
  await section(page, "Wall").click();
  await addRoom(page, "Annex");
  await room(page, "Annex").waitFor();
  await page.getByText("✓ Saved").waitFor();
  const other = await page.context().newPage();
  other.setDefaultTimeout(20_000);
  await new App(other, host).open();
  await other.getByRole("link", { name: "Marrowby Mill" }).click();
  await room(other, "Annex").waitFor();

  const leave = page.getByRole("button", { name: "Take this job off this device" });
  await section(page, "Job").click();
  await leave.click();
  await page.getByText("records are on this device alone and would be lost").waitFor();
  const download = page.waitForEvent("download");
  await page.locator(".notice").getByRole("button", { name: "Whole job as a file" }).click();
  const file = await (await download).path();
  await page.getByText("A file with all records of this job was made").waitFor();
  await leave.click();
  await page.getByRole("button", { name: "Take it off", exact: true }).click();
  await page.getByText("“Marrowby Mill” is no longer on this device.").waitFor();
  await page.getByRole("heading", { level: 1, name: "Jobs on this device" }).waitFor();
  await page.getByText("No job here yet.").waitFor();
  await other.getByText("“Marrowby Mill” is no longer on this device.").waitFor();
  await other.getByText("No job here yet.").waitFor();
  assert.deepEqual(await storedCounts(page), { jobs: 0, acts: 0, pictures: 0 });

  const chooser = page.waitForEvent("filechooser");
  await page.getByRole("button", { name: "Open a job file" }).click();
  await (await chooser).setFiles(file);
  await page.getByRole("button", { name: "Take in" }).click();
  await section(page, "Wall").click();
  await room(page, "Annex").waitFor();
});

test("a frozen tab holds nobody up, and knows what was done when it wakes", async (t) => {
  const first = await aJob(t);
  await section(first, "Wall").click();
  const second = await first.context().newPage();
  second.setDefaultTimeout(20_000);
  await new App(second, host).open();
  await second.getByRole("link", { name: "Marrowby Mill" }).click();
  await second.getByRole("heading", { level: 1, name: "At the wall" }).waitFor();
  const debug = await first.context().newCDPSession(first);
  await debug.send("Page.setWebLifecycleState", { state: "frozen" });
  await addRoom(second, "Annex");
  await second.getByText("✓ Saved").waitFor();
  await room(second, "Annex").waitFor();
  await debug.send("Page.setWebLifecycleState", { state: "active" });
  await room(first, "Annex").waitFor();
  await addRoom(first, "Boiler room");
  await room(second, "Boiler room").waitFor();
});
