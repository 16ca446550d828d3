/* Starts the walk. Until it has opened the page is whole without script, and it is again if starting fails. */
"use strict";

(() => {
  const root = document.documentElement;

  function giveUp(error) {
    root.classList.remove("js");
    for (const section of document.querySelectorAll("[data-step], [data-glossary]")) section.hidden = false;
    console.error("The walk did not start; the page reads without it.", error);
  }

  try {
    /* A file that did not come is noticed here, and not in the middle of a walk. */
    void [Checked, Finding, Gates, Links, PhoneStore, Record, Saved, Standing, Typed, Walk];
    const page = new WalkPage();
    new Scheme(page);
    root.classList.add("js");
    for (const name of ["scheme", "return", "finding"]) {
      for (const button of document.querySelectorAll(`[data-act="${name}"]`)) button.hidden = false;
    }
    page.open().catch(giveUp);
  } catch (error) {
    giveUp(error);
  }
})();
