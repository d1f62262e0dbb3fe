"""Reading a condition in the prose of a style: `when vent is yes`, `otherwise` or `always`, without its braces."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from catalogue.findings import Finding, Place, Trouble, nearest
from catalogue.language.parser import parse_condition
from catalogue.language.tree import Node
from catalogue.studio.condition_repairs import put_right
from catalogue.studio.prose import ALWAYS, OTHERWISE, WHEN, Condition
from catalogue.studio.style import Choice

_WORD = re.compile(rf"\s*({WHEN}|{OTHERWISE}|{ALWAYS})\b", re.IGNORECASE)
_BRACED = re.compile(rf"\{{\s*(?:{WHEN}\b[^{{}}]*|{OTHERWISE}\s*|{ALWAYS}\s*)\}}", re.IGNORECASE)
"""A condition in its braces."""
_ONLY = re.compile(r"\s*(?:only|just|but)\s+(?=\S)", re.IGNORECASE)
_FIRST = re.compile(r"\s*([^\W\d_]+)\s+(.*\S)\s*", re.DOTALL)
_ENDS = " \t:,"
"""What may stand after a condition, as one writes it after words."""
_FOR_WHEN = frozenset({"if", "where", "wherever", "whenever", "for", "with", "should", "case", "once", "in"})
_FOR_OTHERWISE = frozenset({"else", "otherwise if", "if not", "when not", "or else"})
_FOR_ALWAYS = frozenset(
    {"end", "endif", "end if", "end when", "endwhen", "all", "everybody", "in any case", "stop"}
)
_WORDS = re.compile(r"[^\W\d]\w*")
_OWN_WORDS = ("when", "is", "not", "and", "at", "least", "most", "more", "less", "than", "between", "of")
"""Words of conditions that a line put right may have beside those that were written."""
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


def read_condition(text: str, index: int, place: Place, choices: Sequence[Choice] = ()) -> Condition:
    """The condition between braces; `place` is where its text begins, `choices` are the style's. Raises Trouble."""
    found = _WORD.match(text)
    assert found is not None
    word, rest = found[1].casefold(), text[found.end() :].strip(_ENDS)
    if word == WHEN:
        line = (text[: found.start(1)] + WHEN + text[found.end() :]).rstrip(_ENDS)
        try:
            tree = parse_condition(line, place)
        except Trouble as trouble:
            if instead := put_right(rest, choices):
                raise Trouble(_not_understood(text, place, instead)) from None
            raise Trouble(*(_in_prose(finding, rest, choices) for finding in trouble.findings)) from None
        if _compares_words(tree, choices):
            raise Trouble(_not_understood(text, place, put_right(rest, choices) or _example(choices)))
        return Condition(index, WHEN, rest, place, tree)
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


def _not_understood(text: str, place: Place, instead: str) -> Finding:
    said = f"“{{{' '.join(text.split())}}}” can't be understood as a condition."
    return Finding("condition", said, place, instead=instead)


def _compares_words(tree: Node, choices: Sequence[Choice]) -> bool:
    """Whether a condition sets a choice of words equal to something, as if it were a length."""
    of_words = {choice.key for choice in choices if choice.options}
    equals = (each for each in tree.comparisons if each.word == "equal")
    return any(side.text in of_words for each in equals for side in (each.left, each.right))


def _in_prose(finding: Finding, condition: str, choices: Sequence[Choice]) -> Finding:
    """What is said of a line of drafting, as it is said of a condition in prose; `condition` is without `when`."""
    if finding.code != "not-understood":
        return finding
    words = {*_WORDS.findall(condition), *_OWN_WORDS}
    if finding.instead and words.issuperset(_WORDS.findall(finding.instead)):
        return replace(finding, hint="", instead=f"{{{finding.instead}}}")
    example = f"A condition asks for a word of a choice, such as {_example(choices)}, or compares lengths."
    return replace(finding, hint=example, instead="")


def _example(choices: Sequence[Choice]) -> str:
    """A condition that asks for a word of the first choice of words."""
    for choice in choices:
        if choice.options:
            return f"{{{WHEN} {choice.key} is {'yes' if 'yes' in choice.options else choice.options[0]}}}"
    return f"{{{WHEN} vent is yes}}"


def other_word(text: str, place: Place) -> Finding | None:
    """What to say of a name in braces that is meant for `otherwise` or `always`: `else`, `end`, `otherwhise`."""
    said = " ".join(text.split()).rstrip(_ENDS)
    word = _word_meant(said.casefold())
    return (
        Finding("condition", f"“{said}” is no condition of prose.", place, f"Write {{{word}}}.")
        if word
        else None
    )


def meant_as_condition(text: str, place: Place, choices: Sequence[Choice] = ()) -> Finding | None:
    """What to say of a formula that is not understood and is meant as a condition: `if vent is yes`, `vent is yes`."""
    if only := _ONLY.match(text):
        text = text[only.end() :]
    found = _FIRST.fullmatch(text)
    if found is not None and found[1].casefold() == "unless" and " is " in found[2]:
        text = found[2].replace(" is ", " is not ", 1)
        found = None
    begun = found is not None and (
        found[1].casefold() in _FOR_WHEN or bool(nearest(found[1], (WHEN,), least=MISSPELT))
    )
    line = f"{WHEN} {(found[2] if found is not None and begun else text.strip()).rstrip(_ENDS)}"
    instead = f"{{{line}}}"
    try:
        tree = parse_condition(line, place)
    except Trouble:
        instead = put_right(line.removeprefix(WHEN), choices) if begun else ""
    else:
        if _compares_words(tree, choices):
            instead = put_right(line.removeprefix(WHEN), choices)
    if not instead:
        return None
    return Finding("condition", f"A condition of prose begins with “{WHEN}”.", place, instead=instead)


def _word_meant(said: str) -> str:
    if said in _FOR_OTHERWISE:
        return OTHERWISE
    if said in _FOR_ALWAYS:
        return ALWAYS
    found = nearest(said, (OTHERWISE, ALWAYS), least=MISSPELT)
    return found[0] if found else ""
