/* Says what is kept on this phone, and how safely; asks the browser once to keep it for good. */
"use strict";

class Kept {
  constructor() {
    this.savedAt = null;
    Dom.show("facts", true);
    this.refresh();
  }

  /* Asked from a tap that matters, never at opening, and not again after a refusal. */
  async ask() {
    if (this.asked || !navigator.storage?.persist) return;
    this.asked = true;
    try {
      await navigator.storage.persist();
    } catch {
      /* Refused: refresh says what holds. */
    }
    await this.refresh();
  }

  saved(at) {
    this.savedAt = at;
    Dom.tell("fault", null);
    this.refresh();
  }

  /* The answer stays on the screen and in memory; only its saving failed. */
  failed(error) {
    const sentence =
      error instanceof Runs.Elsewhere
        ? "This light was walked on in another window, so this was not saved. Reload the page to go on from there."
        : "This could not be saved on this phone. Your answers hold only while this page is open: use Keep a copy.";
    Dom.tell("fault", sentence);
    this.savedAt = null;
    this.refresh();
  }

  async refresh() {
    const at = this.savedAt;
    const saved = at ? `saved on this phone ${Finding.clock(at)}` : "nothing saved since this page opened";
    Dom.say("answers-kept", `Answers: ${saved}.`);
    let promised = false;
    try {
      promised = Boolean(await navigator.storage?.persisted?.());
    } catch {
      promised = false;
    }
    Dom.say("protection", promised ? Kept.PROMISED : Kept.LENT);
  }

  static PROMISED = "Protection: yes. The browser promised not to clear them by itself. Clearing its data still does.";
  static LENT =
    "Protection: no. The browser may clear them when the phone runs short of room. On an iPhone or iPad it may after " +
    "seven days away, unless the guide is on the Home Screen. Keep a copy, or send the finding the day you make it.";
}
