/* What a tap does: every act has a name; every answer, hand-over and stop changes the walk here and nowhere else. */
"use strict";

class Acts {
  constructor(page) {
    this.page = page;
    this.acts = new Map();
    this.on("lights", () => page.showLights({ replace: false }));
    this.on("back", () => this.reopen(page.walk.previous));
    this.on("undo", () => this.#undo());
    this.on("use-kept", () => this.#useKept());
    this.on("stop", () => this.#stop());
    this.on("return", () => (page.walk ? page.showStep() : page.showLights()));
    document.addEventListener("click", (event) => this.#tapped(event));
    for (const button of document.querySelectorAll("[data-ending]")) {
      button.addEventListener("click", () => this.#close(button.dataset.ending));
    }
  }

  on(name, act) {
    this.acts.set(name, act);
  }

  /* A click comes when the finger leaves, so that sliding off cancels. */
  #tapped(event) {
    const found = event.target.closest("[data-act], [data-answer], [data-hand-over]");
    if (!found || !document.documentElement.classList.contains("js")) return;
    event.preventDefault();
    if (found.dataset.act !== undefined) this.acts.get(found.dataset.act)();
    else if (found.dataset.answer !== undefined) this.#answered(found);
    else this.#handOver();
  }

  async #answered(link) {
    const { page } = this;
    const { answer, words, line } = link.dataset;
    const { asked } = page.walk;
    /* The gate before it closed while the answer was on the screen. */
    if (link.closest("[data-step]") !== Dom.section(asked)) return page.showStep();
    const observed = ["question", "measure"].includes(page.walk.step(asked).kind);
    const seen = () => ({ ...page.step.note, ...page.measure.of(asked, answer) });
    const facts = observed ? seen() : { roof: page.gate.roof(Dom.section(asked)) };
    const closed = page.walk.answer(answer, { at: page.now(), words, line, ...facts });
    if (observed) delete page.walk.run.draft;
    if (page.asking && observed) return page.incoming.replied(asked);
    if (page.asking && answer !== "yes") return page.incoming.refused(asked);
    return this.#took(words, closed);
  }

  async #took(words, closed) {
    const { page } = this;
    const saved = await page.save();
    const kept = saved ? `Saved on this phone ${Finding.clock(page.now())}.` : "Not saved.";
    /* The words of a verdict end with a stop of their own. */
    page.step.last = page.asking ? "" : `${words.replace(/\.$/, "")}. ${kept}`;
    page.step.notices = [...page.closings(closed), ...this.#passed()];
    page.showStep();
  }

  #passed() {
    const last = this.page.walk.way.at(-1);
    return last?.passed ? [`${last.question}: still open, so it is not asked again.`] : [];
  }

  #useKept() {
    const { words, ...kept } = new Standing(this.page.walk).keptAnswer;
    const facts = { words, line: kept.line, at: kept.at, seen: kept.seen, who: kept.who };
    const measure = kept.measure ? { measure: kept.measure } : {};
    return this.takeOver(kept.answer, { ...facts, ...measure });
  }

  /* Takes an answer that was given before, or by somebody else, for the step where the walk stands. */
  takeOver(answer, facts) {
    return this.#took(facts.words, this.page.walk.takeOver(answer, facts, this.page.now()));
  }

  async #undo() {
    this.page.walk.undo();
    await this.page.save();
    this.page.showStep();
  }

  /* Goes back to an answer, in this tree or another. */
  async reopen(entry) {
    const { page } = this;
    page.walk.goBack(entry, page.now());
    page.walk.before = null;
    if (page.walk.here !== null) {
      await page.save();
      return page.showStep();
    }
    page.walk.run.crossing = page.now();
    return page.goOver();
  }

  async #handOver() {
    const { page } = this;
    page.walk.handOver(page.now());
    page.walk.run.crossing = page.now();
    await page.goOver();
  }

  /* What to do shows at once, however slow the phone's memory is. */
  #stop() {
    const { page } = this;
    page.walk?.stop(page.now());
    page.step.forgetCautions();
    Dom.show("stopped", page.walk !== null);
    page.showScreen("stop");
    if (page.walk) page.save();
  }

  async #close(why) {
    const { page } = this;
    page.step.notices = page.closings(page.walk.gates.close(why, page.now()));
    page.step.forgetCautions();
    page.walk.before = null;
    await page.save();
    page.showStep();
  }
}
