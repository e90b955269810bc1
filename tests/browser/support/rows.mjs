// Rows for the table at the end of `cargo xtask bench`, which names a file for them and says in `rows.rs` how
// they are written.

import { appendFileSync } from "node:fs";

/** Adds a row, where somebody makes a table. */
export function row(what, figure, { beside = "-", goal = "-", met = true } = {}) {
  const file = process.env.BOTHENDS_ROWS;
  if (file !== undefined) {
    appendFileSync(file, `${what}\t${beside}\t${met ? goal : `${goal}: MISSED`}\tfigure=${figure}\n`);
  }
}

/** Ours, another's, and ours as a share of it. */
export function ratio(ours, theirs, told = String) {
  const both = `${told(ours)} : ${told(theirs)}`;
  return theirs === 0 ? both : `${both} = **${(ours / theirs).toFixed(3)}**`;
}
