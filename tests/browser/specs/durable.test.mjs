// What was called saved stays, whatever happens to the browser, its storage, or the other tabs.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";

import { App } from "../pages/app.mjs";
import { PHONE } from "../support/chromium.mjs";
import { DIST, DIST_NEXT, startHost } from "../support/server.mjs";
import { browser, host } from "../support/stage.mjs";
import { storm } from "../support/storm.mjs";

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
