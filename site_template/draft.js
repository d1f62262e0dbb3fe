// A draft's page: shown for one kind of work, its steps one at a time, ticked off, printed for the workroom.
(function () {
  "use strict";
  var all = catalogue.all, one = catalogue.one, make = catalogue.make, memory = catalogue.memory;

  // ---- a draft's page shown for one kind of work: printing and cutting, sewing, or drafting ----
  function ways() {
    var bar = one(".three-ways");
    if (!bar) return;
    var buttons = all("[data-way]", bar), parts = all("[data-ways]"), awake = one("[data-awake]", bar), lock = null;
    function show(way) {
      buttons.forEach(function (b) { b.setAttribute("aria-pressed", String(b.dataset.way === way)); });
      parts.forEach(function (part) { part.hidden = !!way && part.dataset.ways.split(" ").indexOf(way) < 0; });
      all(".contents a").forEach(function (a) {
        var target = document.getElementById(a.hash.slice(1));
        a.parentNode.hidden = !!target && !!target.closest("[data-ways][hidden]");
      });
      awake.hidden = !navigator.wakeLock || way !== "sew";
    }
    function follow() {
      var target = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
      if (target && target.closest("[data-ways][hidden]")) { show(""); target.scrollIntoView(); }
    }
    buttons.forEach(function (b) { b.addEventListener("click", function () { 
      memory.write("way", b.dataset.way);
      show(b.dataset.way);
      var first = document.getElementById({ cut: "pattern", sew: "making", draft: "steps" }[b.dataset.way] || "");
      if (first) first.scrollIntoView();
    }); });
    awake.addEventListener("click", function () {
      if (lock) { lock.release(); lock = null; awake.setAttribute("aria-pressed", "false"); return; }
      navigator.wakeLock.request("screen").then(function (held) {
        lock = held;
        awake.setAttribute("aria-pressed", "true");
        held.addEventListener("release", function () { lock = null; awake.setAttribute("aria-pressed", "false"); });
      }, function () { awake.textContent = "This browser lets the screen sleep"; awake.disabled = true; });
    });
    window.addEventListener("hashchange", follow);
    show(memory.read("way", "") || "");
    follow();
  }

  // ---- a draft's steps, one at a time ----
  function stepper() {
    var bar = one(".stepper"), list = one(".steps");
    if (!bar || !list) return;
    var steps = all(".step", list), slider = one("input", bar), output = one("output", bar), every = one("[data-all]", bar);
    var buttons = all("[data-go]", bar), at = 0, single = memory.read("single", true);

    function show(number, move) {
      at = Math.max(0, Math.min(steps.length - 1, number));
      steps.forEach(function (step, n) { step.classList.toggle("current", n === at); });
      slider.value = String(at + 1);
      var words = (at + 1) + " of " + steps.length + ": " + steps[at].dataset.name;
      output.textContent = words;
      slider.setAttribute("aria-valuetext", words);
      buttons.forEach(function (b) { b.disabled = Number(b.dataset.go) < 0 ? at === 0 : at === steps.length - 1; });
      if (move && !single) steps[at].scrollIntoView({ block: "start" });
    }
    function arrange() {
      list.classList.toggle("single", single);
      every.setAttribute("aria-pressed", String(!single));
    }
    slider.addEventListener("input", function () { show(Number(slider.value) - 1, true); });
    buttons.forEach(function (b) { b.addEventListener("click", function () { show(at + Number(b.dataset.go), true); }); });
    every.addEventListener("click", function () { single = !single; memory.write("single", single); arrange(); show(at, true); });
    document.addEventListener("keydown", function (event) {
      if (event.altKey || event.ctrlKey || event.metaKey || !single) return;
      if (event.target.closest("input, select, textarea, summary, [tabindex='0']")) return;
      var go = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
      if (go) { event.preventDefault(); show(at + go); }
    });
    function follow() {
      var target = location.hash.indexOf("#step-") === 0 ? document.getElementById(location.hash.slice(1)) : null;
      if (target) { show(steps.indexOf(target)); target.scrollIntoView(); }
    }
    window.addEventListener("hashchange", follow);
    arrange();
    show(Number(list.dataset.start) - 1);  // a draft that stopped opens at the step where it stopped
    follow();
  }

  // ---- the ticks ----
  // What an item says without its figures: a tick outlives a new measurement, but not other words.
  function words(item) {
    function say(node) {
      if (node.nodeType === 3) return node.data;
      if (node.nodeType !== 1 || node.matches("ol, table, details, svg, .contains-task-list, .tick")) return "";
      if (node.className === "figure-value" && /\p{N}/u.test(node.textContent)) return "0";
      return Array.from(node.childNodes, say).join("");
    }
    return Array.from(item.childNodes, say).join("").normalize("NFC")
      .replace(/[-−]?\p{N}[\p{N}\s.,/⁄]*/gu, "0 ").replace(/\s+/g, " ").trim();
  }
  // Length and a sum of 32 bits (FNV-1a), since a browser keeps little: of 200 items no two can be expected to share both.
  function brief(text) {
    var sum = 0x811c9dc5;
    for (var i = 0; i < text.length; i++) sum = Math.imul(sum ^ text.charCodeAt(i), 0x01000193);
    return text.length + "." + (sum >>> 0).toString(36);
  }
  // The name of each box's tick goes by the words beside it, never by the place in the list, which moves when prose
  // leaves an item out. Equal items go by their order; when one is added or left out, nobody can say which was done.
  function named(boxes) {
    var names = boxes.map(function (box) {
      return box.dataset.tick.split("-")[0] + ":" + brief(words(box.closest(".telling, li")));
    });
    var count = new Map(), met = new Map();
    names.forEach(function (name) { count.set(name, (count.get(name) || 0) + 1); });
    return names.map(function (name) {
      if (count.get(name) === 1) return name;
      met.set(name, (met.get(name) || 0) + 1);
      return name + ":" + met.get(name) + "of" + count.get(name);
    });
  }
  function ticks() {
    var draft = document.body.dataset.draft;
    if (!draft) return;
    all(".sewing ol > li").forEach(function (item, n) {
      var box = make("input", "", { type: "checkbox", "data-tick": "sewing-" + (n + 1), "aria-label": "Done: " + item.textContent.trim().slice(0, 60) });
      item.classList.add("tickable");
      item.insertBefore(box, item.firstChild);
    });
    all(".sewing .task-list-item input").forEach(function (box, n) { box.setAttribute("data-tick", "task-" + (n + 1)); });
    var boxes = all("[data-tick]"), key = "ticks:" + draft, before = memory.read(key, []), ticked = new Set(before);
    var names = before.length ? named(boxes) : null;
    // What is ticked but no longer on the page is forgotten, unless a mistake in a file keeps part of the page away.
    if (names && !one(".findings .error")) {
      var known = new Set(names);
      before.forEach(function (name) { if (!known.has(name)) ticked.delete(name); });
      if (ticked.size < before.length) memory.write(key, Array.from(ticked));
    }
    boxes.forEach(function (box, n) {
      var holder = box.closest(".step, li");
      if (names && ticked.has(names[n])) box.checked = true;
      holder.classList.toggle("ticked", box.checked);
      box.addEventListener("change", function () {
        names = names || named(boxes);
        if (box.checked) ticked.add(names[n]); else ticked.delete(names[n]);
        holder.classList.toggle("ticked", box.checked);
        memory.write(key, Array.from(ticked));
      });
    });
  }

  // ---- a draft's page printed for the workroom, without the drafting ----
  function workroom() {
    all("[data-workroom]").forEach(function (link) {
      link.addEventListener("click", function (event) {
        event.preventDefault();
        document.documentElement.classList.add("workroom");
        var parts = all("[data-ways][hidden]");
        parts.forEach(function (part) { part.hidden = false; });
        window.print();
        parts.forEach(function (part) { part.hidden = true; });
        document.documentElement.classList.remove("workroom");
      });
    });
  }

  document.addEventListener("DOMContentLoaded", function () { ways(); stepper(); ticks(); workroom(); });
})();
