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
    if (location.protocol === "file:") return idbKeyval.createStore(kind, PhoneStore.#STORE);
    const name = `${kind} ${PhoneStore.#ROOT.pathname}`;
    if (!(await PhoneStore.#exists(name))) await PhoneStore.#make(name, await PhoneStore.#before(kind));
    return idbKeyval.createStore(name, PhoneStore.#STORE);
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

  /* Made with its first records in one go: it has all of them, or is not there. */
  static async #make(name, records) {
    const request = indexedDB.open(name);
    request.onupgradeneeded = () => {
      const made = request.result.createObjectStore(PhoneStore.#STORE);
      for (const [key, value] of records) made.put(value, key);
    };
    (await idbKeyval.promisifyRequest(request)).close();
  }

  /* Up to version 1.2.0 all guides of a host shared one database. It is copied and left, since another guide there may
     want it too. */
  static async #before(kind) {
    return (await PhoneStore.#exists(kind)) ? idbKeyval.entries(idbKeyval.createStore(kind, PhoneStore.#STORE)) : [];
  }

  /* What is removed for good goes from the shared database too. */
  static async remove(kind, key) {
    await idbKeyval.del(key, await PhoneStore.open(kind));
    const hasShared = location.protocol !== "file:" && (await PhoneStore.#exists(kind));
    if (hasShared) await idbKeyval.del(key, idbKeyval.createStore(kind, PhoneStore.#STORE));
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
