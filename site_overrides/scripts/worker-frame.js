/* Inside the hidden frame: what a worker's script expects to find, and then that script. */
"use strict";

/* Two files on disk are strangers to each other: the search may not look into the page around this frame. */
const page = window.parent;
window.parent = window;

self.postMessage = (data) => page.postMessage(data, "*");

function load(url) {
  return new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = url;
    script.onload = resolve;
    script.onerror = reject;
    document.head.append(script);
  });
}

self.importScripts = (...urls) => urls.reduce((before, url) => before.then(() => load(url)), Promise.resolve());

const wanted = new URL(decodeURIComponent(location.hash.slice(1)), location.href);
/* Only a script of this copy of the guide. */
const inside = wanted.href.startsWith(new URL("../", location.href).href);
if (location.hash && inside) load(wanted.href);
