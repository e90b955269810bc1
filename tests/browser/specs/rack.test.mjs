// At the rack: cable in hand, landing as listed, a claim that is taken, both faces of a panel.

import assert from "node:assert/strict";
import { test } from "node:test";

import { App } from "../pages/app.mjs";
import { Rack } from "../pages/rack.mjs";
import { axe } from "../support/axe.mjs";
import { PHONE } from "../support/chromium.mjs";
import { putJob, RACK_JOB } from "../support/job.mjs";
import { browser, host } from "../support/stage.mjs";
import { watch } from "../support/watch.mjs";
import { tooWide } from "../support/width.mjs";

// A phone with the job on it, at its racks.
async function atTheRack(t) {
  const context = await browser.newContext(PHONE);
  t.after(() => context.close());
  const page = await context.newPage();
  const seen = watch(page);
  await new App(page, host).open();
  await putJob(page, RACK_JOB);
  await page.reload();
  const rack = new Rack(page, host, RACK_JOB);
  await rack.open();
  return { rack, page, seen };
}

test("a cable in the hand finds its position in 4 taps and is landed with 1 more", async (t) => {
  const { rack, page, seen } = await atTheRack(t);
  await rack.tap(rack.button("Cable in hand"));
  assert.deepEqual(await rack.keys(), ["KIT", "KITS", "POT"]);
  await rack.key("KIT");
  assert.deepEqual(await rack.keys(), ["1", "2", "3", "4", "5", "6", "7"]);
  await rack.key("2");
  assert.deepEqual(await rack.keys(), ["A", "B", "C", "D"]);
  await rack.key("C");
  assert.equal(rack.taps, 4);
  assert.equal(await rack.heading.innerText(), "KIT2-C");
  assert.equal(await page.locator(".big-code").innerText(), "B04");
  assert.equal(await page.locator(".big-where").innerText(), "Main rack, first panel from the top");
  await rack.tap(rack.button("Landed on B04"));
  assert.equal(rack.taps, 5);
  assert.equal(await rack.heading.innerText(), "Which cable is it?");
  assert.match(await rack.notice.innerText(), /KIT2-C is landed on B04\./);
  await rack.stored();
  await rack.key("KIT");
  await rack.key("2");
  await rack.key("C");
  assert.match(await page.locator(".big-state").innerText(), /Landed/);
  assert.deepEqual(seen.errors, []);
});

test("the keys that stand on the rack itself save a tap from the open job", async (t) => {
  const { rack, page } = await atTheRack(t);
  await rack.goto("job");
  await rack.section();
  await rack.key("KIT");
  await rack.key("2");
  await rack.key("C");
  assert.equal(await page.locator(".big-code").innerText(), "B04");
  assert.equal(rack.taps, 4);
});

test("undo takes a landing back", async (t) => {
  const { rack, page } = await atTheRack(t);
  await rack.key("KITS");
  await rack.key("1");
  await rack.key("A");
  const position = await page.locator(".big-code").innerText();
  await rack.tap(rack.button(`Landed on ${position}`));
  await rack.tap(rack.button("Undo"));
  await rack.key("KITS");
  await rack.key("1");
  await rack.key("A");
  await rack.button(`Landed on ${position}`).waitFor();
});

test("twelve positions are landed as listed in 3 taps, and a reload keeps them", async (t) => {
  const { rack, page } = await atTheRack(t);
  await rack.goto("job");
  await rack.section();
  await rack.panel("B");
  await rack.tap(rack.button("Land B01 to B12 as listed"));
  assert.equal(rack.taps, 3);
  assert.match(await rack.notice.innerText(), /12 ends landed\./);
  await rack.stored();
  await page.reload();
  await page.locator(".slot-row").first().waitFor();
  assert.equal(await rack.row("B01"), "KIT1-B; landed");
  assert.equal(await rack.row("B12"), "KIT6-B; landed");
  assert.match(await rack.row("B13"), /listed$/);
  await rack.button(/^Land B13 to B24 as listed$/).waitFor();
});

test("another stretch can be chosen", async (t) => {
  const { rack, page } = await atTheRack(t);
  await rack.panel("B");
  await page.getByText("Choose a stretch of positions").click();
  await page.getByLabel("From", { exact: true }).selectOption({ label: "B05 KIT3-B" });
  await page.getByLabel("To", { exact: true }).selectOption({ label: "B06 KIT3-C" });
  await rack.tap(rack.button("Land B05 to B06 as listed"));
  assert.match(await rack.notice.innerText(), /2 ends landed\./);
  assert.match(await rack.row("B04"), /listed$/);
  assert.match(await rack.row("B05"), /landed$/);
});

test("tails that nobody knows are numbered where they sit", async (t) => {
  const { rack, page } = await atTheRack(t);
  await rack.panel("E");
  await page.getByText("Choose a stretch of positions").click();
  await page.getByLabel("From", { exact: true }).selectOption({ label: "E02" });
  await page.getByLabel("To", { exact: true }).selectOption({ label: "E04" });
  await rack.tap(rack.button("Nobody knows the cables there: number them"));
  assert.match(await rack.notice.innerText(), /The tails there have numbers now\./);
  assert.match(await rack.row("E03"), /Loose end 2; reserved$/);
  await rack.goto("loose");
  await page.getByText("E04").waitFor();
});

test("a second claim is refused, says who is there, and one tap settles it", async (t) => {
  const { rack, page } = await atTheRack(t);
  await rack.panel("B");
  await rack.position("B03");
  await rack.tap(rack.button("KIT2-B is landed here"));
  await page.getByText("Another cable is on B03").click();
  await page.getByLabel("Code on the cable").fill("pot1a");
  await rack.tap(rack.button("It is landed here"));
  assert.match(await rack.notice.innerText(), /B03 is taken: KIT2-B is landed there since/);
  await rack.tap(rack.button(/POT1-A is here, I see it\./));
  assert.match(await rack.notice.innerText(), /POT1-A is landed on B03\./);
  await rack.tap(rack.button("All positions of this panel"));
  assert.equal(await rack.row("B03"), "POT1-A; landed", "and the list follows what was seen");
});

test("a landed cable is lifted", async (t) => {
  const { rack } = await atTheRack(t);
  await rack.panel("B");
  await rack.position("B01");
  await rack.tap(rack.button("KIT1-B is landed here"));
  await rack.tap(rack.button("Lift KIT1-B: it is not here"));
  await rack.tap(rack.button("All positions of this panel"));
  assert.equal(await rack.row("B01"), "KIT1-B; listed");
});

test("a position is reserved with a reason, and asks for one", async (t) => {
  const { rack, page } = await atTheRack(t);
  await rack.panel("A");
  await rack.position("A30");
  await page.getByText("Reserve it, or mark it as bad").click();
  await rack.tap(rack.button("Reserve it"));
  assert.match(await rack.notice.innerText(), /Say in a few words why/);
  await page.getByLabel("Why").fill("alarm panel");
  await rack.tap(rack.button("Reserve it"));
  await rack.tap(rack.button("All positions of this panel"));
  assert.equal(await rack.row("A30"), "alarm panel; reserved");
});

test("the rear is the front mirrored, and a tap on the drawing opens the position", async (t) => {
  const { rack, page } = await atTheRack(t);
  await rack.panel("A");
  const count = (from, to) => Array.from({ length: Math.abs(to - from) + 1 }, (_, at) => String(from + Math.sign(to - from) * at));
  assert.deepEqual(await rack.drawn(), count(1, 48));
  await rack.tap(rack.button("From the rear"));
  await page.getByText("number 1 is on the right").waitFor();
  assert.deepEqual(await rack.drawn(), [...count(24, 1), ...count(48, 25)]);
  const box = (number) => page.locator(`.port[data-position="${number}"]`).boundingBox();
  const [first, twelfth] = [await box(1), await box(12)];
  assert.ok(first.x > twelfth.x, "number 1 is right of number 12 from the rear");
  await rack.tap(page.locator('.port[data-position="40"]'));
  assert.equal(await rack.heading.innerText(), "A40");
});

test("a cable without a position is offered the next free one that fits", async (t) => {
  const { rack, page } = await atTheRack(t);
  await rack.key("KIT");
  await rack.key("1");
  await rack.key("A");
  assert.match(await page.locator(".big").innerText(), /No position is planned\. Next free:/);
  await rack.tap(page.getByRole("button", { name: /E01/ }));
  assert.match(await rack.notice.innerText(), /KIT1-A is landed on E01\./);
});

test("the position is read aloud when asked", async (t) => {
  const { rack, page } = await atTheRack(t);
  await page.evaluate(() => {
    globalThis.spoken = [];
    globalThis.speechSynthesis.speak = (utterance) => globalThis.spoken.push(utterance.text);
  });
  await rack.key("KIT");
  await rack.key("4");
  await rack.key("A");
  await rack.tap(rack.button("Say it"));
  assert.deepEqual(await page.evaluate(() => globalThis.spoken), ["B 7, Main rack, first panel from the top"]);
});

test("the wiring of the jacks is chosen once and drawn in colours with their words", async (t) => {
  const { rack, page } = await atTheRack(t);
  await page.getByText("Jacks wired: not chosen yet").click();
  await rack.tap(rack.button("Wire all jacks T568B"));
  await page.getByText("Jacks wired: T568B").waitFor();
  assert.match(await page.locator(".pin-words").innerText(), /^1 white\/orange, pair 2\n2 orange, pair 2\n3 white\/green, pair 3/);
});

test("the cautions of the phase are put away once for all", async (t) => {
  const { rack, page } = await atTheRack(t);
  await rack.tap(rack.button("Read, put this away"));
  await page.reload();
  await rack.panels.first().waitFor();
  assert.equal(await page.getByText("Never look into a fibre").count(), 0);
});

test("every screen of the rack keeps the accessibility rules, and nothing is wider than the phone", async (t) => {
  const { rack, page, seen } = await atTheRack(t);
  const check = async () => {
    // At the end of the page the bar at the bottom covers nothing, which would count as too small.
    await page.evaluate(() => scrollTo(0, document.body.scrollHeight));
    await axe(page);
    const high = await page.evaluate(() =>
      [...document.querySelectorAll("main button, .actions button")]
        .filter((button) => button.getBoundingClientRect().height < 48)
        .map((button) => button.innerText),
    );
    assert.equal(await tooWide(page), 0, `wider than the screen at ${page.url()}`);
    assert.deepEqual(high, [], `too small at ${page.url()}`);
  };
  await check();
  for (const summary of await page.locator("summary").all()) {
    await summary.click();
  }
  await check();
  await rack.panel("B");
  await check();
  for (const summary of await page.locator("summary").all()) {
    await summary.click();
  }
  await check();
  await rack.position("B01");
  await check();
  await rack.tap(rack.button("KIT1-B is landed here"));
  await check();
  await rack.goto("hand");
  await check();
  await rack.key("KIT");
  await check();
  await rack.key("2");
  await rack.key("C");
  await check();
  for (const summary of await page.locator("summary").all()) {
    await summary.click();
  }
  await check();
  await page.setViewportSize({ width: 320, height: 640 });
  for (const screen of ["rack", "hand"]) {
    await rack.goto(screen);
    await check();
  }
  assert.deepEqual(seen.errors, []);
});

test("a rack that was added is followed by its panels, and no second rack", async (t) => {
  const context = await browser.newContext(PHONE);
  t.after(() => context.close());
  const page = await context.newPage();
  await new App(page, host).open();
  await page.getByLabel("Name of the job").fill("Barn");
  await page.getByRole("button", { name: "Start this job" }).click();
  await page.getByRole("navigation", { name: "Sections" }).getByRole("button", { name: "Rack" }).click();
  await page.locator("#actions").getByRole("button", { name: "Add a rack" }).click();
  await page.getByLabel("Name of the rack").fill("Main rack");
  await page.getByRole("button", { name: "Add this rack" }).click();
  await page.getByRole("heading", { name: "Add a panel" }).waitFor();
  assert.equal(await page.evaluate(() => document.activeElement.labels[0].textContent), "Its positions are");
  const bar = (await page.locator(".bottom").boundingBox()).y;
  for (const shown of [page.getByRole("heading", { name: "Add a panel" }), page.getByLabel("Its positions are").first()]) {
    const { y, height } = await shown.boundingBox();
    assert.ok(y >= 0 && y + height <= bar, "in view");
  }
});
