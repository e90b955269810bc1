// The page as Lighthouse judges it, beside a page without anything on the same host: `cargo xtask bench
// page`, which installs Lighthouse and names it here, and starts the host.

import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

import { ratio, row } from "./support/rows.mjs";

const [folder, app, plain] = process.argv.slice(2);
const ROUNDS = 5;
const CATEGORIES = ["performance", "accessibility", "best-practices"];
const TIMES = ["first-contentful-paint", "largest-contentful-paint", "total-blocking-time", "cumulative-layout-shift", "speed-index"];
const LEAST = { performance: 97, accessibility: 100, "best-practices": 100 };
// How far the app may stand below the plain page.
const BELOW = 2;
const PLAIN = "a page of one sentence";

// Found from the folder that it was installed in.
const installed = createRequire(join(folder, "package.json"));
const { default: lighthouse } = await import(pathToFileURL(installed.resolve("lighthouse")));
const { launch } = await import(pathToFileURL(installed.resolve("chrome-launcher")));

const middle = (values) => values.toSorted((one, other) => one - other)[values.length >> 1];

async function judged(url) {
  const rounds = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    // A browser and a profile of its own each time, so that every visit is a first one.
    const browser = await launch({
      chromePath: process.env.CHROMIUM,
      chromeFlags: ["--headless=new", "--no-sandbox", "--disable-gpu", "--no-first-run"],
    });
    try {
      const { lhr } = await lighthouse(url, { port: browser.port, onlyCategories: CATEGORIES, logLevel: "error" });
      if (lhr.runtimeError) throw new Error(lhr.runtimeError.message);
      rounds.push(lhr);
    } finally {
      browser.kill();
    }
  }
  const wrong = new Set();
  for (const { categories, audits } of rounds) {
    for (const { id, weight } of CATEGORIES.flatMap((name) => categories[name].auditRefs)) {
      const { score, title, displayValue = "" } = audits[id];
      if (score !== null && score < 0.9 && (weight > 0 || displayValue)) wrong.add(`${id}: ${title} ${displayValue}`.trim());
    }
  }
  return {
    version: rounds[0].lighthouseVersion,
    loop: middle(rounds.map(({ environment }) => environment.benchmarkIndex)),
    scores: Object.fromEntries(
      CATEGORIES.map((name) => [name, rounds.map(({ categories }) => Math.round(categories[name].score * 100))]),
    ),
    times: Object.fromEntries(TIMES.map((name) => [name, middle(rounds.map(({ audits }) => audits[name].numericValue))])),
    wrong: [...wrong],
  };
}

const beside = await judged(plain);
const ours = await judged(app);
const score = (of, name) => middle(of.scores[name]);
const below = CATEGORIES.filter((name) => score(ours, name) < LEAST[name]);
const isBeside = score(ours, "performance") >= score(beside, "performance") - BELOW;

console.log(`\nLighthouse ${ours.version}, as it is set for a phone, the median of ${ROUNDS}\n`);
console.log(`| what | the app | each of them | ${PLAIN} |\n| --- | --- | --- | --- |`);
row("Lighthouse's own loop (its benchmark index)", ratio(ours.loop, beside.loop), { beside: PLAIN });
for (const name of CATEGORIES) {
  console.log(`| ${name} | ${score(ours, name)} | ${ours.scores[name].join(", ")} | ${score(beside, name)} |`);
  row(name, ratio(score(ours, name), score(beside, name)), { beside: PLAIN, goal: LEAST[name], met: !below.includes(name) });
}
row("performance again", `${score(ours, "performance") - score(beside, "performance")}`, {
  beside: `${PLAIN}, taken from it`,
  goal: `at least -${BELOW}`,
  met: isBeside,
});
for (const name of TIMES) {
  const told = (value) => (name === "cumulative-layout-shift" ? value.toFixed(3) : `${Math.round(value)} ms`);
  const [value, theirs] = [ours, beside].map(({ times }) => times[name]);
  console.log(`| ${name} | ${told(value)} | | ${told(theirs)} |`);
  row(name, ratio(value, theirs, told), { beside: PLAIN });
}
for (const line of ours.wrong) console.log(`remarked: ${line}`);

const missed = isBeside ? below : [...below, "performance beside the plain page"];
if (missed.length > 0) {
  console.error(`below the goal: ${missed.join(", ")}`);
  process.exitCode = 1;
}
