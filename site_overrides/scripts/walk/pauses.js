/* What happens while nobody taps: the phone is put away and looked at again, time runs, another page walks on. */
"use strict";

class Pauses {
  static TELL_MS = 20_000;

  constructor(page) {
    this.page = page;
    document.addEventListener("visibilitychange", () => (document.hidden ? this.#left() : this.#looked()));
    window.addEventListener("pageshow", (event) => event.persisted && this.#refresh());
    setInterval(() => page.walk && page.step.showGates(), Pauses.TELL_MS);
  }

  #left() {
    this.leftAt = this.page.now();
  }

  #looked() {
    const { page } = this;
    if (!page.walk) return;
    const now = page.now();
    const away = now - (this.leftAt ?? now) >= Gates.BREAK_MINUTES * 60_000;
    const closed = [...page.walk.gates.check(now), ...(away ? page.walk.gates.close("resumed", now) : [])];
    if (closed.length === 0) return void page.step.showGates();
    page.step.notices = page.closings(closed);
    page.step.forgetCautions();
    page.save();
    if (page.screens.shown === "step") page.showStep({ replace: true });
  }

  /* The browser kept this page while another may have walked on. */
  async #refresh() {
    const run = this.page.walk && (await this.page.runs.get(this.page.walk.run.id));
    if (run) await this.page.resume(run, { step: history.state?.step });
  }
}
