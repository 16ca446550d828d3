/* Puts on the scheme that the reader chose before the page is painted; the theme's script does so only later. */
"use strict";

for (const [name, value] of Object.entries(window.__md_get("__palette")?.color ?? {})) {
  document.body.setAttribute(`data-md-color-${name}`, value);
}
