// The reader of tags in wasm beside others, on photographs: `cargo xtask bench scan`. The others have
// written beside each list what they read.

import { readFileSync } from "node:fs";
import { join } from "node:path";

import { photographs, picture, read, scanner, share } from "./support/scanner.mjs";
import { DIST } from "./support/server.mjs";

const [steps, ...folders] = process.argv.slice(2);
const part = await scanner(DIST);
const OURS = "ours, wasm";
const READERS = [OURS, "zxing-cpp", "ZBar"];
const tables = new Map(READERS.map((name) => [name, { kinds: new Map(), right: 0, wrong: 0 }]));
const all = [];
const good = [];

const count = (name, { kind, step }, verdict) => {
  const table = tables.get(name);
  if (!table.kinds.has(kind)) table.kinds.set(kind, Array(10).fill(0));
  if (verdict === "right") {
    table.kinds.get(kind)[step - 1] += 1;
    table.right += 1;
  }
  if (verdict === "false") table.wrong += 1;
};

for (const folder of folders) {
  const list = photographs(folder);
  for (const photograph of list) {
    const taken = picture(photograph.path);
    const { text, took } = read(part, taken, Number(steps));
    const verdict = text === undefined ? "none" : text === photograph.text ? "right" : "false";
    count(OURS, photograph, verdict);
    if (taken.width === 960 && taken.height === 720) {
      all.push(took);
      if (text !== undefined) good.push(took);
    }
  }
  const others = readFileSync(join(folder, "others.tsv"), "utf8").trimEnd().split("\n");
  for (const line of others) {
    const [at, name, verdict] = line.split("\t");
    count(name, list.find((photograph) => photograph.at === at), verdict);
  }
}

console.log(`\nright answers of ${folders.length} in each step, ${steps} steps of ours at most\n`);
console.log(`| kind | ${READERS.join(" | ")} |\n| --- |${" --- |".repeat(READERS.length)}`);
for (const kind of tables.get(OURS).kinds.keys()) {
  console.log(`| ${kind} | ${READERS.map((name) => tables.get(name).kinds.get(kind).join(" ")).join(" | ")} |`);
}
console.log(`| right | ${READERS.map((name) => tables.get(name).right).join(" | ")} |`);
console.log(`| false | ${READERS.map((name) => tables.get(name).wrong).join(" | ")} |`);
const ms = (values, part) => `${share(values, part).toFixed(1)} ms`;
console.log(`\nours in wasm, 960 by 720: all ${all.length}: median ${ms(all, 0.5)}, p95 ${ms(all, 0.95)}, longest ${ms(all, 1)}`);
console.log(`of these read ${good.length}: median ${ms(good, 0.5)}, p95 ${ms(good, 0.95)}`);
