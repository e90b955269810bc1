// The app without its host: kept whole at the first visit, replaced only by a whole new version.

import assert from "node:assert/strict";
import { afterEach, beforeEach, test } from "node:test";

import { App } from "../pages/app.mjs";
import { launchProfile } from "../support/chromium.mjs";
import { DIST, DIST_NEXT, startHost } from "../support/server.mjs";
import { cacheNames } from "../support/storage.mjs";
import { watch } from "../support/watch.mjs";

let host;
let profile;
let page;
let app;

beforeEach(async () => {
  host = await startHost({ folder: DIST });
  profile = await launchProfile();
  page = profile.context.pages()[0] ?? (await profile.context.newPage());
  app = new App(page, host);
  await app.open();
  await app.keptOffline();
});

afterEach(async () => {
  await profile.close();
  await host.stop().catch(() => {});
});

// Puts the next version on the host and waits until the browser has looked at it.
async function publish(damage) {
  host.folder = DIST_NEXT;
  if (damage) {
    host.damage = damage;
  }
  await app.comeBack();
}

// Waits for a condition that the page's own events do not announce.
async function until(what, condition) {
  const limit = Date.now() + 10_000;
  while (!(await condition())) {
    assert.ok(Date.now() < limit, `waited in vain until ${what}`);
    await new Promise((go) => setTimeout(go, 50));
  }
}

test("after one visit it works with the host gone, in a new browser process too", async () => {
  await host.stop();
  await app.reload();
  assert.equal(await app.heading.innerText(), "Jobs on this device");

  const context = await profile.reopen();
  page = context.pages()[0] ?? (await context.newPage());
  const seen = watch(page);
  app = new App(page, host);
  await app.open();
  assert.equal(await app.heading.innerText(), "Jobs on this device");
  assert.deepEqual(seen.errors, []);
});

test("parts that the first page loads later come from the device, with the host gone", async () => {
  await host.stop();
  const type = await page.evaluate(async () => {
    const address = globalThis.bothendsParts.bothends.wasm;
    // The browser's own store of answers must not help.
    const answer = await fetch(`./${address}`, { cache: "no-store" });
    return answer.headers.get("Content-Type");
  });
  assert.equal(type, "application/wasm");
});

test("any address below the app opens it, with the host gone", async () => {
  await host.stop();
  await page.goto(`${host.url}?from=home#/somewhere`);
  await app.started();
  await page.goto(`${host.url}rescue.html`);
  await page.getByRole("heading", { name: "Take your records out" }).waitFor();
});

test("a new version waits for a tap, then restarts once and clears the old one away", async () => {
  const old = await app.build();
  await page.evaluate(() => { globalThis.stillHere = true; });
  await publish();
  await app.updateBar.waitFor();
  assert.equal(await app.build(), old, "no version changes by itself");
  assert.equal(await page.evaluate(() => globalThis.stillHere), true, "and no page reloads by itself");
  assert.equal((await cacheNames(page)).length, 2);

  let loads = 0;
  page.on("load", () => { loads += 1; });
  await app.restart.click();
  await until("the new version runs", async () => (await app.build().catch(() => old)) !== old);
  await app.started();
  const fresh = await app.build();
  await until("the old version is gone", async () => (await cacheNames(page)).length === 1);
  assert.deepEqual(await cacheNames(page), [`app-${fresh}`]);
  assert.equal(loads, 1, "one reload");
  assert.equal(await app.updateBar.isVisible(), false);

  await host.stop();
  await app.reload();
  assert.equal(await app.build(), fresh);
});

test("a reload alone does not change the version", async () => {
  const old = await app.build();
  await publish();
  await app.updateBar.waitFor();
  await app.reload();
  assert.equal(await app.build(), old);
  await app.updateBar.waitFor();
  const { y, height } = await app.updateBar.boundingBox();
  const seen = page.viewportSize().height;
  assert.ok(y >= 0 && y + height <= seen, `the bar is on the screen, not at ${y} of ${seen}`);
});

test("while another tab runs the old version its files are kept", async () => {
  const old = await app.build();
  const other = new App(await profile.context.newPage(), host);
  await other.open();
  await publish();
  await app.updateBar.waitFor();
  await app.restart.click();
  await until("the new version runs", async () => (await app.build().catch(() => old)) !== old);
  await app.started();
  await until("the other tab says so", () => other.updateBar.isVisible());
  assert.equal(await other.build(), old, "the other tab goes on as it was");
  assert.ok((await cacheNames(page)).includes(`app-${old}`), "with its files");

  await other.restart.click();
  await until("the other tab runs it too", async () => (await other.build().catch(() => old)) !== old);
  await until("the old version is gone", async () => !(await cacheNames(page)).includes(`app-${old}`));
});

test("a new version with one damaged file is refused whole", async () => {
  const old = await app.build();
  let sent = 0;
  await publish((name, bytes) => {
    if (!name.startsWith("rescue-")) {
      return bytes;
    }
    sent += 1;
    return bytes.subarray(0, bytes.length - 1);
  });
  await until("the damaged file was sent", () => sent > 0);
  await until("the half version is thrown away", async () => (await cacheNames(page)).length === 1);
  const waiting = await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.getRegistration();
    while (registration.installing) {
      await new Promise((go) => setTimeout(go, 20));
    }
    return registration.waiting !== null;
  });
  assert.equal(waiting, false);
  assert.equal(await app.updateBar.isVisible(), false);
  assert.deepEqual(await cacheNames(page), [`app-${old}`]);

  await host.stop();
  await app.reload();
  assert.equal(await app.build(), old);
});
