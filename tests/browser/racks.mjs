// How the rack screens feel with 20 racks, 200 panels and 10,000 positions, on a processor slowed four
// times: `cargo xtask bench`.

import { App } from "./pages/app.mjs";
import { launch, PHONE } from "./support/chromium.mjs";
import { say, slow, SLOWER, spread, takeIn, tapped, tell } from "./support/measure.mjs";
import { startHost } from "./support/server.mjs";

const [file] = process.argv.slice(2);
const ROUNDS = 5;

const host = await startHost();
const browser = await launch();
const page = await (await browser.newContext(PHONE)).newPage();
page.setDefaultTimeout(300_000);

const heading = (name) => page.getByRole("heading", { level: 1, name }).waitFor();
const button = (name) => page.getByRole("button", { name, exact: typeof name === "string" }).first();

await new App(page, host).open();
await takeIn(page, file);
const debug = await page.context().newCDPSession(page);
await slow(debug, SLOWER);

async function median(what, locator, stands, back) {
  const times = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    times.push(await tapped(page, locator(), stands));
    await back();
  }
  tell(what, spread(times));
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
await median("open the racks", () => sections.getByRole("button", { name: "Rack" }), { selector: "h1", text: "Rack" }, toWall);
await toRack();
const line = () => page.locator(".rack-line").first();
const isOpen = (expanded) => page.locator(`.rack-line[aria-expanded="${expanded}"]`).first().waitFor();
await median(
  "open one of the racks in their list",
  line,
  { selector: ".panel-row", text: "" },
  async () => {
    await line().click();
    await isOpen(false);
  },
);
await line().click();
await median("see a rack of ten panels", () => button("See the rack"), { selector: ".rack-drawing", text: "" }, toRack);
await button("See the rack").click();
await median(
  "the largest size, every position a target",
  () => button("Positions"),
  { selector: "svg [data-position]", text: "" },
  async () => button("Whole").click(),
);
await button("Whole").click();
await median(
  "turn it round to the rear",
  () => button("Rear"),
  { selector: 'button[aria-pressed="true"]', text: "Rear" },
  async () => button("Front").click(),
);
say("elements of the largest drawing", await page.evaluate(() => document.querySelectorAll("*").length));
await browser.close();
await host.stop();
