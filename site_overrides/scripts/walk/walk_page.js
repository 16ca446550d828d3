/* The walk's page: takes taps, has the walk judge them, saves, and shows what comes next. */
"use strict";

class WalkPage {
  static CROSSING_MS = 120_000;

  constructor() {
    this.data = Dom.json("walk--data");
    this.words = Dom.json("walk--words");
    this.runs = new Runs();
    this.screens = new Screens();
    this.acts = new Map();
    this.walk = null;
    this.asking = null;
    this.say = (step, answer) => this.#answerLink(step, answer).dataset.words;
    this.line = (step, answer) => this.#answerLink(step, answer).dataset.line;
    this.now = () => Date.now();
    this.#start();
  }

  #start() {
    this.step = new StepScreen(this);
    this.gate = new GateScreen(this);
    this.measure = new MeasureScreen();
    this.lights = new LightsScreen(this);
    this.way = new WayScreen(this);
    this.finding = new FindingScreen(this);
    this.send = new SendScreen(this);
    this.incoming = new IncomingScreen(this);
    this.kept = new Kept(this);
    this.on("lights", () => this.showLights());
    this.on("back", () => this.reopen(this.walk.previous));
    this.on("undo", () => this.#undo());
    this.on("use-kept", () => this.#useKept());
    this.on("stop", () => this.#stop());
    this.on("return", () => this.#return());
    this.on("scheme", () => WalkPage.#scheme());
    this.#listen();
  }

  /* Names what a tap on [data-do="name"] does. */
  on(name, act) {
    this.acts.set(name, act);
  }

  #listen() {
    document.addEventListener("click", (event) => this.#tapped(event));
    window.addEventListener("popstate", (event) => this.#cameBack(event.state));
    window.addEventListener("pageshow", (event) => event.persisted && this.#reload());
    document.addEventListener("visibilitychange", () => this.#looked());
    setInterval(() => this.walk && this.step.showGates(), 20_000);
    Dom.field("seen").addEventListener("change", (event) => this.#draft(event.target.value));
    Dom.field("who").addEventListener("change", (event) => this.#who(event.target.value));
    for (const button of document.querySelectorAll("[data-ending]")) {
      button.addEventListener("click", () => this.#close(button.dataset.ending));
    }
  }

  #tapped(event) {
    const found = event.target.closest("[data-do], [data-answer], [data-hand-over]");
    if (!found || !document.documentElement.classList.contains("js")) return;
    const { do: name, answer } = found.dataset;
    if (name !== undefined && !this.acts.has(name)) return;
    event.preventDefault();
    if (name !== undefined) this.acts.get(name)();
    else if (answer !== undefined) this.#answered(found);
    else this.#handOver();
  }

  #answerLink(step, answer) {
    return Dom.section(step).querySelector(`[data-answer="${CSS.escape(answer)}"]`);
  }

  /* Opens the page: by a link that carries something, a light that is named, this tab's own past, or the question
     which light. */
  async open() {
    const fragment = decodeURI(location.hash);
    const carried = Links.unwrap(fragment);
    if (carried) return this.incoming.open(carried);
    const named = /^#light=([a-z0-9]+)$/.exec(fragment)?.[1];
    const past = history.state ?? {};
    const run = (named ?? past.light) ? await this.runs.get(named ?? past.light) : null;
    if (run) return this.resume(run, [], named ? null : past.step);
    const linked = this.data.steps[fragment.slice(1)] ? fragment.slice(1) : null;
    return this.showLights(linked);
  }

  /* A light was chosen, perhaps for a step that a link asked for. */
  async choose(run, linked) {
    this.kept.ask();
    await this.resume(run, [], null, linked);
  }

  /* Goes on with a run: gates are asked again unless it only crossed over from another tree just now. */
  async resume(run, notices = [], step = null, linked = null) {
    const now = this.now();
    this.walk = new Walk(this.data, run);
    this.asking = null;
    const crossed = run.crossing && now - run.crossing < WalkPage.CROSSING_MS;
    delete run.crossing;
    const closed = crossed ? this.walk.gates.check(now) : this.walk.gates.close("resumed", now);
    const mended = this.walk.mend(now);
    if (step && this.data.steps[step]) this.walk.reopen(this.walk.place(step));
    if (linked) this.walk.followLink(linked, now);
    if (crossed) closed.push(...this.walk.arrive(now));
    this.step.forgetCautions();
    this.step.notices = [...notices, ...this.#closings(closed), ...WalkPage.#mendings(mended)];
    await this.save();
    this.showStep({ replace: true });
  }

  #closings(closed) {
    return closed.map((gate) =>
      gate.why === "resumed"
        ? `You took a break: the gate is asked again. (${gate.title})`
        : `${gate.title} is closed, since ${this.words.ends[gate.why]}.`,
    );
  }

  static #mendings(mended) {
    if (!mended) return [];
    const from = mended.from ? `from ${mended.from} to ${mended.to}` : `to ${mended.to}`;
    const fits = mended.cut ? "What no longer fits is asked again." : "Your answers still fit.";
    return [`The guide has changed ${from} since. ${fits}`];
  }

  /* Saves the run; says so, or says that it failed. A question answered for somebody else is not kept here. */
  async save() {
    if (this.asking) return true;
    const { run } = this.walk;
    run.changed = this.now();
    const step = this.walk.here && this.walk.step(this.walk.here);
    run.ended = step?.kind === "remedy";
    run.label = step ? `${run.ended ? "ended at" : "stands at"}: ${step.title}` : "goes on in another set of questions";
    try {
      await this.runs.save(run);
      this.kept.saved(run.changed);
      return true;
    } catch (error) {
      this.kept.failed(error);
      return false;
    }
  }

  showStep({ replace = false } = {}) {
    if (this.walk.here === null) return this.#goTo(this.walk.run.current.tree);
    const asked = Dom.section(this.walk.asked);
    if (asked.matches(".step--gate")) this.gate.fill(asked);
    this.step.fill(asked);
    this.screens.show(asked);
    this.step.notices = [];
    document.title = `${this.walk.step(this.walk.asked).title} – light ${this.walk.run.light}`;
    this.#remember({ light: this.walk.run.id, screen: "step", step: this.walk.here }, `#${this.walk.here}`, replace);
    return undefined;
  }

  #remember(state, fragment, replace) {
    /* A question that somebody asked keeps its link, so that a reload asks it again. */
    if (this.asking) return;
    const same = JSON.stringify(history.state) === JSON.stringify(state);
    history[replace || same ? "replaceState" : "pushState"](state, "", fragment);
  }

  #goTo(tree) {
    const known = document.querySelector(`[data-tree="${CSS.escape(tree)}"]`);
    if (known) location.href = `${known.getAttribute("href")}#light=${this.walk.run.id}`;
    else this.showLights();
  }

  showScreen(name) {
    const screen = Dom.screen(name);
    this[name]?.fill?.();
    this.screens.show(screen);
    if (name !== "incoming") this.#remember({ light: this.walk?.run.id, screen: name }, `#${screen.id}`, false);
  }

  async showLights(linked = null) {
    this.asking = null;
    await this.lights.fill(linked);
    Dom.show("light", false);
    this.screens.show(Dom.screen("lights"));
    this.#remember({ screen: "lights" }, "#walk--lights", true);
  }

  async #answered(link) {
    const { answer, words, line } = link.dataset;
    const asked = this.walk.asked;
    const seen = Checked.line(Dom.field("seen").value.trim(), 300);
    const noted = ["question", "measure"].includes(this.walk.step(asked).kind);
    const facts = noted ? { seen, who: Dom.field("who").value, ...this.measure.of(asked, answer) } : {};
    const closed = this.walk.answer(answer, { at: this.now(), words, line, ...facts });
    delete this.walk.run.draft;
    if (this.asking && noted) return this.#replied(asked);
    await this.#took(words, closed);
    return undefined;
  }

  #replied(asked) {
    const entry = this.walk.way.findLast((each) => each.step === asked);
    this.walk.run.current = this.walk.place(asked);
    this.incoming.replied(entry, this.asking);
  }

  async #took(words, closed) {
    const saved = await this.save();
    const kept = saved ? `Saved on this phone ${Finding.clock(this.now())}.` : "Not saved.";
    this.step.last = `You answered: ${words}. ${kept}`;
    const passed = this.walk.way.at(-1)?.passed ? [`${this.walk.way.at(-1).question}: still open, so it is not asked again.`] : [];
    this.step.notices = [...this.#closings(closed), ...passed];
    this.showStep();
  }

  async #useKept() {
    const { answer, words, line, seen, who, at, measure } = this.walk.keptAnswer;
    const closed = this.walk.answer(answer, { at, words, line, seen, who, ...(measure ? { measure } : {}) });
    await this.#took(words, closed);
  }

  async #undo() {
    this.walk.undo();
    await this.save();
    this.showStep();
  }

  /* Goes back to an answer, in this tree or another. */
  async reopen(entry) {
    this.walk.goBack(entry, this.now());
    this.walk.before = null;
    this.walk.run.crossing = this.now();
    await this.save();
    if (this.walk.here) delete this.walk.run.crossing;
    this.showStep();
  }

  async #handOver() {
    const { tree } = this.walk.handOver(this.now());
    this.walk.run.crossing = this.now();
    const saved = await this.save();
    if (saved) return this.#goTo(tree);
    const { fragment } = this.wayLink(tree);
    location.href = `${tree}.html${fragment}`;
    return undefined;
  }

  wayLink(tree = this.data.tree.id) {
    return { fragment: Links.wrap("way", Links.way(this.walk.run, tree)) };
  }

  /* A question that somebody else asked: it stands alone, and nothing of it is kept here. */
  ask(run, value, notices) {
    this.walk = new Walk(this.data, run);
    this.asking = value;
    this.step.notices = notices;
    this.showStep();
  }

  /* A reply: it answers the question where the walk stands or stood; else it waits until the walk comes there. */
  async takeReply(run, reply, facts) {
    await this.resume(run);
    const place = this.walk.place(reply.step);
    if (this.walk.reopen(place)) {
      this.walk.answerFor(reply.answer, facts);
      await this.#took(facts.words, []);
      return;
    }
    this.walk.keep(reply.step, reply.answer, facts);
    this.step.notices = ["The answer is kept until the walk comes to that question."];
    await this.save();
    this.showStep();
  }

  async #stop() {
    if (this.walk) {
      this.walk.stop(this.now());
      this.step.forgetCautions();
      await this.save();
    }
    Dom.show("stopped", this.walk !== null);
    this.showScreen("stop");
  }

  #return() {
    if (this.walk) this.showStep();
    else this.showLights();
  }

  async #close(why) {
    this.step.notices = this.#closings(this.walk.gates.close(why, this.now()));
    this.walk.before = null;
    await this.save();
    this.showStep();
  }

  /* Back or forward in the browser. */
  #cameBack(state) {
    if (!this.walk || !state || state.screen === "lights" || state.light !== this.walk.run.id) return void this.open();
    if (state.screen !== "step") return this.showScreen(state.screen);
    this.walk.before = null;
    this.walk.reopen(this.walk.place(state.step));
    return this.showStep({ replace: true });
  }

  /* The page came out of the browser's own store, and another page may have walked on since. */
  async #reload() {
    const state = history.state ?? {};
    const run = this.walk && (await this.runs.get(this.walk.run.id));
    if (run) await this.resume(run, [], state.step);
  }

  /* The phone was put away and is looked at again. */
  #looked() {
    const now = this.now();
    if (document.hidden) {
      this.hiddenAt = now;
      return;
    }
    if (!this.walk) return;
    const away = now - (this.hiddenAt ?? now) >= Gates.BREAK_MINUTES * 60_000;
    const closed = [...this.walk.gates.check(now), ...(away ? this.walk.gates.close("resumed", now) : [])];
    if (closed.length === 0) return void this.step.showGates();
    this.step.notices = this.#closings(closed);
    this.save();
    if (this.screens.shown === "step") this.showStep({ replace: true });
  }

  #draft(seen) {
    this.walk.run.draft = { step: this.walk.asked, seen: Checked.line(seen, 300) };
    this.save();
  }

  #who(who) {
    this.walk.run.who = who;
    this.save();
  }

  static #scheme() {
    const dark = document.documentElement.dataset.scheme !== "dark";
    document.documentElement.dataset.scheme = dark ? "dark" : "light";
    try {
      localStorage.setItem("walk-scheme", dark ? "dark" : "light");
    } catch {
      /* It holds for this page alone then. */
    }
    WalkPage.nameScheme();
  }

  static nameScheme() {
    const dark = document.documentElement.dataset.scheme === "dark";
    document.querySelector('[data-do="scheme"]').textContent = dark ? "Light, for outdoors" : "Dark, for indoors";
  }
}
