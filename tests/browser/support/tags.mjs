// Tags as a camera sees them: the texts and codes of the demo job from the fixture, as videos for the
// browser's fake camera and as photographs.

import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { deflateSync } from "node:zlib";

const fixture = new URL("../fixtures/tags.txt", import.meta.url);

// The tags by their names: { text, rows }, a row a string of 0 and 1.
export async function tags() {
  const lines = (await readFile(fixture, "utf8")).trimEnd().split("\n");
  return Object.fromEntries(
    lines.map((line) => {
      const [name, text, rows] = line.split("\t");
      return [name, { text, rows: rows.split(" ") }];
    }),
  );
}

// A picture of a tag, grey by grey: white label on a darker wall, so many dots a module.
function picture({ rows }, width, height, module) {
  const side = (rows.length + 8) * module;
  const [left, top] = [(width - side) >> 1, (height - side) >> 1];
  const grey = new Uint8Array(width * height).fill(120);
  for (let y = 0; y < side; y += 1) {
    for (let x = 0; x < side; x += 1) {
      const [row, column] = [y, x].map((at) => Math.floor(at / module) - 4);
      const dark = rows[row]?.[column] === "1";
      grey[(top + y) * width + left + x] = dark ? 30 : 225;
    }
  }
  return grey;
}

// A video of one tag after a moment of bare wall, as the fake camera plays it over and over
// (YUV4MPEG2, 4:2:0), in a folder of its own.
export function video(tag, how) {
  return film(Array(9).fill(tag), how);
}

// The same of several codes, one a frame.
export async function film(all, { width = 640, height = 480, module = 5, light = 1 } = {}) {
  const folder = await mkdtemp(join(tmpdir(), "bothends-camera-"));
  const path = join(folder, "tag.y4m");
  const colour = Buffer.alloc((width * height) / 2, 128);
  const lit = (grey) => grey.map((tone) => tone * light);
  const frame = (grey) => Buffer.concat([Buffer.from("FRAME\n"), lit(grey), colour]);
  const wall = frame(new Uint8Array(width * height).fill(120));
  const seen = all.map((tag) => frame(picture(tag, width, height, module)));
  const head = Buffer.from(`YUV4MPEG2 W${width} H${height} F10:1 Ip A1:1 C420\n`);
  await writeFile(path, Buffer.concat([head, wall, ...seen]));
  return { path, remove: () => rm(folder, { recursive: true, force: true }) };
}

// The same tag as a photograph (PNG, ISO/IEC 15948: grey, 8 bits).
export function photograph(tag, { width = 1600, height = 1200, module = 9 } = {}) {
  const grey = picture(tag, width, height, module);
  const lines = Buffer.alloc((width + 1) * height);
  for (let y = 0; y < height; y += 1) {
    lines.set(grey.subarray(y * width, (y + 1) * width), y * (width + 1) + 1);
  }
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, 0, 0, 0, 0], 8);
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk("IHDR", header),
    chunk("IDAT", deflateSync(lines)),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

function chunk(name, data) {
  const body = Buffer.concat([Buffer.from(name), data]);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(data.length);
  const check = Buffer.alloc(4);
  check.writeUInt32BE(crc(body));
  return Buffer.concat([length, body, check]);
}

// ISO/IEC 15948, annex D.
function crc(bytes) {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) {
      crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
    }
  }
  return (crc ^ 0xffffffff) >>> 0;
}
