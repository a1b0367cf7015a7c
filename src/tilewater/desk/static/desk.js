// SPDX-License-Identifier: Apache-2.0
// What the desk's page does by itself: it moves focus to what was opened. It computes nothing.
"use strict";

htmx.config.allowEval = false;
htmx.config.includeIndicatorStyles = false;
htmx.config.historyCacheSize = 0;

document.addEventListener("htmx:afterSwap", (event) => {
  const head = event.target.id === "answer" ? event.target.querySelector("h2") : null;
  if (head) head.focus({ preventScroll: false });
});
