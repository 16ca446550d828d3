/* Starts the walk. Until this line is reached the page is whole without script, and it is again if starting fails. */
"use strict";

(() => {
  const root = document.documentElement;
  try {
    const page = new WalkPage();
    new Scheme(page);
    root.classList.add("js");
    for (const name of ["scheme", "return", "finding"]) {
      for (const button of document.querySelectorAll(`[data-act="${name}"]`)) button.hidden = false;
    }
    page.open();
  } catch (error) {
    root.classList.remove("js");
    console.error("The walk did not start; the page reads without it.", error);
  }
})();
