/* A formula's own page: what is typed is kept on this phone and nowhere else, and can be cleared. */
"use strict";

class KeptReckoning {
  constructor(place) {
    this.place = place;
    this.form = place.querySelector("form");
    this.name = `reckoning ${this.form.dataset.formula}`;
  }

  start() {
    this.form.addEventListener("input", (event) => {
      if (event.target !== this.form) this.#keep();
    });
    this.form.addEventListener("change", () => this.#protect(), { once: true });
    /* The same sizes may stand in several forms of a page. */
    document.addEventListener("kept", ({ detail }) => {
      if (detail !== this && detail.name === this.name) this.#restore();
    });
    this.#on("clear", () => this.#ask(true));
    this.#on("clear-yes", () => this.#clear());
    this.#on("clear-no", () => this.#ask(false));
    this.#restore();
    this.#sayProtection();
    this.part("kept").hidden = false;
  }

  part(name) {
    return this.place.querySelector(`[data-${name}]`);
  }

  #on(name, act) {
    this.part(name).addEventListener("click", act);
  }

  #fields() {
    return [...this.form.querySelectorAll(":is(input, select)[name]")];
  }

  #keep() {
    const typed = Object.fromEntries(this.#fields().map(({ name, value }) => [name, value]));
    this.#tried(() => localStorage.setItem(this.name, JSON.stringify({ ...this.#kept(), ...typed })));
    document.dispatchEvent(new CustomEvent("kept", { detail: this }));
  }

  /* What other forms of the same formula keep stays; what cannot be read is nothing. */
  #kept() {
    const kept = localStorage.getItem(this.name);
    try {
      return JSON.parse(kept) ?? {};
    } catch {
      return {};
    }
  }

  /* What was kept is only text for fields that are still there; a list reads its own. */
  #restore() {
    this.#tried(() => {
      const typed = this.#kept();
      for (const field of this.#fields()) if (typeof typed[field.name] === "string") field.value = typed[field.name];
    });
    this.#refilled();
  }

  #clear() {
    this.form.reset();
    this.#tried(() => localStorage.removeItem(this.name));
    this.#refilled();
    this.#ask(false);
    this.part("said").textContent = "Cleared.";
  }

  /* Does what the browser may refuse, and says whether it keeps anything. */
  #tried(act) {
    let sentence = KeptReckoning.KEPT;
    try {
      act();
    } catch {
      sentence = KeptReckoning.REFUSED;
    }
    this.part("kept-line").textContent = sentence;
    this.part("protection").hidden = sentence === KeptReckoning.REFUSED;
  }

  #refilled() {
    this.form.dispatchEvent(new Event("input"));
  }

  /* Asked once: a tap by mistake loses nothing. */
  #ask(asked) {
    this.part("sure").hidden = !asked;
    this.part("clear").hidden = asked;
    this.part(asked ? "clear-no" : "clear").focus();
    this.part("said").textContent = "";
  }

  async #protect() {
    await Protection.ask();
    await this.#sayProtection();
  }

  async #sayProtection() {
    this.part("protection").textContent = await Protection.said();
  }

  static KEPT = "What you type here is kept on this phone, and goes nowhere unless you send it.";
  static REFUSED =
    "This browser keeps nothing for this page. What you type is gone when you leave it: copy the result, or print it.";
}

for (const place of document.querySelectorAll("[data-reckoning]")) {
  try {
    new KeptReckoning(place).start();
  } catch (error) {
    console.error("What is typed here is not kept.", error);
  }
}
