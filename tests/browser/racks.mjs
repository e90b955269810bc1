// How the rack screens feel with 20 racks, 200 panels and 10,000 positions, on a processor slowed four
// times: `cargo xtask bench`.

import { App } from "./pages/app.mjs";
import { launch, PHONE } from "./support/chromium.mjs";
import { startHost } from "./support/server.mjs";

const [file] = process.argv.slice(2);
const SLOWER = 4;
const ROUNDS = 5;

const host = await startHost();
const browser = await launch();
const page = await (await browser.newContext(PHONE)).newPage();
page.setDefaultTimeout(300_000);

const say = (what, value) => console.log(`${what.padEnd(60)} ${value}`);
const heading = (name) => page.getByRole("heading", { level: 1, name }).waitFor();
const button = (name) => page.getByRole("button", { name, exact: typeof name === "string" }).first();

await new App(page, host).open();
await page.getByRole("link", { name: "Open a job file" }).click();
const chooser = page.waitForEvent("filechooser");
await page.getByRole("button", { name: "Open a job file" }).click();
await (await chooser).setFiles(file);
await button(/^Take in \d/).click();
await heading(/At the wall/);
await page.getByText("✓ Saved").waitFor();
const debug = await page.context().newCDPSession(page);
await debug.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });

// From the tap to the frame after the one in which the screen stands, by the page's own clock.
async function tapped(locator, stands) {
  await locator.scrollIntoViewIfNeeded();
  await page.evaluate(() => {
    globalThis.begun = 0;
    addEventListener("click", () => (globalThis.begun = performance.now()), { once: true, capture: true });
  });
  await locator.click();
  await stands();
  return page.evaluate(
    () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(performance.now() - globalThis.begun)))),
  );
}

async function median(what, locator, stands, back) {
  const times = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    times.push(Math.round(await tapped(locator(), stands)));
    await back();
  }
  times.sort((one, other) => one - other);
  say(what, `${times[ROUNDS >> 1]} ms (${times[0]} to ${times.at(-1)})`);
}

const sections = page.getByRole("navigation", { name: "Sections" });
const toWall = async () => {
  await sections.getByRole("button", { name: "Wall" }).click();
  await heading(/At the wall/);
};
const toRack = async () => {
  await sections.getByRole("button", { name: "Rack" }).click();
  await heading("Rack");
};
await median("open the racks", () => sections.getByRole("button", { name: "Rack" }), () => heading("Rack"), toWall);
await toRack();
const line = () => page.locator(".rack-line").first();
const isOpen = (expanded) => page.locator(`.rack-line[aria-expanded="${expanded}"]`).first().waitFor();
await median(
  "open one of the racks in their list",
  line,
  () => page.locator(".panel-row").first().waitFor(),
  async () => {
    await line().click();
    await isOpen(false);
  },
);
await line().click();
await median("see a rack of ten panels", () => button("See the rack"), () => page.locator(".rack-drawing").waitFor(), toRack);
await button("See the rack").click();
await median(
  "the largest size, every position a target",
  () => button("Positions"),
  () => page.locator("svg [data-position]").first().waitFor(),
  async () => button("Whole").click(),
);
await button("Whole").click();
await median(
  "turn it round to the rear",
  () => button("Rear"),
  () => page.locator('button[aria-pressed="true"]', { hasText: "Rear" }).waitFor(),
  async () => button("Front").click(),
);
say("elements of the largest drawing", await page.evaluate(() => document.querySelectorAll("*").length));
await browser.close();
await host.close?.();
process.exit(0);
