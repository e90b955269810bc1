// Checks a page against the rules of WCAG 2.2, levels A and AA, and the contrast of level AAA (7:1), as
// far as a program can.

import { createRequire } from "node:module";
import { readFileSync } from "node:fs";

const SOURCE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const TAGS = ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"];
const STRICTER = ["color-contrast-enhanced"];

// So high that the bar at the bottom covers nothing, which the rules would take for too small a target.
const HIGH = 12_000;

// Fails with one line for each place that breaks a rule.
export async function axe(page) {
  const size = page.viewportSize();
  await page.setViewportSize({ width: size.width, height: HIGH });
  // Long lists draw what can be seen now, one frame later.
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  try {
    await look(page);
  } finally {
    await page.setViewportSize(size);
  }
}

async function look(page) {
  // Evaluated by the debugger, not by a script element, which the page's policy would refuse.
  await page.evaluate(SOURCE);
  const { violations, passes } = await page.evaluate(
    ([tags, stricter]) =>
      globalThis.axe.run(document, {
        runOnly: { type: "tag", values: tags },
        rules: Object.fromEntries(stricter.map((rule) => [rule, { enabled: true }])),
      }),
    [TAGS, STRICTER],
  );
  if (passes.length === 0) {
    throw new Error("axe checked nothing: is the page empty?");
  }
  const lines = violations.flatMap((rule) =>
    rule.nodes.map((node) => `${rule.id} (${rule.impact}): ${rule.help}\n    at ${node.target.join(" ")}\n    ${node.html}`),
  );
  if (lines.length > 0) {
    throw new Error(`${lines.length} places break WCAG rules on ${page.url()}:\n${lines.join("\n")}`);
  }
}
