/* SPDX-License-Identifier: Apache-2.0 */
/* Thirty years of days: draws what the server gives, asks it for the sums of what is seen. */
(function () {
  "use strict";
  var INK = "#1e2a2f", MUTED = "#5f686d", FAINT = "#d9d5c9", DAY = 86400;
  var STYLES = {
    drain: { stroke: "#8f979c", width: 1, fill: "rgba(95, 104, 109, .2)" },
    treated: { stroke: "#2c7a9b", width: 2 },
    bypass: { stroke: "#1e2a2f", width: 1.25, dash: [6, 4] },
    removed: { stroke: "#8a5f22", width: 1.25 },
    level: { stroke: "#2c7a9b", width: 1.75 },
    ditch: { stroke: "#1e2a2f", width: 1.25, dash: [2, 3] }
  };
  var DASHES = [[], [8, 4], [2, 3], [10, 3, 2, 3]];
  var state = null;

  function byId(id) { return document.getElementById(id); }
  function iso(seconds) { return new Date(seconds * 1000).toISOString().slice(0, 10); }
  function seconds(day) { return Date.parse(day + "T00:00:00Z") / 1000; }
  function styleOf(series, place) {
    var found = STYLES[series.name];
    if (found) { return found; }
    return { stroke: place % 2 ? "#4e5a63" : INK, width: 1.25, dash: DASHES[place % DASHES.length] };
  }

  /* One request at a time; of those that wait only the last is sent. */
  function lastWins(send) {
    var busy = false, next = null;
    return function run(value) {
      if (busy) { next = value; return; }
      busy = true;
      send(value).catch(function () {}).then(function () {
        busy = false;
        if (next !== null) { var then = next; next = null; run(then); }
      });
    };
  }

  function begin() {
    var panels = byId("panels");
    if (!panels || panels.dataset.begun) { return; }
    panels.dataset.begun = "yes";
    document.documentElement.classList.add("has-script");
    var base = "/job/" + panels.dataset.job + "/days";
    fetch(base + "/series.json").then(function (answer) { return answer.json(); }).then(function (record) {
      draw(panels, base, record);
    });
  }

  function draw(panels, base, record) {
    var x = record.day.map(function (day) { return day * DAY; });
    state = { x: x, charts: [], base: base, place: 0, busy: false };
    record.groups.forEach(function (group) { state.charts.push(chart(panels, group, x)); });
    state.sendSpan = lastWins(function (span) {
      return fetch(base + "/span?first=" + span[0] + "&last=" + span[1], { headers: { "HX-Request": "true" } })
        .then(function (answer) { return answer.text(); })
        .then(function (html) { byId("span").innerHTML = html; byId("first").value = span[0]; byId("last").value = span[1]; });
    });
    state.sendDay = lastWins(function (day) {
      return fetch(base + "/on/" + day + ".json").then(function (answer) { return answer.json(); }).then(tellDay);
    });
    if (panels.dataset.first !== iso(x[0]) || panels.dataset.last !== iso(x[x.length - 1])) {
      zoom(seconds(panels.dataset.first), seconds(panels.dataset.last));
    }
    go(x.length - 1, false);
    new ResizeObserver(function () {
      state.charts.forEach(function (one) { one.setSize({ width: panels.clientWidth, height: heightOf(panels) }); });
    }).observe(panels);
  }

  function heightOf(panels) { return panels.clientWidth < 600 ? 150 : 168; }

  function chart(panels, group, x) {
    var box = document.createElement("figure");
    box.className = "panel";
    var head = document.createElement("figcaption");
    head.textContent = group.title + ", " + group.unit;
    group.series.forEach(function (one, place) {
      var style = styleOf(one, place), key = document.createElement("span");
      key.className = "key";
      key.innerHTML = '<svg viewBox="0 0 28 6" aria-hidden="true"><path d="M 0 3 H 28"></path></svg>';
      var line = key.querySelector("path");
      line.setAttribute("stroke", style.stroke);
      line.setAttribute("stroke-width", style.width);
      line.setAttribute("stroke-dasharray", (style.dash || []).join(" "));
      key.appendChild(document.createTextNode(" " + one.title));
      head.appendChild(key);
    });
    box.appendChild(head);
    panels.appendChild(box);
    var data = [x], series = [{}];
    group.series.forEach(function (one, place) {
      var style = styleOf(one, place);
      data.push(one.values);
      series.push({ label: one.title, stroke: style.stroke, width: style.width, dash: style.dash, fill: style.fill, points: { show: false }, spanGaps: false });
    });
    var limits = group.series.filter(function (one) { return one.limit !== null; }).map(function (one) { return one.limit; });
    var axis = { stroke: MUTED, grid: { stroke: FAINT, width: 1 }, ticks: { stroke: FAINT }, font: '12px "Source Sans 3", sans-serif' };
    return new uPlot({
      width: panels.clientWidth, height: heightOf(panels), legend: { show: false },
      tzDate: function (at) { return uPlot.tzDate(new Date(at * 1000), "Etc/UTC"); },
      cursor: { sync: { key: "days" }, drag: { x: true, y: false }, y: false, points: { size: 5 } },
      scales: { x: { time: true } },
      series: series,
      axes: [Object.assign({ size: 30 }, axis), Object.assign({ size: 64 }, axis)],
      hooks: {
        setScale: [function (self, key) { if (key === "x") { zoomed(self); } }],
        setCursor: [function (self) { if (self.cursor.idx !== null && self.cursor.left >= 0) { moved(self.cursor.idx); } }],
        draw: [function (self) { limits.forEach(function (limit) { rule(self, limit); }); }],
        ready: [function (self) { clicks(self); }]
      }
    }, data, box);
  }

  /* The limit of the clear soil: a thin rule with its word. */
  function rule(self, limit) {
    var y = self.valToPos(limit, "y", true), box = self.bbox, ctx = self.ctx;
    if (y < box.top || y > box.top + box.height) { return; }
    ctx.save();
    ctx.strokeStyle = MUTED; ctx.setLineDash([1, 3]);
    ctx.beginPath(); ctx.moveTo(box.left, y); ctx.lineTo(box.left + box.width, y); ctx.stroke();
    ctx.fillStyle = MUTED; ctx.font = (12 * devicePixelRatio) + 'px "Source Sans 3", sans-serif';
    ctx.fillText("limit", box.left + 4, y - 3);
    ctx.restore();
  }

  function clicks(self) {
    var down = null;
    self.over.addEventListener("mousedown", function (event) { down = event.clientX; });
    self.over.addEventListener("mouseup", function (event) {
      if (down !== null && Math.abs(event.clientX - down) < 3 && event.detail < 2 && self.cursor.idx !== null) {
        go(self.cursor.idx, false); byId("panels").focus(); askWorked();
      }
      down = null;
    });
  }

  function zoomed(self) {
    if (!state || state.busy) { return; }
    state.busy = true;
    var low = self.scales.x.min, high = self.scales.x.max;
    state.charts.forEach(function (one) { if (one !== self) { one.setScale("x", { min: low, max: high }); } });
    state.busy = false;
    clearTimeout(state.later);
    state.later = setTimeout(function () { state.sendSpan([iso(Math.max(low, state.x[0])), iso(Math.min(high, state.x[state.x.length - 1]))]); }, 60);
  }

  function zoom(low, high) {
    var first = state.x[0], last = state.x[state.x.length - 1];
    low = Math.max(first, low); high = Math.min(last, high);
    if (high - low < 7 * DAY) { return; }
    state.charts[0].setScale("x", { min: low, max: high });
  }

  function moved(place) {
    if (place === state.place) { return; }
    state.place = place;
    state.sendDay(iso(state.x[place]));
  }

  function tellDay(record) {
    byId("of-day").textContent = record.day;
    var list = byId("of-day-values");
    list.textContent = "";
    record.values.forEach(function (one) {
      var name = document.createElement("dt"), said = document.createElement("dd");
      name.textContent = one.title; said.textContent = one.said;
      list.appendChild(name); list.appendChild(said);
    });
    var link = byId("to-day");
    link.textContent = "";
    var to = document.createElement("a");
    to.href = state.base + "/" + record.day;
    to.textContent = "Work " + record.day + " step by step";
    to.addEventListener("click", function (event) { event.preventDefault(); askWorked(); });
    link.appendChild(to);
  }

  function go(place, seen) {
    place = Math.max(0, Math.min(state.x.length - 1, place));
    state.place = place;
    var at = state.x[place], chart = state.charts[0], width = chart.scales.x.max - chart.scales.x.min;
    if (seen && (at < chart.scales.x.min || at > chart.scales.x.max)) { zoom(at - width / 2, at + width / 2); }
    state.charts.forEach(function (one) { one.setCursor({ left: one.valToPos(at, "x"), top: 0 }, false); });
    state.sendDay(iso(at));
  }

  function askWorked() {
    var day = iso(state.x[state.place]);
    htmx.ajax("GET", state.base + "/" + day, { target: "#worked", swap: "innerHTML" });
  }

  document.addEventListener("keydown", function (event) {
    if (!state || document.activeElement !== byId("panels")) { return; }
    var x = state.charts[0].scales.x, mid = state.x[state.place], half = (x.max - x.min) / 2;
    if (mid < x.min || mid > x.max) { mid = (x.min + x.max) / 2; }
    var step = event.shiftKey ? 30 : 1;
    if (event.key === "ArrowLeft") { go(state.place - step, true); }
    else if (event.key === "ArrowRight") { go(state.place + step, true); }
    else if (event.key === "Home") { go(0, true); }
    else if (event.key === "End") { go(state.x.length - 1, true); }
    else if (event.key === "+" || event.key === "=") { zoom(mid - half / 2, mid + half / 2); }
    else if (event.key === "-") { zoom(mid - half * 2, mid + half * 2); }
    else if (event.key === "Escape") { zoom(state.x[0], state.x[state.x.length - 1]); }
    else if (event.key === "Enter") { askWorked(); }
    else { return; }
    event.preventDefault();
  });
  document.addEventListener("click", function (event) {
    if (state && event.target.id === "whole") { byId("year").value = ""; zoom(state.x[0], state.x[state.x.length - 1]); }
  });
  document.addEventListener("change", function (event) {
    if (!state || event.target.id !== "year") { return; }
    if (event.target.value) { event.target.form.submit(); } else { location.href = state.base; }
  });
  document.addEventListener("submit", function (event) {
    if (!state || !event.target.classList.contains("spans")) { return; }
    event.preventDefault();
    zoom(seconds(byId("first").value), seconds(byId("last").value));
  });
  document.addEventListener("htmx:load", begin);
  document.addEventListener("DOMContentLoaded", begin);
  document.addEventListener("job-changed", function () { location.reload(); });
})();
