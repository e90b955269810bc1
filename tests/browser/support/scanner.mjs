// The reader of tags as the browser has it: its wasm module of the build, run by node.

import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

const MORE = 0;
const FOUND = 1;

let loaded = 0;

/** The functions of the module in a folder as `cargo xtask dist` writes it, each time a fresh one. */
export async function scanner(dist) {
  const files = readdirSync(dist);
  const path = (ending) => join(dist, files.find((name) => name.startsWith("scanner-") && name.endsWith(ending)));
  loaded += 1;
  const script = Buffer.from(`${readFileSync(path(".js"), "utf8")}\n// ${loaded}`);
  const part = await import(`data:text/javascript;base64,${script.toString("base64")}`);
  await part.default({ module_or_path: readFileSync(path(".wasm")) });
  return part;
}

/** What is read on a picture within so many steps, and how long it took. */
export function read(part, { width, height, grey }, most = Infinity) {
  const begun = performance.now();
  part.begin(width, height, grey);
  let steps = 0;
  let state = MORE;
  while (state === MORE && steps < most) {
    state = part.step();
    steps += 1;
  }
  const took = performance.now() - begun;
  const text = state === FOUND ? part.text() : undefined;
  return { text, took, steps };
}

/** A binary grey map (PGM, P5) as `cargo run --example tag_photographs` writes it. */
export function picture(path) {
  const bytes = readFileSync(path);
  const [head, width, height] = /^P5\n(\d+) (\d+)\n255\n/.exec(bytes.toString("latin1", 0, 40));
  return { width: Number(width), height: Number(height), grey: bytes.subarray(head.length) };
}

/** The photographs of a folder, each with what must be read on it. */
export function photographs(folder) {
  const lines = readFileSync(join(folder, "list.tsv"), "utf8").trimEnd().split("\n");
  return lines.map((line) => {
    const [at, kind, step, text] = line.split("\t");
    return { at, kind, step: Number(step), text: text || undefined, path: join(folder, `${at}.pgm`) };
  });
}

/** The value below which such a share of the values lies. */
export function share(values, part) {
  const sorted = values.toSorted((one, other) => one - other);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * part))] ?? 0;
}
