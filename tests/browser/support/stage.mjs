// A host and a browser for a whole file of tests: import it, and they are there while its tests run.

import { after, before } from "node:test";

import { launch } from "./chromium.mjs";
import { startHost } from "./server.mjs";

export let host;
export let browser;

before(async () => {
  // The browser first: where there is none, no host keeps the tests from ending.
  browser = await launch();
  host = await startHost();
});

after(async () => {
  await browser?.close();
  await host?.stop();
});
