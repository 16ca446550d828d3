/* Where the theme's script keeps what a reader chose: by the folder of this copy of the guide, since a host may hold
   several. A browser that keeps nothing is no fault. */
"use strict";

window.__md_scope = new URL(document.currentScript.dataset.root, location);

window.__md_get = (name, store) => {
  try {
    return JSON.parse((store ?? localStorage).getItem(`${window.__md_scope.pathname}.${name}`));
  } catch {
    return null;
  }
};

window.__md_set = (name, value, store) => {
  try {
    (store ?? localStorage).setItem(`${window.__md_scope.pathname}.${name}`, JSON.stringify(value));
  } catch {
    /* It holds for this page alone then. */
  }
};
