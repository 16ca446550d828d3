/* Keeps the whole guide on the phone: every file of the list, or the old guide stays as it is. */
"use strict";

const GUIDE = /* GUIDE */ null;
const NAME = `guide-${GUIDE.hash}`;
const LIST = "guide-list.json";
const base = new URL("./", self.location.href);
const address = (path) => new URL(path, base).href;

/* Files of the guide saved before, by address and hash, so that only what changed is fetched. */
async function savedBefore() {
  const saved = new Map();
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    const list = await cache.match(address(LIST));
    if (!list) continue;
    const { files } = await list.json();
    for (const [path, hash] of Object.entries(files)) saved.set(`${path} ${hash}`, [cache, path]);
  }
  return saved;
}

async function fetched(path) {
  const response = await fetch(address(path), { cache: "reload", credentials: "same-origin" });
  if (!response.ok) throw new Error(`${path}: ${response.status}`);
  /* A redirected response may not answer a navigation later: keep its body only. */
  return new Response(await response.blob(), { headers: response.headers });
}

async function saveWhole() {
  const before = await savedBefore();
  const cache = await caches.open(NAME);
  try {
    const paths = Object.entries(GUIDE.files);
    for (let start = 0; start < paths.length; start += 8) {
      await Promise.all(
        paths.slice(start, start + 8).map(async ([path, hash]) => {
          const [old, oldPath] = before.get(`${path} ${hash}`) || [];
          const copy = old ? await old.match(address(oldPath)) : undefined;
          await cache.put(address(path), copy || (await fetched(path)));
        }),
      );
    }
    await cache.put(address(LIST), new Response(JSON.stringify(GUIDE)));
  } catch (error) {
    await caches.delete(NAME);
    throw error;
  }
}

async function dropOthers() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith("guide-") && name !== NAME).map((name) => caches.delete(name)));
  await self.clients.claim();
}

async function answer(request) {
  const cache = await caches.open(NAME);
  const url = new URL(request.url);
  url.search = "";
  url.hash = "";
  if (url.pathname.endsWith("/")) url.pathname += "index.html";
  const saved = await cache.match(url.href);
  if (saved) return saved;
  try {
    return await fetch(request);
  } catch (error) {
    if (request.mode === "navigate") return Response.redirect(address("index.html"));
    throw error;
  }
}

self.addEventListener("install", (event) => event.waitUntil(saveWhole()));
self.addEventListener("activate", (event) => event.waitUntil(dropOthers()));
self.addEventListener("fetch", (event) => {
  const inside = event.request.url.startsWith(base.href);
  if (event.request.method === "GET" && inside) event.respondWith(answer(event.request));
});
self.addEventListener("message", (event) => {
  if (event.data === "use-now") self.skipWaiting();
  if (event.data === "what-is-saved" && event.ports[0]) {
    event.ports[0].postMessage({ version: GUIDE.version, revised: GUIDE.revised, files: Object.keys(GUIDE.files).length });
  }
});
