/* What was found at one light, as headed lists of plain lines: the same for the screen, for print and for text. */
"use strict";

class Finding {
  static WHO = { me: "seen by me, here", there: "seen by somebody there", photo: "seen on a photograph", "": "" };

  /* `end`: title, steps, materials, cautions of the remedy, null while the walk waits. `walk` holds the run. `say` has
     the words for why gates end and for what the guide holds for, and `guide` the tree's title and the guide's date. */
  static of(walk, end, say, guide) {
    const { run } = walk;
    const blocks = [
      { head: "Light and day", lines: Finding.#head(run, guide) },
      end
        ? { head: "What to do", lines: [Dom.sentence(end.title), end.note] }
        : { head: "How it stands", lines: [`The walk has not ended. It waits at: ${walk.step(walk.here).title}`] },
      { head: "What was found", lines: Finding.#answers(walk) },
      { head: "Measured", lines: Finding.#measured(walk) },
      { head: "Gates", lines: Finding.#gates(run, say) },
      { head: "Limits: what could not be seen", lines: Finding.#limits(walk) },
      { head: "Answers set aside since", lines: walk.aside.map((entry) => Finding.line(entry)) },
      { head: "Materials", lines: end?.materials ?? [] },
      { head: "Cautions before the work", lines: end?.cautions ?? [] },
      { head: "The work, in its order", lines: (end?.steps ?? []).map((step, n) => `${n + 1}. ${step}`) },
      { head: "What this is not", lines: [Finding.NOT, say.scope] },
    ];
    const said = blocks.map(({ head, lines }) => ({ head, lines: lines.filter(Boolean) }));
    return said.filter(({ lines }) => lines.length > 0);
  }

  static NOT =
    "A record of what was looked at on these days. It is no proof of the cause, and no opinion on structure or " +
    "electrics. Only opening up, or staying dry in the rain that used to get in, proves a cause.";

  static #head(run, guide) {
    const versions = new Map(run.entries.map((entry) => [entry.tree, entry.version]));
    versions.set(guide.id, guide.version);
    const sets = Array.from(versions, ([tree, version]) => `${tree} ${version}`).join(", ");
    const linked = run.entries.some((entry) => entry.kind === "link");
    return [
      `Light ${run.light}`,
      run.place && `Place: ${run.place}`,
      `Written ${Finding.day(guide.now)}. The walk began ${Finding.day(run.started)}.`,
      `Sets of questions: ${sets}. Revised ${guide.revised}.`,
      linked && "Part of the way was entered by a link. What lies before that was not asked.",
    ];
  }

  static #answers(walk) {
    return walk.way.filter(Walk.counts).map((entry, n) => `${n + 1}. ${Finding.line(entry)}`);
  }

  /* One answer as a line. */
  static line(entry) {
    const asked = entry.question.endsWith("?") ? entry.question : `${entry.question}:`;
    const seen = entry.seen ? ` Seen: ${entry.seen}` : "";
    const facts = [Finding.WHO[entry.who], Finding.day(entry.at)].filter(Boolean).join(", ");
    return `${asked} ${Dom.sentence(entry.words)}${seen} (${facts})`;
  }

  static #measured(walk) {
    const measured = walk.way.filter((entry) => entry.measure);
    return measured.map(({ question, words, measure }) => [question, ...measure.working, Dom.sentence(words)].join(" "));
  }

  static #gates(run, say) {
    const passed = run.entries.filter((entry) => entry.kind === "gate" && entry.answer === "yes" && !entry.passed);
    return [
      ...passed.map((entry) => `${entry.question}: all conditions held, ${Finding.day(entry.at)}.`),
      ...run.closed.map((gate) => `${gate.title}: ended ${Finding.day(gate.at)}, since ${say.ends[gate.why]}.`),
      ...run.stops.map((stop) => `Stopped and came down, ${Finding.day(stop.at)}.`),
    ];
  }

  static #limits(walk) {
    const open = walk.way.filter((entry) => entry.answer === "unsure");
    const refused = walk.way.filter((entry) => entry.kind === "gate" && entry.answer === "no");
    const lines = [
      ...open.map((entry) => `Could not be told: ${entry.question}`),
      ...refused.map((entry) => `Was not done, since not all conditions held: ${entry.question}`),
    ];
    return [...lines, "What was not asked was not looked at."];
  }

  static text(title, blocks) {
    const body = blocks.map(({ head, lines }) => [head.toUpperCase(), ...lines.map((line) => `- ${line}`)].join("\n"));
    return `${title}\n\n${body.join("\n\n")}\n`;
  }

  /* The way so far as text: where it stands, and each answer. */
  static way(walk) {
    const lines = Finding.#answers(walk);
    const step = walk.step(walk.here);
    const stands = `${step.kind === "remedy" ? "Ends at" : "Now asked"}: ${step.title}`;
    return [`Light ${walk.run.light}: ${walk.data.tree.title}`, ...lines, stands].join("\n");
  }

  static day(at) {
    const date = new Date(at);
    const day = date.toLocaleDateString("en-GB", { day: "numeric", month: "short", year: "numeric" });
    return `${day} ${Finding.clock(at)}`;
  }

  static clock(at) {
    return new Date(at).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  }
}
