// When the app stops, plain JavaScript says so and gives the records out.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { afterEach, beforeEach, test } from "node:test";

import { App } from "../pages/app.mjs";
import { Rescue } from "../pages/rescue.mjs";
import { axe } from "../support/axe.mjs";
import { launch, PHONE } from "../support/chromium.mjs";
import { startHost } from "../support/server.mjs";
import { databaseNames, fillStorage } from "../support/storage.mjs";
import { watch } from "../support/watch.mjs";

const MILL = "0123456789abcdef0123";
const STUDIO = "ffff456789abcdef0123";
const CONTENT = {
  jobs: { [MILL]: "Marrowby Mill" },
  acts: [
    [[MILL, "w2", 1, "aaaaaaaa"], '{"v":1,"n":1,"writer":"w2"}'],
    [[MILL, "w1", 2, "bbbbbbbb"], '{"v":1,"n":2,"writer":"w1","note":"kiln \\"K2\\" ☂"}'],
    [[MILL, "w1", 10, "cccccccc"], '{"v":1,"n":10}\n{"v":1,"n":11}\n'],
    [[STUDIO, "w1", 1, "dddddddd"], "not JSON at all"],
  ],
};
const FILE = [
  `{"format":"bothends-job","version":1,"job":"${MILL}","name":"Marrowby Mill"}`,
  '{"v":1,"n":2,"writer":"w1","note":"kiln \\"K2\\" ☂"}',
  '{"v":1,"n":10}',
  '{"v":1,"n":11}',
  '{"v":1,"n":1,"writer":"w2"}',
  "",
].join("\n");

let host;
let browser;
let page;
let rescue;

beforeEach(async () => {
  host = await startHost();
  browser = await launch();
  page = await (await browser.newContext({ ...PHONE, acceptDownloads: true })).newPage();
  rescue = new Rescue(page, host);
});

afterEach(async () => {
  await browser.close();
  await host.stop();
});

test("the page gives out every record as it was written, and uses no wasm", async () => {
  const seen = watch(page);
  await rescue.open();
  await fillStorage(page, CONTENT);
  host.requests.length = 0;
  await rescue.open();
  await rescue.save.first().waitFor();
  assert.equal(await rescue.status.innerText(), "Found 2 jobs with 5 records.");
  const { name, text } = await rescue.saved();
  assert.match(name, /^bothends-records-[0-9a-f]{20}-\d{4}-\d{2}-\d{2}\.txt$/);
  assert.equal(text, FILE);
  assert.equal(
    (await rescue.saved(1)).text,
    `{"format":"bothends-job","version":1,"job":"${STUDIO}","name":""}\nnot JSON at all\n`,
  );
  assert.deepEqual(host.requests.filter((request) => request.name.endsWith(".wasm")), []);
  assert.deepEqual(seen.violations(), []);
  assert.deepEqual(seen.errors, []);
  await axe(page);
});

test("what was given out can be taken in again, on another phone", async () => {
  const app = new App(page, host);
  await app.open();
  await page.getByRole("link", { name: "Look round in the demo job" }).click();
  await page.getByText("✓ Saved").waitFor();
  await rescue.open();
  const { name, text } = await rescue.saved();
  const other = await (await browser.newContext(PHONE)).newPage();
  await new App(other, host).open();
  const chooser = other.waitForEvent("filechooser");
  await other.getByRole("link", { name: "Open a job file" }).click();
  await (await chooser.catch(() => null))?.setFiles({ name, mimeType: "text/plain", buffer: Buffer.from(text) });
  // All lines of the demo job but the first, which names it, and the last, which the rescue cannot write.
  const demo = await readFile(new URL("../../../demo-data/marrowby-mill.jobfile.txt", import.meta.url), "utf8");
  const lines = demo.trimEnd().split("\n").length - 2;
  await other.getByText(new RegExp(`The end of this file is missing.* ${lines} lines in it are whole`)).waitFor();
  await other.getByRole("button", { name: /^Take in \d/ }).click();
  await other.getByText("Wheel room").waitFor();
});

test("where nothing was stored it says so, and makes nothing", async () => {
  await rescue.open();
  await rescue.status.waitFor();
  assert.match(await rescue.status.innerText(), /no records of Bothends in this browser/);
  assert.equal(await rescue.save.count(), 0);
  assert.deepEqual(await databaseNames(page), []);
});

test("what is stored but is no text is given out too", async () => {
  await rescue.open();
  await fillStorage(page, { jobs: {}, acts: [[[MILL, "w1", 1, "aaaaaaaa"], { odd: 1 }]] });
  await rescue.open();
  const { text } = await rescue.saved();
  assert.equal(text, `{"format":"bothends-job","version":1,"job":"${MILL}","name":""}\n{"notText":{"key":["${MILL}","w1",1,"aaaaaaaa"],"value":{"odd":1}}}\n`);
});

test("a panic stops the app in plain words, keeps what was typed, and offers the records", async () => {
  const app = new App(page, host);
  await app.open();
  await fillStorage(page, CONTENT);
  await page.evaluate(() => {
    const field = document.createElement("input");
    field.value = "KIT2-C at 47 ft";
    document.getElementById("app").append(field);
    globalThis.bothendsFatal("panicked at src/example.rs:1:1");
  });
  await page.getByRole("heading", { name: "Bothends has stopped" }).waitFor();
  await page.getByText("KIT2-C at 47 ft").waitFor();
  await page.getByText("panicked at src/example.rs:1:1").waitFor();
  assert.equal((await rescue.saved()).text, FILE);
  await axe(page);
  await rescue.openAgain.click();
  await app.started();
});

test("after a stop no call reaches the module", async () => {
  await page.addInitScript(() => {
    // Counts the calls that get through to the module, below the guard of the page.
    const real = WebAssembly.instantiateStreaming;
    globalThis.calls = 0;
    WebAssembly.instantiateStreaming = async (...given) => {
      const { instance, module } = await real(...given);
      const exports = {};
      for (const [name, value] of Object.entries(instance.exports)) {
        exports[name] = typeof value !== "function" ? value : (...all) => {
          globalThis.calls += 1;
          return value(...all);
        };
      }
      globalThis.anyCall = Object.entries(exports).find(([name]) => name === "__wbindgen_malloc")?.[1];
      return { instance: { exports }, module };
    };
    const guard = Object.getOwnPropertyDescriptor(globalThis, "bothendsGuard");
    let kept = guard?.value;
    Object.defineProperty(globalThis, "bothendsGuard", {
      get: () => kept && ((exports) => (globalThis.guarded = kept(exports))),
      set: (value) => { kept = value; },
    });
  });
  const app = new App(page, host);
  await app.open("#/open");
  await page.waitForFunction(() => globalThis.calls > 0);
  const started = await page.evaluate(() => globalThis.calls);
  assert.ok(started > 0, "the app was started through the guard");
  const result = await page.evaluate(() => {
    globalThis.bothendsFatal("stop here");
    const before = globalThis.calls;
    const refused = Object.values(globalThis.guarded)
      .filter((value) => typeof value === "function")
      .filter((call) => {
        try {
          call(0, 0, 0);
          return false;
        } catch (error) {
          return /has stopped/.test(error.message);
        }
      });
    const all = Object.values(globalThis.guarded).filter((value) => typeof value === "function");
    return { through: globalThis.calls - before, refused: refused.length, all: all.length };
  });
  assert.equal(result.through, 0);
  assert.equal(result.refused, result.all);
  assert.ok(result.all > 3);
});

// (module (func (export "f") unreachable)), put together by hand from the WebAssembly core specification.
const TRAP = [
  0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 3, 2, 1, 0, 7, 5, 1, 1, 102, 0, 0, 10, 5, 1, 3, 0, 0, 11,
];
const WAYS = {
  "that the caller swallows": (exports) => {
    try {
      globalThis.bothendsGuard(exports).f();
    } catch {
      // As careless code would do.
    }
  },
  "in a timer": (exports) => setTimeout(() => exports.f(), 0),
  "in a promise": (exports) => void Promise.resolve().then(() => exports.f()),
};

for (const [way, call] of Object.entries(WAYS)) {
  test(`a trap ${way} stops the app`, async () => {
    await new App(page, host).open();
    await page.evaluate((bytes) => {
      globalThis.trap = new WebAssembly.Instance(new WebAssembly.Module(new Uint8Array(bytes))).exports;
    }, TRAP);
    await page.evaluate(`(${call})(globalThis.trap)`);
    await page.getByRole("heading", { name: "Bothends has stopped" }).waitFor();
    await page.getByText("unreachable").waitFor();
    // Where it was, by number, and in which build.
    await page.getByText(/wasm-function\[0\]:0x[0-9a-f]+\s+build [0-9a-f]{12}/).waitFor();
  });
}

test("an app that cannot start says so and offers the records", async () => {
  host.damage = (name, bytes) => (name.endsWith(".wasm") ? Buffer.from("no wasm") : bytes);
  await rescue.open();
  await fillStorage(page, CONTENT);
  await page.goto(`${host.url}#/open`);
  await page.getByText("The app could not be started.").waitFor();
  assert.equal((await rescue.saved()).text, FILE);
});
