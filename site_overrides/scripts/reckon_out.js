/* A result out of a formula's own page: shared, copied or printed, with all that it needs to be followed. */
"use strict";

class ReckoningOut {
  constructor(place) {
    this.place = place;
    this.form = place.querySelector("form");
    this.formula = ReckoningForm.formulaOf(this.form);
    this.form.addEventListener("reckoned", (event) => {
      this.reckoned = event.detail;
      this.part("by-hand").hidden = true;
    });
    this.part("share").addEventListener("click", () => this.#share());
    this.part("copy-text").addEventListener("click", () => this.#copy());
    this.part("print").addEventListener("click", () => window.print());
    this.part("share").hidden = !navigator.share;
  }

  part(name) {
    return this.place.querySelector(`[data-${name}]`);
  }

  #say(sentence) {
    this.part("said").textContent = sentence;
  }

  async #share() {
    try {
      await navigator.share({ text: this.text() });
      this.#say("Handed over to be sent.");
    } catch (error) {
      if (error.name !== "AbortError") await this.#copy();
    }
  }

  async #copy() {
    const field = this.part("text");
    field.value = this.text();
    if (await Saved.copy(field.value)) return this.#say("Copied. Paste it into a message.");
    this.part("by-hand").hidden = false;
    field.focus();
    field.select();
    return this.#say("This browser would not copy it. It is marked below: copy it by hand.");
  }

  text() {
    const { title, formula } = this.form.dataset;
    const { version, revised } = this.place.dataset;
    const day = new Date().toLocaleString("en-GB", { dateStyle: "medium", timeStyle: "short" });
    const blocks = [
      [`${title}, ${day}`],
      this.formula.inputs.flatMap((input) => this.#given(input)),
      this.result(),
      this.reckoned.working,
      [...this.form.querySelectorAll("[data-note]")].map((note) => note.textContent.trim()),
      [`Reckoned with ${formula} ${version}, guide of ${revised}.`],
    ];
    const said = blocks.filter((lines) => lines.length > 0).map((lines) => lines.join("\n"));
    return `${said.join("\n\n")}\n`;
  }

  #given(input) {
    const value = this.reckoned.values[input.name];
    if (input.columns.length === 0) return [`${input.label}: ${ReckoningOut.#written(input, value)}`];
    const cell = (column, n, line) => `${column.label} ${ReckoningOut.#written(column, line[n])}`;
    const said = (line) => input.columns.map((column, n) => cell(column, n, line)).join(", ");
    return [`${input.label}:`, ...(value ?? []).map((line, n) => `${n + 1}. ${said(line)}`)];
  }

  result() {
    const { outputs, verdict } = this.reckoned;
    if (outputs === null) return ["Not reckoned yet: a number is missing, or cannot be right."];
    const said = (output) => `${output.label}: ${ReckoningOut.#number(output, outputs[output.name])}`;
    const lines = this.formula.outputs.map(said);
    return verdict === null ? lines : [...lines, this.formula.verdicts[verdict]];
  }

  static #number(output, value) {
    return value === null ? "none" : reckoning.quantity(value, output.unit.symbol);
  }

  static #written(input, value) {
    if (value === null) return "not given";
    const picked = input.choices.find((choice) => choice.value === value);
    return picked ? picked.label : reckoning.quantity(value, input.unit.symbol);
  }
}

for (const place of document.querySelectorAll("[data-reckoning]")) {
  try {
    new ReckoningOut(place);
  } catch (error) {
    console.error("The result cannot be sent from here.", error);
  }
}
