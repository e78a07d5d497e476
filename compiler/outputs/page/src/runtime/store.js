// Entries are written through to the device before they are shown as done.
// All pages opened from files share one store, so keys carry the procedure and its source hash.
class Store {
  constructor(key) { this.key = key; this.base = null; }
  open() {
    return new Promise((resolve, reject) => {
      const request = indexedDB.open("locknut-jobs", 1);
      request.onupgradeneeded = () => request.result.createObjectStore("entries", { keyPath: ["job", "number"] });
      request.onsuccess = () => { this.base = request.result; resolve(this); };
      request.onerror = () => reject(request.error);
      request.onblocked = () => reject(new Error("blocked by another tab"));
    });
  }
  act(mode, work) {
    return new Promise((resolve, reject) => {
      const transaction = this.base.transaction("entries", mode, { durability: "strict" });
      const request = work(transaction.objectStore("entries"));
      transaction.oncomplete = () => resolve(request?.result);
      transaction.onerror = transaction.onabort = () => reject(transaction.error);
    });
  }
  range() { return IDBKeyRange.bound([this.key, 0], [this.key, Infinity]); }
  // `add` refuses a number that is there already: nothing is ever overwritten.
  add(entry, answer) { return this.act("readwrite", entries => entries.add({ job: this.key, number: entry.number, entry, answer })); }
  all() { return this.act("readonly", entries => entries.getAll(this.range())); }
  clear() { return this.act("readwrite", entries => entries.delete(this.range())); }
}
