// Looking things up, the punch list, and two windows on one job, with the demo job.

import assert from "node:assert/strict";
import { test } from "node:test";

import { App } from "../pages/app.mjs";
import { PHONE } from "../support/chromium.mjs";
import { browser, host } from "../support/stage.mjs";
import { watch } from "../support/watch.mjs";

async function inTheDemoJob(t) {
  const context = await browser.newContext(PHONE);
  t.after(() => context.close());
  const page = await context.newPage();
  const seen = watch(page);
  await new App(page, host).open();
  await page.getByRole("link", { name: "Look round in the demo job" }).click();
  await heading(page, "At the wall");
  t.after(() => assert.deepEqual(seen.errors, []));
  return { context, page };
}

const heading = (page, name) => page.getByRole("heading", { level: 1, name }).waitFor();
const section = (page, name) =>
  page.getByRole("navigation", { name: "Sections" }).getByRole("button", { name, exact: true }).click();

async function look(page, text) {
  await section(page, "Find");
  await page.getByRole("textbox").first().fill(text);
}

test("a cable is found as it is typed on site, and the answer shows both its ends", async (t) => {
  const { page } = await inTheDemoJob(t);
  for (const typed of ["akit1a", "AKIT 1 A", "C04"]) {
    await look(page, typed);
    await page.locator("main button", { hasText: "AKIT1-A" }).first().click();
    await heading(page, "AKIT1-A");
    const body = await page.locator("main").innerText();
    assert.match(body, /Landed on jack A of AKIT1/);
    assert.match(body, /Landed on C04/);
    assert.match(body, /84 ft of cable/);
  }
});

test("rooms are found by a part of their names, and nonsense says so", async (t) => {
  const { page } = await inTheDemoJob(t);
  await look(page, "clay st");
  await page.locator("main button", { hasText: "Clay store" }).first().waitFor();
  await look(page, "qqqq");
  await page.getByText(/Nothing/).first().waitFor();
});

test("a double claim is on the punch list with both sides, one tap settles it, and undo brings it back", async (t) => {
  const { page } = await inTheDemoJob(t);
  await section(page, "Punch list");
  const claim = page.getByText("B07 has 2 cables: BHAL1-A and BKIT1-A.");
  await claim.waitFor();
  await page.getByText(/BHAL1-A was landed here by PW/).waitFor();
  await page.getByText(/BKIT1-A was landed here by TH/).waitFor();
  await page.getByRole("button", { name: /^BKIT1-A is here, I see it/ }).click();
  await claim.waitFor({ state: "detached" });
  await page.getByText("✓ Saved").waitFor();
  await page.reload();
  await heading(page, "Punch list");
  await page.getByRole("heading", { name: "Now", exact: true }).waitFor();
  assert.equal(await claim.count(), 0, "it is still settled after a reload");
  await section(page, "Job");
  await page.getByRole("button", { name: /^History/ }).click();
  await page.getByRole("button", { name: "Undo" }).first().click();
  await section(page, "Punch list");
  await claim.waitFor();
});

test("two windows on one job see what the other does, and lose nothing", async (t) => {
  const { context, page } = await inTheDemoJob(t);
  const other = await context.newPage();
  await other.goto(page.url());
  await heading(other, "At the wall");
  for (const [here, there, reason] of [[page, other, "Wet wall"], [other, page, "Second note"]]) {
    await look(here, "AKIT1-A");
    await here.locator("main button", { hasText: "AKIT1-A" }).first().click();
    await here.getByLabel("A note").fill(reason);
    await here.getByRole("button", { name: "Keep the note" }).click();
    await here.getByText("✓ Saved").waitFor();
    await look(there, reason);
    await there.locator("main button", { hasText: "AKIT1-A" }).first().waitFor();
  }
  await page.reload();
  for (const note of ["Wet wall", "Second note"]) {
    await look(page, note);
    await page.locator("main button", { hasText: "AKIT1-A" }).first().waitFor();
  }
});
