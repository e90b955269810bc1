// How the app starts and how it lasts, on a processor slowed four times: `cargo xtask bench`.
//
// A first visit on a slow link, a start with the host gone, and memory over 500 changes of the screen.

import { App } from "./pages/app.mjs";
import { launchProfile } from "./support/chromium.mjs";
import { drawing, heap, say, slow, SLOWER, spread, takeIn, tell } from "./support/measure.mjs";
import { startHost } from "./support/server.mjs";

const [file] = process.argv.slice(2);
const ROUNDS = 5;
const CHANGES = 500;
// 1.6 Mbit/s, a round trip of 150 ms: the slow mobile link for which the budgets are set.
const LINK = { offline: false, latency: 150, downloadThroughput: 1.6e6 / 8, uploadThroughput: 0.75e6 / 8 };

const host = await startHost();

// When a wasm module was first sent, by the clock on the wall.
let sent;
host.damage = (name, bytes) => {
  if (name.endsWith(".wasm")) sent ??= Date.now();
  return bytes;
};

// Notes in each page when the heading that is waited for first stands, beyond the page's first paint.
async function noteUsable(context, heading) {
  await context.addInitScript((heading) => {
    const look = () => {
      const text = document.querySelector("#app h1")?.textContent ?? "";
      if (text.includes(heading) && document.querySelector("main.opening") === null) globalThis.usable ??= performance.now();
    };
    new MutationObserver(look).observe(document, { childList: true, subtree: true, characterData: true });
  }, heading);
}

// Goes to an address in a page that is slowed, and tells of the first paint and of the usable screen.
async function visit(profile, url, link) {
  const page = await profile.context.newPage();
  page.setDefaultTimeout(120_000);
  const debug = await profile.context.newCDPSession(page);
  if (link) {
    await debug.send("Network.enable");
    await debug.send("Network.emulateNetworkConditions", link);
  }
  await slow(debug, SLOWER);
  await page.goto(url);
  await page.waitForFunction(() => globalThis.usable !== undefined && performance.getEntriesByName("first-contentful-paint").length > 0);
  return page.evaluate(() => ({
    origin: performance.timeOrigin,
    painted: performance.getEntriesByName("first-contentful-paint")[0].startTime,
    usable: globalThis.usable,
  }));
}

const first = [];
for (let round = 0; round < ROUNDS; round += 1) {
  const profile = await launchProfile();
  await noteUsable(profile.context, "Jobs");
  sent = undefined;
  const seen = await visit(profile, host.url, LINK);
  while (sent === undefined) await new Promise((go) => setTimeout(go, 50));
  first.push({ ...seen, wasm: sent - seen.origin });
  await profile.close();
}
tell("first visit on a slow link: first paint", spread(first.map(({ painted }) => painted)));
tell("first visit on a slow link: the list of jobs is usable", spread(first.map(({ usable }) => usable)));
tell("first visit on a slow link: the host begins to send wasm", spread(first.map(({ wasm }) => wasm)));
tell("first paints that came before any wasm was sent", `${first.filter(({ painted, wasm }) => painted < wasm).length} of ${ROUNDS}`);

// The job of 10,000 cables, kept on the device.
const profile = await launchProfile();
let page = profile.context.pages()[0] ?? (await profile.context.newPage());
page.setDefaultTimeout(300_000);
const app = new App(page, host);
await app.open();
await app.keptOffline();
await takeIn(page, file);
const address = page.url();

// With the host gone, each time in a browser process of its own.
await host.stop();
for (const [what, url, heading] of [
  ["the list of jobs", host.url, "Jobs"],
  ["a job of 10,000 cables", address, "At the wall"],
]) {
  const starts = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const context = await profile.reopen();
    await noteUsable(context, heading);
    starts.push(await visit(profile, url));
  }
  tell(`start without the host, ${what}: first paint`, spread(starts.map(({ painted }) => painted)));
  tell(`start without the host, ${what}: usable`, spread(starts.map(({ usable }) => usable)));
}

// Screen after screen in the large job, as fast as the machine is.
page = profile.context.pages().at(-1);
const debug = await profile.context.newCDPSession(page);
await slow(debug, 1);
const held = [];
const hold = async (changes) => {
  const scripts = await heap(debug);
  await page.waitForTimeout(2000);
  held.push(`${changes}: ${scripts} MB, ${await drawing(profile)} MB`);
};
for (let changes = 0; changes < CHANGES; changes += 100) {
  await hold(changes);
  await page.evaluate(async () => {
    const frame = () => new Promise((done) => requestAnimationFrame(done));
    for (let at = 0; at < 100; at += 1) {
      // The scanner would ask for a camera.
      const buttons = [...document.querySelectorAll("nav button")].filter(({ innerText }) => !innerText.includes("Scan"));
      buttons[at % buttons.length].click();
      await frame();
      await frame();
    }
  });
}
await hold(CHANGES);
say("changes of the screen: heap of the scripts, process that draws", held.join("; "));
await profile.close();
process.exit(0);
