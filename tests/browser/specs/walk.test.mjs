// One walk through the whole app with the demo job: every screen is reached as a person reaches it,
// says where it is, keeps the accessibility rules, and breaks nothing on the way.

import assert from "node:assert/strict";
import { test } from "node:test";
import { readFile } from "node:fs/promises";

import { App } from "../pages/app.mjs";
import { axe } from "../support/axe.mjs";
import { PHONE } from "../support/chromium.mjs";
import { browser, host } from "../support/stage.mjs";
import { watch } from "../support/watch.mjs";
import { tooWide } from "../support/width.mjs";

async function opened() {
  // As high as the longest screen, so that the rules see whole buttons, none half under the bar.
  const context = await browser.newContext({ ...PHONE, viewport: { width: 390, height: 14000 } });
  const page = await context.newPage();
  const seen = watch(page);
  const app = new App(page, host);
  await app.open();
  return { app, page, seen, context };
}

async function demo(page) {
  await page.getByRole("link", { name: "Look round in the demo job" }).click();
  await page.getByRole("heading", { level: 1, name: "At the wall" }).waitFor();
}

const section = (page, name) =>
  page.getByRole("navigation", { name: "Sections" }).getByRole("button", { name, exact: true });

async function shows(page, heading) {
  await page.getByRole("heading", { level: 1, name: heading }).waitFor();
  await axe(page);
}

test("the demo job opens in one tap, and every section keeps the rules", async () => {
  const { page, seen, context } = await opened();
  await axe(page);
  await demo(page);
  await axe(page);
  await section(page, "Rack").click();
  await shows(page, "Rack");
  await section(page, "Find").click();
  await shows(page, "Find");
  await page.getByRole("textbox").first().fill("BKIT1");
  await page.locator(".code", { hasText: "BKIT1-A" }).first().waitFor();
  await axe(page);
  await section(page, "Punch list").click();
  await shows(page, "Punch list");
  await section(page, "Job").click();
  await shows(page, "Marrowby Mill");
  assert.deepEqual(seen.errors, []);
  assert.deepEqual(seen.violations(), []);
  await context.close();
});

for (const [link, heading] of [
  ["Rooms and floors", /Rooms/],
  ["Outlet types", /Outlet types/],
  ["Racks and panels", /Racks/],
  ["Loose ends", /Loose ends/],
  ["History", /./],
  ["Import a schedule", /Bring a cable schedule in/],
]) {
  test(`the job leads to “${link}”, which keeps the rules`, async () => {
    const { page, seen, context } = await opened();
    await demo(page);
    await section(page, "Job").click();
    await page.getByRole("button", { name: new RegExp(`^${link}`) }).first().click();
    await shows(page, heading);
    assert.deepEqual(seen.errors, []);
    await context.close();
  });
}

test("a list shows what was chosen from it, and that is what counts", async () => {
  const { page, context } = await opened();
  await demo(page);
  await section(page, "Job").click();
  await page.getByRole("button", { name: /^Racks and panels/ }).first().click();
  const shown = (list) => list.evaluate((select) => select.selectedOptions[0].textContent);
  for (const label of ["In which rack", "To rack"]) {
    const list = page.getByLabel(label, { exact: true }).last();
    const words = await list.locator("option").allTextContents();
    for (const choice of [...words, ...words.toReversed()]) {
      await list.selectOption({ label: choice });
      await page.waitForTimeout(50);
      assert.equal(await shown(list), choice, label);
    }
  }
  await section(page, "Job").click();
  await page.getByRole("button", { name: /^Rooms and floors/ }).first().click();
  for (const label of ["Floor", "Building or unit"]) {
    const list = page.getByLabel(label, { exact: true }).last();
    const words = await list.locator("option").allTextContents();
    assert.ok(words.length > 2, label);
    for (const choice of [...words.toReversed(), ...words]) {
      await list.selectOption({ label: choice });
      await page.waitForTimeout(50);
      assert.equal(await shown(list), choice, label);
    }
  }
  await context.close();
});

test("a schedule with bad rows shows them, and its good rows come in", async () => {
  const { page, seen, context } = await opened();
  await page.getByLabel("Name of the job").fill("Lodge");
  await page.getByRole("button", { name: "Start this job" }).click();
  await page.getByRole("heading", { level: 1, name: "Lodge" }).waitFor();
  await page.getByRole("button", { name: /^Import a schedule/ }).first().click();
  const chooser = page.waitForEvent("filechooser");
  await page.getByRole("button", { name: "Choose the file" }).click();
  const file = new URL("../../../demo-data/schedule-bad-rows.csv", import.meta.url);
  await (await chooser).setFiles({ name: "schedule.csv", mimeType: "text/csv", buffer: await readFile(file) });
  await page.getByText("AKIT2-B stands on line 3 already").waitFor();
  await axe(page);
  await page.getByRole("button", { name: /^Add the \d+ good rows, leave \d+ out$/ }).click();
  await page.getByText("✓ Saved").waitFor();
  await page.reload();
  await section(page, "Find").click();
  await page.getByRole("textbox").first().fill("AKIT2");
  await page.locator(".code", { hasText: "AKIT2-D" }).first().waitFor();
  assert.deepEqual(seen.errors, []);
  await context.close();
});

test("a list shows what counts, also after something was chosen and put away", async () => {
  const { page, context } = await opened();
  await demo(page);
  await section(page, "Job").click();
  await page.getByRole("button", { name: "Outlet types" }).first().click();
  const medium = page.getByLabel("Medium", { exact: true });
  const first = "cat6-utp";
  assert.equal(await medium.inputValue(), first);
  await medium.selectOption({ label: "Something else" });
  await page.getByLabel("What it is made of, in words").fill("Flat ribbon");
  await page.getByRole("button", { name: "Put this cable on the list" }).click();
  await page.getByText("Flat ribbon").waitFor();
  assert.equal(await medium.inputValue(), first);
  // At the pace of a hand: what is sent twice at once is one sending.
  await page.waitForTimeout(400);
  await page.getByRole("button", { name: "Put this cable on the list" }).click();
  await page.getByRole("button", { name: "Take cable 2 off the list" }).waitFor();
  assert.equal(await page.getByText("Flat ribbon").count(), 1);
  await context.close();
});

test("text of twice the size stays on the phone, and every section stays within reach", async () => {
  const context = await browser.newContext(PHONE);
  const page = await context.newPage();
  await new App(page, host).open();
  await demo(page);
  await page.evaluate(() => (document.documentElement.style.fontSize = "34px"));
  const fits = async (where) => assert.ok((await tooWide(page)) <= 0, where);
  await fits("wall");
  await page.getByRole("button", { name: /^Next outlet/ }).click();
  await fits("outlet");
  for (const name of ["Rack", "Find", "Punch list", "Job"]) {
    await section(page, name).click();
    await fits(name);
  }
  await section(page, "Find").click();
  await page.getByRole("textbox").first().fill("AKIT1");
  await page.locator("main .find-row").first().click();
  await page.locator("main .find-field").waitFor({ state: "detached" });
  await fits("cable");
  await context.close();
});

test("the first screen reads as well in the dark theme", async () => {
  const { app, page, context } = await opened();
  await demo(page);
  await section(page, "Job").click();
  await page.getByRole("button", { name: "Cellar, light on black" }).click();
  await page.goto(host.url);
  await app.heading.waitFor();
  await page.locator(".app.cellar").waitFor();
  await page.getByRole("link", { name: "Marrowby Mill" }).waitFor();
  await axe(page);
  await context.close();
});

test("nothing is wider than a narrow phone", async () => {
  const context = await browser.newContext({ ...PHONE, viewport: { width: 320, height: 640 } });
  const page = await context.newPage();
  await new App(page, host).open();
  const fits = async (where) => {
    // A row of drawings may be moved by the finger inside its own frame; the page may not.
    const wider = await tooWide(page);
    assert.ok(wider <= 0, `${where}: ${wider} px wider than the phone`);
  };
  await fits("jobs");
  await demo(page);
  await fits("wall");
  for (const name of ["Rooms and floors", "Outlet types", "Racks and panels", "Loose ends", "History", "Import a schedule"]) {
    await section(page, "Job").click();
    await page.getByRole("button", { name }).first().click();
    await page.getByRole("heading", { level: 1, name: "Marrowby Mill" }).waitFor({ state: "detached" });
    await fits(name);
  }
  await section(page, "Punch list").click();
  await fits("punch list");
  await section(page, "Rack").click();
  await fits("rack");
  await page.getByRole("button", { name: /^B/ }).first().click();
  await fits("panel");
  for (const text of ["fibre", "speaker", "shade", "BKIT", "clay"]) {
    await section(page, "Find").click();
    await page.getByRole("textbox").first().fill(text);
    await page.locator("main button.find-row").last().click();
    await page.locator("main .find-field").waitFor({ state: "detached" });
    await fits(`what “${text}” finds`);
  }
  await context.close();
});
