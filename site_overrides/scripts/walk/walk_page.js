/* The walk's page: opens a light's run, saves it, and shows the step or the screen that it stands at. What taps do
   stands in acts.js, what a pause does in pauses.js. */
"use strict";

class WalkPage {
  /* Going over from one tree's page to another takes less than this; anything longer was a break. */
  static CROSSING_MS = 120_000;

  constructor() {
    this.data = Dom.json("walk--data");
    this.words = Dom.json("walk--words");
    this.runs = new Runs();
    this.screens = new Screens();
    this.walk = null;
    /* The question that somebody else asks here, checked, while it is answered. */
    this.asking = null;
    this.now = () => Date.now();
    this.acts = new Acts(this);
    this.step = new StepScreen(this);
    this.gate = new GateScreen(this);
    this.measure = new MeasureScreen();
    this.lights = new LightsScreen(this);
    this.way = new WayScreen(this);
    this.finding = new FindingScreen(this);
    this.send = new SendScreen(this);
    this.incoming = new IncomingScreen(this);
    this.kept = new Kept();
    this.pauses = new Pauses(this);
    window.addEventListener("popstate", (event) => this.#cameBack(event.state));
  }

  /* Names what a tap on [data-act="name"] does. */
  on(name, act) {
    this.acts.on(name, act);
  }

  /* How an answer reads and which line it has, from its place in the page. */
  said(step, answer) {
    const link = Dom.section(step).querySelector(`[data-answer="${CSS.escape(answer)}"]`);
    return link ? { words: link.dataset.words, line: link.dataset.line } : { words: answer, line: "" };
  }

  /* Opens the page: by a link that carries something, a light that is named, this tab's own past, or the question
     which light. */
  async open() {
    const fragment = WalkPage.#fragment();
    const carried = Links.unwrap(fragment);
    if (carried) return this.incoming.open(carried);
    const named = /^#light=([a-z0-9-]+)$/.exec(fragment)?.[1];
    const past = history.state ?? {};
    const run = (named ?? past.light) ? await this.runs.get(named ?? past.light) : null;
    if (run) return this.resume(run, { step: named ? null : past.step });
    const linked = Object.hasOwn(this.data.steps, fragment.slice(1)) ? fragment.slice(1) : null;
    return this.showLights({ linked });
  }

  /* Some messengers write a link's signs as numbers. */
  static #fragment() {
    try {
      return decodeURI(location.hash);
    } catch {
      return location.hash;
    }
  }

  /* Goes on with a run, at a step of its way or one that a link asked for. Gates are asked again, unless the run only
     crossed over from another tree just now. */
  async resume(run, { notices = [], step = null, linked = null } = {}) {
    const now = this.now();
    const walk = new Walk(this.data, run);
    Object.assign(this, { walk, asking: null });
    const mended = walk.mend(now);
    if (step) walk.reopen(walk.place(step));
    if (linked) walk.followLink(linked, now);
    if (walk.here === null) return this.goOver();
    const crossed = run.crossing && now - run.crossing < WalkPage.CROSSING_MS;
    delete run.crossing;
    const isHere = history.state?.light === run.id;
    const closed = crossed ? walk.arrive(now) : walk.gates.close("resumed", now);
    this.step.forgetCautions();
    this.step.notices = [...notices, ...this.closings(closed), ...WalkPage.#mendings(mended)];
    await this.save();
    if (!crossed && !isHere) this.#layTrail();
    return this.showStep({ replace: crossed || isHere });
  }

  /* Lays the lights and the answers of this tree behind the step where a run is taken up, as walking would have: so the
     phone's own Back goes from answer to answer, then to the lights, and does not leave the page. */
  #layTrail() {
    const { run, behind } = this.walk;
    this.#remember({ screen: "lights" }, "walk--lights", true);
    for (const { step } of behind.filter((entry) => entry.tree === this.data.tree.id && Walk.counts(entry))) {
      this.#remember({ light: run.id, screen: "step", step }, step, false);
    }
  }

  /* Says of each gate that closed why it did. */
  closings(closed) {
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

  /* Saves the run; tells whether it is safe. Of a question answered for somebody else only what is half-written is
     kept. */
  async save() {
    try {
      await (this.asking ? this.incoming.keepDraft() : this.#saveRun());
      return true;
    } catch (error) {
      this.kept.failed(error);
      return false;
    }
  }

  async #saveRun() {
    const { run } = this.walk;
    const step = this.walk.here && this.walk.step(this.walk.here);
    run.changed = this.now();
    run.ended = step?.kind === "remedy" && Object.keys(step.exits).length === 0;
    run.label = step ? `${run.ended ? "Ended at" : "Stands at"}: ${step.title}` : "Goes on in another set of questions";
    await this.runs.save(run);
    this.kept.saved(run.changed);
  }

  /* Removes a light's run for good. */
  forget(run) {
    if (this.walk?.run.id === run.id) this.walk = null;
    return this.runs.remove(run.id);
  }

  showStep({ replace = false } = {}) {
    const { walk } = this;
    if (walk.here === null) return this.goOver();
    const asked = Dom.section(walk.asked);
    if (asked.matches(".step--gate")) this.gate.fill(asked);
    this.step.fill(asked);
    this.screens.show(asked);
    this.step.notices = [];
    document.title = `${walk.step(walk.asked).title} – light ${walk.run.light}`;
    return this.#remember({ light: walk.run.id, screen: "step", step: walk.here }, walk.here, replace);
  }

  showScreen(name) {
    const screen = Dom.screen(name);
    this[name]?.fill?.();
    this.screens.show(screen);
    /* What came by a link keeps that link until it is taken over. */
    if (name !== "incoming") this.#remember({ light: this.walk?.run.id, screen: name }, screen.id, false);
  }

  async showLights({ linked = null, replace = true } = {}) {
    this.asking = null;
    await this.lights.fill(linked);
    Dom.show("light", false);
    this.screens.show(Dom.screen("lights"));
    this.#remember({ screen: "lights" }, linked ?? "walk--lights", replace);
  }

  #remember(state, anchor, replace) {
    /* A question that somebody asked keeps its link, so that a reload asks it again. */
    if (this.asking) return;
    const same = JSON.stringify(history.state) === JSON.stringify(state);
    history[replace || same ? "replaceState" : "pushState"](state, "", `#${anchor}`);
  }

  /* The page of another tree; undefined where this guide has none. */
  pageOf(tree) {
    return document.querySelector(`[data-tree="${CSS.escape(String(tree))}"]`)?.getAttribute("href");
  }

  goTo(tree, fragment) {
    if (this.pageOf(tree)) location.href = this.pageOf(tree) + fragment;
    else this.showLights();
  }

  /* Goes over to the tree where this light stands. Where nothing can be kept, the answers travel in the link. */
  async goOver() {
    const { run } = this.walk;
    const { tree } = run.current;
    this.goTo(tree, (await this.save()) ? `#light=${run.id}` : this.wayLink(tree));
  }

  /* The way so far as the fragment of a link to a tree's page. */
  wayLink(tree = this.data.tree.id) {
    return Links.wrap("way", Links.way(this.walk.run, tree));
  }

  /* Back or forward in the browser. */
  #cameBack(state) {
    if (!this.walk || !state || state.screen === "lights" || state.light !== this.walk.run.id) return void this.open();
    if (state.screen !== "step") return void this.showScreen(state.screen);
    this.walk.before = null;
    this.walk.reopen(this.walk.place(state.step));
    return void this.showStep({ replace: true });
  }
}
