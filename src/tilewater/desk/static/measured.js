/* SPDX-License-Identifier: Apache-2.0 */
/* Flow by the day and the samples: two charts on one axis, the numbers of a day beside them. */
(function () {
  "use strict";
  var MUTED = "#5f686d", FAINT = "#d9d5c9", DAY = 86400;
  var STYLES = {
    through: { stroke: "#2c7a9b", width: 2, fill: "rgba(44, 122, 155, .18)" },
    past: { stroke: "#1e2a2f", width: 1.25, dash: [6, 4] },
    inlet: { stroke: "#1e2a2f", width: 1, fill: "#1e2a2f" },
    outlet: { stroke: "#1e2a2f", width: 1, fill: "#fbfaf5" }
  };

  function begin() {
    var box = document.getElementById("measured-charts");
    if (!box || box.dataset.begun) { return; }
    box.dataset.begun = "yes";
    fetch("/job/" + box.dataset.job + "/measured/series.json").then(function (answer) { return answer.json(); }).then(function (record) {
      var charts = record.groups.map(function (group) { return chart(box, group, record.day); });
      new ResizeObserver(function () {
        charts.forEach(function (one) { one.setSize({ width: box.clientWidth, height: 168 }); });
      }).observe(box);
    });
  }

  function chart(box, group, days) {
    var figure = document.createElement("figure"), head = document.createElement("figcaption");
    figure.className = "panel";
    head.textContent = group.title + ", " + group.unit + " ";
    figure.appendChild(head);
    box.appendChild(figure);
    var told = document.createElement("output");
    head.appendChild(told);
    var axis = { stroke: MUTED, grid: { stroke: FAINT, width: 1 }, ticks: { stroke: FAINT }, font: '12px "Source Sans 3", sans-serif' };
    var series = [{}].concat(group.series.map(function (one) {
      var style = STYLES[one.name], dots = group.dots;
      return {
        label: one.title, stroke: style.stroke, width: dots ? 0 : style.width, dash: style.dash,
        fill: dots ? undefined : style.fill, spanGaps: false, paths: dots ? function () { return null; } : undefined,
        points: { show: Boolean(dots), size: 7, fill: style.fill, stroke: style.stroke, width: 1.25 }
      };
    }));
    function tell(place) {
      told.textContent = group.series.map(function (one) {
        var value = place === null ? null : one.values[place];
        var line = group.dots ? "" : STYLES[one.name].dash ? " (broken)" : " (solid)";
        return one.title + line + (value === null || value === undefined ? "" : " " + value);
      }).join("; ") + (place === null ? "" : "  on " + new Date(days[place] * DAY * 1000).toISOString().slice(0, 10));
    }
    tell(null);
    return new uPlot({
      width: box.clientWidth, height: 168, legend: { show: false },
      tzDate: function (at) { return uPlot.tzDate(new Date(at * 1000), "Etc/UTC"); },
      cursor: { sync: { key: "measured" }, drag: { x: true, y: false }, y: false },
      scales: { x: { time: true } }, series: series,
      axes: [Object.assign({ size: 30 }, axis), Object.assign({ size: 64 }, axis)],
      hooks: { setCursor: [function (self) { tell(self.cursor.left >= 0 ? self.cursor.idx : null); }] }
    }, [days.map(function (day) { return day * DAY; })].concat(group.series.map(function (one) { return one.values; })), figure);
  }

  document.addEventListener("DOMContentLoaded", begin);
  document.addEventListener("htmx:afterSettle", begin);
}());
