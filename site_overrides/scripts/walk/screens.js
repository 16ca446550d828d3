/* Shows one section of the page at a time, and keeps a double tap from answering what it did not see. */
"use strict";

class Screens {
  /* A second tap within this time was meant for what stood there before. */
  static GUARD_MS = 400;

  constructor() {
    this.shownAt = -Infinity;
    document.addEventListener("click", (event) => this.#guard(event), { capture: true });
  }

  #guard(event) {
    const early = performance.now() - this.shownAt < Screens.GUARD_MS;
    if (!early || event.target.closest('[data-act="stop"]')) return;
    event.preventDefault();
    event.stopImmediatePropagation();
  }

  /* Shows this section alone; a step has its frame and tools round it. */
  show(section) {
    for (const each of document.querySelectorAll("[data-screen], [data-step], [data-glossary]")) {
      each.hidden = each !== section;
    }
    const isStep = section.matches("[data-step]");
    Dom.show("frame", isStep);
    Dom.show("tools", isStep);
    this.shownAt = performance.now();
    window.scrollTo(0, 0);
    section.focus({ preventScroll: true });
  }

  get shown() {
    return document.querySelector("[data-screen]:not([hidden])")?.dataset.screen ?? "step";
  }
}
