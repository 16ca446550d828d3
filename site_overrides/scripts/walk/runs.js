/* The runs of all lights, kept in the phone's own database by idb-keyval; in memory alone where the phone refuses. */
"use strict";

class Runs {
  /* A database that does not answer in this time has failed; it is then given the short time before each answer. */
  static LONG_MS = 4000;
  static SHORT_MS = 200;

  constructor() {
    this.patience = Runs.LONG_MS;
    this.store = null;
    this.memory = new Map();
    this.saving = Promise.resolve();
  }

  #open() {
    this.store ??= idbKeyval.createStore("rooflight-walks", "runs");
    return this.store;
  }

  /* All runs, by light. Those of a format that this page does not know are left alone. */
  async list() {
    let kept = [];
    try {
      kept = await this.#soon(idbKeyval.values(this.#open()));
    } catch {
      kept = [];
    }
    const all = new Map([...kept.map((run) => [run.id, run]), ...this.memory]);
    const known = [...all.values()].filter((run) => run.format === Walk.FORMAT);
    return known.sort((one, other) => one.light.localeCompare(other.light, "en", { numeric: true }));
  }

  async get(id) {
    return (await this.list()).find((run) => run.id === id) ?? null;
  }

  /* Saves a run and raises its `rev`. Throws Runs.Elsewhere where another window saved it since, or what the database
     says; the run stays in memory then. */
  save(run) {
    this.memory.set(run.id, run);
    /* One after the other, since each raises the count that the next one holds itself against. */
    const saved = this.saving.then(() => this.#soon(this.#save(run)));
    this.saving = saved.catch(() => {});
    return saved;
  }

  async #save(run) {
    let elsewhere = false;
    const copy = structuredClone({ ...run, rev: run.rev + 1 });
    await idbKeyval.update(
      run.id,
      (old) => {
        elsewhere = Boolean(old) && old.rev !== run.rev;
        return elsewhere ? old : copy;
      },
      this.#open(),
    );
    if (elsewhere) throw new Runs.Elsewhere();
    run.rev = copy.rev;
    this.memory.delete(run.id);
  }

  async remove(id) {
    /* After what is still being saved, or that would bring it back. */
    await this.saving;
    this.memory.delete(id);
    await this.#soon(idbKeyval.del(id, this.#open()));
  }

  async #soon(promise) {
    let timer = 0;
    const late = new Promise((_, reject) => {
      timer = setTimeout(() => {
        this.patience = Runs.SHORT_MS;
        reject(new Error("The database does not answer."));
      }, this.patience);
    });
    try {
      return await Promise.race([promise, late]);
    } finally {
      clearTimeout(timer);
    }
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
