// The camera and the reading of tags. This script is both sides: the page loads it to look, and
// starts it once more as the thread that reads, so that the screen never waits for a frame.

import { compiled } from "./%COMPILED%";

// What a frame is read at: more is slower, less does not show the modules of a small tag.
const WIDTH = 960;
const HEIGHT = 720;
// How large the camera is asked to see.
const SIZE = { width: { ideal: 1280 }, height: { ideal: 960 } };
// How long the reader may take over one frame before it looks at a fresh one, in milliseconds.
const PATIENCE = 60;
// A tag that stays in view is told once; one that is still there when somebody scans on counts again
// after so long, in milliseconds, and one that was away for so long at once.
const SAME = 2500;
const AWAY = 400;
// A camera that was put aside stays awake so long: waking it takes a second, and some systems ask
// for leave each time.
const AWAKE = 12_000;

let stream;
// What was asked of it: whether its light burns, and how many times as large it shows things.
let lit = false;
let times = 1;
let wanted = false;
let rest;
let lock;
let tell = () => {};

// Does one thing with the camera: "start" with the id of the camera that was used last, "anew" before it
// where a tag that was told already counts again, "stop",
// "torch", "zoom"; or looks for a tag in the bytes of a picture, "photo"; or gives the text that
// a whole series of codes carried, "unpack". `told` hears of what is seen:
// "read" and texts, "hint" and why nothing is read ("far", "dark", or nothing), "ended".
export async function scan(parts, what, given, told) {
  switch (what) {
    case "start":
      tell = told;
      readyToSound();
      return start(parts, given);
    case "anew":
      anew = true;
      return "";
    case "stop":
      stop();
      return "";
    case "torch":
      lit = given;
      return set();
    case "zoom":
      times = given;
      return set();
    case "unpack":
      return unpack(parts, given);
    default:
      return photo(parts, given);
  }
}

// A sign for eye, ear and hand: one high tone for a good reading, two low ones for another.
export function signal(good) {
  flash(good);
  navigator.vibrate?.(good ? 80 : [60, 60, 60]);
  readyToSound();
  try {
    beep(good ? 1760 : 330, 0);
    if (!good) {
      beep(330, 0.18);
    }
  } catch {
    // Silence is no fault.
  }
}

let sound;

// Some browsers let nothing sound that was not begun in a tap, as the scanner is.
function readyToSound() {
  try {
    sound ??= new AudioContext();
    sound.resume();
  } catch {
    // Silence is no fault.
  }
}

function beep(pitch, after) {
  const at = sound.currentTime + after;
  const tone = sound.createOscillator();
  const volume = sound.createGain();
  tone.frequency.value = pitch;
  volume.gain.setValueAtTime(0.2, at);
  volume.gain.exponentialRampToValueAtTime(0.001, at + 0.14);
  tone.connect(volume).connect(sound.destination);
  tone.start(at);
  tone.stop(at + 0.15);
}

function flash(good) {
  const sheet = document.createElement("div");
  sheet.className = good ? "flash good" : "flash";
  sheet.setAttribute("aria-hidden", "true");
  sheet.addEventListener("animationend", () => sheet.remove());
  document.body.append(sheet);
  // Where motion is not wanted there is no animation, and no end of it.
  setTimeout(() => sheet.remove(), 400);
}

async function start(parts, lens) {
  wanted = true;
  clearTimeout(rest);
  const compiling = compiled(parts.wasm);
  const track = stream?.getVideoTracks()[0];
  const isOther = lens !== "" && track?.getSettings().deviceId !== lens;
  if (track === undefined || track.readyState === "ended" || isOther) {
    close();
    stream = await open(lens);
    stream.getVideoTracks()[0].addEventListener("ended", () => {
      stream = undefined;
      tell("ended", "");
    });
  }
  if (!wanted) {
    stop();
    return "";
  }
  keepBright();
  // Somebody who goes from tag to tag in a dark cellar has the light again that burned before.
  if (lit || times > 1) {
    await set();
  }
  compiling.then((module) => look(module, parts.script)).catch(() => tell("broken", ""));
  return abilities();
}

async function open(lens) {
  if (navigator.mediaDevices === undefined) {
    throw new DOMException("no camera can be reached here", "NotFoundError");
  }
  const ask = (which) => navigator.mediaDevices.getUserMedia({ video: { ...SIZE, ...which } });
  if (lens !== "") {
    try {
      return await ask({ deviceId: { exact: lens } });
    } catch (error) {
      // The camera that was used last may be gone; that it is not allowed is another matter.
      if (error.name !== "OverconstrainedError" && error.name !== "NotFoundError") {
        throw error;
      }
    }
  }
  return ask({ facingMode: "environment" });
}

// What the camera can do, a line each, as the app reads it.
async function abilities() {
  const track = stream.getVideoTracks()[0];
  const can = track.getCapabilities?.() ?? {};
  const known = await navigator.mediaDevices.enumerateDevices();
  const lenses = known.filter(({ kind, deviceId }) => kind === "videoinput" && deviceId !== "");
  const now = track.getSettings().deviceId;
  const words = [can.torch && "torch", lit && "lit", can.zoom?.max > can.zoom?.min && `zoom ${times}`];
  const line = ({ deviceId, label }) =>
    [deviceId, label.replace(/\s/g, " "), deviceId === now ? "*" : ""].join("\t");
  return [words.filter(Boolean).join(" "), ...lenses.map(line)].join("\n");
}

// Asks of the camera all that was asked so far: a new wish takes the place of every former one, of the size too.
// Where it cannot be had, tags are read without.
async function set(torch = lit) {
  const track = stream?.getVideoTracks()[0];
  const can = track?.getCapabilities?.() ?? {};
  const wishes = [can.torch && { torch }, can.zoom && { zoom: zoomed(can.zoom) }];
  await track?.applyConstraints({ ...SIZE, advanced: wishes.filter(Boolean) }).catch(() => {});
  return "";
}

// The zoom that makes things so many times as large, as far as the camera goes.
function zoomed({ min, max }) {
  return Math.min(Math.max(min, 1) * times, max);
}

function stop() {
  wanted = false;
  asleep = false;
  clearTimeout(rest);
  rest = setTimeout(close, AWAKE);
  // What is looked up is read without it, and whoever stands in it is not to be dazzled.
  if (lit) {
    set(false);
  }
  lock?.then((held) => held.release()).catch(() => {});
  lock = undefined;
}

function close() {
  for (const track of stream?.getTracks() ?? []) {
    track.stop();
  }
  stream = undefined;
  lit = false;
  times = 1;
}

// Whoever stops while the lock is on its way gives it back as well, so what is held is the promise of it. The
// browser takes it back from a page that is put away.
function keepBright() {
  if (lock !== undefined) {
    return;
  }
  const asked = navigator.wakeLock?.request("screen");
  lock = asked;
  const forgo = () => {
    lock = lock === asked ? undefined : lock;
  };
  // Where it is refused the screen grows dark; nothing is lost.
  asked?.then((held) => held.addEventListener("release", forgo)).catch(forgo);
}

// A screen that is put away needs no camera, and gets it back when it returns.
let asleep = false;

function putAway() {
  if (document.hidden && stream !== undefined) {
    close();
    asleep = wanted;
    wanted = false;
  } else if (!document.hidden && asleep) {
    asleep = false;
    tell("ended", "");
  }
}

let looking = false;
// The tag that was told last, and from when on it counts again although it stayed in view.
let last = "";
let until = 0;
// Somebody comes anew, and is answered at once.
let anew = false;

async function look(module, script) {
  // The tag that was read last may still be in view, and so may its last frame be on its way.
  until = performance.now() + SAME;
  if (anew) {
    last = "";
    anew = false;
  }
  if (looking) {
    return;
  }
  looking = true;
  let seenAt = until;
  let hint = "";
  try {
    while (wanted && stream !== undefined) {
      const video = document.getElementById("scan-video");
      const frame = video === null ? undefined : await grabbed(video);
      if (frame === undefined) {
        await new Promise((done) => setTimeout(done, 30));
        continue;
      }
      const { texts, small, dark, failed } = await read(module, script, frame);
      if (failed) {
        tell("broken", "");
        return;
      }
      if (!wanted) {
        break;
      }
      const now = small ? "far" : dark ? "dark" : "";
      if (now !== hint) {
        hint = now;
        tell("hint", hint);
      }
      const text = texts[0] ?? "";
      const time = performance.now();
      if (text !== "" && (text !== last || time > until)) {
        last = text;
        until = Infinity;
        // A line each: a text that brings lines of its own does not pass for several.
        tell("read", texts.map((text) => text.replace(/[\r\n]/g, "\u2424")).join("\n"));
      }
      if (text !== "") {
        seenAt = time;
      } else if (time - seenAt > AWAY) {
        last = "";
      }
    }
  } finally {
    looking = false;
  }
}

// The next frame, the middle of it as large as it is read at.
async function grabbed(video) {
  if (video.srcObject !== stream) {
    video.muted = true;
    video.srcObject = stream;
    await video.play().catch(() => {});
  }
  if (video.readyState < 2) {
    return undefined;
  }
  await fresh(video);
  return drawn(video, video.videoWidth, video.videoHeight, WIDTH, HEIGHT);
}

function fresh(video) {
  return new Promise((done) => {
    if (video.requestVideoFrameCallback === undefined) {
      requestAnimationFrame(done);
    } else {
      video.requestVideoFrameCallback(done);
      setTimeout(done, 250);
    }
  });
}

// A picture drawn so that it covers a field, and cut to it.
function drawn(image, width, height, wide, high) {
  if (width === 0 || height === 0) {
    return undefined;
  }
  const [w, h] = width < height ? [high, wide] : [wide, high];
  Object.assign(canvas, { width: w, height: h });
  const ink = canvas.getContext("2d", { willReadFrequently: true });
  const scale = Math.max(w / width, h / height);
  const [sw, sh] = [width * scale, height * scale];
  ink.drawImage(image, (w - sw) / 2, (h - sh) / 2, sw, sh);
  return ink.getImageData(0, 0, w, h);
}

// A whole picture, no side longer than so many dots.
function whole(image, longest) {
  const scale = Math.min(1, longest / Math.max(image.width, image.height));
  const [w, h] = [image.width, image.height].map((side) => Math.max(1, Math.round(side * scale)));
  Object.assign(canvas, { width: w, height: h });
  const ink = canvas.getContext("2d", { willReadFrequently: true });
  ink.drawImage(image, 0, 0, w, h);
  return ink.getImageData(0, 0, w, h);
}

// What stands on a tag in a photograph: looked at in several sizes, whole and from near.
async function photo(parts, bytes) {
  const module = await compiled(parts.wasm);
  const image = await createImageBitmap(new Blob([bytes]));
  try {
    let strange;
    for (const longest of [1280, 800, 2400, 500]) {
      const { texts } = await read(module, parts.script, whole(image, longest), 1500);
      if (texts.some(ours)) {
        return texts.find(ours);
      }
      strange ??= texts[0];
    }
    return strange;
  } finally {
    image.close();
  }
}

// The text that a whole series of codes carried; nothing where it is no text.
async function unpack(parts, packed) {
  const module = await compiled(parts.wasm);
  const { text, failed } = await ask({ module, script: parts.script, packed });
  if (failed) {
    throw new Error("the reader of codes stopped");
  }
  return text;
}

let worker;
let answers = [];

// Has a frame read in the other thread.
function read(module, script, frame, patience = PATIENCE) {
  const { width, height, data } = frame;
  return ask({ module, script, width, height, data: data.buffer, patience }, [data.buffer]);
}

function ask(question, given = []) {
  worker ??= made();
  const answer = new Promise((resolve) => answers.push(resolve));
  worker.postMessage(question, given);
  return answer;
}

function made() {
  const worker = new Worker(import.meta.url, { type: "module" });
  worker.onmessage = ({ data }) => answers.shift()?.(data);
  worker.onerror = forget;
  return worker;
}

// A reader that failed is started anew with the next frame.
function forget() {
  worker?.terminate();
  worker = undefined;
  for (const answer of answers.splice(0)) {
    answer({ texts: [], small: false, failed: true });
  }
}

// From here on: the thread.

let ready;
let native;

async function detector() {
  try {
    const formats = await BarcodeDetector.getSupportedFormats();
    return formats.includes("qr_code") ? new BarcodeDetector({ formats: ["qr_code"] }) : undefined;
  } catch {
    return undefined;
  }
}

// Whether a text may be a tag of ours, or one of a series of codes. It only spares the second opinion;
// what a text is, the app decides.
const ours = (text) => /[ /][0-9A-Z]{8}$|^BOTHENDS/.test(text);

// The browser's own detector first, where there is one. Ours is the second opinion wherever that
// sees no tag of ours: it reads smaller and worse ones, and a strange code may stand beside the tag.
async function answer({ module, script, width, height, data, patience, packed }) {
  ready ??= import(new URL(script, import.meta.url)).then(async (made) => {
    await made.default({ module_or_path: module });
    return made;
  });
  native ??= detector();
  const part = await ready;
  if (packed !== undefined) {
    return { text: part.unpack(packed) };
  }
  const dots = new Uint8ClampedArray(data);
  const own = await native;
  let texts = [];
  if (own !== undefined) {
    const found = await own.detect(new ImageData(dots, width, height)).catch(() => []);
    texts = found.map(({ rawValue }) => rawValue).filter((text) => text !== "");
    if (texts.some(ours)) {
      return { texts: texts.toSorted((one, other) => ours(other) - ours(one)), small: false };
    }
  }
  const until = performance.now() + patience;
  part.rgba(width, height, new Uint8Array(data));
  for (;;) {
    const step = part.step();
    if (step === 1) {
      const text = part.text();
      return { texts: [text, ...texts.filter((other) => other !== text)], small: false };
    }
    if (step === 2 || performance.now() > until) {
      return { texts, small: part.too_small(), dark: part.too_dark() };
    }
  }
}

const isThread = globalThis.document === undefined;
const canvas = isThread ? undefined : document.createElement("canvas");

if (!isThread) {
  document.addEventListener("visibilitychange", putAway);
} else {
  addEventListener("message", async ({ data }) => {
    try {
      postMessage(await answer(data));
    } catch {
      postMessage({ texts: [], small: false, failed: true });
    }
  });
}
