/* Inside the hidden frame: what a worker's script expects to find, and then that script. */
"use strict";

self.postMessage = (data) => parent.postMessage(data, "*");

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
if (wanted.href.startsWith(new URL("../", location.href).href.split("#")[0])) load(wanted.href);
