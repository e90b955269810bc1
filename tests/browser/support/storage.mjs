// Reads and writes the browser's storage behind the app's back. Pages do not use this.

// Stores jobs and acts as the app does: { jobs: { id: text }, acts: [[key, text], ...] }.
export function fillStorage(page, content) {
  return page.evaluate(
    ({ jobs, acts }) =>
      new Promise((done, failed) => {
        const request = indexedDB.open("bothends", 1);
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

// The names of the caches that hold builds of the app.
export function cacheNames(page) {
  return page.evaluate(() => caches.keys());
}

// The names of the databases that exist.
export function databaseNames(page) {
  return page.evaluate(async () => (await indexedDB.databases()).map((database) => database.name));
}
