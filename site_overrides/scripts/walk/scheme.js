/* Light for outdoors unless the reader asks for dark, indoors; the choice is kept on this phone. */
"use strict";

class Scheme {
  static KEY = "walk-scheme";

  constructor(page) {
    this.#wear(Scheme.#chosen());
    page.on("scheme", () => this.#turn());
  }

  static #chosen() {
    try {
      return localStorage.getItem(Scheme.KEY);
    } catch {
      return null;
    }
  }

  #wear(scheme) {
    document.documentElement.dataset.scheme = scheme === "dark" ? "dark" : "light";
    const offered = scheme === "dark" ? "Light, for outdoors" : "Dark, for indoors";
    document.querySelector('[data-act="scheme"]').textContent = offered;
  }

  #turn() {
    const scheme = document.documentElement.dataset.scheme === "dark" ? "light" : "dark";
    this.#wear(scheme);
    try {
      localStorage.setItem(Scheme.KEY, scheme);
    } catch {
      /* It holds for this page alone then. */
    }
  }
}
