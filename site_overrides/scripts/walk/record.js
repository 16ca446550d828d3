/* A whole run as it was kept, in the phone's database or in a file: each value is held to its kind, and nothing is cut.
   What was typed loses signs that are not seen. */
"use strict";

class Record {
  static OtherFormat = class extends Error {};

  /* The run; throws Record.OtherFormat for a run of another format, and TypeError for what is no run. */
  static read(value) {
    const { format } = Record.#object(value);
    if (Number.isInteger(format) && format !== Walk.FORMAT) throw new Record.OtherFormat(Record.#other(format));
    if (format !== Walk.FORMAT) throw new TypeError("not a run");
    return { ...Walk.blank(), ...Record.#RUN(value) };
  }

  /* A run from a file. It opens no gate, and what was ticked is ticked anew by whoever goes up. */
  static fromFile(text) {
    const run = Record.read(JSON.parse(text));
    delete run.crossing;
    return { ...run, rev: 0, gates: {}, packed: {} };
  }

  static #other(format) {
    const known = `This guide reads format ${Walk.FORMAT}.`;
    return `It was written by another version of the guide, in format ${format}. ${known}`;
  }

  static #object(value) {
    if (typeof value !== "object" || value === null || Array.isArray(value)) throw new TypeError("not an object");
    return value;
  }

  static #line(value) {
    return Checked.line(value, Infinity);
  }

  static #number(value) {
    if (!Number.isFinite(value)) throw new TypeError("not a number");
    return value;
  }

  static #yes(value) {
    if (typeof value !== "boolean") throw new TypeError("neither true nor false");
    return value;
  }

  static #list(of) {
    return (value) => {
      if (!Array.isArray(value)) throw new TypeError("not a list");
      return value.map(of);
    };
  }

  static #map(of) {
    return (value) => Object.fromEntries(Object.entries(Record.#object(value)).map(([name, each]) => [name, of(each)]));
  }

  /* What a form held: numbers, lines, and lists of them. */
  static #plain(value) {
    if (value === null || typeof value === "number" || typeof value === "boolean") return value;
    if (typeof value === "string") return Record.#line(value);
    return (Array.isArray(value) ? Record.#list(Record.#plain) : Record.#map(Record.#plain))(value);
  }

  /* An object with these fields; those of `may` can be missing. */
  static #fields(must, may = {}) {
    return (value) => {
      const given = Object.entries(may).filter(([name]) => Record.#object(value)[name] !== undefined);
      const checks = [...Object.entries(must), ...given];
      return Object.fromEntries(checks.map(([name, check]) => [name, check(value[name])]));
    };
  }

  static #PLACE = Record.#fields({ tree: Checked.id, step: Checked.id });

  static #MEASURE = Record.#fields(
    { formula: Record.#line, values: Record.#map(Record.#plain), working: Record.#list(Record.#line) },
    { outputs: Record.#map(Record.#plain), verdict: Record.#plain },
  );

  static #NOTE = Record.#fields({ seen: Record.#line, who: Checked.who });

  static #ENTRY = Record.#fields(
    {
      ...{ tree: Checked.id, step: Checked.id, version: Record.#line, kind: Record.#line, question: Record.#line },
      ...{ answer: Record.#line, words: Record.#line, line: Record.#line, seen: Record.#line, who: Checked.who },
      ...{ at: Record.#number, to: Record.#PLACE, closed: Record.#map(Record.#line) },
    },
    {
      ...{ again: Record.#yes, passed: Record.#yes, superseded: Record.#number },
      ...{ roof: Record.#line, measure: Record.#MEASURE, draft: Record.#NOTE },
    },
  );

  static #GATE = Record.#fields({
    ...{ title: Record.#line, at: Record.#number, until: (value) => (value === null ? null : Record.#number(value)) },
    ...{ opens: Record.#list(Record.#line), endsWhen: Record.#list(Record.#line) },
  });

  static #CLOSED = Record.#fields({ gate: Checked.id, title: Record.#line, why: Checked.id, at: Record.#number });

  static #STOP = Record.#fields({ at: Record.#number, tree: Checked.id, step: Checked.id });

  static #DRAFT = Record.#fields(
    { step: Checked.id, seen: Record.#line },
    { typed: Record.#map(Record.#plain) },
  );

  static #RUN = Record.#fields(
    {
      ...{ format: Record.#number, id: Checked.id, light: Record.#line, started: Record.#number },
      ...{ start: Record.#PLACE, current: Record.#PLACE, entries: Record.#list(Record.#ENTRY) },
    },
    {
      ...{ rev: Record.#number, place: Record.#line, who: Checked.who, draft: Record.#DRAFT },
      ...{ stops: Record.#list(Record.#STOP), closed: Record.#list(Record.#CLOSED), gates: Record.#map(Record.#GATE) },
      packed: Record.#map(Record.#list(Record.#plain)),
      ...{ changed: Record.#number, ended: Record.#yes, label: Record.#line, crossing: Record.#number },
    },
  );
}
