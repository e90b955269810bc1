// The reader of tags in wasm beside others, on photographs: `cargo xtask bench scan`. Ours as a program of its
// own and the others have written beside each list what they read, and how long they took.

import { readFileSync } from "node:fs";
import { join } from "node:path";

import { ratio, row } from "./support/rows.mjs";
import { photographs, picture, read, scanner, share } from "./support/scanner.mjs";
import { DIST } from "./support/server.mjs";

const [steps, ...folders] = process.argv.slice(2);
const part = await scanner(DIST);
const WASM = "ours, wasm";
const OURS = [WASM, "ours, native"];
const OTHERS = ["zxing-cpp", "ZBar"];
const failed = process.env.OTHERS_FAILED;
const tables = new Map([...OURS, ...OTHERS].map((name) => [name, { kinds: new Map(), right: 0, wrong: 0, all: [], good: [] }]));
for (const name of OTHERS) tables.get(name).missing = failed;

// Counts an answer; its time only where the picture is as large as a frame of the camera.
const count = (name, { kind, step, isFrame }, verdict, took) => {
  const table = tables.get(name);
  if (!table.kinds.has(kind)) table.kinds.set(kind, Array(10).fill(0));
  if (verdict === "right") {
    table.kinds.get(kind)[step - 1] += 1;
    table.right += 1;
  }
  if (verdict === "false") table.wrong += 1;
  if (isFrame) {
    table.all.push(took);
    if (verdict !== "none") table.good.push(took);
  }
};

let most = 0;
for (const folder of folders) {
  const list = photographs(folder);
  for (const photograph of list) {
    const taken = picture(photograph.path);
    photograph.isFrame = taken.width === 960 && taken.height === 720;
    if (photograph.text !== undefined) most += 1;
    const { text, took } = read(part, taken, Number(steps));
    const verdict = text === undefined ? "none" : text === photograph.text ? "right" : "false";
    count(WASM, photograph, verdict, took);
  }
  for (const file of failed === undefined ? ["native.tsv", "others.tsv"] : ["native.tsv"]) {
    for (const line of readFileSync(join(folder, file), "utf8").trimEnd().split("\n")) {
      const [at, name, verdict, took] = line.split("\t");
      if (verdict === "missing") tables.get(name).missing = took;
      else count(name, list.find((photograph) => photograph.at === at), verdict, Number(took));
    }
  }
}

const there = OTHERS.filter((name) => tables.get(name).missing === undefined);
const head = (first, names) => console.log(`\n| ${first} | ${names.join(" | ")} |\n| --- |${" --- |".repeat(names.length)}`);
const line = (first, names, cell) => console.log(`| ${first} | ${names.map((name) => cell(tables.get(name))).join(" | ")} |`);
const ms = (time) => `${time.toFixed(1)} ms`;

console.log(`\nright answers of ${folders.length} in each step, ${steps} steps of ours at most`);
const answering = [WASM, ...there];
head("kind", answering);
for (const kind of tables.get(WASM).kinds.keys()) line(kind, answering, ({ kinds }) => kinds.get(kind).join(" "));
line("right", answering, ({ right }) => right);
line("false", answering, ({ wrong }) => wrong);

const timed = [...OURS, ...there];
head("time for a picture of 960 by 720", timed);
for (const [what, of] of [["all", "all"], ["read", "good"]]) {
  line(`${what}: how many`, timed, (table) => table[of].length);
  for (const [name, part] of [["median", 0.5], ["p95", 0.95], ["longest", 1]]) {
    line(`${what}: ${name}`, timed, (table) => ms(share(table[of], part)));
  }
}
for (const name of OTHERS.filter((name) => !there.includes(name))) console.log(`\n${name}: not measured: ${tables.get(name).missing}`);

const ours = tables.get(WASM);
for (const beside of OTHERS) {
  const { missing, right, wrong, all } = tables.get(beside);
  const figure = (made) => (missing === undefined ? made() : `not measured: ${missing.replace(/\s+/g, " ")}`);
  row(`codes read, of ${most}`, figure(() => ratio(ours.right, right)), { beside });
  row("false answers", figure(() => ratio(ours.wrong, wrong)), { beside });
  for (const name of OURS) {
    row(`a picture, median, ${name}`, figure(() => ratio(share(tables.get(name).all, 0.5), share(all, 0.5), ms)), { beside });
  }
}
for (const [what, time, goal] of [
  ["a picture, p95", share(ours.all, 0.95), 60],
  ["a picture that is read, median", share(ours.good, 0.5), 10],
]) {
  row(`${what}, ${WASM}`, ms(time), { goal: `${goal} ms`, met: time <= goal });
}
