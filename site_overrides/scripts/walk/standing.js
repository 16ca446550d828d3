/* Where a walk stands: how far it is, which remedies are still open and what closed the others, and what was answered
   before to the question that is asked. Read only. */
"use strict";

class Standing {
  constructor(walk) {
    this.walk = walk;
  }

  /* Which question this is in this set, and how many can still come here at most. */
  get progress() {
    const { here, behind } = this.walk;
    return { number: Standing.#answered(behind) + 1, left: this.walk.step(here).left, leads: this.#leads(here) };
  }

  /* How many questions of the last set a way has answered. */
  static #answered(way) {
    const from = way.findLastIndex((entry) => entry.to.tree !== entry.tree) + 1;
    return way.slice(from).filter((entry) => Walk.counts(entry)).length;
  }

  /* Names an answer of the way by its number, or by its question where it is of another set. */
  name(entry) {
    const { way, data } = this.walk;
    const answered = Standing.#answered(way.slice(0, way.indexOf(entry)));
    return entry.tree === data.tree.id && Walk.counts(entry) ? `question ${answered + 1}` : entry.question;
  }

  /* Whether another set of questions can follow: "none", "some" ways or "all". */
  #leads(id) {
    const kinds = new Set();
    const seen = new Set([id]);
    for (const each of seen) {
      const next = Object.values(this.walk.step(each).exits);
      if (next.length === 0) kinds.add(this.walk.step(each).kind);
      for (const target of next) seen.add(target);
    }
    if (!kinds.has("go-to")) return "none";
    return kinds.size === 1 ? "all" : "some";
  }

  /* The remedies that can still be reached from where the reader is, and those that answers ruled out. */
  get remedies() {
    const open = this.walk.step(this.walk.here).ends.map((id) => this.walk.data.remedies[id]);
    const names = new Set(open.map((remedy) => remedy.id));
    const closed = new Map();
    for (const by of this.walk.behind) {
      for (const [id, title] of Object.entries(by.closed)) if (!names.has(id)) closed.set(id, { id, title, by });
    }
    return { open, closed: [...closed.values()] };
  }

  /* An answer given before to the step where the reader is, off the way now. Gates are always asked. */
  get keptAnswer() {
    const { current } = this.walk.run;
    const step = this.walk.step(this.walk.here);
    if (step.kind === "gate" || this.walk.indexOf(current) >= 0) return null;
    const fits = (entry) => Walk.key(entry) === Walk.key(current) && Object.hasOwn(step.exits, entry.answer);
    return this.walk.aside.findLast(fits) ?? null;
  }
}
