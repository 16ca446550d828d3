/* A gate: each condition ticked by whoever goes; yes opens only when all are. Where the way has not settled the roof,
   that is asked first, and only the conditions for it count. Before the first gate that leads up stands the list of
   what to look at and to carry. */
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
      if (event.target.matches("[data-packed]")) return void this.#pack(section);
      if (event.target.matches("[data-roof]")) this.#showRoof(section);
      this.#count(section);
    });
    section.querySelector("[data-packed-done]")?.addEventListener("click", () => this.#packed(section));
  }

  static #all(section, what) {
    return [...section.querySelectorAll(what)];
  }

  /* The conditions that count on the roof that was picked. */
  static #conditions(section) {
    return GateScreen.#all(section, "[data-condition]").filter((box) => !box.closest("[data-on][hidden]"));
  }

  /* The roof that was picked at a gate: "any" where nobody can tell, or it was settled before; "" where it waits. */
  roof(section) {
    const picks = GateScreen.#all(section, "[data-roof]");
    return picks.length ? (picks.find((pick) => pick.checked)?.dataset.roof ?? "") : "any";
  }

  #showRoof(section) {
    const roof = this.roof(section);
    for (const group of section.querySelectorAll("[data-on]")) group.hidden = ![group.dataset.on, "any"].includes(roof);
  }

  /* Asks the gate from the start: nothing is picked or ticked. */
  fill(section) {
    this.#enliven(section);
    for (const box of GateScreen.#all(section, "[data-condition], [data-roof]")) box.checked = false;
    for (const picker of section.querySelectorAll("[data-roofs]")) {
      picker.hidden = false;
      section.querySelector("[data-roofs-told]").hidden = true;
      for (const pick of picker.querySelectorAll("[data-roof]")) pick.name = `${section.dataset.step}--roof`;
    }
    this.#showRoof(section);
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
    const roof = this.roof(section);
    const open = ticked === boxes.length && !["", "none"].includes(roof);
    section.querySelector('[data-answer="yes"]').disabled = !open;
    section.querySelector("[data-ticks-left]").textContent = GateScreen.#left(roof, open, ticked, boxes.length);
  }

  static #left(roof, open, ticked, count) {
    if (roof === "none") return "Nobody goes on that roof. Answer no.";
    if (roof === "") return "Say first which roof it is.";
    return `${ticked} of ${count} ticked. ${open ? "Yes is open." : `Yes opens at ${count}.`}`;
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
