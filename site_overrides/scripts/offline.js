/* Saves the guide on this phone through the worker, and says plainly what is saved: counted each time, never
   remembered. */
"use strict";

(() => {
  const root = new URL("../", document.currentScript.src);
  const worker = new URL("sw.js", root).href;
  const places = () => document.querySelectorAll('[data-module="offline"]');
  const WHY = {
    unlike:
      "Something else came than what was published: a page to log in to the network, a file cut short, or a guide " +
      "that is only half put up. None of that was kept.",
    signal: "The signal broke off.",
    room: "This phone has no room for more.",
  };
  /* What is said of the guide in use, and after it of a newer one that is not whole. */
  let inUse = "";
  let whole = true;
  let newer = "";
  /* A worker that broke off says nothing. */
  let told = false;
  let taking = false;

  function say(state, text) {
    for (const place of places()) {
      place.dataset.state = state;
      place.querySelector("[data-offline-text]").textContent = text;
      place.querySelector("[data-offline-save]").hidden = !["part", "failed"].includes(state);
    }
  }

  /* Offers the newer guide: a page never changes under a walk. */
  function offer(act) {
    for (const place of places()) {
      const button = place.querySelector("[data-offline-use]");
      button.hidden = false;
      button.onclick = act;
    }
  }

  function offerWaiting(waiting) {
    offer(() => {
      taking = true;
      waiting.postMessage("use-now");
    });
  }

  function ask(active) {
    return new Promise((resolve, reject) => {
      const channel = new MessageChannel();
      channel.port1.onmessage = (event) => resolve(event.data);
      setTimeout(() => reject(new Error("no answer")), 10_000);
      active.postMessage("what-is-saved", [channel.port2]);
    });
  }

  function sayCounted({ version, revised, files, missing, fault, isNewer }) {
    const why = fault ? `${WHY[fault]} ` : "";
    told = true;
    if (isNewer) {
      newer = missing === 0 ? "" : `A newer guide is not whole yet. ${why}`;
    } else {
      whole = missing === 0;
      inUse = whole
        ? `The whole guide is saved on this phone: version ${version}, ${revised}.`
        : `Only ${files - missing} of the ${files} files of the guide are saved on this phone. ${why}`;
    }
    const again = whole && !newer ? "" : "Save again with a good signal.";
    say(again ? "part" : "saved", [inUse, newer, again].filter(Boolean).join(" ").replaceAll("  ", " "));
  }

  /* Says what is there, and fetches what is missing. */
  async function look(registration) {
    const { active, waiting } = registration;
    const found = await ask(active);
    sayCounted(found);
    if (waiting) offerWaiting(waiting);
    if (found.missing > 0) active.postMessage("save");
  }

  function watch(registration) {
    const fresh = registration.installing;
    if (!fresh) return;
    const isFirst = !registration.active;
    told = false;
    if (isFirst) say("saving", "Saving the whole guide on this phone …");
    fresh.addEventListener("statechange", () => {
      if (fresh.state === "redundant" && isFirst && !told) {
        say("failed", "The guide could not be saved on this phone. Save again with a good signal.");
      }
      if (fresh.state === "installed" && !isFirst) offerWaiting(fresh);
      if (fresh.state === "activated") look(registration).catch(fail);
    });
  }

  async function register() {
    const registration = await navigator.serviceWorker.register(worker, { scope: root.pathname });
    registration.onupdatefound = () => watch(registration);
    watch(registration);
    return registration;
  }

  /* The guide in use may be too old for its host: then the newer one is fetched instead. */
  async function saveAgain() {
    say("saving", "Saving the whole guide on this phone …");
    const registration = await register();
    if (!registration.active) return;
    await registration.update().catch(() => {});
    if (!registration.installing) registration.active.postMessage("save");
  }

  function fail() {
    say("failed", "The guide is not saved on this phone yet. Save again with a good signal.");
  }

  /* What is typed is kept first. Where it cannot be kept, the page stays. */
  async function load() {
    if (typeof PhoneStore === "undefined" || (await PhoneStore.settled())) return void location.reload();
    say("saved", "What you typed here could not be kept on this phone. Send it or copy it, then load this page anew.");
  }

  function followWorker() {
    let controlled = Boolean(navigator.serviceWorker.controller);
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      if (taking) load();
      else if (controlled) offer(load);
      controlled = true;
    });
    navigator.serviceWorker.addEventListener("message", ({ data, source }) => {
      if (source.scriptURL === worker) sayCounted(data);
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
    for (const place of places()) {
      place.querySelector("[data-offline-save]").addEventListener("click", () => saveAgain().catch(fail));
    }
    followWorker();
    const registration = await register();
    if (registration.active) await look(registration);
  }

  start().catch(fail);
})();
