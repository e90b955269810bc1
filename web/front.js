// The first screen: the jobs on this device, and the ways into one. It is plain JavaScript so that it
// is there before any wasm, and so that what is kept on the phone is the app once and not a second,
// smaller one beside it. Whatever is chosen stands in the address, and the start script brings the
// app for it, which draws the same list by itself from then on.

import { openRecords, readStore } from "./%RECORDS%";

const BLOCKED =
  "This browser does not let the app store anything here. Leave the private window, or allow storage for this page.";

// Draws into an element. When the storage is read and closed, so that nothing here holds up the app
// that is about to open it, gives back how to say whether the app is kept on the device.
export async function drawFront(host) {
  const list = make("div", {}, make("p", { role: "status" }, "Reading …"));
  const kept = make("p", { class: "hint kept", role: "status" });
  document.title = "Jobs on this device · Bothends";
  const page = make(
    "div",
    { class: `app ${theme()}` },
    make(
      "header",
      { class: "top" },
      make("div", { class: "top-row" }, make("p", { class: "above" }, "Bothends")),
      make("h1", { id: "heading", tabindex: "-1" }, "Jobs on this device"),
    ),
    make(
      "main",
      { id: "main", class: "page" },
      list,
      newJob(),
      make("a", { class: "button", href: "#/demo" }, "Look round in the demo job"),
      make("a", { class: "button", href: "#/open" }, "Open a job file"),
      make("a", { class: "button", href: "#/scan" }, "Scan a tag"),
      make("a", { class: "button", href: "./guide.html" }, "The first five minutes, and a page to print for each trade"),
      kept,
    ),
  );
  host.replaceChildren(page);
  await showJobs(list);
  return (words) => kept.replaceChildren(words);
}

async function showJobs(list) {
  try {
    list.replaceChildren(jobList(await jobs()));
  } catch (error) {
    list.replaceChildren(refusal(words(error)));
  }
}

// The jobs as { id, name }; one whose name cannot be read has its id for a name.
async function jobs() {
  const database = await openRecords();
  if (database === null) {
    return [];
  }
  try {
    const rows = await readStore(database, "jobs");
    return rows
      .filter(({ key }) => typeof key === "string")
      .map(({ key, value }) => ({ id: key, name: typeof value === "string" ? value : key }));
  } finally {
    database.close();
  }
}

function jobList(jobs) {
  if (jobs.length === 0) {
    const hint = "No job here yet. Start one below, or look round in the demo job first.";
    return make("div", { class: "empty" }, make("p", {}, hint));
  }
  const rows = jobs.map(({ id, name }) => {
    const twins = jobs.filter((other) => other.name === name).length > 1;
    return make(
      "li",
      { class: "row" },
      make(
        "a",
        { class: "row-button", href: `#/${id}/wall` },
        make("span", { class: "row-text" }, visible(name)),
        // The first characters of the id are the job's key, which stands on its tags.
        twins ? make("span", { class: "row-note" }, `tags with ${id.slice(0, 5)}`) : "",
      ),
    );
  });
  return make("ul", { class: "rows" }, ...rows);
}

function newJob() {
  const field = make("input", {
    id: "field-jobname",
    type: "text",
    autocomplete: "off",
    spellcheck: "false",
    "aria-describedby": "hint-jobname",
  });
  const missing = make("div");
  const form = make(
    "form",
    {},
    make(
      "div",
      { class: "field" },
      make("label", { for: "field-jobname" }, "Name of the job"),
      field,
      make("p", { class: "hint", id: "hint-jobname" }, "The house or the street, as you call it"),
    ),
    missing,
    make("button", { type: "submit", class: "button main" }, "Start this job"),
  );
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const name = field.value.trim();
    if (name === "") {
      field.setAttribute("aria-invalid", "true");
      missing.replaceChildren(refusal("Give the job a name, such as the house or the street."));
      field.focus();
    } else {
      location.hash = `/new/${encodeURIComponent(name)}`;
    }
  });
  field.addEventListener("input", () => field.removeAttribute("aria-invalid"));
  const heading = make("h2", { id: "new-job" }, "New job");
  return make("section", { class: "card", "aria-labelledby": "new-job" }, heading, form);
}

function refusal(sentence) {
  return make("p", { class: "notice refused", role: "alert" }, sentence);
}

// What a failed reading means. Chromium calls a blocked database an unknown error, but refuses local
// storage in plain words.
function words(error) {
  try {
    localStorage.getItem("theme");
  } catch {
    return BLOCKED;
  }
  if (typeof indexedDB === "undefined" || error?.name === "SecurityError") {
    return BLOCKED;
  }
  return `The jobs could not be read: ${error?.message ?? error}. They have not been changed. Close other windows with Bothends, then reload.`;
}

// The theme that the app keeps as a text of JSON; daylight where nothing is kept.
function theme() {
  try {
    return JSON.parse(localStorage.getItem("theme")) ?? "day";
  } catch {
    return "day";
  }
}

// Characters that cannot be seen, as marks; the app shows them alike.
function visible(name) {
  return name.replace(/[\p{Cc}\p{DI}\u2028\u2029\uFFF0-\uFFFB]/gu, (hidden) => {
    const code = hidden.codePointAt(0);
    if (code < 0x20 || code === 0x7f) {
      return String.fromCodePoint(code === 0x7f ? 0x2421 : 0x2400 + code);
    }
    // These only choose how the character before them is drawn.
    const isSelector = /\p{Variation_Selector}/u.test(hidden);
    return isSelector ? hidden : `‹U+${code.toString(16).toUpperCase().padStart(4, "0")}›`;
  });
}

function make(tag, attributes = {}, ...inside) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    element.setAttribute(name, value);
  }
  element.append(...inside);
  return element;
}
