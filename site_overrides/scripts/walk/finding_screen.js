/* The end of a walk as a dated finding: shown, printed, copied, sent, saved as text. */
"use strict";

class FindingScreen {
  constructor(page) {
    this.page = page;
    page.on("finding", () => page.showScreen("finding"));
    page.on("print", () => window.print());
    page.on("copy-finding", () => this.#copy());
    page.on("send-finding", () => this.#send());
    page.on("save-finding", () => Saved.file(`finding-light-${this.#name}.txt`, this.text(), "text/plain"));
    page.on("save-text", () => Saved.file(`light-${this.#name}.txt`, this.text(), "text/plain"));
    page.on("save-file", () => Saved.file(`light-${this.#name}.json`, JSON.stringify(page.walk.run, null, 2)));
    page.on("keep", () => page.showScreen("keep"));
    Dom.field("place").addEventListener("input", (event) => this.#place(event.target.value));
    Dom.field("place").addEventListener("change", () => this.fill());
    window.addEventListener("beforeprint", () => page.walk && this.fill());
  }

  get #name() {
    return this.page.walk.run.light.toLowerCase().replaceAll(/[^a-z0-9]+/g, "-");
  }

  get #title() {
    return `Finding for light ${this.page.walk.run.light}, ${Finding.day(this.page.now())}`;
  }

  get #blocks() {
    const { walk, data, words, now } = this.page;
    const { version, revised } = document.body.dataset;
    return Finding.of(walk, this.#end(), words, { id: data.tree.id, version, revised, now: now() });
  }

  text() {
    return Finding.text(this.#title, this.#blocks);
  }

  /* What the remedy's own section says; null where the walk has not ended. */
  #end() {
    const { walk } = this.page;
    const step = walk.step(walk.here);
    if (step.kind !== "remedy") return null;
    const section = Dom.section(walk.here);
    const all = (selector) => [...section.querySelectorAll(selector)];
    const note = section.querySelector(":scope > [data-note]");
    const pair = (each) => [...each.children].slice(0, 2).map(Dom.text).join(": ");
    return {
      title: step.title,
      note: note && Dom.text(note),
      steps: all("[data-work]").map((each) => each.dataset.work),
      materials: all("[data-material]").map((each) => pair(each).replace(/ Reckon it$/, "")),
      cautions: [...new Set(FindingScreen.#gravestFirst(all("div.caution")).map(pair))],
    };
  }

  static #gravestFirst(cautions) {
    const signals = ["danger", "warning", "caution", "notice"];
    return signals.flatMap((signal) => cautions.filter((each) => each.matches(`.caution--${signal}`)));
  }

  fill() {
    Dom.say("finding-title", this.#title);
    Dom.field("place").value = this.page.walk.run.place;
    Dom.show("finding-said", false);
    const shown = this.#blocks.flatMap(({ head, lines }) => [
      Dom.make("h3", "", head),
      Dom.make("ul", "", ...lines.map((line) => Dom.make("li", "", line))),
    ]);
    Dom.list("finding").replaceChildren(...shown);
  }

  #send() {
    const says = "The text is the finding. The link lets somebody else take the answers over.";
    this.page.send.open({ title: "Send the finding", says, text: this.text(), fragment: this.page.wayLink() });
  }

  /* Kept with every letter; it stands in the finding once the field is left. */
  #place(text) {
    this.page.walk.run.place = Checked.line(text.trim(), 200);
    this.page.save();
  }

  async #copy() {
    const copied = await Saved.copy(this.text());
    Dom.tell("finding-said", copied ? "Copied." : "This browser would not copy it. Send it instead.");
  }
}
