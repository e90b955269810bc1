// The rack builder's bench: where cables might land, patch cords, what feeds what, the rack drawn.

import assert from "node:assert/strict";
import { test } from "node:test";

import { App } from "../pages/app.mjs";
import { axe } from "../support/axe.mjs";
import { PHONE } from "../support/chromium.mjs";
import { browser, host } from "../support/stage.mjs";
import { watch } from "../support/watch.mjs";
import { tooWide } from "../support/width.mjs";

// A phone with the demo job, at its racks.
async function atTheRack(t) {
  const context = await browser.newContext(PHONE);
  t.after(() => context.close());
  const page = await context.newPage();
  const seen = watch(page);
  await new App(page, host).open();
  await page.getByRole("link", { name: "Look round in the demo job" }).click();
  await at(page, "At the wall");
  await section(page, "Rack");
  await at(page, "Rack");
  return { page, seen };
}

const at = (page, name) => page.getByRole("heading", { level: 1, name }).waitFor();
const section = (page, name) => page.getByRole("navigation", { name: "Sections" }).getByRole("button", { name }).click();
const notice = (page) => page.locator(".notices");

async function isFit(page) {
  await axe(page);
  assert.equal(await tooWide(page), 0);
}

test("cables without a position are accepted one by one, the rest at once, and one undo takes that back", async (t) => {
  const { page, seen } = await atTheRack(t);
  await page.getByRole("button", { name: /cables have no position: where to/ }).click();
  await at(page, "Where they might land");
  const rows = page.locator(".split-row");
  const before = await rows.count();
  assert.ok(before > 1, `${before} are proposed`);
  // In full view, since the main action covers what is below it.
  await rows.last().evaluate((row) => row.scrollIntoView({ block: "center" }));
  await isFit(page);
  await rows.first().getByRole("button").click();
  await notice(page).getByText("1 cable given a position.").waitFor();
  assert.equal(await rows.count(), before - 1);
  await page.getByRole("button", { name: `Accept all ${before - 1}` }).click();
  await notice(page).getByText("given a position.").waitFor();
  await rows.first().waitFor({ state: "detached" });
  await page.getByRole("button", { name: "Undo" }).click();
  await rows.first().waitFor();
  assert.equal(await rows.count(), before - 1);
  assert.deepEqual(seen.errors, []);
});

test("a patch cord goes to a port, is seen from the plate, and a second one there is refused with a way out", async (t) => {
  const { page, seen } = await atTheRack(t);
  const patch = async (code, port) => {
    await page.getByText("Patch cord at the front").click();
    await page.getByLabel("Port, or position").fill(port);
    await page.getByRole("button", { name: "It is plugged in there" }).click();
  };
  await page.getByRole("button", { name: "Main rack" }).click();
  await isFit(page);
  await page.locator(".panel-row").filter({ has: page.locator(".panel-letters", { hasText: /^A$/ }) }).click();
  await at(page, "Panel A");
  await page.locator(".slot-row").first().click();
  await at(page, "A01");
  await patch("A01", "LAN 7");
  await notice(page).getByText(/A01 is patched to LAN 7 of/).waitFor();
  await page.getByRole("button", { name: "What feeds what" }).click();
  await at(page, "What feeds what");
  await page.locator(".station", { hasText: "patch cord" }).waitFor();
  await isFit(page);
  await page.locator(".station.gear", { hasText: "LAN 7" }).click();
  await page.getByRole("heading", { level: 2, name: "LAN 7" }).waitFor();
  await page.locator(".station").last().evaluate((last) => last.scrollIntoView({ block: "center" }));
  await isFit(page);
  await page.locator(".station", { hasText: "A01" }).first().click();
  await at(page, "A01");
  await page.getByRole("button", { name: /^A02/ }).first().click();
  await at(page, "A02");
  await patch("A02", "LAN 7");
  await notice(page).getByText(/The cord of A01 is at LAN 7 of/).waitFor();
  await page.getByRole("button", { name: /The cord of A02 is here, I see it/ }).click();
  await notice(page).getByText(/A02 is patched to LAN 7 of/).waitFor();
  await page.reload();
  await at(page, "A02");
  await page.getByText(/^Patched to LAN 7 of/).waitFor();
  assert.deepEqual(seen.errors, []);
});

test("racks are folded in one line each, stay open for whoever comes back, and lead to a panel's form", async (t) => {
  const { page, seen } = await atTheRack(t);
  const line = page.getByRole("button", { name: "Main rack" });
  const open = (expanded) => page.locator(`.rack-line[aria-expanded="${expanded}"]`);
  assert.equal(await page.locator(".panel-row").count(), 0);
  assert.match(await line.innerText(), /\d+ panels, \d+ taken, \d+ free/);
  await line.click();
  const panel = page.locator(".panel-row").first();
  const letters = await panel.locator(".panel-letters").innerText();
  await panel.click();
  await at(page, `Panel ${letters}`);
  await page.goBack();
  await open(true).filter({ hasText: "Main rack" }).waitFor();
  await page.locator(".panel-row").first().click();
  await page.getByRole("button", { name: "Change this panel" }).click();
  await at(page, "Racks and panels");
  assert.equal(await page.getByLabel("Letter").first().inputValue(), letters);
  // In full view, since the bar at the bottom covers what is below it.
  await page.getByLabel("Name").first().evaluate((field) => field.scrollIntoView({ block: "center" }));
  await isFit(page);
  await page.locator(".rack-line").last().click();
  assert.equal(await open(true).count(), 1, "one is open at once");
  assert.deepEqual(seen.errors, []);
});

test("the rack is drawn from both sides, in three sizes, and a position leads to its cable", async (t) => {
  const { page, seen } = await atTheRack(t);
  await page.getByRole("button", { name: "Main rack" }).click();
  await page.getByRole("button", { name: "See the rack" }).first().click();
  await at(page, "Main rack");
  await isFit(page);
  await page.getByRole("button", { name: "Rear", exact: true }).click();
  await page.getByText("Carrier's terminal").first().waitFor();
  await page.getByRole("button", { name: "Front", exact: true }).click();
  await page.getByRole("button", { name: "Positions", exact: true }).click();
  await isFit(page);
  // The letters and the units stay in view on the side where the first position is.
  const scrolled = async (to) => {
    const scroll = page.locator(".rack-scroll");
    await scroll.evaluate((box, part) => (box.scrollLeft = part * box.scrollWidth), to);
    const [edge, box] = [await page.locator(".rack-edge").boundingBox(), await scroll.boundingBox()];
    return { left: Math.round(edge.x - box.x), right: Math.round(box.x + box.width - edge.x - edge.width), wide: edge.width };
  };
  for (const part of [0, 0.4, 1]) {
    const { left, wide } = await scrolled(part);
    assert.ok(left <= 3, `${left} px from the left`);
    assert.ok(wide < PHONE.viewport.width / 3, `${wide} px wide`);
  }
  await page.getByRole("button", { name: "Rear", exact: true }).click();
  for (const part of [0, 0.4, 1]) {
    const { right } = await scrolled(part);
    assert.ok(right <= 3, `${right} px from the right`);
  }
  await page.getByRole("button", { name: "Front", exact: true }).click();
  await page.locator("svg [data-position]").first().click();
  await page.getByRole("heading", { level: 1, name: /^[A-Z]\d\d$/ }).waitFor();
  assert.deepEqual(seen.errors, []);
});
