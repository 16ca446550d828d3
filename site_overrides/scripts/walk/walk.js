/* One light's walk through one tree: the tree's data and the light's run in; where it stands, what is asked there and
   what an answer does out. It knows no page, no storage and no clock: times come in as milliseconds.

   The way is the list of entries that are not superseded. Each entry says where it led (`to`), so that a way through
   several trees can be followed without their data. The run is changed in place; whoever holds it saves it. */
"use strict";

class Walk {
  static FORMAT = 1;

  constructor(data, run) {
    this.data = data;
    this.run = run;
    this.gates = new Gates(run);
    this.before = null;
  }

  /* Begins a run for a light at a step, the tree's start if none is given. */
  static begin(data, id, light, now, step = data.start) {
    const start = { tree: data.tree.id, step };
    return { ...Walk.blank(), id, light, started: now, start, current: { ...start } };
  }

  /* What every run has. `rev` counts its savings, so that two windows do not write over each other. */
  static blank() {
    const said = { place: "", who: "", entries: [], stops: [] };
    return { format: Walk.FORMAT, rev: 0, ...said, gates: {}, closed: [], packed: {} };
  }

  static key(place) {
    return `${place.tree}/${place.step}`;
  }

  /* Undefined where this tree has no such step; ids come from links too. */
  step(id) {
    return Object.hasOwn(this.data.steps, id) ? this.data.steps[id] : undefined;
  }

  /* The step in this tree where the reader is; null when the run stands in another tree. */
  get here() {
    const { tree, step } = this.run.current;
    return tree === this.data.tree.id && this.step(step) ? step : null;
  }

  get way() {
    return this.run.entries.filter((entry) => !entry.superseded);
  }

  get aside() {
    return this.run.entries.filter((entry) => entry.superseded);
  }

  /* Where the way leads: the step that waits, or the end. */
  get end() {
    return this.way.at(-1)?.to ?? this.run.start;
  }

  get isAtEnd() {
    return Walk.key(this.run.current) === Walk.key(this.end);
  }

  place(id) {
    return { tree: this.data.tree.id, step: id };
  }

  /* Index in the way of a step's own answer; -1 where it has none. A gate asked again is not its own answer. */
  indexOf(place) {
    return this.way.findIndex((entry) => !entry.again && Walk.key(entry) === Walk.key(place));
  }

  /* The gate that must be asked before a step; null when nothing stands before it, or no gate here opens it (then
     nobody is let in: see `#letIn`). */
  gateBefore(id) {
    const shut = this.step(id).needs.filter((need) => !this.gates.opened.has(need));
    if (shut.length === 0) return null;
    const guards = this.step(id).guards.filter((guard) =>
      this.step(guard).gate.opens.some((opening) => shut.includes(opening)),
    );
    return guards.find((guard) => this.indexOf(this.place(guard)) >= 0) ?? guards[0] ?? null;
  }

  /* A step that a gate of this tree can open, or that needs none; else the start. */
  #letIn(id) {
    const step = this.step(id);
    const opens = (need) => step.guards.some((guard) => this.step(guard).gate.opens.includes(need));
    return step?.needs.every(opens) ? id : this.data.start;
  }

  /* What is asked now: the step where the reader is, or the gate before it. */
  get asked() {
    return this.gateBefore(this.here) ?? this.here;
  }

  /* Takes an answer to the step that is asked and goes on. `facts`: at, seen, who, words, line, measure. The answer
     counts even where the time of a gate ran out meanwhile; what comes after it is then asked its gate again.
     Gives the gates that closed. Throws RangeError for an answer that the step does not have. */
  answer(answer, facts) {
    return this.#answer(this.asked, answer, facts, facts.at);
  }

  /* Takes what was seen before, or by somebody else, where the reader stands: nobody goes up for it, so no gate is
     asked. */
  takeOver(answer, facts, now) {
    return this.#answer(this.here, answer, facts, now);
  }

  #answer(id, answer, facts, now) {
    const step = this.step(id);
    if (!Object.hasOwn(step.exits, answer)) throw new RangeError(`"${answer}" is no answer to "${id}"`);
    this.before = structuredClone(this.run);
    if (step.kind === "gate") this.#gateAnswered(step, answer, now, facts.roof);
    const again = id !== this.here;
    const to = this.place(again && answer === "yes" ? this.here : step.exits[answer]);
    this.#take({ ...this.#entry(id, answer, to, facts), again }, now);
    const closed = this.gates.check(now);
    this.#goOn(now);
    return closed;
  }

  #gateAnswered(step, answer, now, roof) {
    if (answer === "yes") this.gates.open(step.gate, now, roof);
    else this.gates.refuse(step.gate);
  }

  #entry(id, answer, to, facts) {
    const { id: tree, version } = this.data.tree;
    const step = this.step(id);
    const closed = this.#closedBy(id, to);
    const asked = { tree, version, step: id, kind: step.kind, question: step.title };
    return { ...asked, answer, words: answer, line: answer, seen: "", who: "", ...facts, to, closed };
  }

  /* The remedies that an answer rules out, by id with their titles. */
  #closedBy(id, to) {
    if (to.tree !== this.data.tree.id || this.step(id).kind === "remedy") return {};
    const still = new Set(this.step(to.step).ends);
    const gone = this.step(id).ends.filter((name) => !still.has(name));
    return Object.fromEntries(gone.map((name) => [name, this.data.remedies[name].title]));
  }

  /* Puts an entry into the way where the reader is. Later answers stay while the new way leads through them; the
     others are set aside. */
  #take(entry, now) {
    const index = this.indexOf(this.run.current);
    const at = index < 0 ? this.way.length : index;
    const kept = this.way.slice(0, at);
    const later = this.way.slice(at).filter((each) => entry.again || Walk.key(each) !== Walk.key(entry));
    const byKey = new Map(later.filter((each) => !each.again).map((each) => [Walk.key(each), each]));
    const way = [...kept, entry];
    for (let next = byKey.get(Walk.key(entry.to)); next; next = byKey.get(Walk.key(next.to))) {
      byKey.delete(Walk.key(next));
      way.push(next);
    }
    this.#setAside(way, now);
  }

  #setAside(way, now) {
    const onWay = new Set(way);
    const off = this.run.entries.filter((entry) => !onWay.has(entry));
    for (const entry of off) entry.superseded ??= now;
    this.run.entries = [...way, ...off];
  }

  /* Goes to the end of the way, through every gate that is still open. */
  #goOn(now) {
    for (;;) {
      this.run.current = { ...this.end };
      const step = this.here && this.step(this.here);
      if (!step || step.kind !== "gate" || !this.gates.isOpen(step.gate)) return;
      const entry = this.#entry(this.here, "yes", this.place(step.exits.yes), { at: now, words: "Still open" });
      this.#take({ ...entry, line: "yes", passed: true }, now);
    }
  }

  /* Hands over to the other tree that a go-to names. Gives that place. */
  handOver(now) {
    const step = this.step(this.here);
    const entry = this.#entry(this.here, "go-on", { ...step.goTo }, { at: now, words: "Goes on" });
    if (this.isAtEnd) this.#take(entry, now);
    this.run.current = { ...this.end };
    return this.run.current;
  }

  /* Passes gates that are open on arriving from another tree. Gives the gates that closed. */
  arrive(now) {
    const closed = this.gates.check(now);
    if (this.here && this.isAtEnd) this.#goOn(now);
    return closed;
  }

  /* Takes the last answer back, as if it had not been given; a gate that it opened is closed, none is opened. What was
     typed beside it stands there again. */
  undo() {
    const { entries, current, gates, draft } = this.before;
    for (const id of Object.keys(this.run.gates)) if (!(id in gates)) delete this.run.gates[id];
    Object.assign(this.run, { entries, current, draft });
    this.before = null;
  }

  /* Goes to a step of the way to look at it or to change its answer. False where it is not on the way. */
  reopen(place) {
    const known = this.indexOf(place) >= 0 || Walk.key(place) === Walk.key(this.end);
    if (known) this.run.current = { tree: place.tree, step: place.step };
    return known;
  }

  /* Goes back to an answer of the way. A gate asked again, that was not passed, is taken back and asked anew. */
  goBack(entry, now) {
    if (!entry.again) return void this.reopen(entry);
    this.#setAside(this.way.slice(0, this.way.indexOf(entry)), now);
    this.run.current = { ...this.end };
  }

  /* The entries before the step where the reader is. */
  get behind() {
    const index = this.indexOf(this.run.current);
    return index < 0 ? this.way : this.way.slice(0, index);
  }

  /* The answer before the step where the reader is; null at the start. */
  get previous() {
    return this.behind.findLast((entry) => !entry.passed && !(entry.again && entry.answer === "yes")) ?? null;
  }

  /* Goes to a step that a link names: on the way it is reopened, else the way is led there and says so. */
  followLink(linked, now) {
    const id = this.#letIn(linked);
    if (this.reopen(this.place(id))) return;
    if (this.run.entries.length === 0) {
      this.run.start = this.place(id);
    } else {
      const { version } = this.way.at(-1) ?? this.data.tree;
      const said = { question: "A link led on", answer: "link", words: "Went on from there", line: "link" };
      const facts = { kind: "link", at: now, seen: "", who: "", to: this.place(id), closed: {} };
      this.run.current = { ...this.end };
      this.#take({ ...this.end, version, ...said, ...facts }, now);
    }
    this.run.current = this.place(id);
  }

  /* Stop, come down: every gate is closed. */
  stop(now) {
    this.before = null;
    this.run.stops.push({ at: now, ...this.run.current });
    return this.gates.close("came-down", now);
  }

  /* Whether an entry is an answer that somebody was asked for in its turn. */
  static counts(entry) {
    return ["question", "measure", "gate"].includes(entry.kind) && !entry.again && !entry.passed;
  }

  /* Keeps an answer to a step that is not asked yet, until the walk comes there. */
  keep(id, answer, facts) {
    const entry = this.#entry(id, answer, this.place(this.step(id).exits[answer]), facts);
    this.run.entries.push({ ...entry, superseded: facts.at });
  }

  /* Holds a run against this version of the tree. From the first answer that no longer leads where it did, the way
     is cut and that step is asked again. Gives what changed, null when nothing did. */
  mend(now) {
    const here = this.data.tree;
    const mine = (entry) => entry.tree === here.id;
    const old = this.way.find((entry) => mine(entry) && entry.version !== here.version)?.version ?? null;
    const cut = this.way.findIndex((entry) => mine(entry) && !this.#stillLeads(entry));
    if (cut >= 0) {
      const { step } = this.way[cut];
      const kept = this.way.slice(0, cut);
      this.#setAside(kept, now);
      if (!this.step(step)) this.#moveEnd(kept, this.place(this.data.start));
      this.run.current = { ...this.end };
    }
    if (mine(this.run.start)) this.run.start = this.place(this.#letIn(this.run.start.step));
    if (mine(this.run.current)) this.run.current = this.place(this.#letIn(this.run.current.step));
    /* Answers that came by a link bring no titles along. */
    for (const entry of this.way.filter(mine)) entry.closed = this.#closedBy(entry.step, entry.to);
    return old || cut >= 0 ? { from: old, to: here.version, cut: cut >= 0 } : null;
  }

  #moveEnd(way, place) {
    if (way.length) way.at(-1).to = place;
    else this.run.start = place;
  }

  #stillLeads(entry) {
    const step = this.step(entry.step);
    if (!step) return false;
    if (entry.kind === "link" || entry.again) return Boolean(this.step(entry.to.step));
    if (entry.kind === "go-to") return step.kind === "go-to" && Walk.key(step.goTo) === Walk.key(entry.to);
    return step.exits[entry.answer] === entry.to.step;
  }
}
