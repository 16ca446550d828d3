/* Where a walk stands: how far it is, which remedies are still open and what closed the others, and what was answered
   before to the question that is asked. Read only. */
"use strict";

class Standing {
  constructor(walk) {
    this.walk = walk;
  }

  /* Which question this is in this set, and how many can still come here at most. */
  get progress() {
    const before = this.walk.behind;
    const from = before.findLastIndex((entry) => entry.to.tree !== entry.tree) + 1;
    const answered = before.slice(from).filter((entry) => Walk.counts(entry)).length;
    return { number: answered + 1, left: this.walk.step(this.walk.here).left, leads: this.#leads(this.walk.here) };
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
