/* How safely this browser keeps what a page saves: asks it once to keep it for good, and says what holds. */
"use strict";

class Protection {
  /* Asked from a tap that matters, never at opening, and not again after a refusal. */
  static async ask() {
    if (Protection.asked || !navigator.storage?.persist) return;
    Protection.asked = true;
    try {
      await navigator.storage.persist();
    } catch {
      /* Refused: `said` tells what holds. */
    }
  }

  static async said() {
    try {
      return (await navigator.storage?.persisted?.()) ? Protection.PROMISED : Protection.LENT;
    } catch {
      return Protection.LENT;
    }
  }

  static PROMISED = "Protection: yes. The browser promised not to clear them by itself. Clearing its data still does.";
  static LENT =
    "Protection: no. The browser may clear them when the phone runs short of room. Some phones clear them after " +
    "seven days away, unless the guide is on the home screen.";
}
