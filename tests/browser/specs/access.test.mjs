// Every screen, in both themes, for everybody: the rules of WCAG that a program can check with text at 7:1,
// targets for a thumb, the narrowest phone, text at twice its size, a keyboard alone, and no motion where
// none is wanted. What a program cannot check stands in docs/access.md.

import assert from "node:assert/strict";
import { test } from "node:test";

import { SCREENS } from "../pages/screens.mjs";
import { Wall } from "../pages/wall.mjs";
import { axe } from "../support/axe.mjs";
import { PHONE } from "../support/chromium.mjs";
import { bar, brokenInside, cutOff, moving, skipped, tooSmall, unreached } from "../support/reach.mjs";
import { browser, host } from "../support/stage.mjs";
import { tooWide } from "../support/width.mjs";

const HEIGHT = PHONE.viewport.height;
// The root's own size is 106.25 % of the browser's, so this is twice that.
const TWICE = "212.5%";

async function settled(page) {
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
}

// Two at a time, as a browser waits much.
test("every screen is for everybody", { concurrency: 2 }, (t) => Promise.all(SCREENS.map((screen) => checked(t, screen))));

function checked(t, { name, show }) {
  return t.test(name, async (t) => {
    // The last is the app's own theme left alone, on a system that is set to dark.
    for (const theme of ["day", "cellar", "dark system"]) {
      const colorScheme = theme === "dark system" ? "dark" : "light";
      const context = await browser.newContext({ ...PHONE, isMobile: false, reducedMotion: "reduce", colorScheme });
      t.after(() => context.close());
      if (colorScheme === "light") {
        await context.addInitScript((words) => localStorage.setItem("theme", words), JSON.stringify(theme));
      }
      const page = await context.newPage();
      page.setDefaultTimeout(15_000);
      await show(page, host);
      await settled(page);
      await axe(page);
      if (theme !== "day") {
        continue;
      }
      assert.equal(await page.getByRole("heading", { level: 1 }).count() > 0, true, "it says where one is");
      const heading = await page.locator("#heading").allTextContents();
      const title = await page.title();
      assert.ok(heading.length === 0 ? title !== "" : title === `${heading[0]} · Bothends`, `${heading} is titled ${title}`);
      assert.deepEqual(await tooSmall(page), [], "targets of 48 px");
      assert.equal(await moving(page), 0, "nothing moves");
      assert.deepEqual(await unreached(page), [], "with the keyboard alone");
      if ((await page.locator(".skip").count()) > 0) {
        assert.deepEqual(await skipped(page), ["Skip to the actions", "the bar"], "from the heading to the actions");
      }
      await page.setViewportSize({ width: 320, height: HEIGHT });
      await settled(page);
      const wide = () => page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.ok((await wide()) < 1, `${await wide()} px too wide on the narrowest phone`);
      assert.deepEqual(await cutOff(page), [], "on the narrowest phone");
      assert.deepEqual(await brokenInside(page), [], "on the narrowest phone");
      assert.deepEqual(await tooSmall(page), [], "targets of 48 px on the narrowest phone");
      await page.setViewportSize({ width: PHONE.viewport.width, height: HEIGHT });
      await page.evaluate((size) => { document.documentElement.style.fontSize = size; }, TWICE);
      await settled(page);
      assert.ok((await wide()) < 1, `${await wide()} px too wide with text at twice its size`);
      assert.deepEqual(await cutOff(page), [], "with text at twice its size");
      assert.deepEqual(await brokenInside(page), [], "with text at twice its size");
      await page.setViewportSize({ width: 320, height: HEIGHT });
      await settled(page);
      assert.ok((await wide()) < 1, `${await wide()} px too wide with both`);
      assert.deepEqual(await cutOff(page), [], "with both");
      assert.deepEqual(await beyond(page), [], "with both");
      assert.deepEqual(await brokenInside(page), [], "with both");
    }
  });
}

// What reaches beyond the side of the screen, in a bar that would have to be pushed sideways.
function beyond(page) {
  return page.evaluate(() => {
    const buttons = [...document.querySelectorAll(".bottom button")];
    const wide = buttons.filter((button) => button.getBoundingClientRect().right > innerWidth + 0.5);
    return wide.map((button) => button.innerText);
  });
}

test("a note that is one long word makes no screen wider than the phone", async (t) => {
  const context = await browser.newContext(PHONE);
  t.after(() => context.close());
  const page = await context.newPage();
  const word = "N".repeat(200);
  await SCREENS.find(({ name }) => name === "cable").show(page, host);
  for (const more of await page.locator("details").all()) {
    await more.evaluate((one) => { one.open = true; });
  }
  await page.getByLabel("A note").fill(word);
  await page.getByRole("button", { name: "Keep the note" }).click();
  await page.locator(".dated", { hasText: word }).waitFor();
  assert.ok((await tooWide(page)) < 1, "the cable");
  const section = (name) => page.getByRole("navigation", { name: "Sections" }).getByRole("button", { name }).click();
  await section("Find");
  await page.getByRole("textbox").first().fill(word.slice(0, 8));
  await page.locator(".find-why", { hasText: word.slice(0, 100) }).waitFor();
  assert.ok((await tooWide(page)) < 1, "what is found");
  await section("Job");
  await page.getByRole("button", { name: "History" }).click();
  await page.locator(".deed", { hasText: word }).waitFor();
  assert.ok((await tooWide(page)) < 1, "the history");
});

test("the ring of the focus is seen whole in the bar, at the edge of a desktop's window too", async (t) => {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  t.after(() => context.close());
  const page = await context.newPage();
  await SCREENS.find(({ name }) => name === "demo-wall").show(page, host);
  const section = page.locator(".section").first();
  await page.keyboard.press("Tab");
  await section.focus();
  const { bottom, reach } = await section.evaluate((one) => {
    const { outlineWidth, outlineOffset, outlineStyle } = getComputedStyle(one);
    const reach = outlineStyle === "none" ? NaN : Number.parseFloat(outlineWidth) + Number.parseFloat(outlineOffset);
    return { bottom: one.getBoundingClientRect().bottom, reach };
  });
  assert.ok(bottom + reach <= 800, `${bottom} and ${reach} px`);
});

test("keys that come as quick as they can be pressed each do what they are pressed on, and none of them twice", async (t) => {
  const context = await browser.newContext({ ...PHONE, isMobile: false });
  t.after(() => context.close());
  const page = await context.newPage();
  const wall = new Wall(page, host);
  await wall.kitchen();
  await page.evaluate(() => document.getElementById("heading").focus());
  const press = async (...keys) => {
    for (const key of keys) await page.keyboard.press(key);
  };
  // The way to the actions, then the first of them: no time passes between.
  await press("Tab", "Enter");
  await page.waitForFunction(() => document.activeElement.id === "actions");
  await press("Tab");
  const meant = await page.evaluate(() => document.activeElement.innerText);
  assert.match(meant, /^Mark all 4/);
  await press("Enter", "Enter");
  await wall.notices.getByText("4 ends marked").waitFor();
  await settled(page);
  // What stands in its place then is not done by the second of the two.
  await wall.undo.waitFor();
  await page.waitForTimeout(400);
  await wall.undo.focus();
  await press("Enter", "Enter");
  await page.getByRole("button", { name: "Do it again" }).waitFor();
  await settled(page);
  assert.equal(await wall.undo.count(), 0, "the second has not done it again");
});

test("a form that is sent twice at once is sent once, and again after something was typed", async (t) => {
  const context = await browser.newContext({ ...PHONE, isMobile: false });
  t.after(() => context.close());
  const page = await context.newPage();
  const wall = new Wall(page, host);
  await wall.begin();
  const name = page.getByLabel("Name of the room");
  await name.fill("Larder");
  await name.press("Enter");
  await page.keyboard.press("Enter");
  await wall.notices.getByText("Larder is added as").waitFor();
  await settled(page);
  assert.equal(await wall.notices.getByText("Give the room a name").count(), 0);
  for (const room of ["Attic", "Porch"]) {
    await name.fill(room);
    await name.press("Enter");
  }
  await wall.notices.getByText("Porch is added as").waitFor();
  await page.getByText("Attic", { exact: true }).first().waitFor();
});

test("the bar leaves half of the smallest phone, and of one with text at twice its size", async (t) => {
  const context = await browser.newContext({ ...PHONE, isMobile: false });
  t.after(() => context.close());
  const page = await context.newPage();
  const wall = new Wall(page, host);
  await wall.kitchen();
  await wall.tap("Back");
  await wall.addOutlet("TV");
  await wall.openOutlet("KIT1");
  // After a turn the heading has the focus, and the next key meets the way to the actions.
  await page.waitForFunction(() => document.activeElement.id === "heading");
  for (const [width, height, size] of [[320, 568, ""], [PHONE.viewport.width, HEIGHT, TWICE]]) {
    await page.setViewportSize({ width, height });
    await page.evaluate((size) => { document.documentElement.style.fontSize = size; }, size);
    await wall.tap(/^Mark all 4/);
    await wall.notices.getByText("4 ends marked").waitFor();
    await whole(page, `${width} by ${height}`);
    // What was taken back is told at length.
    await wall.undo.click();
    await wall.notices.getByText("Taken back").waitFor();
    await whole(page, `${width} by ${height}, after an undo`);
  }
});

async function whole(page, where) {
  await settled(page);
  const { share, ...how } = await bar(page);
  assert.ok(share <= 0.5, `${share} of ${where}`);
  assert.deepEqual(how, { cut: false, rows: 1, dismissed: 1 }, where);
  assert.deepEqual(await brokenInside(page), [], where);
  assert.deepEqual(await cutOff(page), [], where);
  assert.deepEqual(await tooSmall(page), [], where);
}
