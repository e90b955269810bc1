// Reads and writes the browser's storage behind the app's back. Pages do not use this.

// Stores jobs and acts as the app does: { jobs: { id: text }, acts: [[key, text], ...] }. Where there
// is no database yet it makes one of version 1, as the first builds did, which the app must carry over.
export function fillStorage(page, content) {
  return page.evaluate(
    ({ jobs, acts }) =>
      new Promise((done, failed) => {
        const request = indexedDB.open("bothends");
        request.onupgradeneeded = () => {
          const names = request.result.objectStoreNames;
          for (const name of ["jobs", "acts"]) {
            if (!names.contains(name)) {
              request.result.createObjectStore(name);
            }
          }
        };
        request.onerror = () => failed(request.error);
        request.onsuccess = () => {
          const database = request.result;
          const writing = database.transaction(["jobs", "acts"], "readwrite");
          for (const [id, text] of Object.entries(jobs)) {
            writing.objectStore("jobs").put(text, id);
          }
          for (const [key, text] of acts) {
            writing.objectStore("acts").put(text, key);
          }
          writing.oncomplete = () => {
            database.close();
            done();
          };
          writing.onerror = () => failed(writing.error);
        };
      }),
    content,
  );
}

// All that stands in a store: { version, keys, values }, bytes as lists of numbers.
function stored(page, store) {
  return page.evaluate(
    (store) =>
      new Promise((done, failed) => {
        const request = indexedDB.open("bothends");
        request.onerror = () => failed(request.error);
        request.onsuccess = () => {
          const database = request.result;
          const reading = database.transaction(store);
          const keys = reading.objectStore(store).getAllKeys();
          const values = reading.objectStore(store).getAll();
          reading.onerror = () => failed(reading.error);
          reading.oncomplete = () => {
            database.close();
            const plain = (value) => (value instanceof ArrayBuffer ? Array.from(new Uint8Array(value)) : value);
            done({ version: database.version, keys: keys.result, values: values.result.map(plain) });
          };
        };
      }),
    store,
  );
}

// What stands in the store of lines: { singles: [line, ...], together: [[line, ...], ...] }.
export async function storedLines(page) {
  const { values } = await stored(page, "acts");
  const singles = values.filter((value) => typeof value === "string");
  const bytes = values.filter((value) => typeof value !== "string");
  return { singles, together: bytes.map((it) => new TextDecoder().decode(Uint8Array.from(it)).split("\n")) };
}

// How much stands in each store: { jobs, acts, pictures }.
export async function storedCounts(page) {
  const counts = {};
  for (const store of ["jobs", "acts", "pictures"]) {
    counts[store] = (await stored(page, store)).keys.length;
  }
  return counts;
}

// The names of the caches that hold builds of the app.
export function cacheNames(page) {
  return page.evaluate(() => caches.keys());
}

// The names of the databases that exist.
export function databaseNames(page) {
  return page.evaluate(async () => (await indexedDB.databases()).map((database) => database.name));
}

// What is stored of pictures: { version, pictures: [{ key, bytes }] }, the bytes as a list of numbers.
export async function storedPictures(page) {
  const { version, keys, values } = await stored(page, "pictures");
  return { version, pictures: keys.map((key, at) => ({ key, bytes: values[at] })) };
}

// How many pictures are stored, each in two sizes.
export async function countPictures(page) {
  return (await stored(page, "pictures")).keys.length / 2;
}
