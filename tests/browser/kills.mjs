// Fifty kills of a browser while it stores; at least ten of them must hit an unfinished transaction. Run by
// `cargo xtask long`.

import assert from "node:assert/strict";

import { storm } from "./support/storm.mjs";

const KILLS = 50;

const { promised, unfinished, durabilities } = await storm(KILLS);
assert.deepEqual([...durabilities], ["strict"]);
assert.ok(unfinished >= 10, `only ${unfinished} kills hit an unfinished transaction`);
console.log(
  `${KILLS} kills, ${unfinished} of them during a transaction: all ${promised} rooms that were called saved are there`,
);
