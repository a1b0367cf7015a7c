/* SPDX-License-Identifier: Apache-2.0 */
/* The plan of the site: draws the features that the server gives, posts where things are drawn to. */
(function () {
  "use strict";
  var INK = "#1e2a2f", MUTED = "#5f686d", WATER = "#2c7a9b", CHIPS = "#b98746", STRUCTURE = "#4e5a63", SOIL = "#9a927c", PAPER = "#fbfaf6";
  /* Width, dashes, colour and fill by kind: every line is told apart without its colour. */
  var LOOKS = {
    "water": [0, null, WATER, "#d3e8ef"], "bank-top": [1.5, null, SOIL], "far-bank-top": [1.5, null, SOIL],
    "toe-of-bank": [1, [2, 3], SOIL], "far-toe-of-bank": [1, [2, 3], SOIL], "property-line": [1.5, [14, 4, 2, 4], INK],
    "field-edge": [1, [2, 4], MUTED], "fence": [1, [8, 3, 2, 3, 2, 3], MUTED], "tile-line": [1.5, null, INK],
    "buried-utility": [1.5, [3, 3], "#1e2a2f"], "distribution-line": [3, [10, 4], WATER], "right-of-way": [1, [6, 3], MUTED],
    "footprint": [1, [6, 3], MUTED], "chips": [1.5, null, CHIPS, "#f0e2c8"], "floor": [1, [5, 4], "#8a5f22"],
    "cut": [1.5, [12, 4], INK], "structure": [2, null, STRUCTURE, PAPER], "main": [2, null, INK],
    "contour": [0.75, null, "#b9b29f"], "contour-heavy": [1.25, null, SOIL], "pipe": [3, null, STRUCTURE], "pipe-perforated": [3, [6, 4], STRUCTURE], "distance": [1, null, INK]
  };
  var ORDER = ["water", "chips", "footprint", "cut", "floor", "bank-top", "main", "pipe", "structure", "distance"];
  var map, source, land, base, chosen, edits, number = 0, ring, started = null;

  function byId(id) { return document.getElementById(id); }
  function stroke(look) { return new ol.style.Stroke({ color: look[2], width: look[0], lineDash: look[1] || undefined, lineCap: "butt" }); }
  function words(text, more) {
    return new ol.style.Text(Object.assign({ text: text, font: '13px "Source Sans 3", sans-serif', fill: new ol.style.Fill({ color: INK }), stroke: new ol.style.Stroke({ color: PAPER, width: 3 }), overflow: false }, more));
  }
  function sign(kind) {
    var thin = new ol.style.Stroke({ color: INK, width: 1.25 }), fill = new ol.style.Fill({ color: PAPER });
    if (kind === "shot") { return new ol.style.Circle({ declutterMode: "none", radius: 1.5, fill: new ol.style.Fill({ color: MUTED }) }); }
    if (kind === "shot-not-used") { return new ol.style.RegularShape({ declutterMode: "none", points: 4, radius: 5, radius2: 0, angle: Math.PI / 4, stroke: thin }); }
    if (kind === "benchmark") { return new ol.style.RegularShape({ declutterMode: "none", points: 3, radius: 7, stroke: thin, fill: fill }); }
    if (kind === "bore-hole") { return new ol.style.RegularShape({ declutterMode: "none", points: 4, radius: 6, angle: Math.PI / 4, stroke: thin, fill: fill }); }
    return new ol.style.Circle({ declutterMode: "none", radius: 4.5, stroke: thin, fill: fill });
  }

  function styleOf(feature, resolution) {
    var kind = feature.get("kind"), label = feature.get("label"), look = LOOKS[kind];
    var order = ORDER.indexOf(kind), picked = chosen && feature.get("of") === chosen;
    if (!look) { return pointStyle(feature, resolution); }
    if (kind === "main" || kind === "tile-line") {
      look = feature.get("is_sure") ? look : [look[0], [9, 5], look[2]];
    }
    var styles = [new ol.style.Style({ zIndex: order < 0 ? 5 : order, stroke: look[0] ? stroke(look) : undefined, fill: look[3] ? new ol.style.Fill({ color: look[3] }) : undefined })];
    if (picked) { styles[0].getStroke() && styles[0].getStroke().setWidth(look[0] + 1.5); }
    /* Of words that meet the more important ones stay: their own order, apart from that of the lines. */
    if (kind === "distance" || kind === "pipe" || kind === "pipe-perforated") {
      if (label) { styles.push(new ol.style.Style({ zIndex: kind === "distance" ? 60 : 50, text: words(label, { placement: "line", textBaseline: "bottom", overflow: true, offsetY: -3 }) })); }
    } else if (kind === "main" || kind === "tile-line") {
      styles.push(new ol.style.Style({ zIndex: 40, text: words(feature.get("words"), { placement: "line", textBaseline: "top", offsetY: 4, fill: new ol.style.Fill({ color: MUTED }) }) }));
    } else if (kind !== "chips" && kind !== "floor" && kind !== "water" && kind !== "cut") {
      styles.push(new ol.style.Style({ zIndex: kind === "distribution-line" ? 52 : kind === "structure" ? 45 : 30, text: words(feature.get("words"), { placement: feature.getGeometry().getType() === "Polygon" ? "point" : "line", textBaseline: "bottom", overflow: kind === "structure", offsetY: kind === "structure" ? -14 : kind === "footprint" ? 0 : kind === "distribution-line" ? -6 : -3, fill: new ol.style.Fill({ color: MUTED }) }) }));
    }
    if (kind === "distance") { ends(feature).forEach(function (end) { styles.push(end); }); }
    return styles;
  }

  /* The lie of the land: fine lines of equal height, every fifth with its height. */
  function landStyle(feature) {
    var look = LOOKS[feature.get("kind")], label = feature.get("label"), style = new ol.style.Style({ stroke: stroke(look) });
    if (label) { style.setText(words(label, { placement: "line", font: '11px "Source Sans 3", sans-serif', fill: new ol.style.Fill({ color: MUTED }) })); }
    return style;
  }

  /* Ticks at both ends of a distance. */
  function ends(feature) {
    var line = feature.getGeometry().getCoordinates(), angle = Math.atan2(line[1][1] - line[0][1], line[1][0] - line[0][0]);
    return line.map(function (at) {
      return new ol.style.Style({ zIndex: 11, geometry: new ol.geom.Point(at), image: new ol.style.RegularShape({ declutterMode: "none", points: 2, radius: 5, rotation: Math.PI / 4 - angle, stroke: new ol.style.Stroke({ color: INK, width: 1.25 }) }) });
    });
  }

  function pointStyle(feature, resolution) {
    var kind = feature.get("kind"), label = feature.get("label"), style = new ol.style.Style({ zIndex: 20 });
    if (kind === "tick" || kind === "station") {
      style.setImage(new ol.style.RegularShape({ declutterMode: "none", points: 2, radius: kind === "station" ? 7 : 5, rotation: feature.get("across") + Math.PI / 2, stroke: new ol.style.Stroke({ color: INK, width: 1.25 }) }));
      return [style, new ol.style.Style({ zIndex: 55, text: words(label, { offsetY: 14 }) })];
    }
    style.setImage(sign(kind));
    var isShot = kind.indexOf("shot") === 0;
    if (isShot && resolution > 0.35) { return style; }
    return [style, new ol.style.Style({ zIndex: isShot ? 25 : 48, text: words(label, { textAlign: "left", offsetX: 8, offsetY: -7, font: (isShot ? "11px" : "13px") + ' "Source Sans 3", sans-serif', fill: new ol.style.Fill({ color: isShot ? MUTED : INK }) }) })];
  }

  function begin() {
    var box = byId("map");
    if (!box) { return; }
    document.documentElement.classList.add("has-script");
    base = "/job/" + box.dataset.job;
    edits = JSON.parse(box.dataset.edits);
    fetch(base + "/plan.json").then(function (answer) { return answer.json(); }).then(function (record) { draw(box, record); });
  }

  function draw(box, record) {
    var unit = record.grid.unit_m, view = record.view;
    var grid = new ol.proj.Projection({ code: "job", units: unit === 1 ? "m" : "ft", metersPerUnit: unit, global: false, getPointResolution: function (resolution) { return resolution; } });
    source = new ol.source.Vector();
    land = new ol.source.Vector();
    fetch(base + "/plan/terrain.json").then(function (answer) { return answer.ok ? answer.json() : null; }).then(function (found) {
      if (found) { land.addFeatures(new ol.format.GeoJSON().readFeatures(found)); }
    });
    put(record);
    map = new ol.Map({
      target: box,
      layers: [new ol.layer.Vector({ source: land, style: landStyle, declutter: true }), new ol.layer.Vector({ source: source, style: styleOf, declutter: true, updateWhileInteracting: true, updateWhileAnimating: true }), ringLayer()],
      controls: [new ol.control.Zoom({ zoomInTipLabel: "Closer", zoomOutTipLabel: "Farther" }), new ol.control.ScaleLine({ units: unit === 1 ? "metric" : "us", minWidth: 90 }), north()],
      interactions: ol.interaction.defaults.defaults({ altShiftDragRotate: false, pinchRotate: false, keyboard: false, onFocusOnly: false }),
      view: new ol.View({ projection: grid, center: [(view[0] + view[2]) / 2, (view[1] + view[3]) / 2], resolution: 1, enableRotation: false, minResolution: 0.01, maxResolution: 50 })
    });
    map.getView().fit(view, { padding: [40, 76, 50, 40] });
    var name = unit === 1 ? " m" : " ft";
    map.on("pointermove", function (event) {
      byId("at").textContent = "N " + said(event.coordinate[1]) + "  E " + said(event.coordinate[0]) + name;
      var under = map.forEachFeatureAtPixel(event.pixel, function (feature) { return feature.get("words"); }, { hitTolerance: 4 });
      byId("under").textContent = under || "";
    });
    map.addInteraction(new Drag());
    choose();
    if (window.ResizeObserver) { new ResizeObserver(function () { map.updateSize(); }).observe(box); }
    if (Object.keys(edits).length) { ask({}); }
  }

  function said(value) { return value.toLocaleString("en-US", { minimumFractionDigits: 1, maximumFractionDigits: 1 }); }

  function north() {
    var box = document.createElement("div");
    box.className = "north ol-unselectable ol-control";
    box.innerHTML = '<svg viewBox="0 0 24 44" role="img" aria-label="North is up"><path d="M 12 42 V 12"/><path d="M 12 12 L 7 22 H 17 Z"/><text x="12" y="9" text-anchor="middle">N</text></svg>';
    return new ol.control.Control({ element: box });
  }

  function put(record) {
    source.clear(true);
    source.addFeatures(new ol.format.GeoJSON().readFeatures(record));
  }

  function mine() { return source.getFeatures().filter(function (feature) { return feature.get("of") === chosen; }); }

  /* The ring by which what is chosen is turned: at the end of its longest side. */
  function ringLayer() {
    ring = new ol.Feature();
    ring.setStyle(new ol.style.Style({ zIndex: 40, image: new ol.style.Circle({ radius: 7, stroke: new ol.style.Stroke({ color: INK, width: 2 }), fill: new ol.style.Fill({ color: PAPER }) }) }));
    return new ol.layer.Vector({ source: new ol.source.Vector({ features: [ring] }) });
  }
  function putRing() {
    var floor = mine().filter(function (f) { return f.get("kind") === "floor"; })[0], line = mine().filter(function (f) { return f.getGeometry().getType() === "LineString"; })[0];
    var at = null;
    if (!byId("turn").disabled) {
      if (floor) { at = floor.getGeometry().getCoordinates()[0][3]; } else if (line) { at = line.getGeometry().getLastCoordinate(); }
    }
    ring.setGeometry(at ? new ol.geom.Point(at) : undefined);
  }

  function choose() {
    var what = byId("what");
    if (!what) { return; }
    chosen = what.value;
    if (source) { source.changed(); putRing(); }
  }

  /* Dragging what is chosen, or its ring; everything else moves the map. */
  function Drag() {
    var start = null, way = "", shapes = [], last = null;
    return new ol.interaction.Pointer({
      handleDownEvent: function (event) {
        var hit = map.forEachFeatureAtPixel(event.pixel, function (feature) { return feature === ring ? "turn" : feature.get("of") === chosen ? "move" : undefined; }, { hitTolerance: 6 });
        if (!hit) { return false; }
        way = hit; start = event.coordinate; last = start;
        shapes = mine().map(function (feature) { return [feature, feature.getGeometry().clone()]; });
        started = Object.assign({}, edits);
        return true;
      },
      handleDragEvent: function (event) {
        last = event.coordinate;
        if (way === "move") {
          shapes.forEach(function (pair) { var shape = pair[1].clone(); shape.translate(last[0] - start[0], last[1] - start[1]); pair[0].setGeometry(shape); });
          ask({ by: [last[0] - start[0], last[1] - start[1]] }, started, true);
        } else {
          ring.setGeometry(new ol.geom.Point(last));
          ask({ towards: last }, started, true);
        }
      },
      handleUpEvent: function () {
        if (last !== start) { ask(way === "move" ? { by: [last[0] - start[0], last[1] - start[1]] } : { towards: last }, started, false); }
        return false;
      },
      handleMoveEvent: function (event) {
        var hit = map.forEachFeatureAtPixel(event.pixel, function (feature) { return feature === ring || feature.get("of") === chosen; }, { hitTolerance: 6 });
        map.getTargetElement().style.cursor = hit ? "move" : "";
      }
    });
  }

  /* One request at a time; of those that wait only the last is sent. */
  var busy = false, waiting = null;
  function ask(change, from, isDrag) {
    var body = Object.assign({ name: chosen, edits: from || edits, number: ++number }, change);
    if (busy) { waiting = [body, isDrag]; return; }
    busy = true;
    fetch(base + "/plan/try", { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(body) })
      .then(function (answer) { return answer.ok ? answer.json() : null; })
      .then(function (record) { if (record) { told(record, isDrag || waiting !== null); } })
      .catch(function () {})
      .then(function () { busy = false; if (waiting) { var next = waiting; waiting = null; busy = true; busy = false; send(next); } });
  }
  function send(next) { var body = next[0]; var change = {}; ["by", "towards", "station", "offset", "turn"].forEach(function (key) { if (body[key] !== undefined) { change[key] = body[key]; } }); ask(change, body.edits, next[1]); }

  function told(record, isDrag) {
    byId("told").innerHTML = record.told;
    if (record.faults.length) { if (!isDrag) { refresh(edits); } return; }
    ["station", "offset", "turn"].forEach(function (side) { byId(side).value = record.place[side]; });
    edits = record.edits;
    byId("map").dataset.version = record.version;
    if (isDrag) { /* what is dragged follows the hand; what is measured follows the chain */
      var moving = record.plan.features.filter(function (f) { return f.properties.of !== chosen; });
      var kept = mine();
      put({ type: "FeatureCollection", features: moving });
      source.addFeatures(kept);
    } else {
      put(record.plan);
      putRing();
    }
  }
  function refresh() { fetch(base + "/plan.json").then(function (answer) { return answer.json(); }).then(function (record) { put(record); putRing(); }); }

  document.addEventListener("keydown", function (event) {
    if (!map || document.activeElement !== byId("map")) { return; }
    var view = map.getView(), step = (event.shiftKey ? 10 : 1);
    var by = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, step], ArrowDown: [0, -step] }[event.key];
    if (by && chosen) { event.preventDefault(); ask({ by: by }); }
    else if (event.key === "+" || event.key === "=") { view.adjustZoom(0.5); }
    else if (event.key === "-") { view.adjustZoom(-0.5); }
    else if (event.key === "Escape" && Object.keys(edits).length) { location.href = base + "/plan"; }
  });
  document.addEventListener("change", function (event) {
    if (event.target.id !== "what") { return; }
    var option = event.target.selectedOptions[0];
    ["station", "offset", "turn"].forEach(function (side) { byId(side).value = option.dataset[side]; });
    byId("turn").disabled = !option.dataset.turn;
    choose();
  });
  document.addEventListener("submit", function (event) {
    if (!map) { return; }
    if (event.target.id === "move") {
      event.preventDefault();
      ask({ station: byId("station").value, offset: byId("offset").value, turn: byId("turn").disabled ? "" : byId("turn").value });
    } else if (event.target.id === "take-back") {
      event.preventDefault();
      fetch(base + "/undo", { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify({ version: byId("map").dataset.version }) })
        .then(function () { location.href = base + "/plan"; });
    } else if (event.target.id === "keep-move") {
      event.preventDefault();
      fetch(base + "/keep", { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify({ version: byId("map").dataset.version, edits: edits }) })
        .then(function (answer) { return answer.ok ? null : answer.json(); })
        .then(function (refused) {
          if (!refused) { location.href = base + "/plan"; return; }
          var lines = refused.moved || (refused.faults || []).map(function (fault) { return fault.message; });
          var box = byId("told"), line = document.createElement("p");
          line.className = "fault"; line.textContent = lines.join(" ") || "It could not be kept."; box.prepend(line);
        });
    }
  });
  document.addEventListener("DOMContentLoaded", begin);
})();
