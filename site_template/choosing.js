// The options of a style: words to choose from, lengths with a slider, and the drawing of what is nearest.
(function () {
  "use strict";
  var all = catalogue.all, one = catalogue.one, millimetres = catalogue.figures.millimetres, shown = catalogue.figures.shown;

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

  // What the client's own file chooses counts where the order says nothing, and so stands in place of the usual.
  function inFile(o, own, unit) {
    if (!own || own[o.name] === undefined || o.words && o.words.indexOf(own[o.name]) < 0) return o;
    var mm = o.words ? null : millimetres(own[o.name], unit());
    return Object.assign({}, o, { own: own[o.name], at: mm === null ? o.at : mm });
  }

  function options(place, list, unit, given, own) {
    place.textContent = "";
    list.forEach(function (plain, n) {
      var o = inFile(plain, own, unit), unsaid = o.own || o.usual;
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
          if (word === o.own) item.textContent += " (in the client’s file)";
          else if (word === o.usual) item.textContent += " (usual)";
        });
        input.value = unsaid;
      } else {
        input = document.createElement("input");
        input.type = "text";
        input.placeholder = unsaid;
        input.spellcheck = false;
      }
      input.id = id;
      input.dataset.option = o.name;
      input.dataset.usual = o.words ? unsaid : "";
      row.appendChild(input);
      var about = row.appendChild(document.createElement("p"));
      about.className = "note";
      about.id = id + "-about";
      about.textContent = (o.about ? o.about.charAt(0).toUpperCase() + o.about.slice(1) + ". " : "") + (o.from && o.to ? "From " + o.from + " to " + o.to + "; usually " + o.usual + "." : "") + (o.made ? " In a standard size " + shown(o.low, unit(), 1) + " to " + shown(o.high, unit(), -1) + ", usually " + shown(o.at, unit()) + "; for a client it is worked out from the measurements." : "") + (o.own ? " In the client’s file: " + o.own + "." : "");
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

  catalogue.choosing = { withDrawing: withDrawing, options: options, chosenOptions: chosenOptions };
  document.addEventListener("DOMContentLoaded", function () { all(".choosing").forEach(choosing); });
})();
