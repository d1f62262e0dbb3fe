// Flipping through the styles, one filling the screen or favourites side by side.
(function () {
  "use strict";
  var all = catalogue.all, one = catalogue.one, make = catalogue.make, memory = catalogue.memory, standing = catalogue.standing, chosenClient = catalogue.chosenClient;

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

  document.addEventListener("DOMContentLoaded", function () { flip(window.catalogueData); });
})();
