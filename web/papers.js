// Papers are made in a thread of their own, so that the screen never waits for them. This script is
// both sides: the page loads it to ask, and starts it once more as the thread that answers.

import { compiled } from "./%COMPILED%";

let worker;
let waiting;

// Does one thing with an order: "look", "pdf", "texts", "svg", "png" or "series". `told` hears how many pages
// of how many are made. Whatever was under way is given up.
export async function papers(parts, what, order, told) {
  giveUp();
  const answer = new Promise((resolve, reject) => {
    waiting = { resolve, reject };
  });
  const mine = waiting;
  try {
    const module = await compiled(parts.wasm);
    if (waiting === mine) {
      begin(module, parts.script, what, order, told);
    }
  } catch (error) {
    mine.reject(error);
  }
  const made = await answer;
  return what === "png" ? drawn(made) : made;
}

// Gives up what is under way; whoever waits for it hears nothing any more.
export function giveUp() {
  waiting?.resolve(undefined);
  waiting = undefined;
  if (worker?.busy) {
    worker.terminate();
    worker = undefined;
  }
}

function begin(module, script, what, order, told) {
  worker ??= new Worker(import.meta.url, { type: "module" });
  worker.busy = true;
  const { resolve, reject } = waiting;
  worker.onmessage = ({ data }) => {
    if (data.made === undefined && data.failed === undefined) {
      told(data.page, data.pages);
      return;
    }
    worker.busy = false;
    if (data.failed === undefined) {
      resolve(data.made);
    } else {
      worker.terminate();
      worker = undefined;
      reject(new Error(data.failed));
    }
  };
  worker.onerror = (event) => {
    worker?.terminate();
    worker = undefined;
    reject(new Error(event.message));
  };
  worker.postMessage({ module, script, what, order });
}

// An SVG in millimetres as a picture with the dots of the printer, which says how large it is: whoever
// prints it at its own size gets the millimetres, and each module whole dots.
async function drawn({ svg, perInch }) {
  const image = new Image();
  image.src = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
  try {
    await image.decode();
    const [width, height] = ["width", "height"].map((side) => {
      const length = new RegExp(` ${side}="([\\d.]+)mm"`).exec(svg);
      return Math.round((Number(length?.[1] ?? 25.4) / 25.4) * perInch);
    });
    const canvas = Object.assign(document.createElement("canvas"), { width, height });
    canvas.getContext("2d").drawImage(image, 0, 0, width, height);
    const blob = await new Promise((done) => canvas.toBlob(done, "image/png"));
    return measured(new Uint8Array(await blob.arrayBuffer()), Math.round(perInch / 0.0254));
  } finally {
    URL.revokeObjectURL(image.src);
  }
}

// A PNG with the chunk that says how many pixels a metre has (ISO/IEC 15948, 11.3.5.3), behind its
// first chunk, which ends at byte 33.
function measured(png, perMetre) {
  const chunk = new Uint8Array(21);
  const view = new DataView(chunk.buffer);
  view.setUint32(0, 9);
  chunk.set([0x70, 0x48, 0x59, 0x73], 4);
  view.setUint32(8, perMetre);
  view.setUint32(12, perMetre);
  // The unit is the metre.
  chunk[16] = 1;
  view.setUint32(17, checked(chunk.subarray(4, 17)));
  return joined([png.subarray(0, 33), chunk, png.subarray(33)]);
}

function joined(parts) {
  const whole = new Uint8Array(parts.reduce((length, part) => length + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

// The check sum of a chunk (ISO/IEC 15948, annex D).
function checked(bytes) {
  let sum = 0xffffffff;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit += 1) {
      sum = (sum >>> 1) ^ (sum & 1 ? 0xedb88320 : 0);
    }
  }
  return ~sum >>> 0;
}

// From here on: the thread.

let ready;

async function answer({ module, script, what, order }) {
  ready ??= import(new URL(script, import.meta.url)).then(async (made) => {
    await made.default({ module_or_path: module });
    return made;
  });
  const part = await ready;
  switch (what) {
    case "look":
      return part.look(order);
    case "texts":
      return part.texts(order);
    case "series":
      return part.series(order);
    case "pdf":
      return pdf(part, order);
    case "png":
      return { svg: part.single(order), perInch: part.dots(order) };
    default:
      return part.single(order);
  }
}

async function pdf(part, order) {
  const pages = part.begin(order);
  let last = performance.now();
  for (let page = 1; part.step(); page += 1) {
    // Now and then, so that telling costs less than making.
    if (performance.now() - last > 100) {
      postMessage({ page, pages });
      last = performance.now();
    }
  }
  return part.finish();
}

if (globalThis.document === undefined) {
  addEventListener("message", async ({ data }) => {
    try {
      postMessage({ made: await answer(data) });
    } catch (error) {
      postMessage({ failed: String(error?.message ?? error) });
    }
  });
}
