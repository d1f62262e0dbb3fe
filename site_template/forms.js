// Forms that write a client file: they read figures as a tape is read, judge them by the limits of a build, and put
// the file's text together. Nothing is sent anywhere but, when asked, to the preview server the page came from.
(function () {
  "use strict";
  var all = catalogue.all, one = catalogue.one, figures = catalogue.figures.plain, slip = catalogue.figures.slip;
  var millimetres = catalogue.figures.millimetres, shown = catalogue.figures.shown, kilograms = catalogue.figures.kilograms;
  var withDrawing = catalogue.choosing.withDrawing, options = catalogue.choosing.options, chosenOptions = catalogue.choosing.chosenOptions;

  // ---- a text as the front matter writes it ----
  function quoted(text) {
    text = text.replace(/\s+/g, " ").trim();
    var plain = /^[\p{L}\p{N}][\p{L}\p{N}\p{M} .,’'()-]*$/u.test(text) && !/[:#]/.test(text);
    return plain ? text : '"' + text.replace(/\\/g, "\\\\").replace(/"/g, '\\"') + '"';
  }
  function fileName(name) {
    var stem = name.normalize("NFKD").replace(/\p{M}/gu, "").replace(/[đĐ]/g, "d").replace(/ł/gi, "l").replace(/ø/gi, "o").toLowerCase();
    stem = stem.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "").slice(0, 50);
    return (stem || "client") + ".md";
  }

  function start(form) {
    var field = form.elements, fresh = document.body.dataset.page === "new-client";
    var relations = JSON.parse(form.dataset.relations), taken = fresh ? JSON.parse(form.dataset.taken) : null;
    var file = one("textarea.file"), state = one(".result .state"), said = one(".result .said"), keep = one("[data-keep]");
    var served = one("script[data-key]"), rows = all(".asked[data-key]"), named = false;
    var today = new Date(), day = [today.getFullYear(), ("0" + (today.getMonth() + 1)).slice(-2), ("0" + today.getDate()).slice(-2)].join("-");
    if (!field.date.value) field.date.value = day;
    if (field.fitted) field.fitted.value = day;
    all("details.how").forEach(function (d) { d.open = false; });

    function unit() { return fresh ? (field.units.value === "inches" ? "in" : "cm") : form.dataset.units; }
    function unitOf() { var person = people[field.client.value]; return person && person[2] === "in" ? "in" : "cm"; }
    function kind() { return fresh ? field["for"].value : form.dataset["for"]; }
    function body() { return kind() === "woman" || kind() === "man" ? kind() : "child"; }
    function what() { var chosen = all("input[name=what]").filter(function (b) { return b.checked; })[0]; return chosen ? chosen.value : "measured"; }

    // What is wrong with one figure: { stop } for what can't be, { doubt } for what is unusual.
    function judged(row, text) {
      var weight = row.dataset.kind === "weight", value = weight ? kilograms(text) : millimetres(text, unit());
      if (value === null) return { stop: weight ? "Write a weight such as 68 kg, 150 lb or 10 st 4." : slip(text, unit()) || "This is not a length. Write 92,5 or 36 1/2, with cm or in if it is not in the unit above." };
      var limits = JSON.parse(row.dataset.limits)[body()];
      if (!limits) return { value: value, doubt: "This is not usually taken of a " + kind() + "." };
      function range(low, high) { return weight ? low + " to " + high + " kg" : shown(low, unit(), 1).replace(/ (cm|in)$/, "") + " to " + shown(high, unit(), -1); }
      // A bare figure that would be usual in the other unit.
      var other = unit() === "in" ? "cm" : "in", instead = !weight && /^[\d.,\s\/⁄½¼¾⅛⅜⅝⅞]+$/.test(figures(text)) ? millimetres(text + " " + other, other) : null;
      var meant = instead && instead >= limits[1] && (limits[2] === null || instead <= limits[2]) ? " Did you mean " + text + " " + other + "?" : "";
      if (value < limits[0] || limits[3] !== null && value > limits[3]) return { value: value, stop: "This can’t be right for a " + kind() + ": " + range(limits[1], limits[2]) + " is usual." + (meant || " Is the unit right?") };
      if (value < limits[1] || limits[2] !== null && value > limits[2]) return { value: value, doubt: "Unusual for a " + kind() + " (" + range(limits[1], limits[2]) + ")." + (meant || " Measure it again to be sure.") };
      return { value: value };
    }
    function together(values) {
      var found = {};
      relations.forEach(function (r) {
        var keys = r.first ? [r.first, r.second] : [r.whole].concat(r.parts);
        if (r.bodies.indexOf(body()) < 0 || !keys.every(function (k) { return values[k] > 0; })) return;
        var stop, doubt;
        if (r.first) {
          var ratio = values[r.first] / values[r.second], l = r.limits;
          doubt = ratio < l[1] || ratio > l[2];
          stop = ratio < l[0] || ratio > l[3];
        } else {
          var gap = Math.abs(values[r.whole] - r.parts.reduce(function (sum, k) { return sum + values[k]; }, 0));
          doubt = gap > r.spare;
          stop = gap > r.limit;
        }
        if (doubt || stop) keys.slice(0, 1).forEach(function (k) {
          var beside = keys.slice(1).map(function (o) { return one('.asked[data-key="' + o + '"]').dataset.name; }).join(" and ");
          found[k] = found[k] || {};
          found[k][stop ? "stop" : "doubt"] = (stop ? "This does not go with the " : "Unusual beside the ") + beside + ": " + r.why + ". Measure both again.";
        });
      });
      if (fresh) JSON.parse(form.dataset.exchanges).forEach(function (each) { exchanged(each, values, found); });
      return found;
    }
    // Two figures of a first set that may stand in each other's line: asked as a build asks, by what else was measured.
    function exchanged(each, values, found) {
      var gap = values[each.larger] - values[each.smaller];
      var line = each.lines.filter(function (l) { return Object.keys(l.shares).every(function (k) { return values[k] > 0; }); })[0];
      if (each.bodies.indexOf(body()) < 0 || !line || !(gap <= -each.least)) return;
      var usual = Object.keys(line.shares).reduce(function (sum, k) { return sum + line.shares[k] * values[k]; }, line.constant);
      var told = found[each.larger] = found[each.larger] || {}, other = one('.asked[data-key="' + each.smaller + '"]').dataset.name;
      if (usual > 0 && -2 * gap * usual / (line.spread * line.spread) > line.surely)
        told.doubt = "This and the " + other + " may have changed places: it is usually some " + shown(5 * Math.round(usual / 5), unit()) + " larger. Look whether each stands in the right line.";
      // Too many are made so to be asked: it is only read back to whoever typed it.
      else told.less = shown(-gap, unit()) + " less than the " + other;
    }
    function tell(row, verdict, text) {
      var place = one(".told", row), input = one("input", row), last = input.dataset.last;
      place.className = "told" + (verdict.stop ? " stop" : verdict.doubt ? " doubt" : text ? " fine" : "");
      var words = verdict.stop || verdict.doubt || (text && row.dataset.kind !== "weight" ? "= " + shown(verdict.value, unit()) + (verdict.less ? ", " + verdict.less : "") : "");
      if (last && text && verdict.value && !verdict.stop) {
        var before = millimetres(last, unit());
        if (before) { var by = verdict.value - before; words += (words ? ". " : "") + "Last: " + last + (Math.abs(by) < 1 ? ", the same" : ", now " + shown(Math.abs(by), unit()) + (by > 0 ? " more" : " less")); }
      } else if (last && !text) words = "Last: " + last;
      if (place.textContent !== words) place.textContent = words;
      input.setAttribute("aria-invalid", String(!!verdict.stop));
    }
    function measured() {
      var given = {}, values = {}, wrong = [], unsure = 0, lines = [];
      rows.forEach(function (row) {
        var text = one("input", row).value.trim();
        if (text) { given[row.dataset.key] = judged(row, text); if (given[row.dataset.key].value && !given[row.dataset.key].stop && row.dataset.kind !== "weight") values[row.dataset.key] = given[row.dataset.key].value; }
      });
      var clash = together(values);
      rows.forEach(function (row) {
        var text = one("input", row).value.trim(), verdict = given[row.dataset.key] || {};
        if (text && !verdict.stop && clash[row.dataset.key]) verdict = { value: verdict.value, stop: clash[row.dataset.key].stop, doubt: clash[row.dataset.key].doubt || verdict.doubt, less: clash[row.dataset.key].less };
        tell(row, verdict, text);
        if (verdict.stop) wrong.push(row.dataset.name);
        else if (verdict.doubt) unsure += 1;
        if (text) lines.push(row.dataset.name + ": " + (/[:#"“”″]/.test(figures(text)) ? quoted(figures(text)) : figures(text)));
      });
      return { lines: lines, wrong: wrong, unsure: unsure };
    }
    function chosen() {
      var lines = [];
      all('.chosen[data-style="' + field.style.value + '"] [data-choice]').forEach(function (input) {
        var text = input.value.trim();
        // Emptied where the client has a choice of their own: as the style has it.
        if (!text && input.dataset.now) text = "usual";
        if (text && text !== input.dataset.now) lines.push(input.dataset.choice + ": " + quoted(text));
      });
      return lines;
    }
    // ---- an order, and a fitting ----
    var inHash = new URLSearchParams(location.hash.slice(1)), offered = form.dataset.options ? JSON.parse(form.dataset.options) : {};
    var asks = inHash.get("what") && all("input[name=what]").filter(function (b) { return b.value === inHash.get("what"); })[0];
    if (asks) asks.checked = true;
    if (inHash.get("style") && field.style) field.style.value = inHash.get("style");
    if (inHash.get("client") && field.client) field.client.value = inHash.get("client");
    if (inHash.get("note") && field.notes) field.notes.value = inHash.get("note");
    function amount(text) { return !text || /^\D{0,4}\s*\d+([.,]\d{1,2})?\s*\D{0,4}$/.test(figures(text)); }
    function sameDay(input) { return /^\d{4}-\d\d-\d\d$/.test(input.value) ? input.value : ""; }
    var people = form.dataset.people ? JSON.parse(form.dataset.people) : {}, asked = null, chooses = "";
    function told(name, words) { var place = one("[data-told=" + name + "]"); if (place && place.textContent !== words) place.textContent = words; }
    function order(faults) {
      var meant = JSON.parse(form.dataset.meant)[field.style.value] || [], uses = JSON.parse(form.dataset.uses)[field.style.value] || [];
      var place = one(".uses"), whose = people[field.client.value] || [];
      if (asked !== field.style.value || chooses !== field.client.value) {
        var optionsHere = offered[field.style.value] || [], given = inHash.get("style") === field.style.value ? inHash : null;
        if (asked && asked === field.style.value) {  // what was chosen stays when the client is changed
          given = new URLSearchParams();
          chosenOptions(one(".options")).forEach(function (o) { given.set("o." + o[0], o[1]); });
        }
        options(one(".options"), optionsHere, unitOf, given, (whose[3] || {})[field.style.value]);
        one("#options").parentNode.hidden = !optionsHere.length;
        chooses = field.client.value;
      }
      if (place && asked !== field.style.value) {
        asked = field.style.value;
        place.textContent = "";
        (uses.length ? uses : asked ? ["main"] : []).forEach(function (use) {
          var label = document.createElement("label"), input = document.createElement("input");
          label.className = "field";
          label.textContent = use.charAt(0).toUpperCase() + use.slice(1) + " cloth";
          input.type = "text";
          input.setAttribute("list", "cloth-names");
          input.dataset.use = use;
          label.appendChild(input);
          place.appendChild(label);
        });
      }
      var name = field.name.value.replace(/\s+/g, " ").trim(), on = sameDay(field.date), due = sameDay(field.due), lines = ["style: " + field.style.value];
      if (!field.client.value) faults.push("The client is not chosen.");
      if (!field.style.value) faults.push("The style is not chosen.");
      if (!name) faults.push("What the order is called is missing.");
      if (!on) faults.push("The day it was ordered is missing.");
      if (due && due < on) faults.push("It is due before it was ordered.");
      if (on) lines.push("ordered: " + on);
      if (due) lines.push("due: " + due);
      var cloths = all(".uses input").filter(function (i) { return i.value.trim(); });
      if (cloths.length) lines.push("cloth:");
      cloths.forEach(function (i) { lines.push("  " + i.dataset.use + ": " + quoted(i.value)); });
      var taken = chosenOptions(one(".options"));
      all(".options [aria-invalid=true]").forEach(function (i) { faults.push("The " + i.dataset.option + " is outside its range."); });
      if (taken.length) lines.push("choices:");
      taken.forEach(function (o) { lines.push("  " + o[0] + ": " + quoted(o[1])); });
      ["price", "deposit"].forEach(function (part) {
        var text = field[part].value.trim();
        if (!amount(text)) faults.push("The " + part + " is no amount: write 180 or 180.50.");
        if (text) lines.push(part + ": " + quoted(figures(text)));
      });
      if (field.notes.value.trim()) lines.push("note: " + quoted(field.notes.value));
      var unmeant = field.client.value && field.style.value && meant.indexOf(field.client.value) < 0;
      state.dataset.sure = unmeant ? "This style is usually not made for this client. " : "";
      told("style", unmeant ? "“" + field.style.selectedOptions[0].text + "” is not meant for " + field.client.selectedOptions[0].text + ". Ordered all the same, it is drafted: look at its checks before you cut." : "");
      var sums = ["price", "deposit"].map(function (part) { var found = /\d+([.,]\d{1,2})?/.exec(figures(field[part].value)); return found && amount(field[part].value.trim()) ? +found[0].replace(",", ".") : 0; });
      told("deposit", sums[0] && sums[1] > sums[0] ? "The deposit is more than the price: check both." : "");
      var person = people[field.client.value] || ["", ""];
      answer = { file: person[0], digest: person[1], under: ["orders", name], lines: lines };
      return "orders:\n  " + (name ? quoted(name) : "…") + ":\n" + lines.map(function (l) { return "    " + l + "\n"; }).join("");
    }
    var change = one("[data-change]"), changes = change ? JSON.parse(change.dataset.changes) : null;
    function offerChanges() {
      var here = changes.of[field.garment.value] || [];
      change.closest("label").hidden = !here.length;
      change.textContent = "";
      [["", "choose what to write"]].concat(here.map(function (slug) { return [slug, changes.lines[slug][0]]; })).forEach(function (each) { change.add(new Option(each[1], each[0])); });
    }
    if (changes) {
      field.garment.addEventListener("change", offerChanges);
      change.addEventListener("change", function () {
        var chosen = changes.lines[change.value], written = field.changes.value.replace(/\s+$/, "");
        one("[data-sign]").textContent = chosen ? "Seen on the body: " + chosen[2] + " The amount is a usual one: write yours." : "";
        if (chosen) field.changes.value = (written ? written + "\n" : "") + chosen[1];
        change.value = "";
        write();
      });
      offerChanges();
    }
    function fitting(faults) {
      var on = sameDay(field.fitted), lines = field.changes.value.split("\n").map(function (l) { return l.replace(/^[\s-]+/, "").replace(/\s+/g, " ").trim(); }).filter(Boolean);
      if (!on) faults.push("The day of the fitting is missing.");
      else if (on > day) faults.push("The day of the fitting is still to come.");
      if (!lines.length) faults.push("Nothing was changed yet.");
      var under = on + " " + field.garment.value;
      lines = lines.map(function (l) { return "- " + (/:\s|#|^["'&*!|>%@`\[{\]},?]/.test(l) && !/ - seen: /.test(l) ? quoted(l) : / - seen: /.test(l) ? '"' + l.replace(/\\/g, "\\\\").replace(/"/g, '\\"') + '"' : l); });
      answer = { file: form.dataset.file, digest: form.dataset.digest, under: ["fittings", under], lines: lines };
      return "fittings:\n  " + under + ":\n" + lines.map(function (l) { return "    " + l + "\n"; }).join("");
    }
    function date() { return /^\d{4}-\d\d-\d\d$/.test(field.date.value) ? field.date.value : ""; }

    all(".chosen [data-choice]").forEach(function (input) {
      withDrawing(input.closest(".asked"), input, JSON.parse(input.dataset.option), unit, input.labels[0].textContent)();
    });

    var answer = null;
    function write() {
      all("section[data-what]").forEach(function (s) { s.hidden = s.dataset.what.split(" ").indexOf(what()) < 0; });
      all("[data-only]").forEach(function (s) { s.hidden = s.dataset.only !== what(); });
      if (field.style) all(".chosen").forEach(function (s) { s.hidden = s.dataset.style !== field.style.value; });
      var faults = [], text = "";
      if (document.body.dataset.page === "new-order") text = order(faults);
      else if (what() === "fittings") text = fitting(faults);
      else if (what() === "choices" || what() === "compare") {
        var picked = chosen(), called = what() === "compare" ? field.called.value.replace(/\s+/g, " ").trim() : "", under = [what(), field.style.value].concat(called || []);
        if (what() === "compare" && !called) faults.push("Say what this set of choices is called.");
        if (!picked.length) faults.push("Choose something first.");
        all('.chosen[data-style="' + field.style.value + '"] [aria-invalid=true]').forEach(function (i) { faults.push("The " + i.dataset.choice + " is outside its range."); });
        text = under.map(function (name, n) { return "      ".slice(0, 2 * n) + (n ? quoted(name) : name) + ":\n"; }).join("") + picked.map(function (l) { return "      ".slice(0, 2 * under.length) + l + "\n"; }).join("");
        answer = { file: form.dataset.file, digest: form.dataset.digest, under: under, lines: picked };
      } else {
        var m = measured(), on = date();
        if (fresh && !field.name.value.trim()) faults.push("The name is missing.");
        if (fresh && taken.names.map(function (n) { return n.toLowerCase(); }).indexOf(field.name.value.trim().toLowerCase()) >= 0) faults.push("There is a client of this name already: add something to tell them apart.");
        if (!on) faults.push("The day of measuring is missing.");
        else if (on > day) faults.push("The day of measuring is still to come.");
        else if (on < String(today.getFullYear() - 25)) faults.push("Measured in " + on.slice(0, 4) + "? Look at the year again.");
        if (!m.lines.length) faults.push("No measurement is filled in yet.");
        if (m.wrong.length) faults.push((m.wrong.length === 1 ? "This figure can’t be right: " : m.wrong.length + " figures can’t be right: ") + m.wrong.join(", ") + ".");
        if (m.unsure) text = "";
        var block = "measured:\n  " + (on || day) + ":\n" + m.lines.map(function (l) { return "    " + l + "\n"; }).join("");
        if (fresh) {
          if (!named) field.file.value = fileName(field.name.value);
          if (taken.files.map(function (n) { return n.toLowerCase(); }).indexOf(field.file.value.toLowerCase()) >= 0) faults.push("There is a file " + field.file.value + " already: choose another file name.");
          if (!/^[\p{L}\p{N}_][\p{L}\p{M}\p{N}_ .'’-]*\.md$/u.test(field.file.value)) faults.push("The file’s name must end in .md and have letters, figures and hyphens only.");
          text = "---\nname: " + quoted(field.name.value) + "\nfor: " + kind() + "\nunits: " + field.units.value + "\n" + block + "---\n" + (field.notes.value.trim() ? "\n" + field.notes.value.trim() + "\n" : "");
          answer = { file: field.file.value, text: text };
        } else {
          text = block;
          answer = { file: form.dataset.file, digest: form.dataset.digest, under: ["measured", on], lines: m.lines };
        }
        if (!faults.length) state.dataset.sure = m.unsure ? (m.unsure === 1 ? "One figure is unusual: measure it again to be sure. " : m.unsure + " figures are unusual: measure them again to be sure. ") : "";
      }
      file.value = text;
      var words = faults.length ? "Not ready: " + faults.join(" ") : (what() === "measured" ? state.dataset.sure || "" : "") + "Ready to be saved.";
      if (state.textContent !== words) state.textContent = words;
      state.className = "state " + (faults.length ? "stop" : "fine");
      all(".result button").forEach(function (b) { b.disabled = faults.length > 0; });
    }

    form.addEventListener("submit", function (event) { event.preventDefault(); });
    form.addEventListener("input", function (event) { if (event.target === field.file) named = true; said.textContent = ""; delete form.dataset.kept; write(); });
    form.addEventListener("change", write);
    all("input[data-needs]").forEach(function (box) { box.addEventListener("change", sift); });
    function sift() {
      var wanted = all("input[data-needs]").filter(function (b) { return b.checked; }).map(function (b) { return b.dataset.needs; });
      rows.forEach(function (row) {
        var needs = row.dataset.styles.split(" ");
        row.hidden = wanted.length > 0 && !one("input", row).value && !wanted.some(function (w) { return needs.indexOf(w) >= 0; });
      });
      all(".asked-group").forEach(function (group) { group.hidden = !all(".asked", group).some(function (row) { return !row.hidden; }); });
    }
    one("[data-copy]").addEventListener("click", function () {
      file.focus();
      file.select();
      var done = function () { said.textContent = "Copied."; }, by_hand = function () { said.textContent = "The text is marked: copy it with the keys."; };
      if (navigator.clipboard && window.isSecureContext) navigator.clipboard.writeText(file.value).then(done, by_hand);
      else if (document.execCommand && document.execCommand("copy")) done();
      else by_hand();
    });
    if (fresh) one("[data-save]").addEventListener("click", function () {
      var link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([file.value], { type: "text/markdown;charset=utf-8" }));
      link.download = field.file.value;
      document.body.appendChild(link);
      link.click();
      link.remove();
      said.textContent = "Saved where your browser puts downloads. Move it into the folder clients of the studio.";
    });
    if (served) {
      keep.hidden = false;
      keep.addEventListener("click", function () {
        keep.disabled = true;
        fetch("/-/keep", { method: "POST", headers: { "Content-Type": "application/json", "X-Catalogue-Key": served.dataset.key }, body: JSON.stringify(answer) })
          .then(function (reply) { return reply.json(); })
          .then(function (told) {
            var saved = "Saved as " + told.kept + "." + (told.doubt ? " But not all of it can be carried out: " + told.doubt : "");
            said.textContent = told.wrong || saved + (told.before ? " What was there before is in " + told.before + "." : "") + " The catalogue is being built again.";
            said.className = "said " + (told.wrong ? "stop" : "fine");
            if (!told.wrong) form.dataset.kept = "yes";
            if (told.page) {
              var link = document.createElement("a");
              link.href = document.body.dataset.root + told.page;
              link.textContent = "Open the client’s page";
              said.append(" When it is built: ", link, ".");
            }
            if (told.wrong) keep.disabled = false;
            else remember(PUT, { at: location.pathname, said: saved, page: told.page || "" });
          }, function () { said.textContent = "The preview does not answer: is it still running in its window?"; said.className = "said stop"; keep.disabled = false; });
      });
    }
    // The preview shows the form anew once the catalogue is built: what was saved is said again there.
    var put = remember(PUT);
    if (put && put.at === location.pathname) {
      remember(PUT, null);
      var note = document.createElement("p");
      note.className = "said fine put";
      note.setAttribute("role", "status");
      note.textContent = put.said + " The catalogue is built. ";
      if (put.page) {
        var there = note.appendChild(document.createElement("a"));
        there.href = document.body.dataset.root + put.page;
        there.textContent = "Open the client’s page";
      }
      form.parentNode.insertBefore(note, form);
      note.scrollIntoView({ block: "center" });
    }
    write();
    sift();
  }
  var PUT = "catalogue:put";
  function remember(key, value) {
    try {
      if (value === undefined) return JSON.parse(sessionStorage.getItem(key) || "null");
      sessionStorage.setItem(key, JSON.stringify(value));
    } catch (error) { /* nothing is remembered then */ }
    return null;
  }

  document.addEventListener("DOMContentLoaded", function () { var form = one("form.filling"); if (form) start(form); });
})();
