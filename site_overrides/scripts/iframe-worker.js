/* A browser refuses workers to a page opened from a folder. There the search runs in a hidden frame instead. */
"use strict";

(() => {
  if (location.protocol !== "file:") return;
  const home = new URL("worker-frame.html", document.currentScript.src).href;

  window.Worker = class extends EventTarget {
    constructor(url) {
      super();
      this.frame = document.createElement("iframe");
      this.frame.hidden = true;
      this.frame.title = "Search";
      this.frame.src = `${home}#${encodeURIComponent(new URL(url, location.href).href)}`;
      this.ready = new Promise((resolve) => this.frame.addEventListener("load", resolve, { once: true }));
      window.addEventListener("message", (event) => {
        if (event.source === this.frame.contentWindow) this.pass(event.data);
      });
      document.body.append(this.frame);
    }

    pass(data) {
      const event = new MessageEvent("message", { data });
      this.dispatchEvent(event);
      if (this.onmessage) this.onmessage(event);
    }

    postMessage(data) {
      this.ready.then(() => this.frame.contentWindow.postMessage(data, "*"));
    }

    terminate() {
      this.frame.remove();
    }
  };
})();
