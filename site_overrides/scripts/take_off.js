/* A remedy's list to buy: the sizes of a light go in once, and stand for every remedy; each material that follows from
   them is reckoned by the one formula, beside its words. */
"use strict";

class TakeOffForm extends ReckoningForm {
  constructor(form) {
    super(form);
    this.place = form.closest("[data-take-off]");
    this.all = reckoning.formulas[form.dataset.formula];
    this.rows = [...this.place.querySelectorAll("[data-taken]")];
  }

  enliven() {
    this.part("live").hidden = false;
  }

  /* Sizes that were kept are open to be seen: they may be those of another light. */
  restored() {
    /* A reader may have opened it before this ran. */
    if (this.begun) this.part("fold").open = true;
  }

  reckon(values, whole) {
    this.begun = this.formula.inputs.some(({ name, optional }) => optional && values[name] !== null);
    const taken = this.rows.map((row) => (whole && this.begun ? this.#take(row, values) : null));
    for (const [n, row] of this.rows.entries()) TakeOffForm.#say(row, taken[n] ? `→ ${taken[n].said}.` : "");
    const working = taken.flatMap((each) => (each ? [`${each.item}: ${each.working.join(" ")}`] : []));
    this.#showWorking(working);
    this.form.classList.toggle("reckon--done", taken.some((each) => each?.reckoned));
    /* It does not rise: a walk hears only its measures. */
    const detail = { values, taken: whole && this.begun, working };
    this.form.dispatchEvent(new CustomEvent("reckoned", { detail }));
  }

  #take(row, values) {
    const settled = JSON.parse(row.dataset.taken);
    const value = ({ name, default: otherwise }) => settled[name] ?? values[name] ?? otherwise;
    const { outputs, working } = this.all.reckon(...this.all.inputs.map(value));
    const known = this.all.outputs.filter(({ name }) => outputs[name] !== null);
    const lines = known.map((output) => TakeOffForm.#written(output, outputs[output.name], row, settled));
    const unsold = settled.sold_m !== undefined && outputs.sold_count === null;
    if (unsold || lines.length === 0) lines.push(working.at(-1).replace(/\.$/, ""));
    const item = row.closest("[data-material]").querySelector("dt").textContent;
    return { item, said: lines.join(". "), working, reckoned: known.length > 0 };
  }

  static #written(output, value, row, settled) {
    const said = `${output.label}: ${reckoning.quantity(value, output.unit.symbol)}`;
    if (output.name !== "sold_count") return said;
    return `${said} × ${row.dataset.soldAs}, ${reckoning.quantity(settled.sold_m, "m")} each`;
  }

  static #say(place, text) {
    if (place.textContent !== text) place.textContent = text;
  }

  #showWorking(working) {
    this.place.querySelector("[data-workings]").hidden = working.length === 0;
    this.place.querySelector("[data-working]").replaceChildren(...working.map(ReckoningForm.listItem));
  }
}

/* The whole list goes out, with what stands in words only. */
class TakeOffOut extends ReckoningOut {
  result() {
    const rows = [...this.place.querySelectorAll("[data-material]")];
    return rows.map((row, n) => `${n + 1}. ${TakeOffOut.#text(row)}`);
  }

  static #text(row) {
    const copy = row.cloneNode(true);
    for (const link of copy.querySelectorAll('a[href*="reckon/"]')) link.remove();
    return [...copy.children].map((each) => each.textContent.trim().replace(/\s+/g, " ")).join(": ");
  }
}

for (const place of document.querySelectorAll("[data-take-off]")) {
  try {
    const form = new TakeOffForm(place.querySelector("form"));
    new TakeOffOut(place);
    form.start();
    new KeptReckoning(place).start().then(() => form.restored());
  } catch (error) {
    console.error("The list to buy stands in words only.", error);
  }
}
