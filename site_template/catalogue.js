// The script of every page: a plain script, so that it works from a file opened from disk. Without it every page is
// whole; it only makes finding quicker. Pages of one kind have a script more, which uses what `catalogue` holds.
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
  // In small letters without accents; `folded` of the program's `sorting.py` is the same.
  var letters = { "đ": "d", "ð": "d", "ø": "o", "ł": "l", "ħ": "h", "ı": "i", "æ": "ae", "œ": "oe", "ß": "ss", "ς": "σ" };
  function plain(text) {
    return text.normalize("NFKD").replace(/[\u0300-\u036f\u0591-\u05c7\u0640\u064b-\u065f\u0670]/g, "").toLowerCase().replace(/[đðøłħıæœßς]/g, function (c) { return letters[c]; });
  }
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

  window.catalogue = { all: all, one: one, make: make, memory: memory, standing: standing, chosenClient: chosenClient, plain: plain };

  document.addEventListener("DOMContentLoaded", function () {
    var data = window.catalogueData;
    finder(data);
    form();
    late();
    aged();
    folded();
    opened();
    sifter();
    wordFinder();
    all("[data-print]").forEach(function (b) { b.addEventListener("click", function () { window.print(); }); });
  });
})();
