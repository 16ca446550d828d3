/* In every page of the preview: loads the page anew when the sources change, and lays a message over it while they
   have a mistake, so that nothing in the page is lost. */
"use strict";

(() => {
  const EVERY_MS = 250;
  const KEPT = "live-kept";
  /* The walk keeps what is typed in it by itself. */
  const FIELDS = "form[data-module=reckon] [name]:not([data-step] *)";
  const page = encodeURIComponent(location.pathname);
  const isMessage = "message" in document.documentElement.dataset;
  let moment = document.currentScript.dataset.moment;
  let cover = null;

  /* A worker of a built guide that was looked at here before would go on showing that one. */
  function forgetSavedGuide() {
    navigator.serviceWorker?.getRegistrations().then((all) => all.forEach((each) => each.unregister())).catch(() => {});
    for (const text of document.querySelectorAll("[data-offline-text]")) {
      text.textContent = "This is a preview: it is not saved on this phone.";
    }
  }

  async function look() {
    try {
      const now = await (await fetch(`/-live/state?page=${page}`)).json();
      if (now.moment !== moment) take(now);
    } catch {
      /* The preview has ended or is starting again. */
    }
    setTimeout(look, EVERY_MS);
  }

  function take(now) {
    moment = now.moment;
    if (now.mistake && !isMessage) return lay();
    const changed = [...document.querySelectorAll(FIELDS)].filter((field) => field.value !== field.defaultValue);
    const typed = changed.map((field) => [field.id, field.value]);
    sessionStorage.setItem(KEPT, JSON.stringify({ at: location.pathname, top: scrollY, typed }));
    location.reload();
  }

  function lay() {
    cover?.remove();
    cover = document.createElement("iframe");
    cover.src = `/-live/message?page=${page}`;
    cover.title = "A mistake in the sources";
    Object.assign(cover.style, { border: "0", height: "100%", inset: "0", position: "fixed", width: "100%" });
    cover.style.zIndex = "2147483647";
    document.body.append(cover);
  }

  function bringBack() {
    const { at, top, typed } = JSON.parse(sessionStorage.getItem(KEPT) ?? "{}");
    sessionStorage.removeItem(KEPT);
    if (at !== location.pathname) return;
    for (const [id, value] of typed) {
      const field = document.getElementById(id);
      if (!field || field.value === value) continue;
      field.value = value;
      field.dispatchEvent(new Event("input", { bubbles: true }));
    }
    scrollBack(top);
  }

  /* A page that its scripts fold and unfold is not as long at first as it was. */
  function scrollBack(top) {
    const until = performance.now() + 10_000;
    const touched = new AbortController();
    for (const act of ["wheel", "touchstart", "keydown", "pointerdown"]) {
      addEventListener(act, () => touched.abort(), { passive: true, signal: touched.signal });
    }
    (function again() {
      if (touched.signal.aborted) return;
      if (Math.abs(scrollY - top) > 1) scrollTo({ top, behavior: "instant" });
      if (performance.now() < until) setTimeout(again, 50);
      else touched.abort();
    })();
  }

  if (window.parent !== window) {
    /* In the cover: the page below looks after it. */
    for (const button of document.querySelectorAll("[data-behind]")) {
      button.hidden = false;
      button.addEventListener("click", () => window.parent.postMessage("look-behind", location.origin));
    }
    return;
  }
  addEventListener("message", (event) => {
    if (event.origin === location.origin && event.data === "look-behind") cover?.remove();
  });
  forgetSavedGuide();
  bringBack();
  look();
})();
