// Reads the records straight from the browser's storage and offers them as files. No wasm, so that
// it works when the app does not. It only reads.
//
// Each job gives a job file without the last line, whose digests are not computed here: the app takes
// it in, and says that the end is missing.

import { openRecords, readStore } from "./%RECORDS%";

// How many pictures are read and saved at one tap: many more at once would fill the memory.
const AT_ONCE = 10;

// Fills `host` with what was found and with buttons to take it away.
export async function offerRecords(host) {
  let records;
  let pictures;
  try {
    records = await readRecords();
    pictures = await readPictures();
  } catch (error) {
    say(host, `The records could not be read: ${error?.message ?? error}. They have not been changed. Close other tabs with Bothends and open this page again.`);
    return;
  }
  if (records === null) {
    say(host, "There are no records of Bothends in this browser on this device.");
    return;
  }
  const count = (number, one, many) => `${number} ${number === 1 ? one : many}`;
  const lines = records.reduce((sum, job) => sum + job.lines, 0);
  say(host, `Found ${count(records.length, "job", "jobs")} with ${count(lines, "record", "records")}.`);
  const day = new Date().toISOString().slice(0, 10);
  for (const { job, name, text } of records) {
    const file = new File([text], `bothends-records-${job}-${day}.txt`, { type: "text/plain" });
    // An app on an Apple home screen ignores downloads; there only sharing gets a file out.
    if (navigator.standalone !== true) {
      host.append(saveLink(file, name));
    }
    if (navigator.canShare?.({ files: [file] })) {
      host.append(shareButton(host, [file], name));
    }
  }
  offerPictures(host, pictures);
}

// Ten at a tap, one lot after the other.
function offerPictures(host, keys, from = 0) {
  const some = keys.slice(from, from + AT_ONCE);
  if (some.length === 0) {
    return;
  }
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = `Save pictures ${from + 1} to ${from + some.length} of ${keys.length}`;
  button.addEventListener("click", async () => {
    const values = await readPictures(some);
    const files = values.map((value, at) => new File([value], `bothends-picture-${some[at][2].slice(0, 12)}.jpg`, { type: "image/jpeg" }));
    button.remove();
    if (navigator.standalone === true) {
      host.append(shareButton(host, files, "these pictures"));
    } else {
      files.forEach((file) => saveLink(file, "").click());
    }
    offerPictures(host, keys, from + AT_ONCE);
  });
  host.append(button);
}

function say(host, sentence) {
  const paragraph = document.createElement("p");
  paragraph.setAttribute("role", "status");
  paragraph.textContent = sentence;
  host.replaceChildren(paragraph);
}

function saveLink(file, name) {
  const link = document.createElement("a");
  link.className = "button";
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.textContent = `Save ${name} as a file`;
  return link;
}

function shareButton(host, files, name) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = `Share ${name}`;
  button.addEventListener("click", async () => {
    try {
      await navigator.share({ files });
    } catch (error) {
      if (error.name !== "AbortError") {
        const paragraph = document.createElement("p");
        paragraph.textContent = `Sharing did not work: ${error.message}`;
        host.append(paragraph);
      }
    }
  });
  return button;
}

// The records, job by job as { job, name, lines, text }, or null where nothing was ever stored.
export async function readRecords() {
  const database = await openRecords();
  if (database === null) {
    return null;
  }
  try {
    const jobs = await readStore(database, "jobs");
    const acts = await readStore(database, "acts");
    return byJob(jobs, acts);
  } finally {
    database.close();
  }
}

// The keys of all pictures, or what is stored under some of them.
async function readPictures(keys) {
  const database = await openRecords();
  if (!database?.objectStoreNames.contains("pictures")) {
    database?.close();
    return [];
  }
  try {
    const store = database.transaction("pictures", "readonly").objectStore("pictures");
    const answer = (request) =>
      new Promise((found, failed) => {
        request.onsuccess = () => found(request.result);
        request.onerror = () => failed(request.error);
      });
    if (keys) {
      return await Promise.all(keys.map((key) => answer(store.get(key))));
    }
    return (await answer(store.getAllKeys())).filter((key) => key[1] === "whole");
  } finally {
    database.close();
  }
}

function byJob(jobs, acts) {
  const groups = new Map(jobs.map(({ key, value }) => [key, { name: String(value), lines: [] }]));
  for (const { key, value } of acts) {
    const job = Array.isArray(key) ? key[0] : key;
    if (!groups.has(job)) {
      groups.set(job, { name: "", lines: [] });
    }
    groups.get(job).lines.push(...linesOf(key, value));
  }
  return [...groups].map(([job, { name, lines }]) => {
    const header = JSON.stringify({ format: "bothends-job", version: 1, job, name });
    const text = [header, ...lines, ""].join("\n");
    return { job, name: name === "" ? `job ${job}` : name, lines: lines.length, text };
  });
}

// The stored text as it is, or the bytes of one. Anything else is kept too, marked as what it is.
function linesOf(key, value) {
  const text = value instanceof ArrayBuffer ? new TextDecoder().decode(value) : value;
  if (typeof text === "string") {
    return text.split("\n").filter((line) => line !== "");
  }
  return [JSON.stringify({ notText: { key, value } })];
}

const page = document.querySelector("[data-rescue]");
if (page) {
  offerRecords(page);
}
