// The reader of tags as the browser has it: its wasm module reads, and never stops.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";

import { read, scanner, share } from "../support/scanner.mjs";
import { DIST } from "../support/server.mjs";

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
