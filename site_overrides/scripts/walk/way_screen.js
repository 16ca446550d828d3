/* The way so far: each answer can be reopened, and what was seen can be written to it. */
"use strict";

class WayScreen {
  constructor(page) {
    this.page = page;
    page.on("way", () => page.showScreen("way"));
    page.on("save-note", () => this.#saveNote());
    page.on("leave-note", () => this.#leaveNote());
    const name = Dom.field("light");
    name.addEventListener("input", () => this.#name(name.value, page.walk.run.light));
    name.addEventListener("change", () => this.#named(name));
    for (const field of ["note-seen", "note-entry-who"]) {
      Dom.field(field).addEventListener("input", () => this.#draft());
    }
  }

  /* Kept with every letter. */
  #name(text, otherwise) {
    const { run } = this.page.walk;
    run.light = Checked.line(text.trim(), 40) || otherwise;
    Dom.say("light", `Light ${run.light}`);
    this.page.save();
  }

  /* A light keeps its letter until it is called something else. */
  #named(field) {
    this.#name(field.value, this.calledBefore);
    this.calledBefore = this.page.walk.run.light;
    field.value = this.calledBefore;
  }

  fill() {
    const { walk } = this.page;
    this.calledBefore = walk.run.light;
    Dom.field("light").value = this.calledBefore;
    const waits = walk.step(walk.here)?.title;
    const now = Dom.make("li", "", Dom.make("p", "here", `You are here: ${waits}`));
    Dom.list("way").replaceChildren(...walk.way.map((entry, n) => this.#row(entry, n)), now);
    Dom.list("aside").replaceChildren(...walk.aside.map((entry) => WayScreen.#said(entry, Dom.make("li", ""))));
    Dom.say("aside", `Set aside: ${walk.aside.length}`);
    Dom.show("aside", walk.aside.length > 0);
  }

  #row(entry, n) {
    const row = WayScreen.#said(entry, Dom.make("li", ""));
    if (entry.passed || entry.kind === "link") return row;
    const buttons = [];
    if (!(entry.again && entry.answer === "yes")) {
      const word = entry.kind === "go-to" ? "Go back there" : "Answer again";
      const reopen = Dom.button(word, "button button--quiet", () => this.page.acts.reopen(entry));
      reopen.setAttribute("aria-label", `${word}: ${entry.question}`);
      buttons.push(reopen);
    }
    if (["question", "measure"].includes(entry.kind)) {
      const afresh = entry.seen ? "Rewrite the note" : "Add what was seen";
      const word = entry.draft ? "Go on with the half-written note" : afresh;
      const note = Dom.button(word, "button button--quiet", () => this.#note(n));
      note.setAttribute("aria-label", `${note.textContent}: ${entry.question}`);
      buttons.push(note);
    }
    row.append(Dom.make("div", "pair", ...buttons));
    return row;
  }

  static #said(entry, row) {
    const answer = Dom.make("span", `answer answer--said answer--${WayScreen.#line(entry)}`, entry.words);
    const facts = [entry.again && "asked again", Finding.WHO[entry.who], Finding.day(entry.at)].filter(Boolean);
    row.append(Dom.make("p", "", entry.question), Dom.make("p", "", answer, ` ${facts.join(", ")}`));
    if (entry.seen) row.append(Dom.make("p", "", `Seen: ${entry.seen}`));
    return row;
  }

  static #line({ line }) {
    return /^[a-z]+$/.test(line) ? line : "yes";
  }

  #note(n) {
    const entry = this.page.walk.way[n];
    this.noted = entry;
    Dom.say("note-question", `${entry.question} ${Dom.sentence(entry.words)}`);
    const { seen, who } = entry.draft ?? entry;
    Dom.field("note-seen").value = seen;
    Dom.field("note-entry-who").value = who;
    this.page.showScreen("note");
  }

  get #typed() {
    return { seen: Checked.line(Dom.field("note-seen").value.trim(), 300), who: Dom.field("note-entry-who").value };
  }

  /* Kept with every letter, beside the note as it was. */
  #draft() {
    this.noted.draft = this.#typed;
    this.page.save();
  }

  #saveNote() {
    Object.assign(this.noted, this.#typed);
    return this.#leaveNote();
  }

  async #leaveNote() {
    delete this.noted.draft;
    await this.page.save();
    this.page.showScreen("way");
  }
}
