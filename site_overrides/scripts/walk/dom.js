/* Finding and filling the parts of the page. Text goes in as text only: nothing that was typed becomes markup. */
"use strict";

class Dom {
  static part(name) {
    return document.querySelector(`[data-part="${name}"]`);
  }

  static list(name) {
    return document.querySelector(`[data-list="${name}"]`);
  }

  static field(name) {
    return document.querySelector(`[data-field="${name}"]`);
  }

  static screen(name) {
    return document.querySelector(`[data-screen="${name}"]`);
  }

  static section(stepId) {
    return document.querySelector(`[data-step="${stepId}"]`);
  }

  static json(id) {
    return JSON.parse(document.getElementById(id).textContent);
  }

  /* Writes a text; where it says so already it is left, so that a screen reader speaks once. */
  static say(name, text) {
    for (const place of document.querySelectorAll(`[data-text="${name}"]`)) {
      if (place.textContent !== text) place.textContent = text;
    }
  }

  static show(name, shown) {
    Dom.part(name).hidden = !shown;
  }

  /* Shows a part with this text, or hides it. */
  static tell(name, text) {
    Dom.part(name).textContent = text ?? "";
    Dom.show(name, Boolean(text));
  }

  static make(tag, className, ...children) {
    const element = document.createElement(tag);
    if (className) element.className = className;
    element.append(...children.filter((child) => child !== null && child !== ""));
    return element;
  }

  static paragraphs(texts) {
    return texts.filter(Boolean).map((text) => Dom.make("p", "", text));
  }

  static button(text, className, act) {
    const button = Dom.make("button", className, text);
    button.type = "button";
    button.addEventListener("click", act);
    return button;
  }

  /* A big choice that looks like the answers. */
  static choice(word, looks, act, line = "yes") {
    const inner = [Dom.make("span", "answer__word", word), Dom.make("span", "answer__looks", looks)];
    const button = Dom.make("button", `answer answer--${line}`, ...inner);
    button.type = "button";
    button.addEventListener("click", act);
    return Dom.make("li", "", button);
  }

  static count(number, word) {
    return `${number} ${word}${number === 1 ? "" : "s"}`;
  }

  /* Words as a sentence: a verdict has its full stop, and Yes has none. */
  static sentence(words) {
    return /[.?!]$/.test(words) ? words : `${words}.`;
  }

  static text(element) {
    return element.textContent.replaceAll(/\s+/g, " ").trim();
  }
}
