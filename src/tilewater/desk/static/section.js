// SPDX-License-Identifier: Apache-2.0
// The living section in the hand: a ring is moved from step to step, each step is sent, and what
// comes back is laid in its place. Places, steps, words and figures are all given; nothing is
// computed here but which of the given steps lies nearest to the hand.
"use strict";

(() => {
  const QUIET_MS = 220; // without a move, before the range is asked for
  const LARGE = 5; // steps of PageUp and PageDown
  const page = crypto.randomUUID();
  const figure = document.getElementById("section");
  if (!figure) return;

  let edits = {}; // of what is in the hand, not kept yet
  let looked = {}; // flow, ditch and boards that are looked at; never kept
  let number = 0; // of the newest question
  let shown = 0; // of the newest answer that is shown
  let busy = false;
  let waiting = null; // the newest question, while another is on its way
  let quiet = 0; // timer
  let refining = null;
  let hand = null; // what is in the hand
  let kept = null; // the answer without edits
  let isFirst = true; // whether the section is shown for the first time

  const bench = () => figure.querySelector(".living-bench");
  const job = () => bench().dataset.job;
  const address = (verb) => `/job/${encodeURIComponent(job())}/${verb}`;
  const handles = () => [...figure.querySelectorAll("[data-handle]")];
  const room = () => Math.max(240, Math.floor(figure.clientWidth));
  const isLooked = () => Object.keys(looked).length > 0;

  // What is asked

  async function post(verb, body, signal) {
    const answer = await fetch(address(verb), {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(body),
      signal,
    });
    return { status: answer.status, told: await answer.json().catch(() => ({})) };
  }

  function question() {
    number += 1;
    const asked = { edits, looked_at: looked, number, page, width: room() };
    if (hand) asked.scale = hand.scale;
    return asked;
  }

  function ask() {
    waiting = question();
    clearTimeout(quiet);
    if (refining) refining.abort();
    send();
  }

  async function send() {
    if (busy || !waiting) return;
    const asked = waiting;
    waiting = null;
    busy = true;
    try {
      const { status, told } = await post("try", asked);
      if (status === 200) take(told, asked);
      else note("This step could not be tried.");
    } catch {
      note("The desk does not answer. Is it still running?");
    } finally {
      busy = false;
    }
    if (waiting) send();
    else refineSoon();
  }

  function refineSoon() {
    clearTimeout(quiet);
    quiet = setTimeout(refine, QUIET_MS);
  }

  async function refine() {
    if (busy || waiting || !bench()) return;
    const asked = question();
    refining = new AbortController();
    try {
      const { status, told } = await post("refine", asked, refining.signal);
      if (status === 200 && told.refined) take(told, asked);
    } catch {
      // given up for a newer question, or the desk is gone; the next step says so
    }
  }

  // What is shown

  function take(told, asked) {
    if (told.number < shown) return; // an older answer
    shown = told.number;
    if (told.faults.length) {
      note(told.faults.map((fault) => fault.message).join(" "));
      if (!told.section) return;
    } else {
      note(told.now_binds);
    }
    if (!Object.keys(asked.edits).length) kept = told;
    show(told);
  }

  function show(told) {
    const five = document.getElementById("five");
    if (five && told.five) five.outerHTML = told.five;
    const state = document.querySelector(".head .state");
    if (state && told.state) state.textContent = told.state;
    for (const one of told.questions) {
      const link = document.querySelector(`#questions a[href$="/ask/${one.slug}"] span`);
      if (link) link.textContent = one.sentence;
    }
    if (told.section) draw(told.section);
  }

  function draw(section) {
    const svg = figure.querySelector("svg.living:not(.ruler)");
    if (!svg) return;
    svg.querySelector(".drawn").innerHTML = section.drawn;
    svg.setAttribute("viewBox", `0 0 ${section.width} ${section.height}`);
    svg.setAttribute("width", section.width);
    svg.setAttribute("height", section.height);
    figure.querySelector("figcaption").innerHTML = section.caption;
    for (const ring of svg.querySelectorAll("[data-handle]")) {
      const place = section.rings[ring.dataset.handle];
      if (place && !(hand && hand.ring === ring)) move(ring, place[0], place[1]);
    }
  }

  function move(ring, x, y) {
    ring.setAttribute("transform", `translate(${x} ${y})`);
  }

  function note(words) {
    const place = figure.querySelector(".living-note");
    if (place && place.textContent !== words) place.textContent = words;
  }

  function tellLooked() {
    const place = figure.querySelector(".living-looked");
    if (place) place.hidden = !isLooked();
  }

  // What is in the hand

  const stepsOf = (ring) => JSON.parse(ring.dataset.steps);
  const indexOf = (ring) => Number(ring.getAttribute("aria-valuenow"));

  function take_in_hand(ring) {
    if (hand && hand.ring === ring) return;
    if (hand) let_go();
    const scale = bench().dataset.scale;
    hand = {
      ring,
      steps: stepsOf(ring),
      first: indexOf(ring),
      index: indexOf(ring),
      isSaved: ring.dataset.saved === "1",
      before: { ...looked },
      scale: scale ? JSON.parse(scale) : undefined,
    };
    ring.classList.add("is-held");
  }

  function put(index) {
    const { ring, steps } = hand;
    const to = Math.min(Math.max(index, 0), steps.length - 1);
    const [at, says, does] = steps[to];
    const across = Number(ring.dataset.across);
    if (ring.dataset.way === "x") move(ring, at, across);
    else move(ring, across, at);
    if (to === hand.index) return;
    hand.index = to;
    ring.setAttribute("aria-valuenow", to);
    ring.setAttribute("aria-valuetext", says);
    ring.querySelector(".says text").textContent = says;
    const beside = ring.closest("li, .living-flow")?.querySelector("output");
    if (beside) beside.textContent = says;
    if (hand.isSaved) edits = to === hand.first ? {} : { ...does.edits };
    else looked = { ...looked, ...does.looked_at };
    tellLooked();
    ask();
  }

  function nearest(steps, at) {
    let best = 0;
    for (let i = 1; i < steps.length; i += 1) {
      if (Math.abs(steps[i][0] - at) < Math.abs(steps[best][0] - at)) best = i;
    }
    return best;
  }

  function take_back() {
    if (!hand) return;
    const { ring, first, before } = hand;
    put(first);
    edits = {};
    looked = before;
    release();
    ring.focus();
    note("");
    tellLooked();
    if (kept && !isLooked()) show(kept);
    ask();
  }

  function release() {
    if (hand) hand.ring.classList.remove("is-held");
    hand = null;
  }

  function let_go() {
    if (!hand) return;
    const { isSaved, index, first } = hand;
    release();
    if (isSaved && index !== first) keep();
    else if (index !== first) ask();
  }

  // What is kept

  let writing = Promise.resolve(); // one after the other, each on what the one before left

  function keep() {
    const sent = edits;
    return written("keep", sent);
  }

  function written(verb, sent) {
    writing = writing.then(() => write(verb, sent));
    return writing;
  }

  async function write(verb, sent) {
    const body = { version: bench().dataset.version };
    if (sent) body.edits = sent;
    let answer;
    try {
      answer = await post(verb, body);
    } catch {
      note("The desk does not answer. Nothing was kept.");
      return;
    }
    if (edits === sent) edits = {};
    const { status, told } = answer;
    if (status === 200) {
      bench().dataset.version = told.version;
      document.body.dispatchEvent(new CustomEvent("job-changed", { bubbles: true }));
      return;
    }
    const words = told.moved || (told.faults || []).map((fault) => fault.message);
    again(words.length ? words.join(" ") : "Nothing was kept.");
  }

  let afterwards = ""; // words that outlive the section being drawn anew
  let focused = ""; // ring that had the focus

  function again(words) {
    afterwards = words || "";
    focused = document.activeElement?.closest?.("[data-handle]")?.dataset.handle || "";
    htmx.trigger(figure, "draw-again");
  }

  // Listening

  figure.addEventListener("htmx:configRequest", (event) => {
    if (event.target !== figure) return;
    Object.assign(event.detail.parameters, { width: room() }, looked);
  });
  document.body.addEventListener("htmx:beforeSwap", (event) => {
    if (event.detail.target === figure) {
      focused ||= document.activeElement?.closest?.("[data-handle]")?.dataset.handle || "";
    }
  });
  document.body.addEventListener("htmx:afterSwap", (event) => {
    if (event.detail.target !== figure || !bench()) return;
    if (afterwards) note(afterwards);
    afterwards = "";
    if (focused) figure.querySelector(`[data-handle="${CSS.escape(focused)}"]`)?.focus();
    focused = "";
    kept = null;
    edits = {};
    tellLooked();
    if (isFirst && !isLooked()) refineSoon(); // the page came with its numbers
    else ask();
    isFirst = false;
  });

  // A finger on a ring moves the ring, not the page.
  figure.addEventListener(
    "touchstart",
    (event) => {
      if (event.target.closest("[data-handle]")) event.preventDefault();
    },
    { passive: false },
  );

  let grip = null; // where the pointer took hold
  figure.addEventListener("pointerdown", (event) => {
    const ring = event.target.closest("[data-handle]");
    if (!ring || event.button !== 0) return;
    event.preventDefault();
    ring.focus({ preventScroll: true });
    take_in_hand(ring);
    const svg = ring.ownerSVGElement;
    const per = svg.viewBox.baseVal.width / svg.getBoundingClientRect().width;
    const isAcross = ring.dataset.way === "x";
    grip = {
      pointer: event.pointerId,
      from: isAcross ? event.clientX : event.clientY,
      at: hand.steps[hand.index][0],
      isAcross,
      per,
    };
    figure.setPointerCapture(event.pointerId);
  });
  figure.addEventListener("pointermove", (event) => {
    if (!grip || !hand || event.pointerId !== grip.pointer) return;
    const to = grip.isAcross ? event.clientX : event.clientY;
    put(nearest(hand.steps, grip.at + (to - grip.from) * grip.per));
  });
  for (const end of ["pointerup", "pointercancel"]) {
    figure.addEventListener(end, (event) => {
      if (!grip || event.pointerId !== grip.pointer) return;
      grip = null;
      if (end === "pointerup") let_go();
      else take_back();
    });
  }

  const KEYS = {
    ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: LARGE, PageDown: -LARGE,
  };
  figure.addEventListener("keydown", (event) => {
    const ring = event.target.closest?.("[data-handle]");
    if (!ring || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "Escape") {
      grip = null;
      take_back();
    } else if (event.key === "Enter") {
      let_go();
    } else if (event.key in KEYS || event.key === "Home" || event.key === "End") {
      take_in_hand(ring);
      if (event.key === "Home") put(0);
      else if (event.key === "End") put(hand.steps.length - 1);
      else put(hand.index + KEYS[event.key]);
    } else {
      return;
    }
    event.preventDefault();
  });
  figure.addEventListener("focusout", (event) => {
    if (hand && !grip && event.target === hand.ring) let_go();
  });

  figure.addEventListener("click", (event) => {
    if (event.target.closest("[data-back]")) {
      looked = {};
      again();
    }
  });
  figure.addEventListener("change", (event) => {
    const choice = event.target.closest("select[data-setting]");
    if (!choice) return;
    looked = { ...looked, setting: choice.value };
    if (choice.value === "design") delete looked.setting;
    again();
  });

  // A number opens under the section, which stays in view.
  document.addEventListener("click", (event) => {
    const link = event.target.closest?.("#five a, #section a[data-key]");
    const isOwn = link && !event.ctrlKey && !event.metaKey && !event.shiftKey && !event.defaultPrevented;
    if (!isOwn || !document.getElementById("answer")) return;
    event.preventDefault();
    htmx.ajax("GET", link.getAttribute("href"), { target: "#answer", swap: "innerHTML" });
  });

  function step(verb) {
    if (hand || !bench()) return;
    written(verb);
  }
  document.addEventListener("keydown", (event) => {
    const isTyping = event.target.closest?.("input, textarea, select, [contenteditable]");
    if (isTyping || !(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
    event.preventDefault();
    step(event.shiftKey ? "redo" : "undo");
  });

  let drawnFor = room();
  new ResizeObserver(() => {
    if (hand || Math.abs(room() - drawnFor) < 24) return; // more than a scroll bar takes
    drawnFor = room();
    if (bench()) again();
  }).observe(figure);
})();
