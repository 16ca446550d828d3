/* Answers that come by link or file, a question from somebody else, and the reply to one. Nothing is taken over
   without asking, and no gate is opened by any of it. */
"use strict";

class IncomingScreen {
  constructor(page) {
    this.page = page;
  }

  /* Opens what `Links.unwrap` gave. */
  open({ kind, value, fault }) {
    if (fault) return this.#fault(fault);
    if (kind !== "way" && this.page.pageOf(value?.t)) return this.page.goTo(value.t, Links.wrap(kind, value));
    if (kind === "ask") return this.#ask(value);
    if (kind === "reply") return this.#reply(value);
    const run = Links.run(value, this.page.data, (step, answer) => this.page.said(step, answer).words);
    return run ? this.offer(run) : this.#fault(Links.BROKEN);
  }

  #show(title, says, rows, choices) {
    Dom.say("incoming-title", title);
    Dom.list("incoming-says").replaceChildren(...Dom.paragraphs(says));
    Dom.list("incoming").replaceChildren(...rows.map((row) => Dom.make("li", "", row)));
    Dom.list("incoming-choices").replaceChildren(...choices);
    this.page.showScreen("incoming");
  }

  #fault(sentence) {
    const back = Dom.choice("To the lights", "Your own answers are as they were.", () => this.page.showLights());
    this.#show("This link does not open", [sentence], [], [back]);
  }

  #leave() {
    return Dom.choice("Leave it", "Nothing is changed.", () => this.page.showLights(), "no");
  }

  /* Offers a whole way: to a light that is here, or as a new one. */
  async offer(run) {
    const runs = (await this.page.runs.list()).sort((one, other) => (other.id === run.id) - (one.id === run.id));
    const rows = run.entries.filter((entry) => !entry.superseded && Walk.counts(entry)).map(Finding.line);
    const aside = run.entries.filter((entry) => entry.superseded).length;
    const lights = runs.map((mine) => this.#into(mine, run));
    const letter = runs.some((mine) => mine.light === run.light) ? Runs.nextLetter(runs) : run.light;
    const anew = Dom.choice(`As a new light: ${letter}`, "Your own answers stay as they are.", () =>
      this.#take({ ...run, id: runs.some((mine) => mine.id === run.id) ? Runs.newId() : run.id, light: letter }),
    );
    const says = [
      `${Dom.count(rows.length, "answer")} for light ${run.light}. Take them over?`,
      aside ? `${Dom.count(aside, "answer")} set aside before ${aside === 1 ? "comes" : "come"} along.` : "",
      IncomingScreen.#versions(run, this.page.data),
      "Gates come closed: they are answered by whoever goes up.",
    ];
    this.#show("Answers from somebody else", says, rows, [...lights, anew, this.#leave()]);
  }

  static #versions(run, data) {
    const old = run.entries.find((entry) => entry.tree === data.tree.id && entry.version !== data.tree.version);
    if (!old) return "";
    const versions = `They were given to version ${old.version}, and this guide has ${data.tree.version}.`;
    return `${versions} What no longer fits is asked again.`;
  }

  #into(mine, run) {
    const fresh = run.entries.filter((entry) => !entry.superseded && !IncomingScreen.#same(mine, entry)).length;
    const all = mine.entries.filter((entry) => !entry.superseded).length;
    const differ = `New or different: ${fresh}. Yours are set aside where they differ.`;
    const looks = `It has ${Dom.count(all, "answer")} here. ${differ}`;
    return Dom.choice(`For light ${mine.light}`, looks, () => this.#merge(mine, run));
  }

  #merge(mine, run) {
    const kept = new Set();
    const entries = run.entries.map((entry) => {
      const own = IncomingScreen.#same(mine, entry, kept);
      if (!own) return entry;
      kept.add(own);
      const draft = own.draft ?? entry.draft;
      return { ...own, ...(entry.seen ? { seen: entry.seen, who: entry.who } : {}), ...(draft ? { draft } : {}) };
    });
    const off = mine.entries.filter((own) => !kept.has(own));
    const [stops, closed] = ["stops", "closed"].map((name) => IncomingScreen.#joined(mine[name], run[name]));
    for (const entry of off) entry.superseded ??= this.page.now();
    const { start, current } = run;
    const draft = mine.draft ?? run.draft;
    const place = mine.place || run.place;
    const all = { stops, closed, entries: [...entries, ...off] };
    this.#take({ ...mine, start, current, gates: {}, place, draft, ...all });
  }

  /* What either has, each once. */
  static #joined(mine, come) {
    const own = new Set(mine.map((each) => JSON.stringify(each)));
    return [...mine, ...come.filter((each) => !own.has(JSON.stringify(each)))];
  }

  /* The answer of a run that says the same as one that comes and stands as that does; none that is taken already. */
  static #same(mine, entry, taken = new Set()) {
    const stands = (own) => ["again", "superseded"].every((mark) => Boolean(own[mark]) === Boolean(entry[mark]));
    const says = (own) => Walk.key(own) === Walk.key(entry) && own.answer === entry.answer;
    return mine.entries.find((own) => !taken.has(own) && stands(own) && says(own));
  }

  #take(run) {
    this.page.resume(run, { notices: ["The answers were taken over. Every gate is closed."] });
  }

  /* Somebody asks one question: it stands alone, behind its own gates, and its answer goes back as a reply. */
  async #ask(value) {
    const { data, now } = this.page;
    const asked = Links.asked(value, data);
    if (!asked) return this.#fault("This question is not in this version of the guide. Ask for it as text.");
    const run = Walk.begin(data, Runs.newId(), asked.light, now(), asked.step);
    const notices = [`Somebody asks this for light ${asked.light}. Answer, then send the reply.`];
    if (asked.version !== data.tree.version) notices.push("It was asked from another version of this guide.");
    const { who = "", ...draft } = await IncomingScreen.#draftOf(asked);
    Object.assign(run, { who, ...(draft.step ? { draft } : {}) });
    this.page.walk = new Walk(data, run);
    this.page.asking = asked;
    this.page.step.notices = notices;
    return this.page.showStep();
  }

  /* What is half-written for a reply, until it goes out. */
  static #form({ run, step }) {
    return `reply ${run} ${step}`;
  }

  static async #draftOf(asked) {
    try {
      return await PhoneStore.soon(Typed.read(IncomingScreen.#form(asked)));
    } catch {
      return {};
    }
  }

  keepDraft() {
    const { draft, who } = this.page.walk.run;
    return draft ? Typed.write(IncomingScreen.#form(this.page.asking), { ...draft, who }) : null;
  }

  /* The question that somebody asked was answered: its reply goes out, and it can still be answered otherwise. */
  replied(asked) {
    const { walk, asking } = this.page;
    const entry = walk.way.findLast((each) => each.step === asked);
    walk.run.current = walk.place(asked);
    const gates = walk.way.filter((each) => each.kind === "gate" && each.answer === "yes");
    const passed = gates.map((gate) => ({ title: gate.question, at: gate.at }));
    const fragment = Links.wrap("reply", Links.reply(walk.data, asking, entry, passed));
    const lines = passed.map((gate) => `${gate.title}: all conditions held, ${Finding.day(gate.at)}.`);
    const text = [`Light ${walk.run.light}`, Finding.line(entry), ...lines].join("\n");
    const says = `You answered: ${Dom.sentence(entry.words)}`;
    const sent = () => Typed.forget(IncomingScreen.#form(asking));
    this.page.send.open({ title: "Send the reply", says, text, fragment, sent });
  }

  /* The gate before it does not hold, so nobody goes up for it: that is the reply. */
  refused(gate) {
    const { walk, asking } = this.page;
    const [question, title] = [asking.step, gate].map((step) => walk.step(step).title);
    const text = `Light ${walk.run.light}\n${question} Not answered. ${title}: not all conditions hold.`;
    walk.goBack(walk.way.at(-1), this.page.now());
    this.page.send.open({ title: "Send the reply", says: "Nobody goes up for this. Say so to whoever asked.", text });
  }

  async #reply(value) {
    const reply = Links.answered(value, this.page.data);
    if (!reply) return this.#fault("This reply belongs to another version of the guide. Ask for it as text.");
    const runs = await this.page.runs.list();
    const own = runs.find((run) => run.id === reply.run);
    const step = this.page.data.steps[reply.step];
    const facts = { ...reply.facts, ...this.page.said(reply.step, reply.answer) };
    const gates = reply.gates.map((gate) => `${gate.title}: all conditions held there, ${Finding.day(gate.at)}`);
    const rows = [Finding.line({ question: step.title, ...facts }), ...gates];
    const choices = (own ? [own] : runs).map((run) =>
      Dom.choice(`Take it over for light ${run.light}`, run.label, () => this.#takeReply(run, reply, facts)),
    );
    const says = [choices.length ? "Take this answer over?" : "No light here to take it over for. Begin one first."];
    this.#show("A reply from somebody there", says, rows, [...choices, this.#leave()]);
  }

  /* It answers the question where the walk stands or stood; else it waits until the walk comes there. */
  async #takeReply(run, reply, facts) {
    const { page } = this;
    await page.resume(run);
    if (page.walk.reopen(page.walk.place(reply.step))) return page.acts.takeOver(reply.answer, facts);
    page.walk.keep(reply.step, reply.answer, facts);
    page.step.notices = ["The answer is kept until the walk comes to that question."];
    await page.save();
    return page.showStep();
  }
}
