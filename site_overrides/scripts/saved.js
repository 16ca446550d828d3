/* Text out of the page: to the clipboard or into a file. */
"use strict";

class Saved {
  static async copy(text) {
    try {
      await navigator.clipboard.writeText(text);
      return true;
    } catch {
      return false;
    }
  }

  static file(name, text, type = "application/json") {
    const address = URL.createObjectURL(new Blob([text], { type }));
    const link = document.createElement("a");
    link.href = address;
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(address), 60_000);
  }
}
