// The modules that run in threads of their own are compiled on the page: some browsers let a thread
// reach neither the network nor what is kept for use without it.

const kept = new Map();

// The module at an address, compiled once; one that could not be had is asked for again next time.
export function compiled(address) {
  if (!kept.has(address)) {
    const module = WebAssembly.compileStreaming(fetch(new URL(address, import.meta.url)));
    kept.set(address, module);
    module.catch(() => kept.delete(address));
  }
  return kept.get(address);
}
