// Every screen of the app and the way there, for pictures and for the checks of access.

import { App } from "./app.mjs";
import { Rescue } from "./rescue.mjs";
import { Wall } from "./wall.mjs";

// In the demo job: a section by its name, then buttons by what they say.
const demo =
  (section, ...taps) =>
  async (page, host) => {
    await new App(page, host).open();
    await page.getByRole("link", { name: "Look round in the demo job" }).click();
    await page.getByRole("heading", { level: 1, name: "At the wall" }).waitFor();
    await page.getByRole("navigation", { name: "Sections" }).getByRole("button", { name: section }).click();
    for (const words of taps) {
      await page.getByRole("button", { name: words }).first().click();
    }
    await page.waitForTimeout(300);
  };

const found =
  (text, ...taps) =>
  async (page, host) => {
    await demo("Find")(page, host);
    await page.getByRole("textbox").first().fill(text);
    for (const words of taps) {
      await page.locator("main button", { hasText: words }).first().click();
    }
    await page.waitForTimeout(300);
  };

// Each screen has a name and the way there. Add a line for each new screen.
export const SCREENS = [
  { name: "start", show: (page, host) => new App(page, host).open() },
  {
    name: "records",
    show: async (page, host) => {
      const rescue = new Rescue(page, host);
      await rescue.open();
      await rescue.status.waitFor();
    },
  },
  {
    name: "stopped",
    show: async (page, host) => {
      await new App(page, host).open();
      await page.evaluate(() => globalThis.bothendsFatal("panicked at src/example.rs:1:1"));
      await page.getByRole("status").waitFor();
    },
  },
  { name: "wall", show: (page, host) => new Wall(page, host).begin() },
  { name: "scan", show: demo("Scan") },
  { name: "proposal", show: demo("Rack", /no position: where to/) },
  { name: "elevation", show: demo("Rack", "Main rack", "See the rack") },
  { name: "feeds", show: found("ABED1", /^ABED1-A/, "What feeds what") },
  { name: "remotes", show: found("ABED1", /^ABED1/, "Put numbered remotes in") },
  {
    name: "room",
    show: async (page, host) => {
      const wall = new Wall(page, host);
      await wall.kitchen();
      await wall.tap("Back");
      await wall.at(/Kitchen/);
    },
  },
  { name: "outlet", show: (page, host) => new Wall(page, host).kitchen() },
  {
    name: "cable-at-the-wall",
    show: async (page, host) => {
      const wall = new Wall(page, host);
      await wall.kitchen();
      await wall.openCable("KIT1-B");
    },
  },
  {
    name: "pen",
    show: async (page, host) => {
      const wall = new Wall(page, host);
      await wall.kitchen();
      await wall.tap("What to write");
      await wall.at(/Write/);
    },
  },
  {
    name: "footage",
    show: async (page, host) => {
      const wall = new Wall(page, host);
      await wall.kitchen();
      await wall.tap("Footage");
      await wall.at(/Footage/);
    },
  },
  { name: "demo-wall", show: demo("Wall") },
  { name: "pull", show: demo("Wall", "The pull") },
  { name: "cover", show: demo("Wall", "Not to be covered yet") },
  { name: "evening", show: demo("Wall", "Summary of the day") },
  {
    name: "pictures",
    show: async (page, host) => {
      const wall = new Wall(page, host);
      await wall.kitchen();
      await page.getByRole("heading", { name: "Pictures" }).scrollIntoViewIfNeeded();
    },
  },
  { name: "rack", show: demo("Rack") },
  { name: "panel", show: demo("Rack", "Main rack", /^C/) },
  { name: "hand", show: demo("Rack", "Cable in hand") },
  { name: "find", show: found("clay") },
  { name: "cable", show: found("AKIT1-A", "AKIT1-A") },
  { name: "position", show: found("AKIT1-A", "AKIT1-A", "Go to the position") },
  { name: "punch", show: demo("Punch list") },
  { name: "job", show: demo("Job") },
  { name: "rooms", show: demo("Job", "Rooms and floors") },
  { name: "types", show: demo("Job", "Outlet types") },
  { name: "racks", show: demo("Job", "Racks and panels") },
  { name: "rack-open", show: demo("Rack", "Main rack") },
  { name: "racks-open", show: demo("Job", "Racks and panels", "Main rack") },
  { name: "loose", show: demo("Job", "Loose ends") },
  {
    name: "tags",
    show: async (page, host) => {
      await demo("Job", "Print tags")(page, host);
      await page.getByRole("img", { name: /first tag/ }).waitFor();
    },
  },
  {
    name: "labels",
    show: async (page, host) => {
      await demo("Job", "Print tags")(page, host);
      await page.getByText("How they are printed").click();
      await page.getByRole("button", { name: "Describe other labels" }).click();
    },
  },
  { name: "crew", show: demo("Job", "Phone to phone") },
  {
    name: "guide",
    show: async (page, host) => {
      await page.goto(`${host.url}guide.html`);
    },
  },
  {
    name: "answer",
    show: async (page, host) => {
      await demo("Scan")(page, host);
      await page.getByLabel("What stands on the tag").fill("ABED1-A");
      await page.getByRole("button", { name: "Show it" }).click();
      await page.getByRole("region", { name: "What was scanned" }).waitFor();
    },
  },
  {
    name: "refusal",
    show: async (page, host) => {
      await demo("Scan")(page, host);
      await page.getByLabel("What stands on the tag").fill("hello");
      await page.getByRole("button", { name: "Show it" }).click();
      await page.getByRole("region", { name: "What was scanned" }).waitFor();
    },
  },
  { name: "history", show: demo("Job", "History") },
  { name: "import", show: demo("Job", "Import a schedule") },
];
