/* The preview's answer to the worker of a guide that was saved from this address before: it takes that one's place,
   throws away what it kept, goes, and lets the pages load anew. */
"use strict";

async function forget() {
  for (const name of await caches.keys()) {
    if (name.startsWith("guide")) await caches.delete(name);
  }
  await self.registration.unregister();
  for (const page of await self.clients.matchAll({ type: "window" })) page.navigate(page.url);
}

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(forget()));
