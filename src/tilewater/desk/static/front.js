/* SPDX-License-Identifier: Apache-2.0 */
/* The front: arrow keys go from mark to mark; what is picked is marked on plot and table alike. */
(function () {
  "use strict";
  function all(query) { return Array.prototype.slice.call(document.querySelectorAll(query)); }
  function pick(number) {
    all(".plot a.mark").forEach(function (one) { one.classList.toggle("picked", one.dataset.number === number); });
    all("tr[data-number]").forEach(function (row) {
      if (row.dataset.number === number) { row.setAttribute("aria-selected", "true"); } else { row.removeAttribute("aria-selected"); }
    });
  }
  document.addEventListener("htmx:afterSwap", function () {
    var shown = document.querySelector("[data-picked]");
    if (shown) { pick(shown.dataset.picked); }
  });
  document.addEventListener("keydown", function (event) {
    var here = document.activeElement && document.activeElement.closest && document.activeElement.closest(".plot a.mark");
    var step = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 }[event.key];
    if (!here || !step) { return; }
    var marks = all(".plot a.mark");
    var next = marks[marks.indexOf(here) + step];
    if (next) { event.preventDefault(); next.focus(); next.dispatchEvent(new MouseEvent("click", { bubbles: true, cancelable: true })); }
  });
  /* A link of a drawing is followed by the part alone, as any other; with a key held, as a page. */
  document.addEventListener("click", function (event) {
    var held = event.ctrlKey || event.metaKey || event.shiftKey;
    if (!held && event.target.closest && event.target.closest(".plot a.mark")) { event.preventDefault(); }
  });
  document.addEventListener("click", function (event) {
    var row = event.target.closest && event.target.closest("tr[data-number]");
    var link = row && row.querySelector("a");
    if (link && !event.target.closest("a")) { link.click(); }
  });
})();
