/* The runs of all lights, kept in the phone's own database by idb-keyval; in memory alone where the phone refuses. */
"use strict";

class Runs {
  static KIND = "rooflight-walks";

  constructor() {
    this.memory = new Map();
    this.saving = Promise.resolve();
    /* What is kept and cannot be read, as {key, value, why}; it is left as it is. */
    this.unread = [];
  }

  /* All runs that can be read, by light. */
  async list() {
    let kept = [];
    try {
      kept = await PhoneStore.soon(Runs.#entries());
    } catch {
      kept = [];
    }
    const read = kept.map(([key, value]) => Runs.#read(key, value));
    this.unread = read.filter(({ run }) => !run);
    const all = new Map([...read.filter(({ run }) => run).map(({ key, run }) => [key, run]), ...this.memory]);
    return [...all.values()].sort((one, other) => one.light.localeCompare(other.light, "en", { numeric: true }));
  }

  static async #entries() {
    return idbKeyval.entries(await PhoneStore.open(Runs.KIND));
  }

  static #read(key, value) {
    try {
      const run = Record.read(value);
      if (run.id !== key) throw new TypeError("not the run of its key");
      return { key, run };
    } catch (error) {
      const why = error instanceof Record.OtherFormat ? error.message : "They do not read as answers of a walk.";
      return { key, value, why };
    }
  }

  async get(id) {
    return (await this.list()).find((run) => run.id === id) ?? null;
  }

  /* Saves a run and raises its `rev`. Throws Runs.Elsewhere where another window saved it since, or what the database
     says; the run stays in memory then. */
  save(run) {
    this.memory.set(run.id, run);
    /* One after the other, since each raises the count that the next one holds itself against. */
    const saved = this.saving.then(() => PhoneStore.soon(this.#save(run)));
    this.saving = saved.catch(() => {});
    return PhoneStore.writing(run.id, saved);
  }

  async #save(run) {
    const store = await PhoneStore.open(Runs.KIND);
    let elsewhere = false;
    const copy = structuredClone({ ...run, rev: run.rev + 1 });
    await idbKeyval.update(
      run.id,
      (old) => {
        elsewhere = Boolean(old) && old.rev !== run.rev;
        return elsewhere ? old : copy;
      },
      store,
    );
    if (elsewhere) throw new Runs.Elsewhere();
    run.rev = copy.rev;
    this.memory.delete(run.id);
  }

  async remove(id) {
    /* After what is still being saved, or that would bring it back. */
    await this.saving;
    this.memory.delete(id);
    await PhoneStore.soon(PhoneStore.remove(Runs.KIND, id));
  }

  static Elsewhere = class extends Error {};

  /* A new id: eight letters that no other phone is likely to draw. */
  static newId() {
    const numbers = crypto.getRandomValues(new Uint32Array(2));
    return Array.from(numbers, (number) => (number % 36 ** 4).toString(36).padStart(4, "0")).join("");
  }

  /* The first letter that no light has yet: A to Z, then A2 and so on. */
  static nextLetter(runs) {
    /* "B kitchen" is still B. */
    const taken = new Set(runs.map((run) => run.light.split(" ")[0]));
    for (let round = 1; ; round += 1) {
      for (const letter of "ABCDEFGHIJKLMNOPQRSTUVWXYZ") {
        const name = round === 1 ? letter : letter + round;
        if (!taken.has(name)) return name;
      }
    }
  }
}
