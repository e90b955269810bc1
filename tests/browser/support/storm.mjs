// A browser that is killed while it stores, again and again: whatever the screen called saved, and was
// reported to the test before, must be there afterwards.

import assert from "node:assert/strict";
import { readFile, readdir } from "node:fs/promises";

import { App } from "../pages/app.mjs";
import { launchProfile } from "./chromium.mjs";
import { startHost } from "./server.mjs";
import { storedLines } from "./storage.mjs";

const JOB = "Marrowby Mill";

// The first process of the browser on this profile; the others name their kind.
export async function browserProcess(folder) {
  for (const id of (await readdir("/proc")).filter((name) => /^\d+$/.test(name))) {
    const line = await readFile(`/proc/${id}/cmdline`, "utf8").catch(() => "");
    if (line.includes(folder) && !line.includes("--type=")) {
      return Number(id);
    }
  }
  throw new Error(`no browser runs on ${folder}`);
}

// Tells the test of every writing transaction of the page when it begins and when it is over, and with
// which promise of durability.
function watchTransactions() {
  const begin = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function transaction(...given) {
    const made = begin.apply(this, given);
    if (made.mode === "readwrite") {
      globalThis.stored("begun", made.durability);
      made.addEventListener("complete", () => globalThis.stored("over", made.durability));
    }
    return made;
  };
}

// Adds rooms one after the other until the browser is gone; gives those that were called saved.
async function addRooms(page, kill) {
  const saved = [];
  for (let at = 0; ; at += 1) {
    const name = `Store ${kill} ${at}.`;
    try {
      await page.getByLabel("Name of the room").fill(name);
      await page.getByRole("button", { name: "Add this room" }).click();
      await page.waitForFunction(
        (room) =>
          document.querySelector("#saved")?.textContent === "✓ Saved" &&
          document.querySelector("#notices")?.textContent.includes(room),
        name,
        { polling: 5 },
      );
    } catch {
      return saved;
    }
    saved.push(name);
  }
}

// Every stored line, read behind the app's back on a page that opens no job.
async function lines(page) {
  const { singles, together } = await storedLines(page);
  return [...singles, ...together.flat()];
}

// Kills the browser so many times. Gives how many rooms were promised in all, how many kills came while
// a transaction was begun and not known to be over, and which durabilities were asked for.
export async function storm(kills) {
  const host = await startHost();
  const profile = await launchProfile();
  const told = { promised: 0, unfinished: 0, durabilities: new Set() };
  const promised = [];
  let underWay = 0;
  let armed = false;
  let kill = async () => {};

  async function open() {
    const page = profile.context.pages()[0] ?? (await profile.context.newPage());
    underWay = 0;
    await page.exposeFunction("stored", (what, durability) => {
      told.durabilities.add(durability);
      underWay += what === "begun" ? 1 : -1;
      if (armed && what === "begun") {
        void kill();
      }
    });
    await page.addInitScript(watchTransactions);
    await new App(page, host).open();
    return page;
  }

  let page = await open();
  await page.getByLabel("Name of the job").fill(JOB);
  await page.getByRole("button", { name: "Start this job" }).click();
  await page.getByText("✓ Saved").waitFor();
  for (let count = 1; count <= kills; count += 1) {
    await page.getByRole("navigation", { name: "Sections" }).getByRole("button", { name: "Wall" }).click();
    const process_id = await browserProcess(profile.folder);
    kill = async () => {
      armed = false;
      told.unfinished += underWay > 0 ? 1 : 0;
      process.kill(process_id, "SIGKILL");
    };
    const adding = addRooms(page, count);
    // Every second kill waits for a transaction to begin, the others come at any time.
    setTimeout(() => (count % 2 === 0 ? void kill() : (armed = true)), 200 + Math.random() * 1200);
    promised.push(...(await adding));
    await profile.reopen();
    page = profile.context.pages()[0] ?? (await profile.context.newPage());
    await page.goto(`${host.url}rescue.html`);
    const stored = (await lines(page)).join("\n");
    for (const name of promised) {
      assert.ok(stored.includes(`"${name}"`), `“${name}” was called saved and is gone (kill ${count})`);
    }
    page = await open();
    await page.getByRole("link", { name: JOB }).click();
    await page.getByRole("heading", { level: 1, name: "At the wall" }).waitFor();
    assert.equal(await page.getByText(/cannot be read|could not be read/).count(), 0);
  }
  told.promised = promised.length;
  await profile.close();
  await host.stop();
  return told;
}
