// The page as Lighthouse judges it, beside a page without anything on the same host: `cargo xtask bench
// page`, which installs Lighthouse and names it here, and starts the host.

import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const [folder, app, plain] = process.argv.slice(2);
const ROUNDS = 5;
const CATEGORIES = ["performance", "accessibility", "best-practices"];
const TIMES = ["first-contentful-paint", "largest-contentful-paint", "total-blocking-time", "cumulative-layout-shift", "speed-index"];
const LEAST = { performance: 97, accessibility: 100, "best-practices": 100 };
// How far the app may stand below the plain page.
const BELOW = 2;

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
    scores: Object.fromEntries(
      CATEGORIES.map((name) => [name, rounds.map(({ categories }) => Math.round(categories[name].score * 100))]),
    ),
    times: Object.fromEntries(TIMES.map((name) => [name, middle(rounds.map(({ audits }) => audits[name].numericValue))])),
    wrong: [...wrong],
  };
}

const beside = await judged(plain);
const ours = await judged(app);
console.log(`\nLighthouse ${ours.version}, as it is set for a phone, the median of ${ROUNDS}\n`);
console.log("| what | the app | each of them | a page of one sentence |\n| --- | --- | --- | --- |");
for (const name of CATEGORIES) {
  console.log(`| ${name} | ${middle(ours.scores[name])} | ${ours.scores[name].join(", ")} | ${middle(beside.scores[name])} |`);
}
for (const name of TIMES) {
  const value = (of) => (name === "cumulative-layout-shift" ? of.times[name].toFixed(3) : `${Math.round(of.times[name])} ms`);
  console.log(`| ${name} | ${value(ours)} | | ${value(beside)} |`);
}
for (const line of ours.wrong) console.log(`remarked: ${line}`);

const missed = CATEGORIES.filter((name) => middle(ours.scores[name]) < LEAST[name]);
if (middle(ours.scores.performance) < middle(beside.scores.performance) - BELOW) missed.push("performance beside the plain page");
if (missed.length > 0) {
  console.error(`below the goal: ${missed.join(", ")}`);
  process.exitCode = 1;
}
