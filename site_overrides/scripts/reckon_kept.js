/* A formula's own page: what is typed is kept on this phone and nowhere else, and can be cleared. */
"use strict";

class KeptReckoning {
  constructor(place) {
    this.place = place;
    this.form = place.querySelector("form");
    this.name = `reckoning ${this.form.dataset.formula}`;
  }

  async start() {
    this.form.addEventListener("input", (event) => {
      if (event.target !== this.form) this.#keep();
    });
    this.form.addEventListener("change", () => this.#protect(), { once: true });
    /* The same sizes may stand in several forms of a page. */
    document.addEventListener("kept", ({ detail }) => {
      if (detail.by !== this && detail.form === this.name) this.#fill(detail.fields);
    });
    this.#on("clear", () => this.#ask(true));
    this.#on("clear-yes", () => this.#clear());
    this.#on("clear-no", () => this.#ask(false));
    this.#sayProtection();
    this.part("kept").hidden = false;
    await this.#restore();
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
    this.begun = true;
    const fields = Object.fromEntries(this.#fields().map(({ name, value }) => [name, value]));
    document.dispatchEvent(new CustomEvent("kept", { detail: { by: this, form: this.name, fields } }));
    return this.#tried(Typed.write(this.name, fields));
  }

  async #restore() {
    const kept = await this.#tried(PhoneStore.soon(Typed.read(this.name)));
    /* Whoever began to type meanwhile is not written over. */
    if (!this.begun) this.#fill({ ...this.#before(), ...kept });
  }

  /* What versions up to 1.2.0 kept; what cannot be read is nothing. */
  #before() {
    try {
      return JSON.parse(localStorage.getItem(this.name)) ?? {};
    } catch {
      return {};
    }
  }

  /* What was kept is only text for fields that are still there; a list reads its own. */
  #fill(kept) {
    for (const field of this.#fields()) if (typeof kept[field.name] === "string") field.value = kept[field.name];
    this.#refilled();
  }

  async #clear() {
    this.form.reset();
    this.#refilled();
    this.#ask(false);
    await this.#tried(Typed.forget(this.name));
    try {
      localStorage.removeItem(this.name);
    } catch {
      /* Then nothing was ever kept there. */
    }
    this.part("said").textContent = "Cleared.";
  }

  /* Waits for what the browser may refuse, and says whether it keeps anything. */
  async #tried(promise) {
    let sentence = KeptReckoning.KEPT;
    const answer = await promise.catch(() => void (sentence = KeptReckoning.REFUSED));
    this.part("kept-line").textContent = sentence;
    this.part("protection").hidden = sentence === KeptReckoning.REFUSED;
    return answer;
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
  new KeptReckoning(place).start().catch((error) => console.error("What is typed here is not kept.", error));
}
