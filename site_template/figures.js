// Figures as a tape is read: "92,5", "36 1/2", "36½ in", "3 ft 2 in", "10 st 4".
(function () {
  "use strict";
  var MM = { mm: 1, cm: 10, m: 1000, "in": 25.4, ft: 304.8, yd: 914.4 };
  var UNITS = { mm: "mm", cm: "cm", cms: "cm", m: "m", "in": "in", ins: "in", inch: "in", inches: "in", "\"": "in", "″": "in", "”": "in", "“": "in", ft: "ft", "'": "ft", "′": "ft", "’": "ft", yd: "yd" };
  var PARTS = { "½": 1 / 2, "¼": 1 / 4, "¾": 3 / 4, "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8, "⅓": 1 / 3, "⅔": 2 / 3 };

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

  catalogue.figures = { plain: figures, slip: slip, millimetres: millimetres, shown: shown, kilograms: kilograms };
})();
