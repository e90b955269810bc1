// The way back: to where one came from, which is found as it was left.

import assert from "node:assert/strict";
import { test } from "node:test";

import { Wall } from "../pages/wall.mjs";
import { PHONE } from "../support/chromium.mjs";
import { browser, host } from "../support/stage.mjs";
import { watch } from "../support/watch.mjs";

// A phone with the demo job.
async function inDemo(t) {
  const context = await browser.newContext(PHONE);
  t.after(() => context.close());
  const page = await context.newPage();
  const seen = watch(page);
  const wall = new Wall(page, host);
  await wall.app.open();
  await page.getByRole("link", { name: "Look round in the demo job" }).click();
  await wall.at("At the wall");
  await wall.saved();
  return { wall, page, seen };
}

const section = (page, name) => page.getByRole("navigation").getByRole("button", { name, exact: true });

async function scrollTo(page, wanted) {
  return page.evaluate((wanted) => {
    scrollTo(0, wanted);
    return scrollY;
  }, wanted);
}

// Waits until the page is as far down as it was, or says where it is.
async function isAt(page, wanted) {
  const near = page.waitForFunction((wanted) => Math.abs(scrollY - wanted) < 3, wanted, { timeout: 3000 });
  await near.catch(async () => assert.equal(await page.evaluate(() => scrollY), wanted));
  // It stays there, whatever is drawn or given the focus after that.
  await page.waitForTimeout(200);
  assert.ok(Math.abs((await page.evaluate(() => scrollY)) - wanted) < 3);
}

test("from a long list into an outlet and back, page and place are kept, after a reload too", async (t) => {
  const { wall, page, seen } = await inDemo(t);
  await section(page, "Punch list").click();
  await wall.at("Punch list");
  await page.getByRole("button", { name: /handover/ }).click();
  await wall.tap(/^Next/);
  const first = page.locator(".punch-title").first();
  const shown = await first.innerText();
  const top = await scrollTo(page, 3000);
  assert.ok(top > 1000, `the list is long: ${top}`);
  const show = page.getByRole("button", { name: /^Show / });
  const seenOne = () => show.evaluateAll((all) => all.findIndex((one) => one.getBoundingClientRect().top > 100));
  const there = async () => {
    await show.nth(await seenOne()).click();
    await page.getByRole("heading", { level: 1, name: "Punch list" }).waitFor({ state: "detached" });
  };
  const back = async () => {
    await wall.at("Punch list");
    assert.equal(await first.innerText(), shown, "the page of the list");
    await isAt(page, before);
  };
  let before = top;
  for (const way of ["Back", "the browser", "the bar", "Back after a reload"]) {
    await isAt(page, top);
    // A tap brings what it is on into view, and may move the page a little.
    await show.nth(await seenOne()).scrollIntoViewIfNeeded();
    before = await page.evaluate(() => scrollY);
    await there();
    assert.equal(await page.evaluate(() => scrollY), 0, way);
    if (way === "the browser") {
      await page.goBack();
    } else if (way === "the bar") {
      await section(page, "Punch list").click();
    } else {
      if (way !== "Back") {
        await wall.app.reload();
      }
      await wall.tap("Back");
    }
    await back();
  }
  assert.deepEqual(seen.errors, []);
});

test("back leads to the words that were looked up, and from an address to what is above it", async (t) => {
  const { wall, page, seen } = await inDemo(t);
  await section(page, "Find").click();
  await page.getByRole("textbox").first().fill("kit");
  await page.locator("main .row-button", { hasText: "KIT3" }).first().click();
  await page.getByRole("heading", { level: 1, name: /KIT3/ }).waitFor();
  const address = page.url();
  await wall.tap("Back");
  await wall.at("Find");
  assert.equal(await page.getByRole("textbox").first().inputValue(), "kit");
  // In a tab of its own nothing is behind it.
  const other = new Wall(await page.context().newPage(), host);
  await other.page.goto(address);
  await other.at(/KIT3/);
  const length = await other.page.evaluate(() => history.length);
  await other.tap("Back");
  await other.page.getByRole("heading", { level: 1, name: /KIT3/ }).waitFor({ state: "detached" });
  assert.equal(await other.page.evaluate(() => history.length), length);
  await other.tap("Back");
  await other.at("At the wall");
  assert.deepEqual(seen.errors, []);
});

test("initials are added on the way, with the field in view, and the work goes on with its Undo", async (t) => {
  const context = await browser.newContext(PHONE);
  t.after(() => context.close());
  const page = await context.newPage();
  const wall = new Wall(page, host);
  await wall.kitchen();
  await wall.tap("Mark all 4 with the pen");
  await wall.tap("Add your initials");
  const field = page.getByLabel("Your initials");
  await field.and(page.locator(":focus")).waitFor();
  const box = await field.boundingBox();
  const bar = await page.locator(".bottom").boundingBox();
  assert.ok(box.y >= 0 && box.y + box.height <= bar.y, `the field is at ${box.y}, the bar at ${bar.y}`);
  await page.keyboard.type("RK");
  await page.keyboard.press("Enter");
  await wall.at(/KIT1/);
  assert.equal(await wall.button("Add your initials").count(), 0);
  await wall.undo.click();
  await page.getByText("Taken back").first().waitFor();
  await wall.tap("Do it again");
  await page.getByText("It is so again").waitFor();
  await wall.undo.waitFor();
  await wall.tap("Back");
  await wall.at(/Kitchen/);
});

test("a box that says nothing has no ring round it when the keyboard goes there", async (t) => {
  const context = await browser.newContext(PHONE);
  t.after(() => context.close());
  const page = await context.newPage();
  const wall = new Wall(page, host);
  await wall.kitchen();
  assert.equal(await wall.notices.evaluate((box) => box.matches(":empty")), true);
  const ring = await wall.notices.evaluate((box) => {
    box.tabIndex = -1;
    box.focus({ focusVisible: true });
    return getComputedStyle(box).outlineStyle;
  });
  assert.equal(ring, "none");
});
