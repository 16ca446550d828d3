/* Shows one section of the page at a time, and keeps a double tap from doing a thing twice, or from answering what it
   did not see. */
"use strict";

class Screens {
  /* A second tap within this time was meant for what stood there before. */
  static GUARD_MS = 400;

  constructor() {
    this.quietFrom = -Infinity;
    document.addEventListener("click", (event) => this.#guard(event), { capture: true });
  }

  #guard(event) {
    if (event.target.closest('[data-act="stop"]')) return;
    if (performance.now() - this.quietFrom >= Screens.GUARD_MS) {
      if (event.target.closest("a, button")) this.quiet();
      return;
    }
    event.preventDefault();
    event.stopImmediatePropagation();
  }

  /* From now on, for a moment, no tap counts. */
  quiet() {
    this.quietFrom = performance.now();
  }

  /* Shows this section alone; a step has its frame and tools round it. */
  show(section) {
    for (const each of document.querySelectorAll("[data-screen], [data-step], [data-glossary]")) {
      each.hidden = each !== section;
    }
    const isStep = section.matches("[data-step]");
    Dom.show("frame", isStep);
    Dom.show("tools", isStep);
    this.quiet();
    window.scrollTo(0, 0);
    section.focus({ preventScroll: true });
  }

  get shown() {
    return document.querySelector("[data-screen]:not([hidden])")?.dataset.screen ?? "step";
  }
}
