/* Says what is kept on this phone, and how safely; asks the browser once to keep it for good. */
"use strict";

class Kept {
  constructor() {
    this.savedAt = null;
    Dom.show("facts", true);
    this.refresh();
  }

  async ask() {
    await Protection.ask();
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
    const said = await Protection.said();
    Dom.say("protection", said === Protection.LENT ? `${said} ${Kept.ADVICE}` : said);
  }

  static ADVICE = "Keep a copy, or send the finding the day you make it.";
}
