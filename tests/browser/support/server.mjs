// A static host on this machine: right types, compressed forms, a sub-path, and a switch.

import { createServer } from "node:http";
import { readFile } from "node:fs/promises";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";

const TYPES = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".wasm": "application/wasm",
  ".webmanifest": "application/manifest+json",
  ".png": "image/png",
};

const fromRoot = (path) => fileURLToPath(new URL(`../../../${path}`, import.meta.url));

// The build under test, and the same app as a later build.
export const DIST = process.env.BOTHENDS_DIST ?? fromRoot("dist");
export const DIST_NEXT = process.env.BOTHENDS_DIST_NEXT ?? fromRoot("target/dist-next");

// Starts a host that serves `folder` under `base`. It can be given another folder (a new version
// put on the host), told to damage one file, stopped and started again on the same port.
export async function startHost({ folder = DIST, base = "/mill/" } = {}) {
  const host = {
    folder,
    // Takes a file's name and its bytes, and gives the bytes to send.
    damage: (_name, bytes) => bytes,
    // What was asked for, as { name, status }.
    requests: [],
  };
  let server;
  let port = 0;

  host.start = async () => {
    server = createServer((request, response) => void answer(host, base, request, response));
    await new Promise((ready, failed) => server.once("error", failed).listen(port, "127.0.0.1", ready));
    port = server.address().port;
    host.origin = `http://localhost:${port}`;
    host.url = host.origin + base;
  };
  host.stop = async () => {
    const closed = new Promise((done) => server.close(done));
    server.closeAllConnections();
    await closed;
  };
  await host.start();
  return host;
}

async function answer(host, base, request, response) {
  const path = decodeURIComponent(new URL(request.url, "http://localhost").pathname);
  const name = path === base ? "index.html" : path.slice(base.length);
  const inside = path.startsWith(base) && !name.split("/").includes("..");
  const found = inside ? await read(host.folder, name, request.headers["accept-encoding"] ?? "") : null;
  host.requests.push({ name: inside ? name : path, status: found ? 200 : 404 });
  if (found === null) {
    response.writeHead(404, { "Content-Type": "text/plain" }).end("not found");
    return;
  }
  response.writeHead(200, {
    "Content-Type": TYPES[extname(name)] ?? "application/octet-stream",
    "Cache-Control": /-[0-9a-f]{12}\./.test(name) ? "public, max-age=31536000, immutable" : "no-cache",
    "X-Content-Type-Options": "nosniff",
    ...(found.encoding ? { "Content-Encoding": found.encoding } : {}),
  });
  response.end(host.damage(name, found.bytes));
}

async function read(folder, name, accepted) {
  for (const [encoding, extension] of [["br", ".br"], ["gzip", ".gz"]]) {
    if (accepted.includes(encoding)) {
      try {
        return { bytes: await readFile(join(folder, name + extension)), encoding };
      } catch {
        // This file has no such form; the next one is tried.
      }
    }
  }
  try {
    return { bytes: await readFile(join(folder, name)) };
  } catch {
    return null;
  }
}
