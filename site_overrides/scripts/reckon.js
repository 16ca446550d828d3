/* Enlivens a reckoning form: the result stands while the reader types. The formulas, the checks of what is
   typed and their sentences come from reckoning.js, which is printed from the Python. Each form is started in
   its own try, so that one that fails leaves the rule by hand open and the others alive. */
"use strict";

class ReckoningForm {
  constructor(form) {
    this.form = form;
    this.formula = ReckoningForm.formulaOf(form);
    this.left = new Set();
    this.result = this.part("result");
    this.example = this.part("picture")?.innerHTML;
    const lists = this.formula.inputs.filter((input) => input.columns.length > 0);
    this.lists = new Map(lists.map((input) => [input.name, new ReckoningRows(form, input)]));
  }

  start() {
    this.update();
    this.form.addEventListener("submit", (event) => event.preventDefault());
    this.form.addEventListener("reset", () => {
      this.left.clear();
      for (const list of this.lists.values()) list.left = new WeakSet();
    });
    this.form.addEventListener("input", (event) => {
      /* Whoever fills the form anew says so with an event at the form itself. */
      if (event.target === this.form) this.readLists();
      this.update();
    });
    /* A field is judged once it has been left: half a number is not a mistake. */
    this.form.addEventListener("change", (event) => {
      this.left.add(event.target.name);
      this.update();
    });
    /* The browser may fill in what was typed before. */
    window.addEventListener("pageshow", () => {
      this.readLists();
      this.update();
    });
    /* Last of all: whatever failed above leaves the page as it was written. */
    this.enliven();
  }

  enliven() {
    this.part("live").hidden = false;
    this.part("hand").open = false;
  }

  /* The formula with the inputs that a form has fields for. */
  static formulaOf(form) {
    const formula = reckoning.formulas[form.dataset.formula];
    return { ...formula, inputs: formula.inputs.filter(({ name }) => form.elements[name]) };
  }

  part(name) {
    return this.form.querySelector(`[data-${name}]`);
  }

  readLists() {
    for (const list of this.lists.values()) list.read();
  }

  update() {
    const values = {};
    let whole = true;
    for (const input of this.formula.inputs) {
      const { name } = input;
      const list = this.lists.get(name);
      const checked = list ? null : reckoning.check_text(input, this.form.elements[name].value);
      values[name] = list ? list.take() : (checked.choice ?? checked.number);
      whole = whole && (list ? values[name] !== null : checked.error === "");
      if (!list) this.showError(name, this.left.has(name) ? checked.error : "");
    }
    this.reckon(values, whole);
  }

  /* What was taken in, and whether all of it can be used. */
  reckon(values, whole) {
    const inOrder = this.formula.inputs.map((input) => values[input.name]);
    this.show(values, inOrder, whole ? this.formula.reckon(...inOrder) : null);
  }

  showError(name, sentence) {
    const slot = this.form.querySelector(`[data-error="${name}"]`);
    ReckoningRows.show(this.form.elements[name], slot, sentence);
  }

  show(values, inOrder, reckoned) {
    this.result.hidden = reckoned === null;
    this.form.classList.toggle("reckon--done", reckoned !== null);
    const { outputs = null, verdict = null, working = [] } = reckoned ?? {};
    this.say("verdict", verdict === null ? "" : this.formula.verdicts[verdict]);
    for (const output of this.formula.outputs) this.say(`output="${output.name}"`, this.written(output, outputs));
    this.part("working").replaceChildren(...working.map(ReckoningForm.listItem));
    this.draw(inOrder, outputs);
    const detail = { formula: this.form.dataset.formula, values, outputs, verdict, working };
    this.form.dispatchEvent(new CustomEvent("reckoned", { bubbles: true, detail }));
  }

  written(output, outputs) {
    const value = outputs?.[output.name] ?? null;
    return value === null ? "none" : reckoning.quantity(value, output.unit.symbol);
  }

  /* Said again only when it changed, so that a screen reader speaks once. */
  say(name, text) {
    const place = this.part(name);
    if (place.textContent !== text) place.textContent = text;
  }

  draw(inOrder, outputs) {
    if (this.formula.draw === null) return;
    this.part("picture").innerHTML = outputs === null ? this.example : this.formula.draw(...inOrder, outputs);
    this.part("caption").hidden = outputs !== null;
  }

  static listItem(text) {
    const item = document.createElement("li");
    item.textContent = text;
    return item;
  }
}

for (const form of document.querySelectorAll('[data-module="reckon"]')) {
  try {
    new ReckoningForm(form).start();
  } catch (error) {
    console.error(`The form for ${form.dataset.formula} did not start.`, error);
  }
}
