/* What stands round a step: the last answer, where you stand, which gates are open, remedies still open; cautions in
   full or as a reminder; and the answers held back until it is safe to use a phone. */
"use strict";

class StepScreen {
  constructor(page) {
    this.page = page;
    this.told = new Set();
    this.zone = null;
    this.reminders = new WeakMap();
    this.notices = [];
    this.last = "";
    for (const button of document.querySelectorAll("[data-reading-done]")) {
      button.addEventListener("click", () => this.#release(button.closest("[data-step]")));
    }
    document.addEventListener("click", (event) => this.#define(event));
    document.addEventListener("input", (event) => {
      if (event.target.closest('[data-part="note"], [data-step] [data-module="reckon"]')) this.#draft();
    });
  }

  /* What was typed beside the question. */
  get note() {
    return { seen: Checked.line(Dom.field("seen").value.trim(), 300), who: Dom.field("who").value };
  }

  /* What is half-written is kept with every letter; who saw it stands until it is changed. */
  #draft() {
    const { walk, measure } = this.page;
    const typed = measure.typed(Dom.section(walk.asked));
    walk.run.draft = { step: walk.asked, seen: this.note.seen, typed };
    walk.run.who = this.note.who;
    this.page.save();
  }

  /* Cautions are told in full again: after a break, a gate, or another place. */
  forgetCautions() {
    this.told.clear();
    this.zone = null;
  }

  fill(section) {
    const { walk } = this.page;
    this.#cautions(section, walk.step(walk.asked));
    this.#restore(section);
    this.#hold(section);
    this.#frame(section);
    this.#tools();
  }

  #cautions(section, step) {
    const still = this.#stillThere(step);
    if (step.kind === "gate" || (step.where && step.where !== this.zone)) this.told.clear();
    if (step.where) this.zone = step.where;
    for (const caution of section.querySelectorAll("div.caution[data-caution]")) {
      const again = still || this.told.has(caution.dataset.caution);
      caution.hidden = again;
      this.#reminder(caution).hidden = !again;
      this.told.add(caution.dataset.caution);
    }
    for (const reminder of section.querySelectorAll("details.caution--reminder")) reminder.open = false;
  }

  /* A gate whose time ran out is asked again where the reader is, who has its cautions from going there. */
  #stillThere(step) {
    const { asked, here } = this.page.walk;
    return step.kind === "gate" && asked !== here && step.gate.opens.includes(this.zone);
  }

  /* What was typed here: half-written, or with the answer that is reopened. */
  #restore(section) {
    const { walk, measure } = this.page;
    const draft = walk.run.draft?.step === walk.asked ? walk.run.draft : null;
    const entry = walk.asked === walk.here ? walk.way[walk.indexOf(walk.run.current)] : null;
    Dom.field("seen").value = draft ? draft.seen : (entry?.seen ?? "");
    Dom.field("who").value = walk.run.who;
    measure.fill(section, draft?.typed ?? entry?.measure?.values ?? {});
  }

  #reminder(caution) {
    if (!this.reminders.has(caution)) {
      const [word, hazard, rest] = [...caution.children].map((child) => child.cloneNode(true));
      const head = Dom.make("span", word.className, ...word.childNodes);
      const summary = Dom.make("summary", "", head, " ", Dom.make("span", hazard.className, ...hazard.childNodes));
      const details = Dom.make("details", `${caution.className} caution--reminder`, summary, rest);
      caution.after(details);
      this.reminders.set(caution, details);
    }
    return this.reminders.get(caution);
  }

  /* On a ladder the answers wait, on a roof the whole question does. */
  #hold(section) {
    const rule = section.querySelector("[data-reading]");
    if (!rule) return;
    section.querySelector("[data-reading-done]").hidden = false;
    section.querySelector("[data-body]").hidden = rule.dataset.reading === "all";
    for (const part of section.querySelectorAll("[data-answers], [data-since]")) part.hidden = true;
  }

  #release(section) {
    section.querySelector("[data-reading-done]").hidden = true;
    for (const part of section.querySelectorAll("[data-body], [data-answers], [data-since]")) part.hidden = false;
    this.page.screens.quiet();
    /* The button that had the focus is gone. */
    section.focus({ preventScroll: true });
  }

  #frame(section) {
    const { walk } = this.page;
    Dom.say("light", `Light ${walk.run.light}`);
    Dom.show("light", true);
    Dom.say("progress", this.#progress());
    this.#back();
    this.#lastAnswer();
    Dom.part("notice").replaceChildren(...Dom.paragraphs(this.notices));
    Dom.show("notice", this.notices.length > 0);
    this.#kept(section);
    this.showGates();
  }

  #progress() {
    const { walk } = this.page;
    if (walk.asked !== walk.here) return `Asked again first. Then: ${walk.step(walk.here).title}`;
    const { kind } = walk.step(walk.here);
    if (this.page.asking || kind === "remedy" || kind === "go-to") return "";
    const { number, left, leads } = new Standing(walk).progress;
    const after = { none: "", some: ", then perhaps another set", all: ", then another set" }[leads];
    return `Question ${number}, ${left ? `at most ${left} more` : "the last of this set"}${after}`;
  }

  #back() {
    const previous = this.page.asking ? null : this.page.walk.previous;
    Dom.show("back", previous !== null);
    if (previous) Dom.say("back", `Back to ${new Standing(this.page.walk).name(previous)}`);
  }

  #lastAnswer() {
    const { walk } = this.page;
    const canUndo = walk.before !== null && !this.page.asking;
    Dom.show("last", canUndo);
    if (!canUndo) return;
    Dom.say("last", this.last);
    Dom.say("undo", `Undo: back to ${StepScreen.#before(new Walk(walk.data, walk.before))}`);
  }

  static #before(walk) {
    return walk.asked === walk.here ? new Standing(walk).progress.number : "the gate";
  }

  /* Marks the answer of a reopened step, or offers one that was kept from before. */
  #kept(section) {
    const { walk } = this.page;
    const index = walk.asked === walk.here ? walk.indexOf(walk.run.current) : -1;
    for (const link of section.querySelectorAll("[data-answer]")) {
      if (walk.way[index]?.answer === link.dataset.answer) link.setAttribute("aria-current", "true");
      else link.removeAttribute("aria-current");
    }
    const kept = new Standing(walk).keptAnswer;
    Dom.show("kept", kept !== null && !this.page.asking);
    if (kept) Dom.say("kept", `Answered before: ${Dom.sentence(kept.words)} ${kept.seen} (${Finding.day(kept.at)})`);
  }

  /* Says which gates are open and for how long, in words. */
  showGates() {
    const now = this.page.now();
    const open = this.page.walk.gates.list;
    Dom.show("open-gates", open.length > 0);
    const each = open.map((gate) => {
      const left = Gates.minutesLeft(gate, now);
      if (left === null) return gate.title;
      return `${gate.title}, ${left > 0 ? `${Dom.count(left, "minute")} left` : "its time is over: come down"}`;
    });
    Dom.say("open-gates", `Open: ${each.join("; ")}`);
    for (const button of document.querySelectorAll("[data-ending]")) {
      button.hidden = !open.some((gate) => gate.endsWhen.includes(button.dataset.ending));
    }
  }

  #tools() {
    const { walk } = this.page;
    const { kind } = walk.step(walk.here);
    const { open, closed } = new Standing(walk).remedies;
    Dom.say("open-remedies", open.length === 1 ? "1 remedy still open" : `${open.length} remedies still open`);
    Dom.list("open-remedies").replaceChildren(...open.map((remedy) => Dom.make("li", "", remedy.title)));
    const ruledOut = ({ title, by }) => Dom.make("li", "", `${title}: ${by.question} ${Dom.sentence(by.words)}`);
    Dom.list("closed-remedies").replaceChildren(...closed.map(ruledOut));
    Dom.show("closed-remedies", closed.length > 0);
    Dom.show("tool-links", !this.page.asking);
    Dom.show("open-remedies", kind !== "remedy" && !this.page.asking);
    Dom.show("note", ["question", "measure"].includes(walk.step(walk.asked).kind));
  }

  /* A word of the trade is explained where it stands, so that nobody leaves the walk for it. */
  #define(event) {
    const link = event.target.closest("a.term");
    const id = link && new URL(link.href).hash.slice(1);
    const term = id && document.querySelector(`[data-term="${id}"]`);
    if (!term) return;
    event.preventDefault();
    const block = link.closest("p, li, dd");
    const shown = block.querySelector(`.definition[data-for="${id}"]`);
    link.setAttribute("aria-expanded", String(!shown));
    if (shown) return void shown.remove();
    const [word, means] = [...term.children].map(Dom.text);
    const definition = Dom.make("span", "definition", Dom.make("strong", "", word), `: ${means}`);
    definition.dataset.for = id;
    block.append(definition);
  }
}
