/* Answers packed into the fragment of a link, and unpacked again: nothing of it reaches a server. A fragment is
   `kind=1.<body>.<sum>`: the number is the version of this format, the body JSON in base64url, the sum tells a link
   that was cut off. What comes out was written by anybody, so every value is checked and cut to its length here. */
"use strict";

class Links {
  static VERSION = "1";
  static BROKEN = "This link is broken or was cut off. Ask for it again, or for the text.";
  static NEWER = "This link was made by a newer guide. Open the guide once with a signal, then open the link again.";

  static wrap(kind, value) {
    const bytes = new TextEncoder().encode(JSON.stringify(value));
    const letters = Array.from(bytes, (byte) => String.fromCharCode(byte)).join("");
    const body = btoa(letters).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
    return `#${kind}=${Links.VERSION}.${body}.${Links.#sum(body)}`;
  }

  /* Gives {kind, value}, {kind, fault} with a sentence, or null where the fragment is none of ours. */
  static unwrap(fragment) {
    const kind = /^#(way|ask|reply)=/.exec(fragment)?.[1];
    if (!kind) return null;
    const [, version, body, sum] = /=(\d+)\.([\w-]*)\.?(\w*)$/.exec(fragment) ?? [];
    if (version && version !== Links.VERSION) return { kind, fault: Links.NEWER };
    if (!body || sum !== Links.#sum(body)) return { kind, fault: Links.BROKEN };
    try {
      return { kind, value: JSON.parse(Links.#text(body)) };
    } catch {
      return { kind, fault: Links.BROKEN };
    }
  }

  static #text(body) {
    const letters = atob(body.replaceAll("-", "+").replaceAll("_", "/"));
    const bytes = Uint8Array.from(letters, (letter) => letter.charCodeAt(0));
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  }

  /* FNV-1a over the letters, in base 36. */
  static #sum(body) {
    let hash = 0x811c9dc5;
    for (const letter of body) hash = Math.imul(hash ^ letter.charCodeAt(0), 0x01000193) >>> 0;
    return hash.toString(36);
  }

  /* The way of a run as a value to wrap, without what was set aside, so that the link stays short. */
  static way(run, treeId) {
    const entries = run.entries.filter((entry) => !entry.superseded);
    return Links.#value({ ...run, entries }, treeId);
  }

  /* Of answers in the tree that the link opens only the ids travel; others carry their words, since that page does not
     have them. Gates travel as answers and open nothing. */
  static #value(run, treeId) {
    const entries = run.entries.map((entry) => Links.#packed(entry, treeId));
    const { id: i, light: l, place: p, start, started } = run;
    return { i, l, p, b: Links.#minute(started), f: [start.tree, start.step], e: entries };
  }

  static #packed(entry, treeId) {
    const own = entry.tree === treeId && entry.kind !== "link";
    const words = own ? {} : { q: entry.question, w: entry.words, k: entry.kind };
    const said = { a: entry.answer, l: entry.line, n: entry.seen, o: entry.who, m: Links.#minute(entry.at) };
    const marks = { g: entry.again, p: entry.passed };
    const where = { t: entry.tree, v: entry.version, s: entry.step, to: [entry.to.tree, entry.to.step] };
    return Links.#short({ ...where, ...said, r: entry.measure, ...marks, ...words });
  }

  static #minute(at) {
    return Math.round(at / 60_000);
  }

  static #short(fields) {
    return Object.fromEntries(Object.entries(fields).filter(([, value]) => value));
  }

  /* A run from the value of a way; null where it is not one. `say` gives the words of an answer in this tree. */
  static run(value, data, say) {
    try {
      const entries = value.e.map((each) => Links.#entry(each, data, say));
      const start = Checked.place(value.f);
      const current = { ...(entries.at(-1)?.to ?? start) };
      const own = { id: Checked.id(value.i), light: Checked.line(value.l, 40), started: Checked.time(value.b) };
      return { ...Walk.blank(), ...own, place: Checked.line(value.p ?? "", 200), start, current, entries };
    } catch {
      return null;
    }
  }

  static #entry(each, data, say) {
    const place = Checked.place([each.t, each.s]);
    const own = each.t === data.tree.id && !each.k && Object.hasOwn(data.steps, each.s);
    const step = own ? data.steps[each.s] : undefined;
    const words = step ? say(each.s, each.a) : Checked.line(each.w ?? each.a, 200);
    const question = step?.title ?? Checked.line(each.q ?? each.s, 200);
    const kind = step?.kind ?? Checked.line(each.k ?? "question", 10);
    const asked = { ...place, version: Checked.line(each.v, 20), kind, question, words };
    const said = { answer: Checked.line(each.a, 40), line: Checked.line(each.l ?? each.a, 10), ...Links.#facts(each) };
    const marks = { again: Boolean(each.g), to: Checked.place(each.to), closed: {} };
    return { ...asked, ...said, ...marks, ...(each.p ? { passed: true } : {}) };
  }

  static #facts(each) {
    const measure = each.r ? { measure: Checked.measure(each.r) } : {};
    return { at: Checked.time(each.m), seen: Checked.line(each.n ?? "", 300), who: Checked.who(each.o), ...measure };
  }

  /* One question for somebody else, as a value to wrap. */
  static question(run, data, step) {
    return Links.#asks(data, { step, version: data.tree.version, light: run.light, run: run.id });
  }

  static #asks(data, { step, version, light, run }) {
    return { t: data.tree.id, v: version, s: step, l: light, i: run };
  }

  /* The reply to what `asked` gave; `gates` are the titles and times of the gates that were passed for it. */
  static reply(data, asked, entry, gates) {
    const said = { a: entry.answer, n: entry.seen, o: entry.who, m: Links.#minute(entry.at), r: entry.measure };
    return { ...Links.#asks(data, asked), ...Links.#short(said), g: gates.map((gate) => [gate.title, Links.#minute(gate.at)]) };
  }

  /* A checked question: step, version, light, run; null where it is none of this tree's. */
  static asked(value, data) {
    try {
      const step = data.steps[Checked.id(value.s)];
      if (value.t !== data.tree.id || !["question", "measure"].includes(step?.kind)) return null;
      const asked = { step: value.s, version: Checked.line(value.v, 20) };
      return { ...asked, light: Checked.line(value.l, 40), run: Checked.id(value.i) };
    } catch {
      return null;
    }
  }

  /* A checked reply: a question with its answer, facts and gates; null where it is none. */
  static answered(value, data) {
    const asked = Links.asked(value, data);
    try {
      if (!asked || !Object.hasOwn(data.steps[asked.step].exits, Checked.id(value.a))) return null;
      const gates = (value.g ?? []).slice(0, 10).map(([title, at]) => ({ title: Checked.line(title, 100), at: Checked.time(at) }));
      const facts = Links.#facts(value);
      return { ...asked, answer: value.a, facts: { ...facts, who: facts.who || "there" }, gates };
    } catch {
      return null;
    }
  }
}

/* Values from outside, each of its kind and no longer than it may be; throws where it is not. */
class Checked {
  /* Spaces, and signs that are not seen but turn the text after them round. */
  static UNSEEN = /[\s\p{Cc}\u202a-\u202e\u2066-\u2069]+/gu;

  static line(text, letters) {
    if (typeof text !== "string") throw new TypeError("not a line");
    return text.replaceAll(Checked.UNSEEN, " ").slice(0, letters);
  }

  static id(text) {
    if (typeof text !== "string" || !/^[a-z0-9-]{1,80}$/.test(text)) throw new TypeError("not an id");
    return text;
  }

  static place([tree, step]) {
    return { tree: Checked.id(tree), step: Checked.id(step) };
  }

  static who(text) {
    return ["me", "there", "photo"].includes(text) ? text : "";
  }

  static time(minutes) {
    if (!Number.isFinite(minutes)) throw new TypeError("not a time");
    return minutes * 60_000;
  }

  static measure(value) {
    const lines = Array.isArray(value.working) ? value.working : [];
    const working = lines.slice(0, 30).map((line) => Checked.line(line, 300));
    return { formula: Checked.line(value.formula, 60), values: Checked.#record(value.values), working };
  }

  static #record(record) {
    const one = (each) => (each === null || typeof each === "number" ? each : Checked.line(each, 60));
    /* A list of a formula holds lines, and each line its entries. */
    const any = (each) => (Array.isArray(each) ? each.slice(0, 40).map((line) => line.slice(0, 12).map(one)) : one(each));
    return Object.fromEntries(Object.entries(record ?? {}).map(([name, each]) => [Checked.line(name, 60), any(each)]));
  }
}
