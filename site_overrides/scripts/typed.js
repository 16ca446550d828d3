/* What is typed and not handed on yet, kept with every letter: each field of a form by itself, so that two forms that
   share some do not undo each other. */
"use strict";

class Typed {
  static #KIND = "rooflight-typed";

  /* All fields of a form that are kept, by name. */
  static async read(form) {
    const store = await PhoneStore.open(Typed.#KIND);
    const asked = await store("readonly", (records) => {
      const range = Typed.#range(form);
      const all = [records.getAllKeys(range), records.getAll(range)];
      return Promise.all(all.map((request) => idbKeyval.promisifyRequest(request)));
    });
    const [keys, values] = asked;
    return Object.fromEntries(keys.map(([, name], n) => [name, values[n]]));
  }

  static write(form, fields) {
    return PhoneStore.writing(form, PhoneStore.soon(Typed.#write(form, fields)));
  }

  static async #write(form, fields) {
    const store = await PhoneStore.open(Typed.#KIND);
    await store("readwrite", (records) => {
      for (const [name, value] of Object.entries(fields)) records.put(value, [form, name]);
      /* At once: the page may be left with the next tap. */
      records.transaction.commit?.();
      return idbKeyval.promisifyRequest(records.transaction);
    });
  }

  static forget(form) {
    return PhoneStore.writing(form, PhoneStore.soon(Typed.#forget(form)));
  }

  static async #forget(form) {
    const store = await PhoneStore.open(Typed.#KIND);
    await store("readwrite", (records) => idbKeyval.promisifyRequest(records.delete(Typed.#range(form))));
  }

  static #range(form) {
    return IDBKeyRange.bound([form], [form, []]);
  }
}
