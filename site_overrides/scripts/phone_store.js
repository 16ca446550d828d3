/* What is typed, in the phone's own databases: named by the folder of this guide, since a host may hold several. */
"use strict";

class PhoneStore {
  /* A database that does not answer in this time has failed; it is then given the short time before each answer. */
  static LONG_MS = 4000;
  static SHORT_MS = 200;
  static #patience = PhoneStore.LONG_MS;
  /* Each database has one store, of this name. */
  static #STORE = "runs";
  static #ROOT = new URL("../", document.currentScript.src);
  static #opened = new Map();
  /* The last writing under each key, so that nothing leaves a page before it is kept. */
  static #writings = new Map();

  /* A store as idb-keyval wants it, by the name of its kind. A copy in a folder shares no host: there a newer copy
     beside it goes on with what the older one kept. */
  static open(kind) {
    if (!PhoneStore.#opened.has(kind)) {
      const opened = PhoneStore.#open(kind);
      PhoneStore.#opened.set(kind, opened);
      opened.catch(() => PhoneStore.#opened.delete(kind));
    }
    return PhoneStore.#opened.get(kind);
  }

  static async #open(kind) {
    if (location.protocol === "file:") return PhoneStore.#store(kind);
    const name = `${kind} ${PhoneStore.#ROOT.pathname}`;
    return PhoneStore.#store(name, (await PhoneStore.#exists(name)) ? [] : await PhoneStore.#before(kind));
  }

  /* What is said to be kept is on the disk, and outlives a browser that is killed the next moment. */
  static #store(name, records = []) {
    let opened = null;
    return async (mode, act) => {
      if (!opened) {
        opened = PhoneStore.#database(name, records);
        opened.then((database) => (database.onclose = () => (opened = null))).catch(() => (opened = null));
      }
      const transaction = (await opened).transaction(PhoneStore.#STORE, mode, { durability: "strict" });
      return act(transaction.objectStore(PhoneStore.#STORE));
    };
  }

  /* A new database is made with its first records in one go: it has all of them, or is not there. */
  static #database(name, records) {
    const request = indexedDB.open(name);
    request.onupgradeneeded = () => {
      const made = request.result.createObjectStore(PhoneStore.#STORE);
      for (const [key, value] of records) made.put(value, key);
    };
    return idbKeyval.promisifyRequest(request);
  }

  static async #exists(name) {
    const request = indexedDB.open(name);
    /* Not made by asking. */
    request.onupgradeneeded = () => request.transaction.abort();
    try {
      (await idbKeyval.promisifyRequest(request)).close();
      return true;
    } catch (error) {
      if (error.name === "AbortError") return false;
      throw error;
    }
  }

  /* Up to version 1.2.0 all guides of a host shared one database. It is copied and left, since another guide there may
     want it too. */
  static async #before(kind) {
    return (await PhoneStore.#exists(kind)) ? idbKeyval.entries(PhoneStore.#store(kind)) : [];
  }

  /* What is removed for good goes from the shared database too. */
  static async remove(kind, key) {
    await idbKeyval.del(key, await PhoneStore.open(kind));
    const hasShared = location.protocol !== "file:" && (await PhoneStore.#exists(kind));
    if (hasShared) await idbKeyval.del(key, PhoneStore.#store(kind));
  }

  /* What the database answers, or a failure where it does not. */
  static async soon(promise) {
    let timer = 0;
    const late = new Promise((_, reject) => {
      timer = setTimeout(() => {
        PhoneStore.#patience = PhoneStore.SHORT_MS;
        reject(new Error("The database does not answer."));
      }, PhoneStore.#patience);
    });
    try {
      return await Promise.race([promise, late]);
    } finally {
      clearTimeout(timer);
    }
  }

  /* Says that this is being kept under this key, and gives it back. */
  static writing(key, promise) {
    PhoneStore.#writings.set(key, promise);
    promise.catch(() => {});
    return promise;
  }

  /* Whether all that was typed is kept, once nothing more is being written. */
  static async settled() {
    const ended = await Promise.allSettled(PhoneStore.#writings.values());
    return ended.every(({ status }) => status === "fulfilled");
  }
}
