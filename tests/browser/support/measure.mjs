// What the measurements share: how figures are told, a tap by the page's own clock, memory.

import { readdir, readFile } from "node:fs/promises";

import { row } from "./rows.mjs";

// How many times the processor is slowed.
export const SLOWER = 4;

export const say = (what, value) => console.log(`${what.padEnd(64)} ${value}`);

// The same for what stands in the table of all measurements too, with its goal where it has one.
export function tell(what, value, how) {
  say(how?.goal === undefined ? what : `${what} (goal: ${how.goal})`, value);
  row(what, value, how);
}

// The median in milliseconds, with the least and the most.
export function spread(times) {
  const sorted = times.map(Math.round).toSorted((one, other) => one - other);
  return `${sorted[sorted.length >> 1]} ms (${sorted[0]} to ${sorted.at(-1)})`;
}

export async function slow(debug, times) {
  await debug.send("Emulation.setCPUThrottlingRate", { rate: times });
}

// Takes a job file in, as it comes from another phone, on the screen of jobs.
export async function takeIn(page, file) {
  await page.getByRole("link", { name: "Open a job file" }).click();
  const chooser = page.waitForEvent("filechooser");
  await page.getByRole("button", { name: "Open a job file" }).click();
  await (await chooser).setFiles(file);
  await page.getByRole("button", { name: /^Take in \d/ }).click();
  await page.getByRole("heading", { level: 1, name: /At the wall/ }).waitFor();
  await page.getByText("✓ Saved").waitFor();
}

// From the tap to the frame after the one in which the screen stands, by the page's own clock. What
// stands is looked for in the page, frame by frame: asking from outside costs a slowed page time.
export async function tapped(page, locator, stands) {
  await locator.scrollIntoViewIfNeeded();
  await page.evaluate(({ selector, text }) => {
    globalThis.took = new Promise((done) => {
      addEventListener("click", () => {
        const begun = performance.now();
        const there = () =>
          [...document.querySelectorAll(selector)].some(({ textContent }) => textContent.includes(text))
            ? requestAnimationFrame(() => done(performance.now() - begun))
            : requestAnimationFrame(there);
        requestAnimationFrame(there);
      }, { once: true, capture: true });
    });
  }, stands);
  await locator.click();
  return page.evaluate(() => globalThis.took);
}

// The memory in MB of the processes that draw pages of a profile, as the system counts it, shared parts shared.
export async function drawing(profile) {
  let sum = 0;
  for (const id of (await readdir("/proc")).filter((name) => /^\d+$/.test(name))) {
    const line = await readFile(`/proc/${id}/cmdline`, "utf8").catch(() => "");
    if (line.includes(profile.folder) && line.includes("--type=renderer")) {
      const rollup = await readFile(`/proc/${id}/smaps_rollup`, "utf8").catch(() => "");
      sum += Number(rollup.match(/^Pss:\s+(\d+)/m)?.[1] ?? 0);
    }
  }
  return Math.round(sum / 1024);
}

// The heap of the scripts of a page in MB, after collection.
export async function heap(debug) {
  await debug.send("HeapProfiler.collectGarbage");
  await debug.send("Performance.enable");
  const { metrics } = await debug.send("Performance.getMetrics");
  return (metrics.find(({ name }) => name === "JSHeapUsedSize").value / 1e6).toFixed(1);
}
