/* SPDX-License-Identifier: Apache-2.0 */
/* The front: arrow keys go from mark to mark; what is picked is marked on plot and table alike. */
(function () {
  "use strict";
  function all(query) { return Array.prototype.slice.call(document.querySelectorAll(query)); }
  function pick(number) {
    all("a.mark").forEach(function (one) { one.classList.toggle("picked", one.dataset.number === number); });
    all("tr[data-number]").forEach(function (row) {
      if (row.dataset.number === number) { row.setAttribute("aria-selected", "true"); } else { row.removeAttribute("aria-selected"); }
    });
  }
  document.addEventListener("htmx:afterSwap", function () {
    var shown = document.querySelector("[data-picked]");
    if (shown) { pick(shown.dataset.picked); }
  });
  document.addEventListener("keydown", function (event) {
    var here = document.activeElement && document.activeElement.closest && document.activeElement.closest("a.mark");
    var step = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 }[event.key];
    if (!here || !step) { return; }
    var marks = all("a.mark");
    var next = marks[marks.indexOf(here) + step];
    if (next) { event.preventDefault(); next.focus(); next.dispatchEvent(new MouseEvent("click", { bubbles: true, cancelable: true })); }
  });
  document.addEventListener("click", function (event) {
    var row = event.target.closest && event.target.closest("tr[data-number]");
    var link = row && row.querySelector("a");
    if (link && !event.target.closest("a")) { link.click(); }
  });
})();
