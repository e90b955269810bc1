// Puts a job into the browser's storage, as lines that the commands wrote natively.

import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";

import { fillStorage } from "./storage.mjs";

// The job of `tests/mill.rs`, as tests/app/rack_job.rs writes it.
export const RACK_JOB = { id: "9NGQ4WKFDXS20K8D", name: "Marrowby Mill", file: "rack-job.txt" };

// Stores a job behind the app's back; open the app once before, so that its page is there.
export async function putJob(page, { id, name, file }) {
  const text = await readFile(new URL(`../fixtures/${file}`, import.meta.url), "utf8");
  await putLines(page, { id, name, lines: text.split("\n").filter((line) => line !== "") });
}

// The same with a job's lines, each stored singly.
export async function putLines(page, { id, name, lines }) {
  const acts = lines.map((line) => {
    const { writer, n } = JSON.parse(line);
    const hash = createHash("sha256").update(line).digest("hex").slice(0, 8);
    return [[id, writer, n, hash], line];
  });
  await fillStorage(page, { jobs: { [id]: name }, acts });
}
