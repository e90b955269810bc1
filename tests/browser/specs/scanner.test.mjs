// The reader of tags as the browser has it: its wasm module reads, and never stops; and what the app asks
// of a camera and of the screen, with stand-ins for what no machine here has.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";

import { App } from "../pages/app.mjs";
import { PHONE, launch } from "../support/chromium.mjs";
import { read, scanner, share } from "../support/scanner.mjs";
import { DIST } from "../support/server.mjs";
import { host } from "../support/stage.mjs";
import { tags, video } from "../support/tags.mjs";
import { watch } from "../support/watch.mjs";

const folder = join(import.meta.dirname, "../fixtures/tags");

/** Symbols of texts of tags, made by zxing-cpp 3.1. */
const fixtures = JSON.parse(readFileSync(join(folder, "tags.json"), "utf8"));

const drawn = ({ rows, module, border }) => {
  const side = (rows.length + 2 * border) * module;
  const grey = new Uint8Array(side * side);
  for (let at = 0; at < grey.length; at += 1) {
    const x = Math.floor((at % side) / module) - border;
    const y = Math.floor(Math.floor(at / side) / module) - border;
    grey[at] = rows[y]?.[x] === "#" ? 20 : 230;
  }
  return { width: side, height: side, grey };
};

/** The picture in the middle of a grey frame with some noise, as a camera gives it. */
const framed = (picture, width, height) => {
  const grey = new Uint8Array(width * height);
  let state = 1;
  for (let at = 0; at < grey.length; at += 1) {
    state = (Math.imul(state, 1_103_515_245) + 12_345) >>> 0;
    grey[at] = 120 + (state >>> 16) % 9;
  }
  const [left, top] = [(width - picture.width) >> 1, (height - picture.height) >> 1];
  for (let y = 0; y < picture.height; y += 1) {
    grey.set(picture.grey.subarray(y * picture.width, (y + 1) * picture.width), (top + y) * width + left);
  }
  return { width, height, grey };
};

test("the module reads tags, and says how long it took", async () => {
  const part = await scanner(DIST);
  const times = [];
  for (const fixture of fixtures) {
    for (const module of [3, 4, 6]) {
      const picture = framed(drawn({ ...fixture, module, border: 4 }), 960, 720);
      const { text, took } = read(part, picture);
      assert.equal(text, fixture.text);
      assert.ok(Math.abs(part.module_pixels() - module) < 0.3, `${part.module_pixels()} pixels`);
      assert.equal(part.corners().length, 8);
      times.push(took);
    }
  }
  console.log(`read frames: median ${share(times, 0.5).toFixed(1)} ms, p95 ${share(times, 0.95).toFixed(1)} ms`);
  assert.ok(share(times, 0.5) < 1000);
});

test("a coloured picture is read as a grey one", async () => {
  const part = await scanner(DIST);
  const picture = drawn({ ...fixtures[0], module: 4, border: 4 });
  const pixels = new Uint8Array(picture.grey.length * 4).map((_, at) => (at % 4 === 3 ? 255 : picture.grey[at >> 2]));
  part.rgba(picture.width, picture.height, pixels);
  let state = 0;
  while (state === 0) state = part.step();
  assert.equal(state, 1);
  assert.equal(part.text(), fixtures[0].text);
});

test("what is no picture has nothing on it, and nothing stops the module", async () => {
  const part = await scanner(DIST);
  assert.equal(part.step(), 2);
  for (const [width, height, length] of [[0, 0, 0], [1, 1, 1], [1, 700, 700], [960, 720, 5], [4294967295, 4294967295, 9], [33, 47, 5000]]) {
    const { text } = read(part, { width, height, grey: new Uint8Array(length).fill(90) });
    assert.equal(text, undefined, `${width} by ${height}`);
  }
  assert.equal(part.text(), "");
  assert.equal(part.module_pixels(), 0);
});

// The demo job on a phone with two cameras, which see no tag unless a film is given, and with what `prepare` puts
// in each page.
async function camera(t, prepare, film) {
  const phone = await launch([
    "--use-fake-device-for-media-stream=device-count=2",
    "--use-fake-ui-for-media-stream",
    ...(film === undefined ? [] : [`--use-file-for-fake-video-capture=${film.path}`]),
  ]);
  t.after(() => phone.close());
  const context = await phone.newContext(PHONE);
  await context.addInitScript(prepare);
  const page = await context.newPage();
  page.setDefaultTimeout(15_000);
  const seen = watch(page);
  t.after(() => assert.deepEqual(seen.errors, []));
  await new App(page, host).open();
  await page.getByRole("link", { name: "Look round in the demo job" }).click();
  await page.getByRole("heading", { level: 1, name: "At the wall" }).waitFor();
  return page;
}

// In the page, in the place of the browser's wake lock: notes what is asked and given back. It takes a lock back
// from a page that is put away, as the Screen Wake Lock API of the W3C says (from memory). `given` may hold
// it up.
function wakeLock() {
  globalThis.wakes = [];
  const locks = new Set();
  class Lock extends EventTarget {
    async release() {
      if (locks.delete(this)) {
        globalThis.wakes.push("released");
        this.dispatchEvent(new Event("release"));
      }
    }
  }
  const request = async (kind) => {
    globalThis.wakes.push(kind);
    await globalThis.given;
    const lock = new Lock();
    locks.add(lock);
    return lock;
  };
  Object.defineProperty(Navigator.prototype, "wakeLock", { value: { request } });
  document.addEventListener("visibilitychange", () => {
    for (const lock of document.hidden ? locks : []) lock.release();
  });
}

const section = (page, name) => page.getByRole("navigation", { name: "Sections" }).getByRole("button", { name });

const toScanner = async (page) => {
  await section(page, "Scan").click();
  await page.waitForFunction(() => document.querySelector("#scan-video")?.srcObject?.active);
};

const leave = async (page) => {
  await section(page, "Wall").click();
  await page.getByRole("heading", { level: 1, name: "At the wall" }).waitFor();
};

// Waits until so much was asked and given back, and holds that nothing else was.
async function woken(page, ...wanted) {
  await page.waitForFunction((count) => globalThis.wakes.length >= count, wanted.length);
  await page.waitForTimeout(300);
  assert.deepEqual(await page.evaluate(() => globalThis.wakes), wanted);
}

const putAway = (page, away) =>
  page.evaluate((away) => {
    Object.defineProperty(document, "hidden", { configurable: true, value: away });
    document.dispatchEvent(new Event("visibilitychange"));
  }, away);

test("the screen is kept on while the camera looks, and asked for anew when the page comes back", async (t) => {
  const page = await camera(t, wakeLock);
  await toScanner(page);
  await woken(page, "screen");
  await putAway(page, true);
  await woken(page, "screen", "released");
  await putAway(page, false);
  await woken(page, "screen", "released", "screen");
  await leave(page);
  await woken(page, "screen", "released", "screen", "released");
  await toScanner(page);
  await woken(page, "screen", "released", "screen", "released", "screen");
});

test("a screen that is kept on only after the camera stopped is let go", async (t) => {
  const page = await camera(t, wakeLock);
  await page.evaluate(() => {
    globalThis.given = new Promise((give) => {
      globalThis.give = give;
    });
  });
  await toScanner(page);
  await woken(page, "screen");
  await leave(page);
  await page.evaluate(() => globalThis.give());
  await woken(page, "screen", "released");
});

test("where the screen cannot be kept on, or may not be, tags are read all the same", async (t) => {
  const { good } = await tags();
  const film = await video(good);
  t.after(() => film.remove());
  const none = () => Object.defineProperty(Navigator.prototype, "wakeLock", { value: undefined });
  const refusing = () =>
    Object.defineProperty(Navigator.prototype, "wakeLock", {
      value: { request: () => Promise.reject(new DOMException("no", "NotAllowedError")) },
    });
  for (const prepare of [none, refusing]) {
    const page = await camera(t, prepare, film);
    await section(page, "Scan").click();
    await page.getByRole("heading", { level: 1, name: good.text.split(" ")[0] }).waitFor();
  }
});

test("light, zoom and another lens are asked of a camera that has them, and offered with no other", async (t) => {
  const button = (page, name) => page.getByRole("button", { name, exact: true });
  const plain = await camera(t, () => {});
  await toScanner(plain);
  await button(plain, "Another lens").waitFor();
  assert.equal(await button(plain, "Light on").count(), 0);
  assert.equal(await button(plain, "Larger").count(), 0);

  // A torch and a zoom, as the Image Capture API of the W3C has them; that the constraints applied last take the
  // place of all earlier ones is of Media Capture and Streams of the W3C (both from memory).
  const page = await camera(t, () => {
    globalThis.wishes = [];
    Object.assign(MediaStreamTrack.prototype, {
      getCapabilities: () => ({ torch: true, zoom: { min: 1, max: 2.5, step: 0.1 } }),
      applyConstraints: async ({ width, advanced }) => globalThis.wishes.push(Object.assign({ wide: width.ideal }, ...advanced)),
    });
  });
  await toScanner(page);
  // The camera is asked a moment after the tap.
  const asks = async (...wishes) => {
    await page.waitForFunction((count) => globalThis.wishes.length >= count, wishes.length);
    assert.deepEqual(await page.evaluate(() => globalThis.wishes.splice(0)), wishes.map((wish) => ({ wide: 1280, ...wish })));
  };
  for (const name of ["Light on", "Light off", "Larger", "2 times as large"]) await button(page, name).click();
  // The third size is more than this one has.
  await asks({ torch: true, zoom: 1 }, { torch: false, zoom: 1 }, { torch: false, zoom: 2 }, { torch: false, zoom: 2.5 });
  // The light is out while something else is looked at, and on again with the scanner.
  await button(page, "Light on").click();
  await section(page, "Find").click();
  await asks({ torch: true, zoom: 2.5 }, { torch: false, zoom: 2.5 });
  await section(page, "Scan").click();
  await button(page, "Light off").waitFor();
  await button(page, "3 times as large").waitFor();
  await asks({ torch: true, zoom: 2.5 });
  const lens = () => page.evaluate(() => document.querySelector("#scan-video").srcObject?.getVideoTracks()[0].getSettings().deviceId);
  const first = await lens();
  await button(page, "Another lens").click();
  await page.waitForFunction(
    (first) => {
      const stream = document.querySelector("#scan-video")?.srcObject;
      return stream?.active && stream.getVideoTracks()[0].getSettings().deviceId !== first;
    },
    first,
  );
});
