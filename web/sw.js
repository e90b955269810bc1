// Keeps one whole build of the app for use without a network. The build fills in the list.

const BUILD = "%BUILD%";
const FILES = %FILES%;
// What is fetched once the app is kept, and again at later starts as long as it is missing.
const BESIDE = %BESIDE%;
const PREFIX = "app-";
const CACHE = PREFIX + BUILD;
const LISTED = new Set([...FILES, ...BESIDE].map(([name]) => new URL(name, registration.scope).href));
const INDEX = new URL("index.html", registration.scope).href;
// The pages beside the app, which run no build of it.
const PAGES = ["rescue.html", "guide.html"].map((name) => new URL(name, registration.scope).href);

// A build is kept whole or not at all: one file that is missing or changed fails the install, and
// the version in use stays as it is.
addEventListener("install", (event) => event.waitUntil(keepAll()));

async function keepAll() {
  try {
    const cache = await caches.open(CACHE);
    await Promise.all(FILES.map(([name, digest]) => keep(cache, name, digest)));
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

// Nothing of it is waited for: the app works without. Whoever asks while it is under way waits for that.
let keeping;

function keepBeside() {
  keeping ??= keepWhatIsMissing().finally(() => {
    keeping = undefined;
  });
  return keeping;
}

async function keepWhatIsMissing() {
  const cache = await caches.open(CACHE);
  for (const [name, digest] of BESIDE) {
    if (!(await cache.match(new URL(name, registration.scope).href))) {
      await keep(cache, name, digest);
    }
  }
}

async function keep(cache, name, digest) {
  const address = new URL(name, registration.scope).href;
  const answer = await fetch(address, { cache: "reload" });
  if (!answer.ok) {
    throw new Error(`${name}: the server answered ${answer.status}`);
  }
  const bytes = await answer.arrayBuffer();
  if ((await sha256(bytes)) !== digest) {
    throw new Error(`${name}: not the file that belongs to build ${BUILD}`);
  }
  const type = name.endsWith(".wasm") ? "application/wasm" : answer.headers.get("Content-Type");
  // A new answer, as a browser refuses one that went through a redirect for opening a page.
  await cache.put(address, new Response(bytes, { headers: type ? { "Content-Type": type } : {} }));
}

async function sha256(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

// Where other apps send a file that somebody shares with this one, and where it waits for the app.
const SHARED = new URL("shared", registration.scope).href;
const ARRIVED = new URL("shared/file", registration.scope).href;

async function arrived(request) {
  const file = (await request.formData()).get("file");
  if (file instanceof File) {
    const cache = await caches.open("arrived");
    await cache.put(ARRIVED, new Response(file));
  }
  return Response.redirect(new URL("./#/arrived", registration.scope).href, 303);
}

addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "POST" && request.url === SHARED) {
    event.respondWith(arrived(request));
    return;
  }
  if (request.method !== "GET" || !request.url.startsWith(registration.scope)) {
    return;
  }
  const address = request.url.split(/[?#]/)[0];
  if (request.mode === "navigate") {
    event.respondWith(fromCache(PAGES.includes(address) ? address : INDEX, request));
  } else if (LISTED.has(address)) {
    event.respondWith(fromCache(address, request));
  } else if (/-[0-9a-f]{12}\.\w+$/.test(address)) {
    // A page of an older build that is still open asks for one of its own files.
    event.respondWith(fromCache(address, request));
  }
});

async function fromCache(address, request) {
  const own = await caches.open(CACHE);
  return (await own.match(address)) ?? (await caches.match(address)) ?? fetch(request);
}

addEventListener("message", (event) => {
  if (event.data === "SKIP_WAITING") {
    skipWaiting();
  } else if (event.data === "TIDY") {
    event.waitUntil(tidy());
    event.waitUntil(keepBeside().catch(() => {}));
  } else if (event.data === "KEPT") {
    const answer = (kept) => event.ports[0].postMessage(kept);
    event.waitUntil(keepBeside().then(() => answer(true), () => answer(false)));
  }
});

addEventListener("activate", (event) => event.waitUntil(takeOver()));

// At the very first visit the open page is taken over at once, so that the parts it loads later
// come from here even if the network goes away before anybody reloads.
async function takeOver() {
  const names = await caches.keys();
  if (names.filter((name) => name.startsWith(PREFIX)).length === 1) {
    await clients.claim();
  }
  await tidy();
  await keepBeside().catch(() => {});
}

// Deletes the files of other builds, but only when no open page runs one of them. A page that does
// not answer counts as one that does. Pages ask for this again at each start.
async function tidy() {
  if (registration.waiting || registration.installing) {
    return;
  }
  const pages = await clients.matchAll({ type: "window", includeUncontrolled: true });
  const builds = await Promise.all(pages.filter((page) => !PAGES.includes(page.url.split(/[?#]/)[0])).map(buildOf));
  if (builds.some((build) => build !== BUILD)) {
    return;
  }
  const names = await caches.keys();
  const older = names.filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(older.map((name) => caches.delete(name)));
}

function buildOf(page) {
  return new Promise((answer) => {
    const channel = new MessageChannel();
    const late = setTimeout(() => answer(null), 2000);
    channel.port1.onmessage = (event) => {
      clearTimeout(late);
      answer(event.data);
    };
    page.postMessage("WHICH_BUILD", [channel.port2]);
  });
}
