// SPDX-License-Identifier: Apache-2.0
// What the desk's page does by itself: it moves focus to what was opened, and lets the keys move
// what is wider than its place. It computes nothing.
"use strict";

htmx.config.allowEval = false;
htmx.config.includeIndicatorStyles = false;
htmx.config.historyCacheSize = 0;

document.addEventListener("htmx:afterSwap", (event) => {
  const head = event.target.id === "answer" ? event.target.querySelector("h2") : null;
  if (!head) return;
  head.focus({ preventScroll: true });
  head.scrollIntoView({ block: "center" });
});

function letKeysMove() {
  for (const wide of document.querySelectorAll(".wide, .rows")) {
    if (wide.scrollWidth > wide.clientWidth || wide.scrollHeight > wide.clientHeight) wide.tabIndex = 0;
    else wide.removeAttribute("tabindex");
  }
}

addEventListener("load", letKeysMove);
addEventListener("resize", letKeysMove);
document.addEventListener("htmx:afterSettle", letKeysMove);

// A page that is opened on a question begins at its answer; the section stays above it. The section
// comes later and pushes the answer down, so it is sought once more unless the reader has moved.
function beginAtTheAnswer() {
  const head = document.querySelector("#answer h2");
  if (head && !location.hash) head.scrollIntoView({ block: "center" });
}

document.addEventListener("DOMContentLoaded", beginAtTheAnswer);
const moved = new AbortController();
for (const kind of ["wheel", "touchstart", "keydown", "pointerdown"]) {
  addEventListener(kind, () => moved.abort(), { signal: moved.signal, passive: true });
}
document.addEventListener("htmx:afterSettle", (event) => {
  if (event.target.id !== "section") return;
  beginAtTheAnswer();
  moved.abort();
}, { signal: moved.signal });
