// SPDX-License-Identifier: Apache-2.0
// What is typed and not kept stays: over a reload, over a change of the job, until it is kept or
// forgotten. Only boxes that say something else than the file are sent. It computes nothing.
"use strict";

const DRAFT = "tilewater:";

htmx.config.responseHandling = [
  { code: "204", swap: false },
  { code: "[23]..", swap: true },
  { code: "409|422", swap: true, error: false },
  { code: "...", swap: false, error: true },
];

const opened = () => document.getElementById("opened");
const form = () => document.querySelector("#answer form.form");
const boxesOf = (root) => Array.from(root.querySelectorAll("[data-was]"));
// An overrule is typed for one number only.
const scopeOf = (box) => box.form?.querySelector('[name="number"]')?.value ?? "";
const nameOf = (box) =>
  `${scopeOf(box)} ${box.type === "checkbox" ? `? ${box.value}` : box.name}`.trim();
const saysOf = (box) => (box.type === "checkbox" ? (box.checked ? "yes" : "") : box.value);
const lines = (text) => text.replace(/\r\n/g, "\n");
const isChanged = (box) => lines(saysOf(box)) !== lines(box.dataset.was);

function draftKey() {
  const here = opened();
  return here ? DRAFT + here.dataset.job : null;
}

function readDraft() {
  try {
    return JSON.parse(localStorage.getItem(draftKey())) || { version: "", boxes: {} };
  } catch {
    return { version: "", boxes: {} };
  }
}

function writeDraft(boxes) {
  const key = draftKey();
  if (!key) return;
  try {
    if (Object.keys(boxes).length) {
      localStorage.setItem(key, JSON.stringify({ version: opened().dataset.version, boxes }));
    } else {
      localStorage.removeItem(key);
    }
  } catch {
    // A browser that keeps nothing still keeps what stands in the boxes.
  }
}

function note(box) {
  const { boxes } = readDraft();
  if (isChanged(box)) boxes[nameOf(box)] = saysOf(box);
  else delete boxes[nameOf(box)];
  writeDraft(boxes);
  mark();
}

// Lay what was typed over the boxes as the file has them now.
function layDraft() {
  const here = form();
  if (!here) return;
  const { version, boxes } = readDraft();
  let laid = 0;
  for (const box of boxesOf(here)) {
    const typed = boxes[nameOf(box)];
    if (typed === undefined) continue;
    if (box.type === "checkbox") box.checked = typed === "yes";
    else box.value = typed;
    laid += 1;
    for (let up = box.closest("details"); up; up = up.parentElement.closest("details")) up.open = true;
  }
  const told = document.getElementById("form-told");
  if (laid && version && version !== opened().dataset.version && told && !told.textContent.trim()) {
    const words = document.createElement("p");
    words.textContent = "What you typed is laid over the file as it is now. Nothing of it is kept yet.";
    told.append(words);
  }
  mark();
}

function mark() {
  const here = form();
  if (!here) return;
  const changed = boxesOf(here).filter(isChanged);
  for (const box of boxesOf(here)) box.closest(".box").classList.toggle("typed-over", false);
  for (const box of changed) box.closest(".box").classList.toggle("typed-over", true);
  const count = new Set(changed.map((box) => box.closest(".box"))).size;
  const told = here.querySelector("[data-count]");
  if (told) told.textContent = count ? `${count} typed, not kept yet` : "";
  const forget = here.querySelector("[data-forget]");
  if (forget) {
    forget.hidden = !count;
    forget.closest(".keeping").classList.toggle("idle", !count);
  }
}

// Details stay as the reader left them, and the cursor stays in its box, when a part is swapped.
const openOnes = new Map();
let cursor = "";

document.addEventListener(
  "toggle",
  (event) => {
    if (event.target.id) openOnes.set(event.target.id, event.target.open);
  },
  true,
);

function settle(id) {
  const here = opened();
  if (!here) return;
  for (const one of here.querySelectorAll("details[id]")) {
    if (openOnes.get(one.id)) one.open = true;
  }
  if (kept && id === "opened") {
    say(kept);
    kept = "";
  }
  layDraft();
  const wanted = here.querySelector("[data-focus]");
  const wrong = here.querySelector('[aria-invalid="true"]');
  if (wrong) {
    wrong.focus({ preventScroll: true });
    wrong.closest(".box").scrollIntoView({ block: "center" });
  } else if (wanted) {
    wanted.removeAttribute("data-focus");
    wanted.focus();
    wanted.scrollIntoView({ block: "center" });
  } else if (cursor) document.getElementById(cursor)?.focus({ preventScroll: true });
  cursor = "";
}

document.addEventListener("htmx:beforeSwap", () => {
  const active = document.activeElement;
  cursor = active && active.dataset && active.dataset.was !== undefined ? active.id : "";
});
document.addEventListener("htmx:afterSettle", (event) => {
  const id = event.target.id;
  if (id === "form-told") event.target.scrollIntoView({ block: "center" });
  if (id === "answer" || id === "opened" || id === "form") settle(id);
});

document.addEventListener("input", (event) => {
  const box = event.target;
  if (box.dataset?.was === undefined || !box.closest("form.form")) return;
  const tick = box.closest(".box").querySelector('[name="unknown"]');
  if (tick && tick !== box && box.value.trim() && tick.checked) {
    tick.checked = false;
    note(tick);
  }
  note(box);
});

document.addEventListener("click", (event) => {
  if (event.target.closest("[data-close]")) {
    event.target.closest(".moved").remove();
  } else if (event.target.closest("[data-forget]")) {
    const { boxes } = readDraft();
    for (const box of boxesOf(form())) {
      delete boxes[nameOf(box)];
      if (box.type === "checkbox") box.checked = box.dataset.was === "yes";
      else box.value = box.dataset.was;
    }
    writeDraft(boxes);
    mark();
  }
});

// Send what was changed, and what the form must say with it.
document.addEventListener("htmx:configRequest", (event) => {
  const sender = event.target;
  const here = sender.closest?.("form.form");
  if (!here || event.detail.verb !== "post") return;
  const changed = new Set();
  for (const box of boxesOf(here)) {
    if (isChanged(box)) changed.add(box.type === "checkbox" ? box.value : box.name);
  }
  const sent = event.detail.parameters;
  const ticks = sent.getAll ? sent.getAll("unknown") : [].concat(sent.unknown ?? []);
  for (const box of boxesOf(here)) {
    if (box.type !== "checkbox" && !changed.has(box.name)) delete sent[box.name];
  }
  delete sent.unknown;
  const still = ticks.filter((path) => changed.has(path));
  if (still.length) sent.unknown = still;
});

// What was kept is no draft any more, and the next edit is made to the job as it now is.
let kept = "";

document.addEventListener("htmx:afterRequest", (event) => {
  const { xhr, pathInfo, requestConfig } = event.detail;
  if (!pathInfo?.requestPath.endsWith("/keep") || xhr?.status !== 200) return;
  const here = form();
  if (!here) return;
  const sent = requestConfig.parameters;
  const version = JSON.parse(xhr.responseText).version;
  here.querySelector('[name="version"]').value = version;
  opened().dataset.version = version;
  kept = "Kept in the job file.";
  say(kept);
  if (sent["take-out"]) return;
  const { boxes } = readDraft();
  for (const box of boxesOf(here)) {
    delete boxes[nameOf(box)];
    if (box.name.startsWith("+") || box.name.startsWith("rows.")) box.value = "";
    else box.dataset.was = saysOf(box);
  }
  writeDraft(boxes);
  mark();
});

function say(words) {
  const told = document.getElementById("form-told");
  if (told) told.textContent = words;
}

// The question that is open is marked among the questions.
function markQuestion() {
  for (const link of document.querySelectorAll("#questions a")) {
    if (link.pathname === location.pathname) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
}

document.addEventListener("htmx:pushedIntoHistory", markQuestion);
document.addEventListener("htmx:afterSettle", markQuestion);
document.addEventListener("DOMContentLoaded", () => {
  settle("");
  markQuestion();
});
