"""The names of the parts of each phrase, as the grammar gives them: `move: amount=sum direction=DIRECTION`.

Every part that the tree keeps has a name. A name stands for one part, None where it is in square brackets and was not
written; a name that is repeated (by `*` or `+`, or because it is given twice) stands for a list. A phrase has at most
one list, so each part is found by counting from the nearer end. That count is made here and nowhere else: a part put
into a rule moves no other.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from importlib import resources
from typing import NamedTuple

from catalogue.language.letters import LETTER, NAME

_NAMED = re.compile(r"\b[a-z][a-z_]*=(?=[\w(])")
_TOKEN = re.compile(r'"[^"]*"|->\s*[a-z_]+|[a-z][a-z_]*=(?=[\w(])|\w+|[()\[\]|*+]')
_RULE = re.compile(r"(\??[a-z_]+):|\s+(?=\|)")


class Slot(NamedTuple):
    """A named part of a phrase: its index among the parts, for a list from where to where."""

    name: str
    at: int | slice


class GrammarError(Exception):
    """The parts of a rule are not named, or can't be counted."""


def grammar_text() -> str:
    """The grammar with the names of parts; names in it may have the vowel signs and accents of any script."""
    text = resources.files(__package__).joinpath("grammar.lark").read_text(encoding="utf-8")
    return text.replace(rf"{LETTER}\w*", NAME)


def without_names(grammar: str) -> str:
    """The grammar as the parsing library reads it."""
    return "\n".join(_NAMED.sub("", row) if _RULE.match(row) else row for row in grammar.split("\n"))


@cache
def named_parts() -> dict[str, tuple[Slot, ...]]:
    """Phrase of the language -> its named parts, in the order of the grammar."""
    return parts_in(grammar_text())


def parts_in(grammar: str) -> dict[str, tuple[Slot, ...]]:
    """Phrase -> its named parts, of any grammar. Raises GrammarError."""
    found: dict[str, tuple[Slot, ...]] = {}
    for rule, alternative in alternatives(grammar):
        alias = alternative.pop()[2:].strip() if alternative[-1].startswith("->") else ""
        if rule.startswith("?") and not alias and not any(t.endswith("=") for t in alternative):
            continue  # It passes on what it holds.
        phrase = alias or rule.lstrip("?")
        slots = _slots(phrase, alternative)
        if found.setdefault(phrase, slots) != slots:
            raise GrammarError(f"{phrase}: its alternatives have other parts; name one of them by ->")
    return found


def alternatives(grammar: str) -> Iterator[tuple[str, list[str]]]:
    """Each alternative of each rule, as tokens, with the rule's name and its question mark."""
    rule, body = "", ""
    rows = [*grammar.split("\n"), "end:"]
    for row in rows:
        begun = _RULE.match(row)
        if begun is None:
            continue
        if begun[1] is None:
            body += row
            continue
        tokens: list[str] = []
        depth = 0
        for token in _TOKEN.findall(body):
            depth += (token in "([") - (token in ")]")
            if token == "|" and not depth:
                yield rule, tokens
                tokens = []
            else:
                tokens.append(token)
        if rule:
            yield rule, tokens
        rule, body = begun[1], row[begun.end() :]


def _slots(phrase: str, tokens: list[str]) -> tuple[Slot, ...]:
    """The parts of one alternative, each found from the end that has no list before it."""
    names: list[str] = []
    lists: set[str] = set()
    opened: list[tuple[int, str]] = []
    part = ""
    for token, following in zip(tokens, [*tokens[1:], ""], strict=True):
        begun = len(names)
        if token.endswith("="):
            part = token[:-1]
        elif token in ("(", "["):
            opened.append((begun, part))
            part = ""
        elif token in (")", "]"):
            begun, part = opened.pop()
            if part:
                names.append(part)
        elif token == "|":
            if opened and not opened[-1][1] and begun != opened[-1][0]:
                raise GrammarError(f"{phrase}: parts in a choice of words; give the choice a name or a rule")
        elif token[0].isalpha() and not any(outer for _, outer in opened):
            if not part:
                raise GrammarError(f"{phrase}: {token} has no name")
            names.append(part)
        if token.endswith("=") or token in "([|":
            continue
        part = ""
        if following in ("*", "+"):
            lists.update(names[begun:])
    lists |= {name for name in names if names.count(name) > 1}
    order = list(dict.fromkeys(names))
    at = [i for i, name in enumerate(order) if name in lists]
    if len(at) > 1:
        raise GrammarError(
            f"{phrase}: two lists, {order[at[0]]} and {order[at[1]]}; give one a rule of its own"
        )
    behind = len(order) - at[0] - 1 if at else 0
    return tuple(
        Slot(
            name, slice(i, -behind or None) if name in lists else i if not at or i < at[0] else i - len(order)
        )
        for i, name in enumerate(order)
    )
