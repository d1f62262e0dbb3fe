"""Reading a condition in the prose of a style: `when vent is yes`, `otherwise` or `always`, without its braces."""

from __future__ import annotations

import re
from dataclasses import replace

from catalogue.findings import Finding, Place, Trouble, nearest
from catalogue.language.parser import parse_condition
from catalogue.studio.prose import ALWAYS, OTHERWISE, WHEN, Condition

_WORD = re.compile(rf"\s*({WHEN}|{OTHERWISE}|{ALWAYS})\b", re.IGNORECASE)
_BRACED = re.compile(rf"\{{\s*(?:{WHEN}\b[^{{}}]*|{OTHERWISE}\s*|{ALWAYS}\s*)\}}", re.IGNORECASE)
"""A condition in its braces."""
_FIRST = re.compile(r"\s*([^\W\d_]+)\s+(.*\S)\s*", re.DOTALL)
_ENDS = " \t:,"
"""What may stand after a condition, as one writes it after words."""
_FOR_WHEN = frozenset({"if", "where", "wherever", "whenever", "for", "with", "should", "case", "once", "in"})
_FOR_OTHERWISE = frozenset({"else", "otherwise if", "if not", "when not", "or else"})
_FOR_ALWAYS = frozenset(
    {"end", "endif", "end if", "end when", "endwhen", "all", "everybody", "in any case", "stop"}
)
MISSPELT = 0.75
"""Likeness (0 to 1) for which a word is taken to be meant for another."""


def condition_in(text: str) -> int | None:
    """Where in a text that is shown as it is written a condition stands; None where none does."""
    found = _BRACED.search(text)
    return found.start() if found else None


def without_word(text: str) -> str:
    """The text between braces without the word that makes it a condition."""
    return text[found.end() :].strip() if (found := _WORD.match(text)) else text.strip()


def is_condition(text: str) -> bool:
    """Whether the text between braces is a condition, and no formula."""
    return _WORD.match(text) is not None


def read_condition(text: str, index: int, place: Place) -> Condition:
    """The condition between braces; `place` is where its text begins. Raises Trouble."""
    found = _WORD.match(text)
    assert found is not None
    word, rest = found[1].casefold(), text[found.end() :].strip(_ENDS)
    if word == WHEN:
        line = (text[: found.start(1)] + WHEN + text[found.end() :]).rstrip(_ENDS)
        try:
            return Condition(index, WHEN, rest, place, parse_condition(line, place))
        except Trouble as trouble:
            raise Trouble(*(_in_braces(finding) for finding in trouble.findings)) from None
    if rest:
        hint = f"Write {{{OTHERWISE}}} or {{{WHEN} {rest.removeprefix(f'{WHEN} ')}}}."
        raise Trouble(
            Finding(
                "condition",
                f"“{word}” stands alone in its braces.",
                place,
                hint if word == OTHERWISE else f"Write {{{ALWAYS}}}.",
            )
        )
    return Condition(index, word, "", place)


def _in_braces(finding: Finding) -> Finding:
    """A finding that shows the line to write as it stands in prose."""
    return replace(finding, instead=f"{{{finding.instead}}}") if finding.instead else finding


def other_word(text: str, place: Place) -> Finding | None:
    """What to say of a name in braces that is meant for `otherwise` or `always`: `else`, `end`, `otherwhise`."""
    said = " ".join(text.split()).rstrip(_ENDS)
    word = _word_meant(said.casefold())
    return (
        Finding("condition", f"“{said}” is no condition of prose.", place, f"Write {{{word}}}.")
        if word
        else None
    )


def meant_as_condition(text: str, place: Place) -> Finding | None:
    """What to say of a formula that is not understood and is meant as a condition: `if vent is yes`, `vent is yes`."""
    found = _FIRST.fullmatch(text)
    if found is not None and found[1].casefold() == "unless" and " is " in found[2]:
        text = found[2].replace(" is ", " is not ", 1)
        found = None
    begun = found is not None and (
        found[1].casefold() in _FOR_WHEN or bool(nearest(found[1], (WHEN,), least=MISSPELT))
    )
    line = f"{WHEN} {(found[2] if found is not None and begun else text.strip()).rstrip(_ENDS)}"
    try:
        parse_condition(line, place)
    except Trouble:
        return None
    return Finding("condition", f"A condition of prose begins with “{WHEN}”.", place, instead=f"{{{line}}}")


def _word_meant(said: str) -> str:
    if said in _FOR_OTHERWISE:
        return OTHERWISE
    if said in _FOR_ALWAYS:
        return ALWAYS
    found = nearest(said, (OTHERWISE, ALWAYS), least=MISSPELT)
    return found[0] if found else ""
