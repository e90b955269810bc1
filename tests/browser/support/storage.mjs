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

// What stands in the store of lines: { singles: [line, ...], together: [[line, ...], ...] }.
export function storedLines(page) {
  return page.evaluate(
    () =>
      new Promise((done, failed) => {
        const request = indexedDB.open("bothends");
        request.onerror = () => failed(request.error);
        request.onsuccess = () => {
          const database = request.result;
          const all = database.transaction("acts").objectStore("acts").getAll();
          all.onerror = () => failed(all.error);
          all.onsuccess = () => {
            database.close();
            const singles = all.result.filter((value) => typeof value === "string");
            const bytes = all.result.filter((value) => value instanceof ArrayBuffer);
            done({ singles, together: bytes.map((it) => new TextDecoder().decode(it).split("\n")) });
          };
        };
      }),
  );
}

// How much stands in each store: { jobs, acts, pictures }.
export function storedCounts(page) {
  return page.evaluate(
    () =>
      new Promise((done, failed) => {
        const request = indexedDB.open("bothends");
        request.onerror = () => failed(request.error);
        request.onsuccess = () => {
          const database = request.result;
          const reading = database.transaction(["jobs", "acts", "pictures"]);
          const counts = {};
          for (const name of reading.objectStoreNames) {
            const counting = reading.objectStore(name).count();
            counting.onsuccess = () => {
              counts[name] = counting.result;
            };
          }
          reading.onerror = () => failed(reading.error);
          reading.oncomplete = () => {
            database.close();
            done(counts);
          };
        };
      }),
  );
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
export function storedPictures(page) {
  return page.evaluate(
    () =>
      new Promise((done, failed) => {
        const request = indexedDB.open("bothends");
        request.onerror = () => failed(request.error);
        request.onsuccess = () => {
          const database = request.result;
          const reading = database.transaction("pictures").objectStore("pictures").openCursor();
          const pictures = [];
          reading.onerror = () => failed(reading.error);
          reading.onsuccess = () => {
            const cursor = reading.result;
            if (cursor) {
              pictures.push({ key: cursor.key, bytes: Array.from(new Uint8Array(cursor.value)) });
              cursor.continue();
            } else {
              database.close();
              done({ version: database.version, pictures });
            }
          };
        };
      }),
  );
}

// How many pictures are stored, each in two sizes.
export async function countPictures(page) {
  const keys = await page.evaluate(
    () =>
      new Promise((done, failed) => {
        const request = indexedDB.open("bothends");
        request.onerror = () => failed(request.error);
        request.onsuccess = () => {
          const asked = request.result.transaction("pictures").objectStore("pictures").getAllKeys();
          asked.onerror = () => failed(asked.error);
          asked.onsuccess = () => {
            request.result.close();
            done(asked.result);
          };
        };
      }),
  );
  return keys.length / 2;
}
