// At the wall: rooms and outlets by hand, one tap for an outlet, exceptions after.

import assert from "node:assert/strict";
import { test } from "node:test";

import { Wall } from "../pages/wall.mjs";
import { axe } from "../support/axe.mjs";
import { PHONE } from "../support/chromium.mjs";
import { browser, host } from "../support/stage.mjs";
import { watch } from "../support/watch.mjs";
import { tooWide } from "../support/width.mjs";

// Runs a test on a phone of its own, which must not complain.
async function onPhone(work) {
  const context = await browser.newContext(PHONE);
  const page = await context.newPage();
  page.setDefaultTimeout(10_000);
  const seen = watch(page);
  await work(new Wall(page, host), page);
  assert.deepEqual(seen.errors, []);
  assert.deepEqual(seen.violations(), []);
  await context.close();
}

// Whether anything sticks out of the screen sideways.
async function fits(page) {
  const wide = await tooWide(page);
  assert.ok(wide <= 0, `${wide} pixels too wide on ${page.url()}`);
}

test("a room is named, its code proposed; an outlet comes with its cables in one tap", () =>
  onPhone(async (wall, page) => {
    await wall.begin();
    await page.getByText("No room here yet").waitFor();
    await page.getByLabel("Name of the room").fill("Master bedroom");
    assert.equal(await page.getByLabel("Code on its tags").inputValue(), "MBR");
    await page.getByLabel("Code on its tags").fill("MBD");
    await page.getByLabel("Name of the room").fill("Main bedroom");
    assert.equal(await page.getByLabel("Code on its tags").inputValue(), "MBD", "a code that was typed stays");
    await wall.tap("Add this room");
    await wall.openRoom("Main bedroom");
    await page.getByText("No outlet in this room yet").waitFor();
    await wall.addOutlet("TV", "Behind the mirror");
    await wall.openOutlet("MBD1");
    assert.match(await wall.heading.innerText(), /Behind the mirror/);
    for (const code of ["MBD1-A", "MBD1-B", "MBD1-C", "MBD1-D"]) {
      await wall.row(code).waitFor();
    }
    assert.match(await wall.plate.getAttribute("aria-label"), /A not marked, B not marked, C not marked, D not marked/);
  }));

test("one tap marks the whole outlet, one leads to the next; it is there after a reload", () =>
  onPhone(async (wall, page) => {
    await wall.kitchen();
    await wall.tap("Back");
    await wall.addOutlet("Camera");
    await wall.openOutlet("KIT1");
    await wall.tap("Mark all 4 with the pen");
    await page.getByText("4 ends marked.").waitFor();
    assert.match(await wall.plate.getAttribute("aria-label"), /A marked, B marked, C marked, D marked/);
    await wall.saved();
    await wall.app.reload();
    await wall.at(/KIT1/);
    assert.match(await wall.plate.getAttribute("aria-label"), /A marked, B marked, C marked, D marked/);
    await wall.tap("Next outlet: KIT2");
    await wall.at(/KIT2/);
    await wall.toWall();
    await page.getByText("4 of 5 cables to outlets marked at the wall.").waitFor();
  }));

test("the pen goes from text to text; what was skipped is not marked", () =>
  onPhone(async (wall, page) => {
    await wall.kitchen();
    await wall.tap("What to write");
    assert.equal(await wall.penText.textContent(), "KIT1 A");
    await page.locator(".pen-fill").click();
    await page.getByText("With the pen, 2 of 4").waitFor();
    assert.equal(await wall.penText.textContent(), "KIT1 B");
    await wall.tap("Skip this one");
    await page.getByText("With the pen, 3 of 4").waitFor();
    await page.locator(".pen-fill").click();
    await page.getByText("With the pen, 4 of 4").waitFor();
    // What was written is noted, whatever becomes of the page.
    await wall.saved();
    await page.reload();
    await page.getByText("With the pen, 4 of 4").waitFor();
    await page.locator(".pen-fill").click();
    await wall.at(/KIT1/);
    assert.match(await wall.plate.getAttribute("aria-label"), /A marked, B not marked, C marked, D marked/);
    await wall.button("Mark the 1 left, with the pen").waitFor();
  }));

test("by the keyboard alone, the focus stays with what was opened and what was done", () =>
  onPhone(async (wall, page) => {
    await wall.kitchen();
    await wall.openCable("KIT1-B");
    const focused = () => page.evaluate(() => document.activeElement.id || document.activeElement.tagName);
    await wall.button("Pull again …").focus();
    await page.keyboard.press("Enter");
    await page.locator("#opened").waitFor();
    await page.waitForFunction(() => document.activeElement.id === "opened");
    await wall.button("Drilled through").focus();
    await page.keyboard.press("Enter");
    await wall.undo.waitFor();
    await page.waitForFunction(() => document.activeElement.id === "notices");
    await page.keyboard.press("Tab");
    assert.equal(await focused(), "BUTTON");
    await page.keyboard.press("Enter");
    await page.getByText("Taken back").first().waitFor();
  }));

test("with fingers alone, each mark is typed without touching the field again", () =>
  onPhone(async (wall, page) => {
    await wall.kitchen();
    await wall.tap("Footage");
    const inField = () => page.locator("input.big-number:focus").waitFor();
    for (const number of ["482", "612", "640", "77"]) {
      await inField();
      await page.keyboard.type(number);
      await page.getByRole("button", { name: "Keep, next cable" }).tap();
    }
    await page.getByText("Every cable has its mark at this end").waitFor();
    await page.getByRole("navigation").getByRole("button", { name: "Find" }).tap();
    await page.locator("input[inputmode=search]:focus").waitFor();
    // A code in full is followed by Enter, a part of one stays on the list.
    await page.keyboard.type("ki");
    await page.keyboard.press("Enter");
    await page.getByText("found.").waitFor();
    await page.keyboard.type("t1a");
    await page.getByText("1 found.").waitFor();
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { level: 1, name: "KIT1-A" }).waitFor();
  }));

test("footage marks are typed one after the other, and give the length", () =>
  onPhone(async (wall, page) => {
    await wall.kitchen();
    await wall.tap("Footage");
    for (const number of ["482", "612", "1,204", "77"]) {
      await wall.mark.fill(number);
      await wall.mark.press("Enter");
    }
    await page.getByText("Every cable has its mark at this end").waitFor();
    await wall.tap("Marks at the other end");
    await page.getByText("Length marks at the other end").waitFor();
    await wall.mark.fill("four");
    await wall.mark.press("Enter");
    await page.getByText("“four” is no length mark").waitFor();
    assert.equal(await wall.mark.inputValue(), "four", "what was typed stays");
    await wall.mark.fill("360");
    await wall.mark.press("Enter");
    // 482 less 360, in feet.
    await page.getByText("= 122 ft").waitFor();
  }));

test("a crossed pair is put right in three taps, and undone in one", () =>
  onPhone(async (wall, page) => {
    await wall.kitchen();
    await wall.openCable("KIT1-B");
    await wall.tap("Crossed with …");
    await wall.tap("Tags moved: KIT1-B ⇄ KIT1-C");
    await page.getByText("KIT1-B and KIT1-C: the tags are changed over.").waitFor();
    await page.getByText("Tags changed over with KIT1-C at KIT1").waitFor();
    await wall.undo.click();
    await page.getByText("Taken back: ").first().waitFor();
    assert.equal(await page.locator("main").getByText("Tags changed over with KIT1-C at KIT1").count(), 0);
  }));

test("a cable that came out elsewhere, a moved outlet and a new pull: three taps each", () =>
  onPhone(async (wall, page) => {
    await wall.begin();
    await wall.addRoom("Kitchen");
    await wall.addRoom("Pottery studio");
    await wall.openRoom("Kitchen");
    await wall.addOutlet("Data");
    await wall.addOutlet("Camera");
    await wall.openOutlet("KIT1");

    await wall.openCable("KIT1-B");
    await wall.tap("Came out elsewhere …");
    await wall.tap("The record changes: stays KIT1-B");
    await page.getByText("is at KIT2", { exact: true }).waitFor();

    await wall.openCable("KIT1-A");
    await wall.tap("Pull again …");
    await wall.tap("Drilled through");
    await page.getByText("Pulled anew: Drilled through. Older tags are void.").waitFor();

    await wall.tap("Outlet moved …");
    await wall.tap(/To Pottery studio, as PST1/);
    await wall.at(/PST1/);
  }));

test("the exact place is typed as people say it, and what cannot be read stays in its field", () =>
  onPhone(async (wall, page) => {
    await wall.kitchen();
    await wall.tap("Exact place, box …");
    await wall.tap("2-gang box");
    await page.getByLabel("Which wall").fill("Window wall");
    const height = page.getByLabel("Height above finished floor");
    await height.fill("low");
    await wall.tap("Keep this place");
    await page.getByText("Height: “low” is no length.").waitFor();
    assert.equal(await height.inputValue(), "low");
    await height.fill("18");
    await page.getByText("= 1′ 6″").waitFor();
    await wall.tap("Keep this place");
    await page.getByText("2-gang box · Window wall · 1′ 6″ above finished floor").waitFor();
  }));

test("every screen at the wall keeps the accessibility rules and fits a phone", () =>
  onPhone(async (wall, page) => {
    const sound = async () => {
      await axe(page);
      for (const width of [390, 320]) {
        await page.setViewportSize({ width, height: 844 });
        await fits(page);
      }
      await page.setViewportSize(PHONE.viewport);
    };
    await wall.begin();
    await sound();
    await wall.addRoom("Kitchen");
    await sound();
    await wall.openRoom("Kitchen");
    await sound();
    await wall.addOutlet("TV");
    await wall.addOutlet("Surround");
    await sound();
    await wall.openOutlet("KIT1");
    await sound();
    await wall.openCable("KIT1-A");
    await sound();
    await wall.tap("Crossed with …");
    await sound();
    await wall.tap("Exact place, box …");
    await sound();
    await wall.tap("What to write");
    await wall.at(/Write KIT1 A/);
    await sound();
    await wall.tap("Back");
    await wall.tap("Footage");
    await wall.at(/Footage at KIT1/);
    await sound();
  }));

test("two cables are put into one jacket, and a form of the outlet opens where the thumb is", () =>
  onPhone(async (wall, page) => {
    await wall.kitchen();
    await wall.openCable("KIT1-A");
    await wall.tap("In one jacket with\u00a0…");
    await wall.tap("One jacket with KIT1-B");
    await page.getByText("In one jacket with KIT1-B.").waitFor();
    const opener = page.getByRole("button", { name: "Exact place, box\u00a0…" });
    await opener.tap();
    const field = page.getByLabel("Which wall");
    await field.waitFor();
    const { y } = await field.boundingBox();
    assert.ok(y > 0 && y < PHONE.viewport.height, `the form begins at ${y}`);
  }));
