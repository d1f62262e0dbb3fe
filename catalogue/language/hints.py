"""Frequent mistakes of a drafter, and what helps."""

from __future__ import annotations

import re
from typing import NamedTuple

from catalogue.language.letters import NAME


class Hint(NamedTuple):
    """A mistake: a label, what the line looks like (searched near the error), what to say.

    `at` is what the words that are not understood look like; any when None.
    """

    label: str
    looks_like: re.Pattern[str]
    say: str
    at: re.Pattern[str] | None = None


def _hint(label: str, looks_like: str, say: str, at: str = "") -> Hint:
    return Hint(label, re.compile(looks_like), say, re.compile(at) if at else None)


_FIGURES = {"one": 1, "two": 2, "three": 3, "four": 4, "six": 6, "eight": 8}

HINTS: tuple[Hint, ...] = (
    # --- blocks ---
    _hint("take-nothing", r"^\s*take\s+from\b", "Say which pieces: take front, back from bodice."),
    _hint(
        "take-called", rf"^\s*take\s+{NAME}\s+(called|named)\b", "Write as: take front as yoke from bodice."
    ),
    _hint("take-of", r"^\s*take\b(?!.*\bfrom\b)", "Say from which block: take front, back from bodice."),
    _hint(
        "take-with",
        r"^\s*take\b.*\bwith\b.*,",
        "Join the values by and: with neck = 40 cm and stand = 3 cm.",
        ",",
    ),
    # --- giving names ---
    _hint(
        "left-to-right",
        r"^\s*sew\s+\S+\s+(left\s+(with|and|on|onto)\s+right|to\s+(itself|the\s+other|its\s+mirror))",
        "Write sew back.centre left to right.",
    ),
    _hint(
        "sew-part",
        r"^\s*sew\s+(the\s+)?(part|first|last|top|bottom|upper|lower)\b",
        "Write sew 20 cm of front.side from waist to 20 cm of back.side from waist.",
    ),
    _hint("zip", r"^\s*(zip|zipper)\b(?!\s*=)", "Write zip 20 cm in back.centre from waist."),
    _hint(
        "dart-sides",
        r"^\s*dart\b.*,\s*[\d/., ]+\w*\s+(to\s+the\s+)?(left|right|up|down)\b",
        "Write at A, 1 cm left and 3 cm right.",
    ),
    _hint("dart-unequal", r"^\s*dart\b.*\b(unequal|uneven)\b", "Write unequal legs."),
    _hint(
        "leg",
        r"\bleg\s+of\b|\.(left|right|upper|lower)(_leg)?\b(?!\s+leg)",
        "Write front.waist_dart.left leg.",
    ),
    _hint(
        "piece-moved",
        rf"^\s*(move|shift|turn|rotate|flip|mirror)\s+(the\s+)?{NAME}\s+(?!=)",
        "Write move front 3 cm right, turn front 10 degrees about A, or mirror front over LINE.",
    ),
    _hint("starts-with-number", rf"^\s*\d+[\w ]*?{NAME}\s*=", "A name starts with a letter."),
    _hint("number-as-name", r"^\s*\d+\s*=", "Write point before the number: point 15 = 3 cm down from A."),
    _hint("colon-equals", r"^[^=]*:=", "Write = alone: hem = 4 cm."),
    _hint("otherwise-colon", r"^\s*otherwise\s*:", "Leave out the colon."),
    _hint("edge-alone", rf"^{NAME}\s*:.*\bto\b", "Indent the edges of a piece below the line outline.", ":"),
    _hint("colon-for-equals", rf"^\s*{NAME}\s*:", "Write = after the name: hem = 4 cm.", ":"),
    _hint("nameless", r"^\s*=", "Write the name before the sign: hem = 4 cm."),
    _hint("double-equals", r"==", "Write = once."),
    _hint("let", r"^\s*(let|set|put|make|define|var)\s+\w+\s*=", "Leave out the first word: hem = 4 cm."),
    _hint(
        "two-names",
        rf"^\s*(?!check\b|finished\b|find\b|when\b|if\b){NAME}([ \t]+{NAME})+\s*=",
        "A name is one word: join its parts by _ as in centre_hem.",
    ),
    _hint(
        "hyphen-name",
        rf"^\s*{NAME}-[\w-]+\s*=",
        "A name has no hyphen: join its parts by _ as in centre_hem.",
    ),
    _hint(
        "dotted-name", rf"^\s*{NAME}\.{NAME}\s*=", "A name has no dot: join its parts by _ as in front_side."
    ),
    _hint("assign-twice", r"^[^=<>]*=[^=<>]*[^=<>!]=", "One line gives one name: write two lines."),
    # --- letters and signs ---
    _hint("full-width", r"[\uff01-\uff5e\u3001]", "Type plain letters and signs, not the wide ones."),
    _hint("quotes-open", r"^[^\"“”]*[\"“][^\"”]*$", 'Close the quotes: "Skirt front".', r"[\"“]"),
    _hint("quotes-odd", r"[“”„«»‹›]", 'Write the quotes as "Skirt front" or “Skirt front”.', r"[“”„«»‹›\"]"),
    _hint("not-equal", r"!=|<>|≠", "Say it with is not, more than or less than."),
    _hint("arrows", r"=>|=<", "Write at least or at most (or >= and <=)."),
    _hint("power", r"\*\*|\^|²", "Write the factor twice: a * a."),
    _hint("braces", r"[{}]", "Braces belong in the prose; inside a draft block write the formula itself."),
    _hint("square-brackets", r"[\[\]]", "Use round brackets: (a + b) / 2."),
    _hint("semicolon", r";", "Write each on a line of its own."),
    _hint("foot-mark", r"\d\s*['’′]", "Write the units: 5 ft + 3 in."),
    _hint(
        "block-open",
        r"^\s*```",
        "Is the draft block above closed? It ends with a line of three backticks.",
        "`",
    ),
    _hint("single-quotes", r"['‘’`]", 'Put words in double quotes: "Skirt front".'),
    _hint("feet-and-inches", r"\d\s*ft\s+\d", "Add them: 5 ft + 3 in."),
    _hint("points-of-thousand", r"\d[.,]\d{3}[.,]\d", "Write a number with one point: 1250.5 mm."),
    _hint("dollar", r"[$@&%]\s*[^\W\d_]", "Write the name alone."),
    # --- functions of other trades ---
    _hint("square-root", r"\bsqrt\b|√", "Write square root of A."),
    _hint("larger", r"\bmax(imum)?\s*(\(|of\b)", "Write larger of A and B."),
    _hint("smaller", r"\bmin(imum)?\s*(\(|of\b)", "Write smaller of A and B."),
    _hint("greater-of", r"\b(greater|bigger|longer|greatest|largest)\s+of\b", "Write larger of A and B."),
    _hint("shorter-of", r"\b(lesser|shorter|least|smallest)\s+of\b", "Write smaller of A and B."),
    _hint("round", r"\b(round|ceil|floor)\s*\(", "Write rounded A to 1 cm."),
    _hint(
        "length-of", r"^(?!\s*dart\b).*\blength\s+(?!of\b)\w|\blength\s+of\s+the\b", "Write length of LINE."
    ),
    _hint("size-of", r"\b(size|len|measure|measurement)\s*(of\b|\()", "Write length of A."),
    _hint("sum-words", r"\b(plus|minus|times)\b", "Write + - * and / for plus, minus, times and divided by."),
    _hint("divided-by", r"\bdivided\s+by\b", "Write / for divided by."),
    _hint(
        "call", rf"\b{NAME}\(", "The language has no functions; a bracket follows a sign, a comma or a word."
    ),
    # --- points ---
    _hint("to-the-left", r"\bto\s+the\s+(left|right)\b", "Write 3 cm left from A, or 3 cm right from A."),
    _hint(
        "cm-below",
        r"\b(cm|mm|in|inch|inches|m|ft)\s+(below|under|beneath|bellow)\b",
        "Write 3 cm down from A.",
    ),
    _hint(
        "name-below",
        rf"=\s*{NAME}\s+(below|under|beneath)\b",
        "Write down from: hip = waist_to_hip down from A.",
        "below|under|beneath",
    ),
    _hint("cm-above", r"\b(cm|mm|in|inch|inches|m|ft)\s+(above|over)\b", "Write 3 cm up from A."),
    _hint("cm-left-of", r"\b(left|right|up|down)\s+of\b(?!.*\b(on|in line)\b)", "Write 3 cm left from A."),
    _hint("from-first", r"=\s*from\b", "The length comes first: 3 cm down from A."),
    _hint(
        "leaning",
        r"\b(up|down|left|right)\s+\d+([.,]\d+)?\s*(°|degrees?\b)",
        "Join the two by and: right and 20 degrees down.",
    ),
    _hint(
        "line-length-first",
        rf"\bline\s+from\s+{NAME}\s+(by\s+|of\s+)?\d",
        "The direction comes before the length: line from A right 20 cm.",
    ),
    _hint("direction-first", r"\b(up|down|left|right)\s+\d", "The length comes first: 3 cm down from A."),
    _hint(
        "downwards",
        r"\b(up|down|left|right|side)wa(rd|y)s?\b",
        "The directions are up, down, left and right.",
    ),
    _hint("compass", r"\b(north|south|east|west)\b", "The directions are up, down, left and right."),
    _hint(
        "crossing",
        r"\b(crossing|cross|intersection|intersect|intersects|meets)\b",
        "Write where A crosses B.",
    ),
    _hint(
        "perpendicular",
        r"\b(perpendicular|square\s+(down|up|out|across))\b",
        "Write square from A to LINE, or 3 cm square off LINE at A, down.",
    ),
    _hint("square-off", r"=\s*square\s+off\b", "Say how far: 3 cm square off LINE at A, down."),
    _hint("square-of", r"\bsquare\s+of\b", "Write 3 cm square off LINE at A, down."),
    _hint("of-way", r"\bof\s+way\b", "Write 1/3 of the way from A to B."),
    _hint(
        "part-from",
        r"=\s*(\d+\s*/\s*\d+|[½⅓¼⅔¾])\s+(from|between|along)\b",
        "Write 1/3 of the way from A to B.",
    ),
    _hint("half-way-along", r"\bhalf[\s-]+way\s+along\b", "Write halfway as one word: halfway along LINE."),
    _hint("half-way", r"=.*\bhalf\s*-?\s*way\b(?!\s+along)", "Write midway A to B, or halfway along LINE."),
    _hint("mid-way", r"=.*(\bmid\s*-?\s*(way|point)\b|\bmiddle\s+(of|between)\b)", "Write midway A to B."),
    _hint("on-level-order", r"\bon\s+\w+\s+level\b|\blevel\s+with\b", "Write below A on level B."),
    _hint(
        "mirror-on", r"\bmirror\w*\s+(of\s+)?\w+\s+(on|in|about|across|at)\b", "Write mirror of A over LINE."
    ),
    _hint("on-line", r"\d\s*(cm|mm|in)\s+on\b", "Write 3 cm along LINE from A."),
    _hint("starting-at", r"\bstarting\s+(at|from)\b", "Write from A."),
    # --- lines ---
    _hint("straight-line", r"\bstraight\s+line\b", "Write line A to B."),
    _hint("curve-alone", r"^\s*(curve|line|arc|circle)\b[^=]*$", "Give it a name: hem = curve A, B, C."),
    _hint("arc", r"\barc\s+(?!about\b)\w", "Write arc about CENTRE from A to B."),
    _hint("circle", r"\bcircle\s+(?!about\b)\w", "Write circle about CENTRE radius 4 cm."),
    _hint("radius", r"\b(of\s+radius|with\s+radius)\b", "Write circle about CENTRE radius 4 cm."),
    _hint("parallel", r"\bparallel\s+(?!to\b)\w", "Write parallel to LINE, 2 cm up."),
    _hint(
        "reverse",
        r"\b(reverse|reversed|backwards)\b",
        "A line need not be turned round; joins turn it as needed.",
    ),
    _hint(
        "extended",
        r"\bextended\b",
        "A line is extended where something meets or measures it: where A extended crosses B.",
        "extended",
    ),
    # --- choosing ---
    _hint(
        "else", r"^\s*(else|elif|elsif)\b", "Write otherwise on a line of its own, its lines indented below."
    ),
    _hint("if-line", r"^\s*(if|unless)\b", "Write when and the condition, its lines indented below."),
    _hint(
        "if-value",
        r"=\s*if\b|\bthen\b.*\belse\b",
        "Write when and otherwise with indented lines, or a table: by A: …",
    ),
    _hint(
        "when-then",
        r"^\s*when\b.*(\bthen\b|:)",
        "Write the lines that depend on it indented below, on their own.",
    ),
    _hint("is-between", r"\bis\s+between\b", "Leave “is” out: write A between 20 cm and 25 cm."),
    _hint("quoted-choice", r"\bis\s+(not\s+)?[\"“”'‘’]", "Write a choice without quotes."),
    _hint(
        "and-or", r"\b(or|not)\b.*(?<!\bis not)$", "Conditions are joined by and; for or, write two whens."
    ),
    _hint(
        "atleast",
        r"\bat(least|most)\b|\b(more|less)then\b|\b(more|less)\s+then\b",
        "Write at least, at most, more than or less than.",
    ),
    _hint(
        "choice-words",
        rf"\bis\s+(not\s+)?(?!at\b|more\b|less\b){NAME}\s+(?!and\b){NAME}\s*$",
        "A choice is one word.",
    ),
    _hint("equals", r"\b(equals|equal\s+to|is\s+the\s+same\s+as)\b", "Write A = B."),
    _hint(
        "loop",
        r"^\s*(for|while|repeat|loop)\b",
        "Write repeat for gore 1 to 5, and indent the lines that are repeated; to try values, write find.",
    ),
    _hint(
        "find-range", r"^\s*find\s+\w+\s+(from|in|within)\b", "Write find A between 2 cm and 9 cm so that …"
    ),
    _hint(
        "so-that",
        r"^\s*find\b.*\b(so|such\s+that|until|where)\b(?!\s+that)",
        "Write so that before the condition.",
    ),
    _hint(
        "rows",
        r"=\s*by\b[^:]*$",
        "Put a colon after what the table goes by: by bust_girth: up to 90 cm 2 cm, …",
    ),
    _hint("row-signs", r"=\s*by\b[^:]*:\s*[<>≤≥]|,\s*[<>≤≥]", "A row begins with up to, above or otherwise."),
    # --- pieces ---
    _hint(
        "title-first",
        r"^\s*piece\s+[\"“]",
        'The name comes before the title: piece front "Skirt front", cut 1.',
    ),
    _hint(
        "two-piece-names",
        rf"^\s*piece\s+{NAME}\s+(?!cut\b){NAME}",
        'A piece\'s name is one word; its title goes in quotes: piece front "Skirt front", cut 1.',
    ),
    _hint("cut-first", r"\bcut\s+(on|of|a|the)\b", "Say how many: cut 1 on fold, cut 2 of lining."),
    _hint(
        "cut-words",
        rf"\bcut\s+({'|'.join(_FIGURES)}|pair|once|twice)\b",
        "Write the number in figures: cut 1, cut 2.",
    ),
    _hint("cut-times", r"\bcut\s+[x×]?\d+\s*[x×]", "Write the number alone: cut 2."),
    _hint(
        "grain-alone",
        r"^grain\s+(?!of\b)\w",
        "Indent the line below its piece, or say which: grain of front along centre.",
    ),
    _hint(
        "mark-alone",
        r"^(mark|draw)\b(?!.*\bon\b)",
        "Indent the line below its piece, or end it with the piece's name: on front.",
        "$",
    ),
    _hint(
        "notch-alone",
        rf"^((single|double|triple)\s+)?notch\s+{NAME}\s+at\b",
        "Indent the line below its piece, or say which: notch front.side at A.",
    ),
    _hint("outline-alone", r"^\s*outline\b", "Give each edge a name: outline side: A to B."),
    _hint(
        "dart-edge",
        r"^\s*dart\s+\w+\s*,",
        "Say the piece too: dart front.waist, middle at halfway, intake 2 cm.",
    ),
    _hint(
        "dart-two",
        r"^\s*dart\s+\w+\s+(?!on\b|inside\b)\w+",
        "Join piece and edge by a dot: dart front.waist, …",
    ),
    _hint(
        "dart-equals",
        r"^\s*dart\b.*\b(intake|length|middle|point)\s*[=:]",
        "Leave out the sign: intake 2 cm.",
    ),
    _hint(
        "dart-where",
        r"^\s*dart\s+\S+\s+(at|in|on)\b",
        "Say where its middle is: middle at halfway, or, from a point A of that edge, middle at "
        "(9 cm along front.waist from A).",
        "at|in|on",
    ),
    _hint(
        "dart-middle-from",
        r"^\s*dart\b[^,]*,\s*middle\s+at\s+[^,]*\bfrom\b",
        "Say along which edge it is measured and from which point of it: middle at (9 cm along front.waist "
        "from A).",
        "from",
    ),
    _hint("dart-centre", r"\b(cent(er|re)|centred|centered)\s+(at|on)\b", "Write middle at."),
    _hint("dart-width", r"^\s*dart\b.*\b(width|wide|depth|take|takes|size)\b", "Write intake 2 cm."),
    _hint(
        "press-to",
        r"^\s*dart\b.*\b(press|pressed)\b",
        "Write fold to and an edge of the piece, or a direction: fold to left.",
    ),
    _hint(
        "allow-edge-first",
        rf"^\s*allow\s+{NAME}",
        "The length for all edges comes first: allow 1.5 cm, hem 4 cm.",
    ),
    _hint(
        "sew-and",
        r"^\s*sew\s+\S+\s+(and|with|on|onto|into)\s+\S+\s*(,|$)",
        "Write sew front.side to back.side.",
    ),
    _hint(
        "sew-edges",
        r"^\s*(sew|join)\s+\w+\s+(to|and|with)\b",
        "Say the pieces too: sew front.side to back.side.",
    ),
    _hint(
        "sew-the",
        r"^\s*(sew|join|stitch)\s+(the|up|all)\b",
        "Name both edges with their pieces: sew front.side to back.side.",
    ),
    _hint(
        "allow-all-round",
        r"^\s*allow\b.*\ball\s+(round|around|over)\b",
        "The first length is for all edges: allow 1.5 cm, hem 3 cm.",
        "all",
    ),
    _hint("allowance", r"^\s*(seam[\s_]+)?allowances?\b", "Write allow 1.5 cm, hem 4 cm."),
    _hint("seam", r"^\s*(seam|join|stitch)\b", "Write sew front.side to back.side."),
    _hint("paper", r"^\s*(paper|sheet|page)\b|^\s*new\s+(sheet|page|piece)\b", 'Write new paper "Sleeve".'),
    _hint(
        "unfinished-sign",
        r"^\s*finished\s+(?!.*\bmeasured\s+(at|along)\b)[^=]*$",
        "Write = before the length, finished waist girth = 70 cm, or where it is measured: finished waist girth "
        "measured at front.waist.",
    ),
    _hint("fold-line", r"\b(fold|stitch|placement|guide|pleat)line\b", "Write it as two words: fold line."),
    # --- units ---
    _hint("sentence-end", r"\.\s*$", "Leave out the full stop at the end of the line.", r"\."),
    _hint(
        "unit-word",
        r"\d\s*(centimet\w*|millimet\w*|cms|mms|ins|centi|inchs|zoll|yds?|yards?|CM|MM|IN|INCH)(?!\w)",
        "Units are mm, cm, m, in and ft.",
    ),
    _hint("degree-word", r"\d\s*(deg|grad|degs)\b", "Write 12 degrees or 12°."),
)
"""In the order in which they are tried; tests/language has a line for each."""
