// The catalogue's one script: a plain script, so that it works from a file opened from disk.
// Without it every page is whole; it only makes finding, turning and ticking quicker.
(function () {
  "use strict";
  document.documentElement.classList.add("js");

  // ---- what this browser remembers; a browser that forbids it simply forgets ----
  var memory = {
    read: function (key, otherwise) {
      try { var text = localStorage.getItem("catalogue:" + key); return text === null ? otherwise : JSON.parse(text); }
      catch (error) { return otherwise; }
    },
    write: function (key, value) {
      try { localStorage.setItem("catalogue:" + key, JSON.stringify(value)); } catch (error) { /* nothing to do */ }
    }
  };

  function all(selector, within) { return Array.prototype.slice.call((within || document).querySelectorAll(selector)); }
  function one(selector, within) { return (within || document).querySelector(selector); }
  function plain(text) { return text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase(); }
  // A word of the search is in a text, also when it is typed in the plural: skirts.
  function has(text, word) { return text.indexOf(word) >= 0 || word.length > 3 && word.slice(-1) === "s" && text.indexOf(word.slice(0, -1)) >= 0; }
  function make(tag, text, attributes) {
    var element = document.createElement(tag);
    if (text) element.textContent = text;
    Object.keys(attributes || {}).forEach(function (key) { element.setAttribute(key, attributes[key]); });
    return element;
  }

  // ---- how a style stands for a client, from the search data ----
  function standing(data, style, client) {
    if (style.kinds.indexOf(client.kind) < 0 && client.ordered.indexOf(style.slug) < 0)
      return { meant: false, made: false, words: "Not for " + client.name, sign: "lacks", lacks: [] };
    function lacking(n) { return client.have.indexOf(n) < 0; }
    // Of measurements that stand for each other one is enough; without any, the first is asked for.
    var lacks = style.need.filter(function (n) {
      return lacking(n) && style.either.every(function (group) { return group.indexOf(n) < 0 || (group[0] === n && group.every(lacking)); });
    }).map(function (n) { return data.names[n]; });
    var state = data.states[style.slug + "/" + client.slug];
    if (state === "wrong") return { meant: true, made: false, words: "There is a mistake in a file", sign: "no", lacks: lacks };
    if (lacks.length) return { meant: true, made: false, words: "Missing: " + lacks.join(", "), sign: "lacks", lacks: lacks };
    if (state === "failing") return { meant: true, made: true, words: "Drafted, but a check fails", sign: "no", lacks: [] };
    if (state === "warned") return { meant: true, made: true, words: "Ready for " + client.name + ", with warnings to read", sign: "warn", lacks: [] };
    return { meant: true, made: true, words: "Ready for " + client.name, sign: "ok", lacks: [] };
  }
  function chosenClient(data, select) {
    return data.clients.filter(function (c) { return c.slug === select.value; })[0] || null;
  }

  // ---- the first page: search and filters ----
  function finder(data) {
    var form = one("form.finder");
    if (!form || !data) return;
    var fields = form.elements;
    var cards = all(".card[data-style]");
    var styles = {};
    data.styles.forEach(function (s) {
      styles[s.slug] = s;
      s.text = plain([s.title, s.garment, s.audience.join(" "), s.cloth.join(" "), s.tags.join(" "), s.words].join(" "));
    });
    var others = data.pages.map(function (p) { return { title: p[0], path: p[1], kind: p[2], text: plain(p[0] + " " + p[3]) }; })
      .concat(data.clients.map(function (c) { return { title: c.name, path: "clients/" + c.slug + "/index.html", kind: "client", text: plain(c.name + " " + c.kind) }; }));
    var readiness = new Map(cards.map(function (card) { return [card, one(".foot", card).textContent]; }));
    var pages = new Map(cards.map(function (card) { return [card, one("h3 a", card).getAttribute("href")]; }));
    var found = one(".found"), results = one(".results");

    function value(name) { return fields[name] ? fields[name].value : ""; }
    function matches(style) {
      return (!value("garment") || style.garment === value("garment"))
        && (!value("audience") || style.audience.indexOf(value("audience")) >= 0)
        && (!value("cloth") || style.cloth.indexOf(value("cloth")) >= 0)
        && (!value("tags") || style.tags.indexOf(value("tags")) >= 0);
    }
    function look() {
      var words = plain(value("words")).split(/\s+/).filter(Boolean);
      var client = chosenClient(data, fields.client);
      fields.ready.disabled = !client;
      var shown = 0;
      cards.forEach(function (card) {
        var style = styles[card.dataset.style];
        var stands = client && style ? standing(data, style, client) : null;
        var keep = style && matches(style) && words.every(function (w) { return has(style.text, w); });
        if (keep && stands) keep = fields.ready.checked ? stands.made : stands.meant;
        card.hidden = !keep;
        if (keep) shown += 1;
        var foot = one(".foot", card);
        foot.textContent = "";
        var folder = stands && stands.made ? "styles/" + style.slug + "/" + client.slug + "/index.html" : "";
        one("h3 a", card).setAttribute("href", folder || pages.get(card));
        if (stands) {
          foot.appendChild(make("span", stands.words, { "class": "mark " + stands.sign }));
          foot.appendChild(document.createTextNode(" "));
          if (stands.meant) foot.appendChild(make("a", stands.made ? "Open the draft" : "See what to do", { href: "styles/" + style.slug + "/" + client.slug + "/index.html" }));
        } else foot.textContent = readiness.get(card);
      });
      var hits = words.length ? others.filter(function (o) { return words.every(function (w) { return has(o.text, w); }); }).slice(0, 12) : [];
      results.textContent = "";
      hits.forEach(function (hit) {
        var item = make("li");
        item.appendChild(make("a", hit.title, { href: hit.path }));
        item.appendChild(make("span", " " + hit.kind, { "class": "note" }));
        results.appendChild(item);
      });
      var count = shown === 1 ? "1 style" : shown + " styles";
      var more = hits.length ? ", and " + hits.length + (hits.length === 1 ? " other page" : " other pages") : "";
      found.textContent = shown || hits.length ? count + (words.length || shown < cards.length ? " found" : "") + more + "." : "Nothing found. Try fewer words or clear the filters.";
    }
    function keep() {
      var kept = {};
      ["client", "garment", "audience", "cloth", "tags"].forEach(function (name) { kept[name] = value(name); });
      kept.ready = fields.ready.checked;
      memory.write("finder", kept);
      memory.write("client", value("client"));
    }
    var before = memory.read("finder", {}) || {};
    before.client = memory.read("client", "");
    Object.keys(before).forEach(function (name) {
      var field = fields[name];
      if (!field) return;
      if (field.type === "checkbox") field.checked = !!before[name];
      else if (all("option", field).some(function (o) { return o.value === before[name]; })) field.value = before[name];
    });
    form.addEventListener("input", function () { keep(); look(); });
    form.addEventListener("submit", function (event) {
      event.preventDefault();
      var first = all(".card[data-style] h3 a").concat(all("a", results)).filter(function (a) { return !a.closest("[hidden]"); })[0];
      if (first) first.focus();
    });
    form.addEventListener("reset", function () { setTimeout(function () { keep(); look(); }, 0); });
    look();
  }

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

  // ---- a draft's steps, one at a time, and the ticks ----
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

  function ticks() {
    var draft = document.body.dataset.draft;
    if (!draft) return;
    var key = "ticks:" + draft, ticked = memory.read(key, []);
    all(".sewing ol > li").forEach(function (item, n) {
      var box = make("input", "", { type: "checkbox", "data-tick": "sewing-" + (n + 1), "aria-label": "Done: " + item.textContent.trim().slice(0, 60) });
      item.classList.add("tickable");
      item.insertBefore(box, item.firstChild);
    });
    all(".sewing .task-list-item input").forEach(function (box, n) { box.setAttribute("data-tick", "task-" + (n + 1)); });
    all("[data-tick]").forEach(function (box) {
      var name = box.dataset.tick, holder = box.closest(".step, li");
      if (ticked.indexOf(name) >= 0) box.checked = true;
      holder.classList.toggle("ticked", box.checked);
      box.addEventListener("change", function () {
        ticked = ticked.filter(function (n) { return n !== name; });
        if (box.checked) ticked.push(name);
        holder.classList.toggle("ticked", box.checked);
        memory.write(key, ticked);
      });
    });
  }

  // ---- flipping through the styles ----
  function flip(data) {
    var list = one(".leaves"), bar = one(".turner");
    if (!list || !bar) return;
    var root = document.body.dataset.root, leaves = all(".leaf", list), where = one(".where", bar), select = one("select", bar);
    var onlyKept = one("[data-kept]", bar), beside = one("[data-beside]", bar), full = one("[data-full]", bar);
    var kept = memory.read("favourites", []);
    var calm = window.matchMedia("(prefers-reduced-motion: reduce)");
    list.classList.add("turning");

    function shown() { return leaves.filter(function (leaf) { return !leaf.hidden; }); }
    function at() { return Math.round(list.scrollLeft / Math.max(1, list.clientWidth)); }
    var aimed = 0;  // the style turned to, which a page that is still moving has not reached
    function turn(to, jump) {
      var there = shown(), n = Math.max(0, Math.min(there.length - 1, to));
      aimed = n;
      list.scrollTo({ left: n * list.clientWidth, behavior: jump || calm.matches ? "auto" : "smooth" });
      if (jump || calm.matches) tell(n);
    }
    function together() { return beside.getAttribute("aria-pressed") === "true"; }
    function tell(n) {
      var there = shown();
      if (together()) {
        leaves.forEach(function (leaf) { leaf.inert = false; });
        where.textContent = there.length + " side by side";
        return;
      }
      where.textContent = there.length ? (n + 1) + " of " + there.length : "No favourites yet";
      all("[data-turn]", bar).forEach(function (b) { b.disabled = Number(b.dataset.turn) < 0 ? n <= 0 : n >= there.length - 1; });
      there.forEach(function (leaf, m) { leaf.inert = m !== n; });
    }
    function favour() {
      leaves.forEach(function (leaf) {
        var is = kept.indexOf(leaf.dataset.style) >= 0;
        leaf.classList.toggle("kept", is);
        one(".favourite", leaf).setAttribute("aria-pressed", String(is));
        leaf.hidden = onlyKept.getAttribute("aria-pressed") === "true" && !is || leaf.dataset.meant === "no";
      });
      document.body.classList.toggle("favourites-only", onlyKept.getAttribute("aria-pressed") === "true");
    }
    // What is noted of a style is kept with the client one browses with, and goes into the order.
    function order() {
      leaves.forEach(function (leaf) {
        var link = one("a.order", leaf), note = one("[data-note]", leaf), told = new URLSearchParams({ style: leaf.dataset.style });
        if (!link) return;
        if (!link.dataset.to) link.dataset.to = link.getAttribute("href");
        if (select.value) told.set("client", select.value);
        if (note.value.trim()) told.set("note", note.value.trim());
        link.href = link.dataset.to + "#" + told;
        link.hidden = !select.value;
      });
    }
    function notes() {
      var written = memory.read("notes:" + select.value, {}) || {}, loose = memory.read("notes:", {}) || {};
      // What was noted before a client was chosen is noted for the client chosen then.
      if (select.value && Object.keys(loose).length) {
        Object.keys(loose).forEach(function (style) { written[style] = written[style] || loose[style]; });
        memory.write("notes:" + select.value, written);
        memory.write("notes:", {});
      }
      all("[data-note]", list).forEach(function (field) { field.value = written[field.dataset.note] || ""; });
      order();
    }
    list.addEventListener("input", function (event) {
      if (!event.target.dataset.note) return;
      var written = memory.read("notes:" + select.value, {}) || {};
      written[event.target.dataset.note] = event.target.value;
      memory.write("notes:" + select.value, written);
      order();
    });
    var turned = null;
    beside.addEventListener("click", function () {
      var now = !together();
      if (now) turned = shown()[aimed];
      beside.setAttribute("aria-pressed", String(now));
      list.classList.toggle("turning", !now);
      list.classList.toggle("beside-each-other", now);
      all("[data-turn]", bar).forEach(function (b) { b.hidden = now; });
      if (now) onlyKept.setAttribute("aria-pressed", String(kept.length > 0));
      favour();
      if (now) tell(0);
      else turn(Math.max(0, shown().indexOf(turned)), true);
    });
    function dress() {
      var client = data ? chosenClient(data, select) : null;
      leaves.forEach(function (leaf) {
        var style = data && data.styles.filter(function (s) { return s.slug === leaf.dataset.style; })[0];
        var stands = one(".stands", leaf), link = one(".open", leaf), image = one(".picture img", leaf);
        if (!leaf.dataset.path) {
          leaf.dataset.path = link.getAttribute("href");
          if (image) leaf.dataset.picture = image.getAttribute("src");
        }
        var is = client && style ? standing(data, style, client) : null;
        var folder = is && is.made ? root + "styles/" + style.slug + "/" + client.slug + "/" : "";
        leaf.dataset.meant = is && !is.meant ? "no" : "";
        stands.textContent = "";
        if (is) stands.appendChild(make("span", is.words, { "class": "mark " + is.sign }));
        link.setAttribute("href", folder ? folder + "index.html" : leaf.dataset.path);
        link.textContent = folder ? "Open the draft" : "Open this style";
        if (image && /pieces\.svg$/.test(leaf.dataset.picture)) image.setAttribute("src", folder ? folder + "pieces.svg" : leaf.dataset.picture);
      });
    }
    all("[data-turn]", bar).forEach(function (b) { b.addEventListener("click", function () { turn(aimed + Number(b.dataset.turn)); }); });
    document.addEventListener("keydown", function (event) {
      if (event.altKey || event.ctrlKey || event.metaKey || event.target.closest("select, input, textarea") || together()) return;
      var to = { ArrowLeft: aimed - 1, ArrowRight: aimed + 1, PageUp: aimed - 1, PageDown: aimed + 1, Home: 0, End: leaves.length }[event.key];
      if (to !== undefined) { event.preventDefault(); turn(to); }
    });
    var waiting;
    list.addEventListener("scroll", function () { clearTimeout(waiting); waiting = setTimeout(function () { aimed = at(); tell(aimed); }, 80); });
    window.addEventListener("resize", function () { tell(at()); });
    leaves.forEach(function (leaf) {
      one(".favourite", leaf).addEventListener("click", function () {
        var slug = leaf.dataset.style, had = kept.indexOf(slug) >= 0;
        kept = kept.filter(function (k) { return k !== slug; });
        if (!had) kept.push(slug);
        memory.write("favourites", kept);
        favour();
        tell(at());
      });
    });
    onlyKept.addEventListener("click", function () {
      onlyKept.setAttribute("aria-pressed", String(onlyKept.getAttribute("aria-pressed") !== "true"));
      favour();
      if (together()) tell(0);
      else turn(0, true);
    });
    select.addEventListener("change", function () {
      var here = shown()[aimed];
      memory.write("client", select.value);
      dress();
      notes();
      favour();
      if (together()) tell(0);
      else turn(Math.max(0, shown().indexOf(here)), true);
    });
    if (document.documentElement.requestFullscreen) {
      full.addEventListener("click", function () {
        if (document.fullscreenElement) document.exitFullscreen();
        else document.documentElement.requestFullscreen().catch(function () { /* the browser said no */ });
      });
      document.addEventListener("fullscreenchange", function () { full.setAttribute("aria-pressed", String(!!document.fullscreenElement)); });
    } else full.hidden = true;
    var client = memory.read("client", "");
    if (all("option", select).some(function (o) { return o.value === client; })) select.value = client;
    dress();
    favour();
    notes();
    var start = location.hash ? shown().indexOf(document.getElementById(location.hash.slice(1))) : 0;
    turn(Math.max(0, start), true);
  }

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

  // ---- the measuring form, and printing ----
  function form() {
    var boxes = all("input[data-needs]");
    if (document.body.dataset.page !== "form" || !boxes.length) return;
    function sift() {
      var wanted = boxes.filter(function (b) { return b.checked; }).map(function (b) { return b.dataset.needs; });
      all("tr[data-styles]").forEach(function (row) {
        var needs = row.dataset.styles.split(" ");
        row.hidden = wanted.length > 0 && !wanted.some(function (w) { return needs.indexOf(w) >= 0; });
      });
      all("table.form").forEach(function (table) { table.hidden = !all("tr[data-styles]", table).some(function (row) { return !row.hidden; }); });
    }
    boxes.forEach(function (b) { b.addEventListener("change", sift); });
    sift();
  }

  // ---- what one opened stays open, on the pages of all drafts ----
  function opened() {
    all("details.edges, details.legend, .panel > details").forEach(function (d) {
      var name = d.className || "files";
      if (memory.read("opened", []).indexOf(name) >= 0) d.open = true;
      d.addEventListener("toggle", function () {
        var were = memory.read("opened", []), others = were.filter(function (n) { return n !== name; });
        if (d.open !== (others.length < were.length)) memory.write("opened", d.open ? others.concat(name) : others);
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

  // ---- long lists are folded away once there is a script to open them for paper ----
  function folded() {
    var lists = all("details.edges"), were = [];
    lists.forEach(function (d) { d.open = false; });
    window.addEventListener("beforeprint", function () { were = lists.map(function (d) { return d.open; }); lists.forEach(function (d) { d.open = true; }); });
    window.addEventListener("afterprint", function () { lists.forEach(function (d, n) { d.open = were[n]; }); });
  }

  // ---- long lists show their beginning, and what one types ----
  function sifter() {
    var most = 12;
    all("[data-long]").forEach(function (list) {
      var items = Array.prototype.slice.call(list.children), whole = false, texts = null;
      if (items.length < most + 6) return;
      var word = list.dataset.long, chosen = memory.read("client", "");
      items.forEach(function (item) { if (chosen && item.dataset.key === chosen) { items.splice(items.indexOf(item), 1); items.unshift(item); list.insertBefore(item, list.firstChild); } });
      var bar = make("div", "", { "class": "sifter no-print" }), label = make("label", "Find a " + word, { "class": "field" });
      var field = label.appendChild(make("input", "", { type: "search", autocomplete: "off", spellcheck: "false" }));
      var every = make("button", "Show all " + items.length, { type: "button", "aria-pressed": "false" }), said = make("p", "", { role: "status" });
      [label, every, said].forEach(function (part) { bar.appendChild(part); });
      var place = list.closest(".wide") || list;
      place.parentNode.insertBefore(bar, place);
      function sift() {
        var words = plain(field.value).split(/\s+/).filter(Boolean), found = 0, shown = 0;
        if (words.length && !texts) texts = items.map(function (item) { return plain(item.textContent); });
        items.forEach(function (item, n) {
          var fits = words.every(function (w) { return texts[n].indexOf(w) >= 0; });
          var kept = one("input:checked", item);
          var show = !!kept || fits && (whole || found < most);
          if (fits) found += 1;
          if (show) shown += 1;
          if (item.hidden === show) item.hidden = !show;
        });
        said.textContent = found ? (words.length ? found + " found" + (shown < found ? ", " + shown + " shown" : "") : shown + " of " + found + " shown") + "." : "No " + word + " found.";
      }
      field.addEventListener("input", sift);
      every.addEventListener("click", function () { whole = !whole; every.setAttribute("aria-pressed", String(whole)); sift(); });
      sift();
    });
  }

  // ---- the words of the drafting language: find one by its name or by what people call it ----
  function wordFinder() {
    var place = one("[data-words]");
    if (!place) return;
    var entries = all("article.entry"), headings = all("h2.ruled"), texts = null;
    var bar = make("div", "", { "class": "sifter no-print", role: "search" }), label = make("label", "Find a word", { "class": "field" });
    var field = label.appendChild(make("input", "", { type: "search", autocomplete: "off", spellcheck: "false", placeholder: "intersection, slash, perpendicular" }));
    var said = make("p", "", { role: "status" });
    [label, said].forEach(function (part) { bar.appendChild(part); });
    place.appendChild(bar);
    function sift() {
      var words = plain(field.value).split(/\s+/).filter(Boolean), found = 0;
      if (words.length && !texts) texts = entries.map(function (entry) {
        var near = one("h3", entry).textContent + " " + one(".form", entry).textContent + " " + entry.dataset.called;
        return [plain(near), plain(entry.textContent)];
      });
      function fits(n, which) { return words.every(function (w) { return texts[n][which].indexOf(w) >= 0; }); }
      // Where a name fits, entries that only mention the word are left out.
      var which = words.length && entries.some(function (e, n) { return fits(n, 0); }) ? 0 : 1;
      entries.forEach(function (entry, n) {
        entry.hidden = !!words.length && !fits(n, which);
        if (!entry.hidden) found += 1;
      });
      headings.forEach(function (heading) {
        var next = heading.nextElementSibling, any = false;
        while (next && next.tagName === "ARTICLE") { any = any || !next.hidden; next = next.nextElementSibling; }
        heading.hidden = !any;
      });
      said.textContent = !words.length ? "" : found ? found + (found === 1 ? " word found." : " words found.") : "No word found. Try another name for it.";
    }
    field.addEventListener("input", sift);
    window.addEventListener("hashchange", function () { field.value = ""; sift(); });
  }

  // ---- the workroom: what is late today; the list is sorted by day without it ----
  function late() {
    var now = new Date();
    var today = [now.getFullYear(), now.getMonth() + 1, now.getDate()].map(function (n) { return (n < 10 ? "0" : "") + n; }).join("-");
    all(".orders time").forEach(function (time) {
      var mark = one(".late", time.parentNode);
      if (mark) mark.hidden = time.getAttribute("datetime") >= today;
    });
  }

  // ---- figures that were taken long ago: a page is the same whatever the day it is made, so this is told when it is read ----
  function aged() {
    var now = new Date();
    all("[data-measured]").forEach(function (told) {
      var day = told.dataset.measured.split("-").map(Number);
      var months = (now.getFullYear() - day[0]) * 12 + now.getMonth() + 1 - day[1] - (now.getDate() < day[2] ? 1 : 0);
      if (months < Number(told.dataset.months)) return;
      var years = Math.floor(months / 12);
      told.textContent = "Some of these measurements were taken " + (years > 1 ? years + " years" : years ? "a year" : months + " months") + " ago: measure again before you cut.";
      told.hidden = false;
    });
  }

  document.addEventListener("DOMContentLoaded", function () {
    var data = window.catalogueData;
    finder(data);
    ways();
    stepper();
    ticks();
    flip(data);
    overlay();
    form();
    late();
    aged();
    folded();
    opened();
    workroom();
    sifter();
    wordFinder();
    all("[data-print]").forEach(function (b) { b.addEventListener("click", function () { window.print(); }); });
  });
})();
