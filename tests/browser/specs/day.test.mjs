// A day of the rough-in: a lead plans and pulls, two technicians work on phones of their own, and in
// the evening all of it is in one place. The files are carried by hand, as without a network.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";

import { Wall } from "../pages/wall.mjs";
import { axe } from "../support/axe.mjs";
import { PHONE } from "../support/chromium.mjs";
import { browser, host } from "../support/stage.mjs";

// A phone with a store of its own, on which every tap of a button is counted.
async function phone(initials) {
  const page = await (await browser.newContext(PHONE)).newPage();
  const wall = new Wall(page, host);
  wall.taps = 0;
  wall.press = async (name) => {
    wall.taps += 1;
    await wall.tap(name);
  };
  wall.sign = async () => {
    await page.getByRole("navigation").getByRole("button", { name: "Job" }).click();
    await page.getByLabel("Your initials").fill(initials);
    await wall.tap("Keep");
    await wall.toWall();
  };
  return wall;
}

async function giveOut(wall) {
  await wall.page.getByRole("navigation").getByRole("button", { name: "Job" }).click();
  const [download] = await Promise.all([wall.page.waitForEvent("download"), wall.tap("Whole job as a file")]);
  return { name: download.suggestedFilename(), mimeType: "text/plain", buffer: await readFile(await download.path()) };
}

async function takeIn(wall, file) {
  await wall.app.open();
  const [chooser] = await Promise.all([
    wall.page.waitForEvent("filechooser"),
    wall.page.getByRole("link", { name: "Open a job file" }).click(),
  ]);
  await chooser.setFiles(file);
  // Nothing comes in that was not looked at.
  await wall.page.getByRole("button", { name: /^Take in \d/ }).click();
  await wall.page.getByText("✓ Saved").waitFor();
  await wall.toWall();
}

async function box(wall, number, medium) {
  await wall.page.getByLabel("Number on the box").fill(String(number));
  await wall.page.getByLabel("Medium").selectOption({ label: medium });
  await wall.tap("Keep this box");
  await wall.page.getByText(`Box ${number}: ${medium}`).waitFor();
}

test("a lead and two technicians do a day's rough-in on three phones", async () => {
  const lead = await phone("MW");
  await lead.kitchen();
  await lead.sign();

  // The lead says which boxes stand here; the whole outlet is one bundle.
  await lead.press("The pull");
  await box(lead, 1, "Cat 6 U/UTP");
  await box(lead, 2, "Cat 6 U/UTP");
  await box(lead, 3, "Cat 6 F/UTP");
  await box(lead, 4, "RG-6");
  lead.taps = 1;
  await lead.press(/^Deal to/);
  await lead.page.getByText("In hand:").waitFor();
  await axe(lead.page);
  await lead.press("All pulled (4)");
  await lead.page.getByText("Every cable is pulled.").waitFor();

  // Four cables pulled, marked and signed for, footage apart, in under ten taps and with nothing typed,
  // although there is no picture and no slack yet.
  await lead.press("Mark at KIT1");
  await lead.press(/^Mark all 4/);
  await lead.press("OK to cover?");
  await lead.press("I counted and looked: all are so");
  await lead.press("OK in spite of: no photographs, boxes not seen in place, slack not noted");
  await lead.page.getByText("Every room may be covered.").waitFor();
  assert.ok(lead.taps < 10, `${lead.taps} taps`);

  // Both technicians start from the lead's job.
  const morning = await giveOut(lead);
  const [first, second] = [await phone("AB"), await phone("CD")];
  await takeIn(first, morning);
  await first.sign();
  await takeIn(second, morning);
  await second.sign();

  // One finds that a cable is damaged; the other adds an outlet in another room.
  await first.openRoom("Kitchen");
  await first.openOutlet("KIT1");
  await first.openCable("KIT1-A");
  await first.tap("Damaged");
  await first.saved();
  await second.addRoom("Studio");
  await second.openRoom("Studio");
  await second.addOutlet("Data");
  await second.saved();
  const [ofFirst, ofSecond] = [await giveOut(first), await giveOut(second)];

  // In the evening the lead has all of it, in whatever order it comes.
  await takeIn(lead, ofSecond);
  await takeIn(lead, ofFirst);
  await lead.page.locator(".row", { hasText: "Studio" }).waitFor();
  await lead.tap("Not to be covered yet");
  await lead.page.locator(".row", { hasText: "Kitchen" }).getByText("changed since").waitFor();
  await lead.toWall();
  await lead.tap("Summary of the day");
  const text = await lead.page.getByRole("textbox").inputValue();
  assert.match(text, /Done: .*4 ends marked/);
  assert.match(text, /Blocked: KIT1-A damaged\./);
  assert.match(text, /Not to be covered yet: .*Kitchen/);
  await axe(lead.page);

  // A sheet of what is left goes on paper.
  await lead.toWall();
  await lead.tap("The pull");
  await lead.tap("Pull sheet to print");
  await lead.page.locator(".sheet", { hasText: "STU1-A" }).waitFor();
  await axe(lead.page);
  for (const wall of [lead, first, second]) {
    await wall.page.context().close();
  }
});
