// Forms that write a client file: they read figures as a tape is read, judge them by the limits of a build, and put
// the file's text together. Nothing is sent anywhere but, when asked, to the preview server the page came from.
(function () {
  "use strict";
  var MM = { mm: 1, cm: 10, m: 1000, "in": 25.4, ft: 304.8, yd: 914.4 };
  var UNITS = { mm: "mm", cm: "cm", cms: "cm", m: "m", "in": "in", ins: "in", inch: "in", inches: "in", "\"": "in", "″": "in", "”": "in", "“": "in", ft: "ft", "'": "ft", "′": "ft", "’": "ft", yd: "yd" };
  var PARTS = { "½": 1 / 2, "¼": 1 / 4, "¾": 3 / 4, "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8, "⅓": 1 / 3, "⅔": 2 / 3 };

  function all(selector, within) { return Array.prototype.slice.call((within || document).querySelectorAll(selector)); }
  function one(selector, within) { return (within || document).querySelector(selector); }

  // ---- lengths: "92,5", "36 1/2", "36½ in", "3 ft 2 in" to mm; null when it is none ----
  function figures(text) {
    // Figures of every script: each block of ten begins at its nought.
    return text.replace(/\p{Nd}/gu, function (c) {
      var code = c.codePointAt(0), nought = code;
      while (code - nought < 9 && /\p{Nd}/u.test(String.fromCodePoint(nought - 1))) nought -= 1;
      return String(code - nought);
    }).replace(/٫/g, ".").replace(/\u00a0/g, " ").trim();
  }
  // What is wrong with a figure in inches: 61/8 for 6 1/8, 29 2/1 for 29 1/2, a part that no tape shows, 5 ft 6.
  function slip(text, unit) {
    text = figures(text);
    var inches = /in|["″”“]|''/i.test(text) || unit === "in" && !/[a-z]/i.test(text);
    var m = /(?:(\d+)[\s-]+)?(\d+)\s*[\/⁄]\s*(\d+)/.exec(text), feet = /^(\d+)\s*(?:ft|feet|['′’])\s*(\d+)$/i.exec(text);
    if (feet) return "Write the inches with their unit: " + feet[1] + " ft " + feet[2] + " in.";
    if (!m || !inches) return "";
    var whole = m[1], top = m[2], below = m[3], meant = [];
    if (+top >= +below) {
      if (!whole) for (var n = 1; n < top.length; n += 1) if (top[n] !== "0" && +top.slice(n) < +below) meant.push(top.slice(0, n) + " " + top.slice(n) + "/" + below);
      if (whole && halved(+below, +top)) meant.push(whole + " " + below + "/" + top);
      return top + "/" + below + " is one inch or more. " + (meant.length ? "Did you mean " + meant.join(" or ") + "?" : "Write whole inches first, as in 6 1/8.");
    }
    return halved(+top, +below) ? "" : "No tape measure shows " + top + "/" + below + " of an inch: write halves to sixty-fourths.";
  }
  // Whether a tape that is divided by halving shows so many parts of an inch.
  function halved(top, below) { return top < below && 64 * top % below === 0; }
  function millimetres(text, unit) {
    if (slip(text, unit)) return null;
    var rest = figures(text), total = 0, parts = 0;
    while (rest) {
      var m = /^(\d+)\s*[\/⁄]\s*(\d+)/.exec(rest), amount;
      if (m) amount = m[1] / m[2];
      else if ((m = /^([½¼¾⅛⅜⅝⅞⅓⅔])/.exec(rest))) amount = PARTS[m[1]];
      else if ((m = /^(\d+)[\s-]+(\d+)\s*[\/⁄]\s*(\d+)/.exec(rest))) amount = +m[1] + m[2] / m[3];
      else if ((m = /^(\d+)\s*([½¼¾⅛⅜⅝⅞⅓⅔])/.exec(rest))) amount = +m[1] + PARTS[m[2]];
      else if ((m = /^(\d+(?:[.,]\d+)?)/.exec(rest))) amount = +m[1].replace(",", ".");
      else return null;
      rest = rest.slice(m[0].length).trim();
      var word = /^(''|[^\s\d½¼¾⅛⅜⅝⅞⅓⅔]+)/.exec(rest), its = parts ? null : unit;
      if (word) {
        its = word[1] === "''" ? "in" : UNITS[word[1].toLowerCase().replace(/\.$/, "")];
        rest = rest.slice(word[0].length).trim();
      }
      if (!its || !isFinite(amount) || parts > 2) return null;
      total += amount * MM[its];
      parts += 1;
    }
    return parts && total > 0 && total <= 100000 ? total : null;
  }
  // `towards` rounds up (1) or down (-1), so that a range told holds nothing that is outside it.
  function shown(mm, unit, towards) {
    var rounded = towards ? (towards > 0 ? Math.ceil : Math.floor) : Math.round;
    if (unit !== "in") return String(rounded(mm) / 10).replace(".", document.body.dataset.decimal || ".") + " cm";
    var sixteenths = rounded(mm / 25.4 * 16), whole = Math.floor(sixteenths / 16), top = sixteenths % 16, below = 16;
    while (top && top % 2 === 0) { top /= 2; below /= 2; }
    return (top ? (whole ? whole + " " : "") + top + "/" + below : String(whole)) + " in";
  }
  function kilograms(text) {
    var said = figures(text), stone = /^(\d+)\s*(?:st|stones?)\s*(?:(\d+)\s*(?:lbs?|pounds?)?)?$/i.exec(said);
    if (stone) return (stone[1] * 14 + +(stone[2] || 0)) * 0.45359237;
    var m = /^(\d+(?:[.,]\d+)?)\s*(?:(kgs?|kilos?)|lbs?|pounds?)$/i.exec(said);
    return m ? +m[1].replace(",", ".") * (m[2] ? 1 : 0.45359237) : null;
  }

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

  // A slider for a length with a range, and the drawing of what is nearest to what is written. Where the range is that
  // of a standard size, what lies outside it may be right for the client.
  function withDrawing(row, input, o, unit, label, standard) {
    var root = document.body.dataset.root, slider = null, image = null, step = unit() === "in" ? 3.175 : 5;
    if (o.low !== undefined && o.high > o.low) {
      slider = document.createElement("input");
      input.insertAdjacentElement("afterend", slider);
      slider.type = "range";
      // What was worked out begins and ends between two marks of the tape; the slider goes from mark to mark.
      slider.min = o.made ? Math.ceil(o.low / step) * step : o.low;
      slider.max = o.made ? Math.floor(o.high / step) * step : o.high;
      slider.step = step;
      slider.value = o.at;
      slider.setAttribute("aria-label", label + ", as a slider");
    }
    if (o.picture) {
      image = row.appendChild(document.createElement("img"));
      image.loading = "lazy";
      image.width = 300;
      image.height = 260;
    }
    function see() {
      var at = -1, mm = o.words ? null : millimetres(input.value, unit()), word = input.value || o.usual;
      if (o.words) at = o.words.indexOf(word);
      else if (slider) {
        // Near an end that end is drawn; between them both are, for the nearer one would show a change the wrong way.
        var share = ((mm === null ? o.at : mm) - o.low) / (o.high - o.low);
        at = share < 1 / 3 ? 0 : share > 2 / 3 ? 1 : -1;
      }
      if (slider) { slider.value = mm === null ? o.at : mm; slider.setAttribute("aria-valuetext", shown(mm === null ? o.at : mm, unit())); }
      input.setAttribute("aria-invalid", String(!!slider && !(standard && o.made) && mm !== null && (mm < o.low - 0.5 || mm > o.high + 0.5)));
      if (!image) return;
      image.alt = label + (o.words ? ": " + word : at > 0 ? " at " + o.to : at === 0 ? " at " + o.from : " at both ends of its range");
      var view = root + o.picture + (at >= 0 && at < 4 ? "#v" + at : "");
      if (image.getAttribute("src") !== view) image.setAttribute("src", view);
    }
    input.addEventListener("input", see);
    if (slider) slider.addEventListener("input", function () {
      input.value = shown(+slider.value, unit());
      see();
    });
    return see;
  }

  // ---- the options of a style: words to choose from, lengths with a slider, and the drawing of what is nearest ----
  function options(place, list, unit, given) {
    place.textContent = "";
    list.forEach(function (o, n) {
      var row = place.appendChild(document.createElement("div")), id = "option-" + n, input;
      row.className = "option";
      var label = row.appendChild(document.createElement("label"));
      label.htmlFor = id;
      label.textContent = o.name.charAt(0).toUpperCase() + o.name.slice(1);
      if (o.words) {
        input = document.createElement("select");
        o.words.forEach(function (word) {
          var item = input.appendChild(document.createElement("option"));
          item.textContent = word;
          item.value = word;
          if (word === o.usual) item.textContent += " (usual)";
        });
        input.value = o.usual;
      } else {
        input = document.createElement("input");
        input.type = "text";
        input.placeholder = o.usual;
        input.spellcheck = false;
      }
      input.id = id;
      input.dataset.option = o.name;
      input.dataset.usual = o.words ? o.usual : "";
      row.appendChild(input);
      var about = row.appendChild(document.createElement("p"));
      about.className = "note";
      about.id = id + "-about";
      about.textContent = (o.about ? o.about.charAt(0).toUpperCase() + o.about.slice(1) + ". " : "") + (o.from && o.to ? "From " + o.from + " to " + o.to + "; usually " + o.usual + "." : "") + (o.made ? " In a standard size " + shown(o.low, unit(), 1) + " to " + shown(o.high, unit(), -1) + ", usually " + shown(o.at, unit()) + "; for a client it is worked out from the measurements." : "");
      input.setAttribute("aria-describedby", about.id);
      var see = withDrawing(row, input, o, unit, label.textContent, true);
      if (given && given.get("o." + o.name)) input.value = given.get("o." + o.name);
      see();
    });
  }
  function chosenOptions(place) {
    return all("[data-option]", place).filter(function (i) { return i.value.trim() && i.value !== i.dataset.usual; }).map(function (i) { return [i.dataset.option, i.value.trim()]; });
  }
  function choosing(form) {
    var link = one("[data-to-order]", form), to = link.getAttribute("href");
    options(one(".options", form), JSON.parse(form.dataset.options), function () { return form.dataset.units === "in" ? "in" : "cm"; }, null);
    function follow() {
      var told = new URLSearchParams({ style: form.dataset.style }), client = "";
      try { client = JSON.parse(localStorage.getItem("catalogue:client") || '""'); } catch (error) { /* forgotten */ }
      if (client) told.set("client", client);
      chosenOptions(form).forEach(function (o) { told.set("o." + o[0], o[1]); });
      link.setAttribute("href", to + "#" + told);
    }
    form.addEventListener("input", follow);
    follow();
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
      return found;
    }
    function tell(row, verdict, text) {
      var place = one(".told", row), input = one("input", row), last = input.dataset.last;
      place.className = "told" + (verdict.stop ? " stop" : verdict.doubt ? " doubt" : text ? " fine" : "");
      var words = verdict.stop || verdict.doubt || (text && row.dataset.kind !== "weight" ? "= " + shown(verdict.value, unit()) + (unit() === "in" ? "" : "") : "");
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
        if (text && !verdict.stop && clash[row.dataset.key]) verdict = { value: verdict.value, stop: clash[row.dataset.key].stop, doubt: clash[row.dataset.key].doubt || verdict.doubt };
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
    var people = form.dataset.people ? JSON.parse(form.dataset.people) : {}, asked = "";
    function told(name, words) { var place = one("[data-told=" + name + "]"); if (place && place.textContent !== words) place.textContent = words; }
    function order(faults) {
      var meant = JSON.parse(form.dataset.meant)[field.style.value] || [], uses = JSON.parse(form.dataset.uses)[field.style.value] || [];
      var place = one(".uses");
      if (place && asked !== field.style.value) {
        asked = field.style.value;
        var optionsHere = offered[asked] || [];
        options(one(".options"), optionsHere, unitOf, inHash.get("style") === asked ? inHash : null);
        one("#options").parentNode.hidden = !optionsHere.length;
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

  window.catalogueForms = { millimetres: millimetres, shown: shown, quoted: quoted, fileName: fileName };
  document.addEventListener("DOMContentLoaded", function () { var form = one("form.filling"); if (form) start(form); all(".choosing").forEach(choosing); });
})();
