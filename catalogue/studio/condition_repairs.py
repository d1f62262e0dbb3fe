"""What to write for a condition that is not understood, where it asks for a word of one of the style's choices."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from catalogue.findings import nearest
from catalogue.studio.style import Choice

ALIKE = 0.75
"""Likeness (0 to 1) for which a word is taken to be meant for another."""
_FILLER = re.compile(r"(?:only|just|when|if|there['’]s|it['’]s)\s+", re.IGNORECASE)
_THERE_IS = re.compile(
    r"(?:there\s+(?:is|are)|(?:it|she|he)\s+has|with)\s+(?P<none>not?\s+)?(?:an?\s+|any\s+|the\s+)?(?P<name>.+)",
    re.IGNORECASE,
)
_DENIED = (
    r"!=|<>|≠|\b(?:is|are)\s+not\s+equal\s+to\b|\bis\s*n['’]?t\b|\b(?:is|are)\s+not\b|\baren['’]?t\b|\bnot\b"
)
_SAID = r"==?|:|\b(?:is|are)\s+equal\s+to\b|\bequals?\b|\bis\b|\bare\b"
_ONE = re.compile(
    rf"(?:the\s+)?(?P<name>[^=:!<>≠]+?)(?:\s*(?P<denied>{_DENIED})\s*|\s*(?:{_SAID})\s*|\s+)"
    r"(?:the\s+)?[\"“'‘]?(?P<word>[\w-]+)[\"”'’]?",
    re.IGNORECASE,
)


class _Asked(NamedTuple):
    """One word of a choice that is asked for, or denied."""

    choice: Choice
    word: str
    denied: bool = False

    def __str__(self) -> str:
        return f"{self.choice.key} is {'not ' if self.denied else ''}{self.word}"


def put_right(text: str, choices: Iterable[Choice], *, alike: float = ALIKE) -> str:
    """What to write, with its braces, for a condition (without its `when`); "" where that can't be told.

    Args:
        alike: likeness from which a word is taken for a choice or an option; 1 for those alone that are spelt right.
    """
    of_words = [choice for choice in choices if choice.options]
    text = " ".join(text.split()).strip(" :,.")
    while found := _FILLER.match(text):
        text = text[found.end() :]
    if not of_words or not text:
        return ""
    if re.search(r"\sor\s", text, re.IGNORECASE):
        return _either(re.split(r"\s+or\s+", text, flags=re.IGNORECASE), of_words, alike)
    asked = [_one(part, of_words, alike) for part in re.split(r"\s+and\s+", text, flags=re.IGNORECASE)]
    known = [each for each in asked if each is not None]
    return _when(" and ".join(map(str, known))) if len(known) == len(asked) else ""


def _when(text: str) -> str:
    return f"{{when {text}}}"


def _either(parts: list[str], choices: list[Choice], alike: float) -> str:
    """The conditions to write for `vent is yes or band is wide`, which no single condition can say."""
    asked: list[_Asked] = []
    for part in parts:
        one = _one(part, choices, alike)
        word = _option(part, asked[0].choice, alike) if asked else ""
        if one is None or word:
            one = _Asked(asked[0].choice, word) if word else None
        if one is None:
            return ""
        asked.append(one)
    first = asked[0]
    if all(each.choice is first.choice and not each.denied for each in asked):
        left = [word for word in first.choice.options if word not in {each.word for each in asked}]
        if len(left) == 1:
            return _when(f"{first.choice.key} is not {left[0]}")
        return " … ".join([*(_when(str(each)) for each in asked), "{always}"]) if left else ""
    if len(asked) > 2 or first.choice is asked[1].choice:
        return ""
    not_first = first._replace(denied=not first.denied)
    return f"{_when(str(first))} … {{always}} {_when(f'{not_first} and {asked[1]}')} … {{always}}"


def _one(text: str, choices: list[Choice], alike: float) -> _Asked | None:
    if found := _THERE_IS.fullmatch(text):
        choice = _choice(found["name"], choices, alike)
        word = "no" if found["none"] else "yes"
        return _Asked(choice, word) if choice is not None and word in choice.options else None
    if (choice := _choice(text, choices, 1)) is not None:
        return _Asked(choice, "yes" if "yes" in choice.options else choice.options[0])
    if found := _ONE.fullmatch(text):
        choice = _choice(found["name"], choices, alike)
        word = _option(found["word"], choice, alike) if choice is not None else ""
        return _Asked(choice, word, bool(found["denied"])) if choice is not None and word else None
    return None


def _choice(said: str, choices: list[Choice], alike: float) -> Choice | None:
    name = re.sub(r"[\s_-]+", "_", said.strip().casefold())
    by_name = {choice.key.casefold(): choice for choice in choices}
    found = [name] if name in by_name else nearest(name, by_name, least=alike) if alike < 1 else []
    return by_name[found[0]] if found else None


def _option(said: str, choice: Choice, alike: float) -> str:
    by_word = {word.casefold(): word for word in choice.options}
    word = said.strip().casefold()
    found = [word] if word in by_word else nearest(word, by_word, least=alike) if alike < 1 else []
    return by_word[found[0]] if found else ""
