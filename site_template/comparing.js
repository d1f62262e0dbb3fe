// Drafts laid over each other, or beside each other, with the lengths of their edges.
(function () {
  "use strict";
  var all = catalogue.all, one = catalogue.one, make = catalogue.make, memory = catalogue.memory;

  // ---- two drafts laid over each other; their outlines come as scripts, loaded when they are asked for ----
  function overlay() {
    var form = one(".overlay");
    if (!form) return;
    var style = document.body.dataset.style, root = document.body.dataset.root, known = {}, waiting = {};
    var fields = { first: one("[name=first]", form), second: one("[name=second]", form) }, place = one(".overlays"), said = one(".found");
    window.catalogueOutline = function (id, data) { known[id] = data; };

    var beside = one("[data-beside]", form);
    // Drafts with other options lie beside the page that compares them.
    function from(name) { return style + "/" + (fields[name].selectedOptions[0].dataset.from || chosen(name)[0]); }
    function load(id, then) {
      if (known[id]) { then(); return; }
      if (waiting[id]) { waiting[id].push(then); return; }
      waiting[id] = [then];
      var script = make("script", "", { src: root + "styles/" + id + "/outline.js" });
      script.addEventListener("load", function () { waiting[id].forEach(function (f) { f(); }); delete waiting[id]; });
      script.addEventListener("error", function () { delete waiting[id]; said.textContent = "The outlines of this draft are missing."; });
      document.head.appendChild(script);
    }
    function chosen(name) { return fields[name].value.split("@"); }
    function words(name) { return fields[name].selectedOptions[0].textContent; }
    function drawing(tag, attributes) {
      var element = document.createElementNS("http://www.w3.org/2000/svg", tag);
      Object.keys(attributes).forEach(function (key) { element.setAttribute(key, attributes[key]); });
      return element;
    }
    // As a tape measure is read, in the units of the first draft: nearest 1/8 or 1/16 in lowest terms, or the millimetre.
    function length(mm, units) {
      var per = { "in": 25.4 / units[1], cm: 1, mm: 1 }[units[0]], count = Math.floor(mm / per + 0.5 + 1e-9);
      if (units[0] !== "in") return String(units[0] === "mm" ? count : count / 10).replace(".", document.body.dataset.decimal || ".") + " " + units[0];
      var whole = Math.floor(count / units[1]), rest = count % units[1], of = units[1];
      while (rest && rest % 2 === 0) { rest /= 2; of /= 2; }
      return ([whole || "", rest ? rest + "/" + of : ""].filter(Boolean).join(" ") || "0") + " in";
    }
    function difference(mm, units) {
      var by = length(Math.abs(mm), units);
      return Math.abs(mm) < 0.5 || by.indexOf("0 ") === 0 ? "same" : (mm > 0 ? "+" : "\u2212") + by;
    }
    function figure(name, first, second, scale) {
      var a = first.pieces[name], b = second.pieces[name], there = a || b, gap = 8 / scale;
      var boxes = [a, b].filter(Boolean).map(function (p) { return p.box; });
      var left = Math.min.apply(null, boxes.map(function (x) { return x[0]; })) - gap;
      var top = Math.min.apply(null, boxes.map(function (x) { return x[1]; })) - gap;
      var wide = Math.max.apply(null, boxes.map(function (x) { return x[2]; })) + gap - left;
      var high = Math.max.apply(null, boxes.map(function (x) { return x[3]; })) + gap - top;
      var element = make("figure"), paper = make("div", "", { "class": "on-paper", tabindex: "0", role: "group", "aria-label": there.title });
      element.appendChild(make("figcaption", there.title + (a && b ? "" : a ? " (only in the first)" : " (only in the second)")));
      function sheet(label, drawn) {
        var svg = drawing("svg", { viewBox: [left, top, wide, high].join(" "), width: Math.round(wide * scale), height: Math.round(high * scale), role: "img", "aria-label": there.title + ", " + label + "; the table gives the lengths" });
        drawn.forEach(function (each) { if (each[0]) svg.appendChild(drawing("path", { d: each[0].path, "class": each[1] })); });
        return svg;
      }
      if (beside.getAttribute("aria-pressed") === "true") {
        var both = paper.appendChild(make("div", "", { "class": "pair-of-drawings" }));
        if (a) both.appendChild(sheet(words("first"), [[a, "over-first"]]));
        if (b) both.appendChild(sheet(words("second"), [[b, "over-second"]]));
      } else paper.appendChild(sheet(words("first") + " continuous, " + words("second") + " dashed", [[a, "over-first"], [b, "over-second"]]));
      element.appendChild(paper);
      element.appendChild(lengths(a, b, first.units, second.units));
      return element;
    }
    function lengths(a, b, units, others) {
      var alike = units.join() === others.join();
      var table = make("table"), head = make("tr"), rows = {}, order = [];
      ["Edge", "First", "Second", "Difference"].forEach(function (word, n) { head.appendChild(make("th", word, n ? { scope: "col", "class": "num" } : { scope: "col" })); });
      table.appendChild(make("thead")).appendChild(head);
      [a, b].forEach(function (piece, n) {
        if (piece) piece.edges.forEach(function (e) { if (!rows[e[0]]) { rows[e[0]] = []; order.push(e[0]); } rows[e[0]][n] = e; });
      });
      var body = table.appendChild(make("tbody"));
      order.forEach(function (edge) {
        var row = body.appendChild(make("tr")), one = rows[edge][0], other = rows[edge][1];
        row.appendChild(make("th", edge, { scope: "row" }));
        [one, other].forEach(function (e, n) { row.appendChild(make("td", !e ? "\u2013" : n && !alike ? length(e[1], units) : e[2], e ? { "class": "num", "data-mm": e[1] } : { "class": "num" })); });
        row.appendChild(make("td", one && other ? difference(other[1] - one[1], units) : "\u2013", { "class": "num" }));
      });
      return table;
    }
    function lay() {
      var a = chosen("first"), b = chosen("second"), files = [from("first"), from("second")];
      load(files[0], function () {
        load(files[1], function () {
          var first = known[files[0]][a[1] || ""], second = known[files[1]][b[1] || ""];
          if (!first || !second || a.join("@") !== fields.first.value || b.join("@") !== fields.second.value) return;
          var names = Object.keys(first.pieces).concat(Object.keys(second.pieces).filter(function (n) { return !first.pieces[n]; }));
          var boxes = names.map(function (n) { return (first.pieces[n] || second.pieces[n]).box; });
          var scale = Math.min.apply(null, boxes.map(function (x) { return Math.min(520 / (x[2] - x[0]), 560 / (x[3] - x[1])); }));
          place.textContent = "";
          place.classList.toggle("apart", beside.getAttribute("aria-pressed") === "true");
          names.forEach(function (n) { place.appendChild(figure(n, first, second, scale)); });
          said.textContent = words("first") + ", continuous, and " + words("second") + ", dashed: " + names.length + (names.length === 1 ? " piece." : " pieces.") + (first.units[0] === second.units[0] ? "" : " Both are shown in " + { "in": "inches", cm: "centimetres", mm: "millimetres" }[first.units[0]] + ", as the first is measured.");
          try { history.replaceState(null, "", "#" + fields.first.value + "+" + fields.second.value); } catch (error) { /* nothing depends on it */ }
        });
      });
    }
    function choose(name, value) {
      if (all("option", fields[name]).some(function (o) { return o.value === value; })) fields[name].value = value;
    }
    var options = all("option", fields.second), asked = decodeURIComponent(location.hash.slice(1)).split("+");
    fields.second.value = (options[1] || options[0]).value;
    choose("first", memory.read("client", ""));
    if (fields.second.value === fields.first.value) fields.second.value = options[0].value;
    if (asked.length === 2) { choose("first", asked[0]); choose("second", asked[1]); }
    form.addEventListener("change", lay);
    beside.addEventListener("click", function () {
      beside.setAttribute("aria-pressed", String(beside.getAttribute("aria-pressed") !== "true"));
      lay();
    });
    one("[data-swap]", form).addEventListener("click", function () {
      var first = fields.first.value;
      fields.first.value = fields.second.value;
      fields.second.value = first;
      lay();
    });
    lay();
  }

  document.addEventListener("DOMContentLoaded", function () { overlay(); });
})();
