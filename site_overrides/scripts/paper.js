// Puts a checklist's blocks on pages of A4 and writes the page beside each step number.
// Without it the sheet is whole; it only names no pages and repeats some cautions on one page.
"use strict";
{
  const MM = 96 / 25.4; // CSS pixels
  const PAGE = (297 - 15 - 10) * MM; // the height of A4, less its margins in paper.css
  const ROOM = PAGE - 10 * MM; // and less two lines, in case a browser breaks a line elsewhere

  const heights = (blocks, named) =>
    blocks.map((block) => {
      block.classList.toggle("is-named", named);
      return block.getBoundingClientRect().height;
    });

  const measured = (blocks) => {
    const root = document.documentElement;
    root.classList.add("measuring");
    const full = heights(blocks, false);
    const short = heights(blocks, true);
    root.classList.remove("measuring");
    return blocks.map((block, place) => ({
      block,
      full: full[place],
      short: short[place],
      own: [...block.querySelectorAll("[data-caution]:not(.again)")].map((each) => each.dataset.caution),
      standing: [...block.querySelectorAll("[data-caution].again")].map((each) => each.dataset.caution),
      keep: "keep" in block.dataset ? full[place + 1] : 0, // what follows stays with it, if both fit on one page
    }));
  };

  // As few pages as the blocks need with the standing cautions of each named.
  const pages = (items) => {
    let page = 1;
    let used = 0;
    return items.map((item) => {
      const wanted = item.short + item.keep > ROOM ? item.short : item.short + item.keep;
      if (used > 0 && used + wanted > ROOM) {
        page += Math.ceil(used / PAGE); // more than one where a block alone is higher than a page
        used = 0;
      }
      used += item.short;
      return { ...item, page };
    });
  };

  // What room is left on a page gives the reminders in it again, the uppermost first; none twice on one page.
  const reminded = (items) => {
    const shown = new Set();
    let left = ROOM - items.reduce((sum, item) => sum + item.short, 0);
    return items.map((item) => {
      const more = item.full - item.short;
      const named = item.standing.every((each) => shown.has(each)) || more > left;
      if (!named) left -= more;
      for (const each of named ? item.own : [...item.own, ...item.standing]) shown.add(each);
      return { ...item, named };
    });
  };

  const packed = (items) => {
    const placed = pages(items);
    return [...new Set(placed.map(({ page }) => page))].flatMap((one) =>
      reminded(placed.filter(({ page }) => page === one)),
    );
  };

  const paginate = (sheet) => {
    const blanks = sheet.querySelectorAll("[data-page-of]");
    for (const blank of blanks) blank.textContent = ", page 88"; // as wide as any, so that it is measured too
    const items = packed(measured([...sheet.querySelectorAll(".block")]));
    items.forEach(({ block, page, named }, place) => {
      block.classList.toggle("is-named", named);
      block.classList.toggle("begins-page", place > 0 && page !== items[place - 1].page);
    });
    const pageOf = new Map(items.map(({ block, page }) => [block.id, page]));
    for (const blank of blanks) blank.textContent = `, page ${pageOf.get(blank.dataset.pageOf)}`;
  };

  const start = (selector, job) => {
    for (const element of document.querySelectorAll(selector)) {
      try {
        job(element);
      } catch (error) {
        console.error(error);
      }
    }
  };

  start("[data-module=paper]", paginate);
  start("[data-print]", (button) => {
    button.hidden = false;
    button.addEventListener("click", async () => {
      await Promise.allSettled([...document.images].map((image) => image.decode())); // a drawing is never left out
      window.print();
    });
  });
}
