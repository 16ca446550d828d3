/* Which gates of a run are open, until when, and what closed the others. No page, no clock of its own: times come in
   as milliseconds. */
"use strict";

class Gates {
  /* After this long away it is a break, and what was ticked may no longer hold. */
  static BREAK_MINUTES = 30;

  constructor(run) {
    this.run = run;
  }

  /* Opens a gate whose conditions were all ticked; `gate` is its data in the tree. A joined gate opens the one for this
     roof, or all that it joins where nobody can tell which roof it is. */
  open(gate, now, roof = "any") {
    const picked = Object.keys(gate.picks).filter((each) => roof === "any" || each === roof);
    for (const each of picked.length ? picked.map((name) => gate.picks[name]) : [gate]) {
      const until = each.minutes ? now + each.minutes * 60_000 : null;
      this.run.gates[each.id] = { title: each.title, at: now, until, opens: each.opens, endsWhen: each.endsWhen };
    }
  }

  /* A joined gate is open when one that it joins is. */
  isOpen(gate) {
    return [gate, ...Object.values(gate.picks)].some((each) => each.id in this.run.gates);
  }

  /* Closes a gate that was asked again and refused. */
  refuse(gate) {
    for (const each of [gate, ...Object.values(gate.picks)]) delete this.run.gates[each.id];
  }

  get list() {
    return Object.entries(this.run.gates).map(([id, gate]) => ({ id, ...gate }));
  }

  /* The places and acts that are open now. */
  get opened() {
    return new Set(this.list.flatMap((gate) => gate.opens));
  }

  /* Closes each gate that ends for this reason; coming down closes all. Gives what it closed. */
  close(why, now) {
    return this.#closeWhere(why, now, (gate) => why === "came-down" || gate.endsWhen.includes(why));
  }

  /* Closes each gate whose time is over. */
  check(now) {
    return this.#closeWhere("time-limit", now, (gate) => gate.until !== null && now >= gate.until);
  }

  #closeWhere(why, now, ends) {
    const closed = this.list.filter(ends);
    for (const gate of closed) {
      delete this.run.gates[gate.id];
      this.run.closed.push({ gate: gate.id, title: gate.title, why, at: now });
    }
    return closed.map((gate) => ({ ...gate, why }));
  }

  static minutesLeft(gate, now) {
    return gate.until === null ? null : Math.max(0, Math.ceil((gate.until - now) / 60_000));
  }
}
