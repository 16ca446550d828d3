/* Starts the walk. Until this line is reached the page is whole without script, and it is again if anything fails. */
"use strict";

(() => {
  const root = document.documentElement;
  try {
    root.dataset.scheme = localStorage.getItem("walk-scheme") ?? "light";
  } catch {
    root.dataset.scheme = "light";
  }
  try {
    const page = new WalkPage();
    root.classList.add("js");
    for (const button of document.querySelectorAll('[data-do="scheme"], [data-do="return"], [data-do="finding"]')) {
      button.hidden = false;
    }
    WalkPage.nameScheme();
    page.open();
  } catch (error) {
    root.classList.remove("js");
    console.error("The walk did not start; the page reads without it.", error);
  }
})();
