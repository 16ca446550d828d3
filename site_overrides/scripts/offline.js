/* Saves the guide on this phone through the worker, and says plainly what is saved. */
"use strict";

(() => {
  const root = new URL("../", document.currentScript.src);
  const places = () => document.querySelectorAll('[data-module="offline"]');

  function say(state, text) {
    for (const place of places()) {
      place.dataset.state = state;
      place.querySelector("[data-offline-text]").textContent = text;
    }
  }

  function ask(worker) {
    return new Promise((resolve, reject) => {
      const channel = new MessageChannel();
      channel.port1.onmessage = (event) => resolve(event.data);
      setTimeout(() => reject(new Error("no answer")), 4000);
      worker.postMessage("what-is-saved", [channel.port2]);
    });
  }

  async function saySaved(registration) {
    const guide = await ask(registration.active);
    say("saved", `The whole guide is saved on this phone: version ${guide.version}, ${guide.revised}.`);
    if (registration.waiting) offer(registration.waiting);
  }

  /* A newer guide waits, whole, until the reader takes it: a page never changes under a walk. */
  function offer(worker) {
    for (const place of places()) {
      const button = place.querySelector("[data-offline-use]");
      button.hidden = false;
      button.addEventListener("click", () => worker.postMessage("use-now"), { once: true });
    }
  }

  function watch(registration) {
    const fresh = registration.installing;
    if (!fresh) return;
    if (!registration.active) say("saving", "Saving the whole guide on this phone …");
    fresh.addEventListener("statechange", () => {
      if (fresh.state === "redundant" && !registration.active) {
        say("failed", "The guide could not be saved on this phone. Open it again with a good signal.");
      }
      if (fresh.state === "installed" && registration.active) offer(fresh);
      if (fresh.state === "activated") saySaved(registration).catch(() => {});
    });
  }

  async function start() {
    if (location.protocol === "file:") {
      say("folder", "This is a copy in a folder. It needs no signal.");
      return;
    }
    if (!("serviceWorker" in navigator) || !window.isSecureContext) {
      say("none", "This browser cannot save the guide. Without signal it will not open.");
      return;
    }
    const controlled = Boolean(navigator.serviceWorker.controller);
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      if (controlled) location.reload();
    });
    const registration = await navigator.serviceWorker.register(new URL("sw.js", root), { scope: root.pathname });
    registration.addEventListener("updatefound", () => watch(registration));
    watch(registration);
    if (registration.active) await saySaved(registration);
  }

  start().catch(() => say("failed", "The guide is not saved on this phone yet. Open it again with a good signal."));
})();
