/* A measure: the form's verdict opens its own exit alone; what was reckoned is kept with the answer. */
"use strict";

class MeasureScreen {
  constructor() {
    this.reckoned = new Map();
    this.byHand = new Map();
    document.addEventListener("reckoned", (event) => this.#take(event.target.closest("[data-step]"), event.detail));
    for (const section of document.querySelectorAll(".step--measure")) this.#enliven(section);
  }

  #enliven(section) {
    const text = "Reckoned by hand? Choose the result";
    const open = Dom.button(text, "button button--quiet button--wide", () => this.#showAll(section));
    const row = Dom.make("li", "", open);
    row.hidden = true;
    section.querySelector("[data-answers]").append(row);
    this.byHand.set(section, row);
  }

  static #fields(section) {
    return [...section.querySelectorAll('[data-module="reckon"] :is(input, select)[name]')];
  }

  /* What stands in the form, by the names of its fields; empty where the step has none. */
  typed(section) {
    return Object.fromEntries(MeasureScreen.#fields(section).map(({ name, value }) => [name, value]));
  }

  /* Fills the form anew, so that nothing of another light stays in it; what is not given stands as it was written. */
  fill(section, values) {
    const fields = MeasureScreen.#fields(section);
    fields[0]?.form.reset();
    for (const field of fields) {
      if (Object.hasOwn(values, field.name)) field.value = MeasureScreen.#written(values[field.name] ?? "");
    }
    fields[0]?.form.dispatchEvent(new Event("input"));
  }

  /* A list is carried in its field as JSON. */
  static #written(value) {
    return Array.isArray(value) ? JSON.stringify(value) : value;
  }

  static #verdicts(section) {
    return [...section.querySelectorAll(".answer--verdict")];
  }

  #take(section, detail) {
    if (!section) return;
    this.reckoned.set(section.dataset.step, detail.verdict === null ? null : detail);
    for (const link of MeasureScreen.#verdicts(section)) {
      link.parentElement.hidden = link.dataset.answer !== detail.verdict;
    }
    this.byHand.get(section).hidden = false;
  }

  #showAll(section) {
    for (const link of MeasureScreen.#verdicts(section)) link.parentElement.hidden = false;
    this.byHand.get(section).hidden = true;
  }

  /* What was reckoned for this answer; nothing where it was chosen by hand. */
  of(stepId, answer) {
    const detail = this.reckoned.get(stepId);
    if (detail?.verdict !== answer) return {};
    const { formula, values, outputs, verdict, working } = detail;
    return { measure: { formula, values: { ...values }, outputs: { ...outputs }, verdict, working: [...working] } };
  }
}
