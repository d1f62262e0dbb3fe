"""What to say when a line is not understood: what stood there, what was expected, what it may have meant."""

from __future__ import annotations

import re
from functools import cache

from lark import Lark, Token
from lark.exceptions import UnexpectedCharacters, UnexpectedToken

from catalogue.findings import Finding, Place, nearest

STATEMENT_WORDS = (
    "new paper",
    "find",
    "when",
    "otherwise",
    "note",
    "piece",
    "outline",
    "grain",
    "notch",
    "mark",
    "draw",
    "dart",
    "allow",
    "sew",
    "finished",
    "check",
)

IN_WORDS = {
    "NAME": "a name",
    "DOTTED": "a piece and its edge (front.side)",
    "LENGTH": "a length (12 cm, 4 3/4 in)",
    "NUMBER": "a number",
    "TEXT": "words in quotes",
    "DIRECTION": "a direction (up, down, left, right)",
    "PLUS": "+",
    "_MINUS": "-",
    "_TIMES": "×",
    "_OVER": "÷",
    "EQUAL": "=",
    "COMMA": "a comma",
    "COLON": "a colon",
    "LPAR": "an opening bracket",
    "RPAR": "a closing bracket",
    "$END": "the end of the line",
    "COMPARE": "at least, at most, more than or less than",
    "WHICH": "nearest, highest, lowest, leftmost, rightmost, first or last",
    "BESIDE": "below, above, left of or right of",
    "BY_WHAT": "on level or in line with",
    "WORDS": "what is measured",
    "HOW_MANY": "single or double",
    "TURN": "clockwise or anticlockwise",
}
"""Terminals of the grammar that are not simply their own word."""

_A_VALUE = {"NAME", "LENGTH", "NUMBER", "LPAR"}
_ARITHMETIC = {"PLUS", "_MINUS", "_TIMES", "_OVER"}

HINTS: tuple[tuple[str, re.Pattern[str], str], ...] = (
    (
        "two-names",
        re.compile(r"^\s*[^\W\d_]\w*\s+[^\W\d_]\w*\s*="),
        "A name is one word: join its parts by _ as in centre_hem.",
    ),
    ("starts-with-number", re.compile(r"^\s*\d\w*\s*="), "A name starts with a letter."),
    ("assign-twice", re.compile(r"=.*="), "One line gives one name: write two lines."),
    ("power", re.compile(r"\*\*|\^"), "Write the factor twice: a * a."),
    (
        "braces",
        re.compile(r"[{}]"),
        "Braces belong in the prose; inside a draft block write the formula itself.",
    ),
    (
        "call",
        re.compile(r"[^\W\d_]\w*\("),
        "The language has no functions: see the handbook's list of words.",
    ),
    ("semicolon", re.compile(r";"), "Write each on a line of its own."),
    (
        "unit-apart",
        re.compile(r"\d\s*(centimet\w*|millimet\w*|cms|mms|ins)\b"),
        "Units are cm, mm, in and m.",
    ),
)
"""Frequent mistakes: a label, what they look like, what helps. tests/language tries each."""


@cache
def _words_of(lark: Lark) -> dict[str, str]:
    """Terminal name -> how the reader would write it."""
    words = dict(IN_WORDS)
    for terminal in lark.terminals:
        if terminal.name in words:
            continue
        pattern = terminal.pattern.value
        plain = re.sub(r"\\s\+", " ", pattern)
        plain = re.sub(r"\(\?!.*\)$|\\b", "", plain)
        plain = re.sub(r"\(([^()|]*)\)\?", "", plain)
        if re.fullmatch(r"[a-z ]+", plain):
            words[terminal.name] = plain.strip()
    return words


def explain(
    error: UnexpectedToken | UnexpectedCharacters,
    text: str,
    start: str,
    file: str,
    line: int,
    shift: int,
    lark: Lark,
) -> Finding:
    """A finding for a line that the grammar refused."""
    row = error.line if error.line and error.line > 0 else 1 + text.rstrip().count("\n")
    column = error.column if error.column and error.column > 0 else 1
    if isinstance(error, UnexpectedToken):
        found = str(error.token) if error.token.type != "$END" else ""
        expected = set(error.accepts or error.expected)
        before = error.token_history[-1] if error.token_history else None
    else:
        found = error.char
        expected = set(error.allowed or ())
        before = error.token_history[-1] if error.token_history else None
        rest = text.split("\n")[row - 1][column - 1 :]
        whole = re.match(r"[^\W\d_]\w*|\S", rest)
        found = whole.group(0) if whole else found
    lines = text.split("\n")
    if not found:
        row = len(text.rstrip().split("\n"))
        column = len(lines[row - 1].rstrip()) + 1
    place = Place(file, line + row - 1, column + (shift if row == 1 else 0))
    message = (f"“{found}” is not understood here" if found else "The line stops too early") + _expected(
        expected, lark
    )
    hint = _hint(text, found, expected, before, start, lark)
    return Finding("not-understood", message, place, hint, source=lines[row - 1].rstrip())


def _expected(expected: set[str], lark: Lark) -> str:
    words = _words_of(lark)
    names: list[str] = []
    if expected >= _A_VALUE:
        names.append("a name, a length or a number")
        expected = {e for e in expected if e in {"TEXT", "DIRECTION"}}
    elif expected >= _ARITHMETIC:
        names.append("more of the formula")
        expected = expected - _ARITHMETIC - {"_SQUARE_OFF", "_OF_THE_WAY", "BEYOND"}
    listed = sorted({words[e] for e in expected if e in words} - {""}, key=lambda w: (len(w.split()) > 1, w))
    names += listed
    if not names:
        return "."
    if len(names) > 9:
        names = [*names[:9], "…"]
    last = names[-1]
    return "; expected " + (f"{', '.join(names[:-1])} or {last}" if len(names) > 1 else last) + "."


def _hint(text: str, found: str, expected: set[str], before: Token | None, start: str, lark: Lark) -> str:
    first = re.match(r"\s*([^\W\d_]\w*)", text)
    known = [w for w in _words_of(lark).values() if re.fullmatch(r"[a-z]+( [a-z]+)*", w)]
    if found and re.fullmatch(r"[^\W\d_]\w*", found):
        likely = [
            w for w in (_words_of(lark).get(e, "") for e in expected) if re.fullmatch(r"[a-z ]+", w or "")
        ]
        likely += ["up", "down", "left", "right"] if "DIRECTION" in expected else []
        close = nearest(found, [w.split()[0] for w in likely if w] + [w for w in likely if w])
        if close and close[0] != found:
            return f"Did you mean “{close[0]}”?"
        if found in {w.split()[0] for w in known} and "NAME" in expected:
            return f"“{found}” is a word of the language; choose another name."
    for _, pattern, words in HINTS:
        if pattern.search(text):
            return words
    if start == "statement" and first and "=" not in text.split('"')[0]:
        word = first.group(1)
        close = nearest(word, STATEMENT_WORDS)
        if close and close[0] != word:
            return f"Did you mean “{close[0]}”?"
        if word not in STATEMENT_WORDS:
            return "A line gives a name (hem = …) or starts with a word such as piece, dart, sew or check."
    if first and before is not None and before.type == "NAME" and found:
        close = nearest(str(before), known)
        if close and close[0] != str(before):
            return f"Did you mean “{close[0]}”?"
    return ""
