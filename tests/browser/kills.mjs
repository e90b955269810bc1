// A browser that is killed while it stores, again and again: whatever the screen called saved must
// be there when the job is opened anew. Run by `cargo xtask long`.

import assert from "node:assert/strict";
import { readFile, readdir } from "node:fs/promises";

import { App } from "./pages/app.mjs";
import { launchProfile } from "./support/chromium.mjs";
import { startHost } from "./support/server.mjs";

const KILLS = 20;

// The first process of the browser on this profile; the others name their kind.
async function browserProcess(folder) {
  for (const id of (await readdir("/proc")).filter((name) => /^\d+$/.test(name))) {
    const line = await readFile(`/proc/${id}/cmdline`, "utf8").catch(() => "");
    if (line.includes(folder) && !line.includes("--type=")) {
      return Number(id);
    }
  }
  throw new Error(`no browser runs on ${folder}`);
}

async function open(context, host) {
  const page = context.pages()[0] ?? (await context.newPage());
  await new App(page, host).open();
  return page;
}

// Adds rooms one after the other until the browser is gone; gives those that were called saved.
async function addRooms(page, kill) {
  const saved = [];
  for (let at = 0; ; at += 1) {
    const name = `Store ${kill} ${at}`;
    try {
      await page.getByLabel("Name of the room").fill(name);
      await page.getByRole("button", { name: "Add this room" }).click();
      await page.waitForFunction(
        (room) =>
          document.querySelector("#saved")?.textContent === "✓ Saved" &&
          [...document.querySelectorAll(".row-text")].some((row) => row.textContent === room),
        name,
        { polling: 5 },
      );
    } catch {
      return saved;
    }
    saved.push(name);
  }
}

const host = await startHost();
const profile = await launchProfile();
let page = await open(profile.context, host);
await page.getByLabel("Name of the job").fill("Marrowby Mill");
await page.getByRole("button", { name: "Start this job" }).click();
await page.getByText("✓ Saved").waitFor();
let promised = 0;
for (let kill = 1; kill <= KILLS; kill += 1) {
  await page.getByRole("navigation", { name: "Sections" }).getByRole("button", { name: "Wall" }).click();
  const adding = addRooms(page, kill);
  const patience = 200 + Math.random() * 1500;
  setTimeout(async () => process.kill(await browserProcess(profile.folder), "SIGKILL"), patience);
  const saved = await adding;
  await profile.reopen();
  page = await open(profile.context, host);
  await page.getByRole("link", { name: "Marrowby Mill" }).click();
  await page.getByRole("heading", { level: 1, name: "At the wall" }).waitFor();
  assert.equal(await page.getByText(/cannot be read|could not be read/).count(), 0);
  const last = saved.at(-1);
  for (const name of saved) {
    promised += 1;
    await page.getByRole("navigation", { name: "Sections" }).getByRole("button", { name: "Find" }).click();
    await page.getByRole("textbox").first().fill(name);
    await page.locator("main .find-row", { hasText: name }).first().waitFor({ timeout: 5000 }).catch(() => {
      throw new Error(`“${name}” was called saved and is gone (the last one saved was ${last}, killed after ${Math.round(patience)} ms)`);
    });
  }
}
console.log(`${KILLS} kills: all ${promised} rooms that were called saved are there`);
await profile.close();
await host.stop();
