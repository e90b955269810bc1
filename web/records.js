// Reads the storage of the app in plain JavaScript, for what must work without any wasm. It only
// reads, and makes nothing where there is nothing.
//
// The storage: database "bothends"; store "jobs" (key: job id, value: name of the job), store
// "acts" (key: [job id, writer, number, digest], value: text of one or more lines; since version 3
// also key: [job id, number], value: bytes of many lines in UTF-8), and since version 2 store
// "pictures" (key: [job id, "whole" or "small", digest], value: bytes of a JPEG).

const DATABASE = "bothends";

// The database at whatever version it has, or null where there is none. Whoever opens it closes it:
// an open one would hold up another page that brings it to a new version.
export function openRecords() {
  return new Promise((found, failed) => {
    const request = indexedDB.open(DATABASE);
    let absent = false;
    request.onupgradeneeded = () => {
      absent = true;
      request.transaction.abort();
    };
    request.onsuccess = () => found(request.result);
    request.onerror = () => (absent ? found(null) : failed(request.error));
    request.onblocked = () => failed(new Error("another tab is changing the storage"));
  });
}

// All of a store, row by row as { key, value }, in the order of the keys.
export function readStore(database, name) {
  if (!database.objectStoreNames.contains(name)) {
    return Promise.resolve([]);
  }
  return new Promise((found, failed) => {
    const rows = [];
    const transaction = database.transaction(name, "readonly");
    const request = transaction.objectStore(name).openCursor();
    request.onsuccess = () => {
      const cursor = request.result;
      if (cursor) {
        rows.push({ key: cursor.key, value: cursor.value });
        cursor.continue();
      }
    };
    transaction.oncomplete = () => found(rows);
    transaction.onerror = () => failed(transaction.error);
    transaction.onabort = () => failed(transaction.error);
  });
}
