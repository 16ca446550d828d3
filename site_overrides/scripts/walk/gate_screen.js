/* A gate: each condition ticked by whoever goes; yes opens only when all are. Before the first one that leads up
   stands the list of what to look at and to carry. */
"use strict";

class GateScreen {
  constructor(page) {
    this.page = page;
    this.alive = new Set();
  }

  /* Only once it is asked: if the walk does not start, yes is still a link. */
  #enliven(section) {
    if (this.alive.has(section)) return;
    this.alive.add(section);
    const link = section.querySelector('[data-answer="yes"]');
    const button = Dom.make("button", link.className, ...link.childNodes);
    button.type = "button";
    Object.assign(button.dataset, link.dataset);
    link.replaceWith(button);
    section.addEventListener("change", (event) => {
      if (event.target.matches("[data-packed]")) this.#pack(section);
      else this.#count(section);
    });
    section.querySelector("[data-packed-done]")?.addEventListener("click", () => this.#packed(section));
  }

  static #conditions(section) {
    return [...section.querySelectorAll("[data-conditions] .tick input")];
  }

  /* Asks the gate from the start: nothing is ticked. */
  fill(section) {
    this.#enliven(section);
    for (const box of GateScreen.#conditions(section)) box.checked = false;
    this.#count(section);
    const packing = section.querySelector("[data-going-up]");
    if (!packing) return;
    const ticked = this.page.walk.run.packed[section.dataset.step];
    packing.querySelectorAll("[data-packed]").forEach((box, n) => (box.checked = Boolean(ticked?.includes(n))));
    this.#showPacking(section, !ticked?.includes("done"));
  }

  #showPacking(section, shown) {
    section.querySelector("[data-going-up]").hidden = !shown;
    section.querySelector("[data-packed-done]").hidden = false;
    section.querySelector("[data-conditions]").hidden = shown;
  }

  #count(section) {
    const boxes = GateScreen.#conditions(section);
    const ticked = boxes.filter((box) => box.checked).length;
    const open = ticked === boxes.length;
    section.querySelector('[data-answer="yes"]').disabled = !open;
    const text = `${ticked} of ${boxes.length} ticked. ${open ? "Yes is open." : `Yes opens at ${boxes.length}.`}`;
    section.querySelector("[data-ticks-left]").textContent = text;
  }

  #pack(section) {
    const boxes = [...section.querySelectorAll("[data-packed]")];
    const ticked = boxes.flatMap((box, n) => (box.checked ? [n] : []));
    this.page.walk.run.packed[section.dataset.step] = ticked;
    this.page.save();
    return ticked;
  }

  #packed(section) {
    this.#pack(section).push("done");
    this.page.save();
    this.#showPacking(section, false);
    this.page.screens.show(section);
  }
}
