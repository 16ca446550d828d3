/* Keeps the whole guide on the phone, each file exactly as it was published. A newer guide waits until it is whole;
   what has come of it stays, so that the next try fetches only the rest. */
"use strict";

const GUIDE = /* GUIDE */ null;
const base = new URL("./", self.location.href);
const address = (path) => new URL(path, base).href;
/* A host may hold several guides, each in a folder of its own. */
const OURS = `guide ${base.pathname} `;
const NAME = OURS + GUIDE.hash;
const FILES = new Map(Object.entries(GUIDE.files).map(([path, hash]) => [address(path), hash]));
const AT_ONCE = 8;
const ROUNDS = 2;

/* The caches of this folder's older guides. */
async function older() {
  const names = (await caches.keys()).filter((name) => name !== NAME);
  const ours = await Promise.all(names.map(isOurs));
  return names.filter((_, n) => ours[n]);
}

async function isOurs(name) {
  if (name.startsWith(OURS)) return true;
  if (!name.startsWith("guide-")) return false;
  /* Up to version 1.2.0 the name did not say the folder; what is in it does. */
  const kept = await (await caches.open(name)).keys();
  return kept.some(({ url }) => FILES.has(url));
}

/* The files that are not kept yet, by address and hash. */
async function missing(cache) {
  const kept = new Set((await cache.keys()).map(({ url }) => url));
  return [...FILES].filter(([url]) => !kept.has(url));
}

/* Whether a response holds the file that was published; the list has the first digits of each hash. */
async function isSound(response, hash) {
  const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", await response.clone().arrayBuffer()));
  return Array.from(sum, (byte) => byte.toString(16).padStart(2, "0")).join("").startsWith(hash);
}

async function soundCopy(before, url, hash) {
  for (const cache of before) {
    const copy = await cache.match(url);
    if (copy && (await isSound(copy, hash))) return copy;
  }
  return null;
}

/* The file from the host; null where something else came. */
async function fetched(url, hash) {
  const response = await fetch(url, { cache: "reload", credentials: "same-origin" });
  if (!response.ok || !(await isSound(response, hash))) return null;
  /* A redirected response may not answer a navigation later: keep its body only. */
  return new Response(await response.blob(), { headers: response.headers });
}

/* Saves one file. Gives null, or why it was not saved: "unlike" the list, no "signal", no "room". */
async function saveOne(cache, before, [url, hash]) {
  let copy = null;
  try {
    copy = (await soundCopy(before, url, hash)) ?? (await fetched(url, hash));
  } catch {
    return "signal";
  }
  if (!copy) return "unlike";
  try {
    await cache.put(url, copy);
    return null;
  } catch {
    return "room";
  }
}

async function saveMissing(cache, before) {
  const files = await missing(cache);
  let fault = null;
  for (let start = 0; start < files.length; start += AT_ONCE) {
    const batch = files.slice(start, start + AT_ONCE);
    const faults = (await Promise.all(batch.map((file) => saveOne(cache, before, file)))).filter(Boolean);
    fault = faults[0] ?? fault;
    /* Nothing of a whole batch came, so nothing will: there is no signal, or a login page stands before the host. */
    if (faults.length === AT_ONCE) break;
  }
  return fault;
}

/* Saves what is missing, tells the open pages how it ended, and gives how much is kept. */
async function saveWhole(isNewer) {
  const cache = await caches.open(NAME);
  const before = await Promise.all((await older()).map((name) => caches.open(name)));
  let fault = null;
  for (let round = 0; round < ROUNDS; round += 1) fault = await saveMissing(cache, before);
  const found = { ...(await counted()), fault, isNewer };
  const pages = await self.clients.matchAll({ includeUncontrolled: true, type: "window" });
  for (const page of pages) if (page.url.startsWith(base.href)) page.postMessage(found);
  return found;
}

/* What is kept, counted against the list. */
async function counted() {
  const gone = (await missing(await caches.open(NAME))).length;
  return { version: GUIDE.version, revised: GUIDE.revised, files: FILES.size, missing: gone };
}

async function install() {
  const found = await saveWhole(Boolean(self.registration.active));
  if (found.missing > 0) throw new Error(`${found.missing} files are missing: ${found.fault}`);
}

async function dropOlder() {
  await Promise.all((await older()).map((name) => caches.delete(name)));
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
    if (request.mode !== "navigate") throw error;
    const start = address("index.html");
    return (await cache.match(start)) ? Response.redirect(start) : notHere();
  }
}

function notHere() {
  const says =
    "This page is not on this phone, and there is no signal. What was saved of the guide has been cleared, or was " +
    "never whole. Open the guide again with a good signal, and wait until it says that it is saved.";
  const page = `<!doctype html><html lang="en-GB"><meta charset="utf-8">
    <meta name="viewport" content="width=device-width, initial-scale=1"><title>Not on this phone</title><h1>Not on this phone</h1><p>${says}</p></html>`;
  return new Response(page, { status: 503, headers: { "content-type": "text/html; charset=utf-8" } });
}

/* One save after the other: what was cleared under a save that still runs is fetched by the next. */
let saving = Promise.resolve();
function saveAgain() {
  saving = saving.catch(() => {}).then(() => saveWhole(false));
  return saving;
}

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(dropOlder()));
self.addEventListener("fetch", (event) => {
  const inside = event.request.url.startsWith(base.href);
  if (event.request.method === "GET" && inside) event.respondWith(answer(event.request));
});
self.addEventListener("message", (event) => {
  if (event.data === "use-now") self.skipWaiting();
  if (event.data === "save") event.waitUntil(saveAgain());
  if (event.data === "what-is-saved" && event.ports[0]) {
    event.waitUntil(counted().then((found) => event.ports[0].postMessage(found)));
  }
});
