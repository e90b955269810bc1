// The app starts, from its own host alone, under its own policy.

import assert from "node:assert/strict";
import { test } from "node:test";

import { App } from "../pages/app.mjs";
import { axe } from "../support/axe.mjs";
import { PHONE } from "../support/chromium.mjs";
import { browser, host } from "../support/stage.mjs";
import { databaseNames, fillStorage } from "../support/storage.mjs";
import { watch } from "../support/watch.mjs";

async function opened() {
  const context = await browser.newContext(PHONE);
  const page = await context.newPage();
  const seen = watch(page);
  const app = new App(page, host);
  await app.open();
  return { app, page, seen, context };
}

test("the app starts and shows its heading, under a sub-path", async () => {
  const { app, seen, context } = await opened();
  assert.equal(await app.heading.innerText(), "Jobs on this device");
  assert.deepEqual(seen.errors, []);
  await context.close();
});

test("a heading and a hint stand on the page before any script runs", async () => {
  const context = await browser.newContext({ ...PHONE, javaScriptEnabled: false });
  const page = await context.newPage();
  await page.goto(host.url);
  assert.equal(await page.getByRole("heading", { level: 1 }).innerText(), "Bothends");
  assert.match(await page.locator("main.opening p").innerText(), /two ends/);
  await context.close();
});

test("nothing is asked of another host, and nothing is missing", async () => {
  host.requests.length = 0;
  const { app, seen, context } = await opened();
  await app.keptOffline();
  assert.deepEqual([...seen.hosts], [new URL(host.url).host]);
  assert.deepEqual(host.requests.filter(({ status }) => status !== 200), []);
  await context.close();
});

test("the policy is strict, in force, and not broken", async () => {
  const { app, page, seen, context } = await opened();
  await app.keptOffline();
  const policy = await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute("content");
  assert.match(policy, /default-src 'none'/);
  assert.match(policy, /script-src 'self' 'wasm-unsafe-eval';/);
  assert.doesNotMatch(policy, /'unsafe-inline'|'unsafe-eval'|https?:/);
  assert.deepEqual(seen.violations(), []);
  const ran = await page.evaluate(() => {
    const script = document.createElement("script");
    script.textContent = "globalThis.smuggled = true";
    document.body.append(script);
    return globalThis.smuggled === true;
  });
  assert.equal(ran, false, "an inline script must not run");
  assert.equal(seen.violations().length, 1, "and the browser must say so");
  await context.close();
});

test("the first screen keeps the accessibility rules", async () => {
  const { page, context } = await opened();
  await axe(page);
  await context.close();
});

test("the first screen makes no storage, and says once the app is kept", async () => {
  const { app, page, seen, context } = await opened();
  await page.getByText("No job here yet.").waitFor();
  await page.getByText("The app is kept on this device").waitFor();
  await app.keptOffline();
  assert.deepEqual(await databaseNames(page), []);
  await page.getByRole("button", { name: "Start this job" }).click();
  await page.getByRole("alert").filter({ hasText: "Give the job a name" }).waitFor();
  assert.equal(await page.evaluate(() => document.activeElement.id), "field-jobname");
  await page.getByLabel("Name of the job").fill("Mill & barn / 7");
  await page.keyboard.press("Enter");
  await page.getByText("Mill & barn / 7").first().waitFor();
  assert.deepEqual(seen.errors, []);
  await context.close();
});

test("the way back from a new job leads to the list, and makes no other job", async () => {
  const { page, context } = await opened();
  await page.getByLabel("Name of the job").fill("Barn");
  await page.getByRole("button", { name: "Start this job" }).click();
  await page.getByRole("heading", { level: 1, name: "Barn" }).waitFor();
  await page.getByText("✓ Saved").waitFor();
  await page.goBack();
  await page.getByRole("heading", { level: 1, name: "Jobs on this device" }).waitFor();
  await page.getByRole("button", { name: "Barn" }).waitFor();
  await page.goBack();
  await page.getByRole("heading", { level: 1, name: "Jobs on this device" }).waitFor();
  await page.reload();
  await page.locator("main .row").first().waitFor();
  assert.equal(await page.locator("main .row").count(), 1);
  await context.close();
});

test("jobs of one name are told apart, and nothing hides in a name", async () => {
  const { app, page, context } = await opened();
  const twin = (letter) => `${letter.repeat(5)}${"0".repeat(11)}`;
  const jobs = { [twin("A")]: "Mill", [twin("B")]: "Mill", [twin("C")]: "Barn\u202e\u0007" };
  await fillStorage(page, { jobs, acts: [] });
  await app.reload();
  const rows = () => page.locator("main .row").allInnerTexts();
  const shown = (texts) => texts.map((text) => text.split(/\s+/).join(" ").trim());
  await page.getByText("tags with AAAAA").waitFor();
  const expected = ["Mill tags with AAAAA", "Mill tags with BBBBB", "Barn‹U+202E›␇"];
  assert.deepEqual(shown(await rows()), expected);
  await axe(page);
  // The app draws the same list.
  await page.goto(`${host.url}#/open`);
  await page.getByRole("button", { name: /tags with AAAAA/ }).waitFor();
  assert.deepEqual(shown(await rows()), expected);
  await context.close();
});

test("a browser that blocks storage is told what to do about it", async () => {
  const context = await browser.newContext(PHONE);
  await context.addInitScript(() => {
    const refuse = () => {
      throw new DOMException("no", "SecurityError");
    };
    indexedDB.open = refuse;
    Object.defineProperty(globalThis, "localStorage", { get: refuse });
  });
  const page = await context.newPage();
  await new App(page, host).open();
  await page.getByRole("alert").filter({ hasText: "does not let the app store anything" }).waitFor();
  await context.close();
});

test("a phone may install it: manifest and icons are in order", async () => {
  const { page, context } = await opened();
  const session = await context.newCDPSession(page);
  const { errors, data } = await session.send("Page.getAppManifest");
  assert.deepEqual(errors, []);
  const manifest = JSON.parse(data);
  assert.deepEqual([manifest.start_url, manifest.scope, manifest.id], ["./", "./", "./"]);
  for (const icon of manifest.icons) {
    const size = await page.evaluate(async (source) => {
      const picture = new Image();
      picture.src = source;
      await picture.decode();
      return `${picture.naturalWidth}x${picture.naturalHeight}`;
    }, icon.src);
    assert.equal(size, icon.sizes, icon.src);
  }
  const { installabilityErrors } = await session.send("Page.getInstallabilityErrors");
  // A private window can never install; nothing else may stand in the way.
  assert.deepEqual(installabilityErrors.map(({ errorId }) => errorId).filter((id) => id !== "in-incognito"), []);
  await context.close();
});
