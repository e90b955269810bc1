// Papers are made in a thread of their own, so that the screen never waits for them. This script is
// both sides: the page loads it to ask, and starts it once more as the thread that answers.

import { compiled } from "./%COMPILED%";

let worker;
let waiting;

// Does one thing with an order: "look", "pdf", "texts", "svg" or "png". `told` hears how many pages
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

// An SVG in millimetres as a picture of 600 dots to the inch.
async function drawn(svg) {
  const image = new Image();
  image.src = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
  try {
    await image.decode();
    const [width, height] = ["width", "height"].map((side) => {
      const length = new RegExp(` ${side}="([\\d.]+)mm"`).exec(svg);
      return Math.round((Number(length?.[1] ?? 25.4) / 25.4) * 600);
    });
    const canvas = Object.assign(document.createElement("canvas"), { width, height });
    canvas.getContext("2d").drawImage(image, 0, 0, width, height);
    const blob = await new Promise((done) => canvas.toBlob(done, "image/png"));
    return new Uint8Array(await blob.arrayBuffer());
  } finally {
    URL.revokeObjectURL(image.src);
  }
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
    case "pdf":
      return pdf(part, order);
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
