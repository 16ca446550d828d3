/* Sends a text and a link out by what the phone has: its own share sheet, the clipboard, or the text to mark. */
"use strict";

class SendScreen {
  constructor(page) {
    this.page = page;
    for (const kind of ["link", "text"]) {
      page.on(`share-${kind}`, () => this.#share(kind));
      page.on(`copy-${kind}`, () => this.#copy(kind));
    }
    page.on("send-question", () => this.open(this.#question()));
    page.on("send-way", () => this.open(this.#way()));
  }

  /* A link into a folder on this phone opens nowhere else. */
  static get linksWork() {
    return location.protocol !== "file:";
  }

  /* `says` tells what the link does at the other end; `sent` is done once it went out. */
  open({ title, says = "", text, fragment = "", sent = () => {} }) {
    this.sent = sent;
    const link = fragment && SendScreen.linksWork ? location.href.replace(/[?#].*$/, "") + fragment : "";
    Dom.say("send-title", title);
    Dom.say("send-says", says);
    Dom.field("link").value = link;
    Dom.field("text").value = text;
    Dom.show("send-link", Boolean(link));
    Dom.show("no-link", Boolean(fragment) && !SendScreen.linksWork);
    Dom.show("sent", false);
    this.page.showScreen("send");
  }

  async #share(kind) {
    const value = Dom.field(kind).value;
    if (!navigator.share) return this.#copy(kind);
    try {
      await navigator.share(kind === "link" ? { url: value } : { text: value });
      this.#went("Handed over to be sent.");
    } catch (error) {
      if (error.name !== "AbortError") await this.#copy(kind);
    }
  }

  async #copy(kind) {
    const field = Dom.field(kind);
    if (await Saved.copy(field.value)) return this.#went("Copied. Paste it into a message.");
    field.focus();
    field.select();
    Dom.tell("sent", "This browser would not copy it. It is marked below: copy it by hand.");
  }

  #went(how) {
    Dom.tell("sent", how);
    this.sent();
  }

  #way() {
    const says = "Whoever gets the link can take the answers over and walk on.";
    return { title: "Send the way so far", says, text: Finding.way(this.page.walk), fragment: this.page.wayLink() };
  }

  /* The question as it stands, with its cautions first, and a link that asks it alone. */
  #question() {
    const { walk, data } = this.page;
    const section = Dom.section(walk.asked);
    const step = walk.step(walk.asked);
    const title = `Light ${walk.run.light}: ${step.title}`;
    const cautions = [...section.querySelectorAll("div.caution, details.caution--reminder")];
    const told = new Map(cautions.map((each) => [each.dataset.caution, SendScreen.#caution(each)]));
    const ticks = [...section.querySelectorAll("[data-conditions] .tick")].map((row) => `[ ] ${Dom.text(row)}`);
    const copy = [...section.querySelectorAll("[data-copy]")].map(Dom.text);
    const answers = [...section.querySelectorAll("[data-answers] [data-answer]")].map(SendScreen.#answer);
    const text = [title, ...told.values(), ...copy, ...ticks, ...answers].join("\n");
    if (step.kind === "gate") return this.#gate(text);
    if (step.kind !== "question" && step.kind !== "measure") return this.#way();
    const says = "Whoever gets the link sees this question alone, and sends the answer back the same way.";
    const fragment = Links.wrap("ask", Links.question(walk.run, data, walk.asked));
    return { title: "Send this question", says, text, fragment };
  }

  #gate(text) {
    const says = "Only whoever goes up can answer a gate. The link hands the walk over, and the gate is asked there.";
    return { title: "Send this gate", says, text, fragment: this.page.wayLink() };
  }

  static #caution(element) {
    const [word, hazard] = [".caution__word", ".caution__hazard"].map((each) => Dom.text(element.querySelector(each)));
    const lines = [...element.querySelectorAll(".caution__line")].map(Dom.text);
    return `${word}. ${hazard}. ${lines.join(" ")}`;
  }

  static #answer(link) {
    const looks = Dom.text(link.querySelector(".answer__looks"));
    return `[ ] ${link.dataset.words}${looks ? `: ${looks}` : ""}`;
  }
}
