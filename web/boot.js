// Starts the app, and takes over in plain JavaScript when it stops.
//
// After a panic the memory of the wasm module may be half changed, so nothing of it may be called
// again. The build puts `bothendsGuard` between the module and everything that JavaScript calls in
// it: once the app has stopped, every call is refused, whoever makes it.

const PARTS = %PARTS%;

// Where the wasm modules are that the app loads later, by the names of their programs.
globalThis.bothendsParts = PARTS;

// The app asks for papers through these two.
globalThis.bothendsPapers = async (...asked) =>
  (await import("./%PAPERS%")).papers(PARTS.papers, ...asked);
globalThis.bothendsGiveUp = async () => (await import("./%PAPERS%")).giveUp();

// And for the camera through these.
globalThis.bothendsScan = async (...asked) =>
  (await import("./%SCAN%")).scan(PARTS.scanner, ...asked);
globalThis.bothendsSignal = async (good) => (await import("./%SCAN%")).signal(good);

// A file that is dropped on the page, or that another app shares with this one, waits here until the app
// takes it: the one address that both parts know.
const ARRIVED = new URL("shared/file", document.baseURI).href;

globalThis.bothendsArrived = async () => {
  const cache = await caches.open("arrived");
  const found = await cache.match(ARRIVED);
  await cache.delete(ARRIVED);
  return found === undefined ? undefined : new Uint8Array(await found.arrayBuffer());
};

const hasFiles = (event) => event.dataTransfer?.types.includes("Files");

addEventListener("dragover", (event) => {
  if (hasFiles(event)) {
    event.preventDefault();
  }
});

addEventListener("drop", async (event) => {
  if (hasFiles(event)) {
    event.preventDefault();
    const file = event.dataTransfer.files[0];
    const cache = await caches.open("arrived");
    await cache.put(ARRIVED, new Response(file));
    location.hash = "#/arrived";
  }
});

let stopped = false;

class Stopped extends Error {}

globalThis.bothendsGuard = (exports) => {
  const guarded = {};
  for (const [name, value] of Object.entries(exports)) {
    guarded[name] = typeof value === "function" ? guardCall(value) : value;
  }
  return guarded;
};

function guardCall(call) {
  return (...given) => {
    if (stopped) {
      throw new Stopped("the app has stopped");
    }
    try {
      return call(...given);
    } catch (error) {
      // Whatever leaves the module as an exception has left its work half done.
      stop("Something in the app went wrong, and it has stopped so that no record is damaged.", error);
      throw error;
    }
  };
}

// The panic hook of the app calls this with its message before the module traps.
globalThis.bothendsFatal = (message) => {
  stop("Something in the app went wrong, and it has stopped so that no record is damaged.", message);
};

function stop(sentence, detail) {
  if (stopped) {
    return;
  }
  stopped = true;
  const typed = [...document.querySelectorAll("input, textarea")]
    .filter((field) => !["checkbox", "radio", "file", "button", "submit", "password"].includes(field.type))
    .map((field) => field.value.trim())
    .filter((text) => text !== "");
  // The screen is drawn when the call that failed has come to its end.
  setTimeout(() => show(sentence, words(detail), typed), 0);
}

// What is known of a fault: its message, which functions of the module were at work, which build it
// was. The build writes down the names of the functions.
function words(detail) {
  const functions = String(detail?.stack ?? "").match(/wasm-function\[\d+\](:0x[0-9a-f]+)?/g) ?? [];
  const build = document.querySelector("meta[name=bothends-build]")?.content;
  return [String(detail?.message ?? detail), ...functions.slice(0, 12), `build ${build}`].join("\n");
}

async function show(sentence, detail, typed) {
  const main = document.createElement("main");
  main.className = "stopped";
  main.append(
    line("h1", "Bothends has stopped"),
    line("p", sentence),
    line("p", "What was saved before is still on this device. Take it out as a file, then open the app again."),
  );
  const records = document.createElement("div");
  records.append(line("p", "Reading the records …"));
  const again = line("button", "Open the app again");
  again.type = "button";
  again.addEventListener("click", () => location.reload());
  main.append(records, again);
  if (typed.length > 0) {
    main.append(line("h2", "What stood in the fields"), ...typed.map((text) => line("p", text)));
  }
  main.append(line("h2", "For whoever mends it"), line("pre", detail));
  document.body.replaceChildren(main);
  document.title = "Bothends has stopped";
  try {
    const rescue = await import("./%RESCUE%");
    await rescue.offerRecords(records);
  } catch {
    const link = line("a", "Take the records out on a page of its own");
    link.href = "./rescue.html";
    records.replaceChildren(link);
  }
}

function line(tag, text) {
  const element = document.createElement(tag);
  element.textContent = text;
  return element;
}

addEventListener("error", (event) => {
  if (event.error instanceof WebAssembly.RuntimeError) {
    stop("Something in the app went wrong, and it has stopped so that no record is damaged.", event.error);
  }
});

addEventListener("unhandledrejection", (event) => {
  if (event.reason instanceof WebAssembly.RuntimeError) {
    stop("Something in the app went wrong, and it has stopped so that no record is damaged.", event.reason);
  }
});

// The name of the program that is the app.
const MAIN = "bothends";

// The list of jobs is drawn without it. Whatever is chosen there stands in the address, and brings
// the app.
function atFront() {
  return location.hash.replace(/^#?\/?/, "") === "";
}

const NOT_ARRIVED =
  "The app could not be started. A part of it has not arrived: the network may have gone before it was all here. Open it again where there is one; if that does not help, this browser is too old for it.";

async function load() {
  try {
    // Both are on their way at once. The page itself preloads neither, since its address says
    // whether they are wanted.
    const wasm = fetch(new URL(PARTS[MAIN].wasm, import.meta.url));
    const module = await import(`./${PARTS[MAIN].script}`);
    await module.default({ module_or_path: wasm });
  } catch (error) {
    stop(NOT_ARRIVED, error);
  }
}

// The first screen, once it is there: how to say on it whether the app is kept.
let front = Promise.resolve();

async function showFront() {
  try {
    const { drawFront } = await import("./%FRONT%");
    return await drawFront(document.getElementById("app"));
  } catch (error) {
    stop(NOT_ARRIVED, error);
    return () => {};
  }
}

// Takes the first screen away for good and starts the app proper.
async function leaveFront() {
  if (atFront()) {
    return;
  }
  removeEventListener("hashchange", leaveFront);
  // It may still be reading, and a store that is open cannot be brought to a new version.
  await front;
  const app = document.createElement("div");
  app.id = "app";
  const main = document.createElement("main");
  main.className = "opening";
  main.append(line("h1", "Bothends"), line("p", "Opening …"));
  app.append(main);
  document.getElementById("app").replaceWith(app);
  await load();
}

async function start() {
  let tell = () => {};
  if (atFront()) {
    addEventListener("hashchange", leaveFront);
    front = showFront();
    tell = await front;
  } else {
    await load();
  }
  try {
    const offline = await import("./%OFFLINE%");
    await offline.keepForOffline(tell);
  } catch (error) {
    tell("It could not be kept on this device, so it needs the network to start.");
    console.warn("Bothends cannot be kept for use without a network:", error);
  }
}

start();
