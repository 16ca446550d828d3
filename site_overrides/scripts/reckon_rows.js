/* The lines of a list in a reckoning form: fields to type in, a line more, a line less. What stands in them is carried,
   as JSON, in one hidden field of the list's own name, so that whoever keeps a form keeps its lists. */
"use strict";

class ReckoningRows {
  constructor(form, input) {
    this.input = input;
    this.set = form.querySelector(`[data-rows="${input.name}"]`);
    this.carrier = this.set.querySelector("[data-carrier]");
    this.lines = this.set.querySelector("[data-lines]");
    this.add = this.set.querySelector("[data-add]");
    this.left = new WeakSet();
    this.add.addEventListener("click", () => this.#more());
    this.lines.addEventListener("click", (event) => {
      if (event.target.matches("[data-out]")) this.#takeOut(event.target.closest("li"));
    });
    this.lines.addEventListener("input", () => this.#carry());
    /* A field is judged once it has been left. */
    this.lines.addEventListener("change", (event) => this.left.add(event.target));
    this.read();
  }

  /* Makes the lines that the carrier says; what cannot be read is blank. */
  read() {
    if (this.carrier.value === this.carried) return;
    const lines = this.#said();
    this.lines.replaceChildren(...lines.map((cells) => this.#line(cells)));
    this.#carry();
  }

  #said() {
    const { columns, high, low } = this.input;
    let lines = [];
    try {
      lines = JSON.parse(this.carrier.value).slice(0, high);
    } catch {
      lines = [];
    }
    const count = Math.max(low, lines.length);
    return Array.from({ length: count }, (_, row) => columns.map((_, n) => String(lines[row]?.[n] ?? "")));
  }

  #line(cells) {
    const line = this.set.querySelector("[data-blank]").content.cloneNode(true).firstElementChild;
    for (const [n, field] of ReckoningRows.#fields(line).entries()) field.value = cells[n];
    return line;
  }

  static #fields(line) {
    return [...line.querySelectorAll("input, select")];
  }

  #carry() {
    const cells = [...this.lines.children].map((line) => ReckoningRows.#fields(line).map((field) => field.value));
    this.carried = JSON.stringify(cells);
    this.carrier.value = this.carried;
    this.#name();
  }

  /* Ids, labels and what may be done follow from how many lines there are. */
  #name() {
    const { high, low, label } = this.input;
    const lines = [...this.lines.children];
    for (const [n, line] of lines.entries()) {
      for (const cell of line.querySelectorAll("[data-cell]")) this.#nameCell(cell, `${this.set.id}-${n + 1}`);
      const out = line.querySelector("[data-out]");
      out.hidden = lines.length <= low;
      out.setAttribute("aria-label", `Take out line ${n + 1}`);
    }
    this.add.hidden = lines.length >= high;
    this.add.setAttribute("aria-label", `Add a line: ${label}`);
    const count = this.set.querySelector("[data-count]");
    const said = `${lines.length} of at most ${high} ${high === 1 ? "line" : "lines"}.`;
    if (count.textContent !== said) count.textContent = said;
  }

  #nameCell(cell, line) {
    const id = `${line}-${cell.dataset.cell}`;
    const error = cell.querySelector(".reckon__error");
    const field = cell.querySelector("input, select");
    field.id = id;
    error.id = `${id}-error`;
    cell.querySelector("label").htmlFor = id;
    field.setAttribute("aria-describedby", `${this.set.id}-${cell.dataset.cell}-hint ${error.id}`);
  }

  #more() {
    const line = this.#line(this.input.columns.map((column) => column.default ?? ""));
    this.lines.append(line);
    this.#changed(ReckoningRows.#fields(line)[0]);
  }

  /* The focus goes to the line that takes its place, or to the last one. */
  #takeOut(line) {
    const next = line.nextElementSibling ?? line.previousElementSibling;
    line.remove();
    this.#changed(next ? ReckoningRows.#fields(next)[0] : this.add);
  }

  #changed(focus) {
    this.#carry();
    focus.focus();
    this.carrier.dispatchEvent(new Event("input", { bubbles: true }));
  }

  /* Takes in all lines and shows what is wrong beside each field: the lines as the formula wants them, or null. */
  take() {
    const lines = [...this.lines.children].map((line) => this.#takeLine(line));
    const whole = lines.every((line) => line !== null) && reckoning.check_count(this.input, lines.length) === "";
    return whole ? lines : null;
  }

  #takeLine(line) {
    const checked = ReckoningRows.#fields(line).map((field, n) => {
      const found = reckoning.check_text(this.input.columns[n], field.value);
      const slot = field.parentElement.querySelector(".reckon__error");
      ReckoningRows.show(field, slot, this.left.has(field) ? found.error : "");
      return found;
    });
    return checked.every(({ error }) => error === "") ? checked.map((each) => each.choice ?? each.number) : null;
  }

  /* Writes the sentence beside a field, or takes it away. */
  static show(field, slot, sentence) {
    if (slot.textContent !== sentence) slot.textContent = sentence;
    slot.hidden = sentence === "";
    field.setAttribute("aria-invalid", String(sentence !== ""));
  }
}
