/* The way so far: each answer can be reopened, and what was seen can be written to it. */
"use strict";

class WayScreen {
  constructor(page) {
    this.page = page;
    page.on("way", () => page.showScreen("way"));
    page.on("save-note", () => this.#saveNote());
    Dom.field("light").addEventListener("change", (event) => this.#name(event.target.value));
  }

  /* A light keeps its letter until it is called something else. */
  #name(text) {
    const { run } = this.page.walk;
    run.light = Checked.line(text.trim(), 40) || run.light;
    Dom.field("light").value = run.light;
    Dom.say("light", `Light ${run.light}`);
    this.page.save();
  }

  fill() {
    const { walk } = this.page;
    Dom.field("light").value = walk.run.light;
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
      const word = entry.seen ? "Rewrite the note" : "Add what was seen";
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
    Dom.field("note-seen").value = entry.seen;
    Dom.field("note-entry-who").value = entry.who;
    this.page.showScreen("note");
  }

  async #saveNote() {
    this.noted.seen = Checked.line(Dom.field("note-seen").value.trim(), 300);
    this.noted.who = Dom.field("note-entry-who").value;
    await this.page.save();
    this.page.showScreen("way");
  }
}
