// The folder on the plainest web server there is, as the README says.

import assert from "node:assert/strict";
import { spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import { createServer } from "node:net";
import { test } from "node:test";

import { App } from "../pages/app.mjs";
import { launch, PHONE } from "../support/chromium.mjs";
import { DIST } from "../support/server.mjs";
import { watch } from "../support/watch.mjs";

const missing = spawnSync("python3", ["--version"]).status !== 0;

// A port that nobody uses now.
async function freePort() {
  const server = createServer().listen(0, "127.0.0.1");
  await once(server, "listening");
  const { port } = server.address();
  server.close();
  await once(server, "close");
  return port;
}

async function answers(url) {
  const limit = Date.now() + 10_000;
  for (;;) {
    try {
      return await fetch(url);
    } catch (error) {
      if (Date.now() > limit) {
        throw error;
      }
      await new Promise((go) => setTimeout(go, 100));
    }
  }
}

test("a plain web server is enough", { skip: missing && "there is no python3 here" }, async (t) => {
  const port = await freePort();
  const words = ["-m", "http.server", "--bind", "127.0.0.1", "--directory", DIST, String(port)];
  const server = spawn("python3", words, { stdio: "ignore" });
  t.after(() => server.kill());
  const url = `http://localhost:${port}/`;
  await answers(url);
  const browser = await launch();
  t.after(() => browser.close());
  const page = await (await browser.newContext(PHONE)).newPage();
  const seen = watch(page);
  const app = new App(page, { url });
  await app.open();
  await app.keptOffline();
  await page.getByRole("link", { name: "Look round in the demo job" }).click();
  await page.getByRole("heading", { level: 1, name: "At the wall" }).waitFor();
  assert.deepEqual(seen.errors, []);
});
