"""Formulas as a drafter would write them on paper, with names or with the client's numbers put in."""

from __future__ import annotations

import re
from collections.abc import Callable

from catalogue.language.tree import Node

Fill = Callable[[Node], str | None]
"""Gives the text to write for a name, or None to write the name itself."""

_SYMBOLS = {"add": "+", "subtract": "−", "multiply": "×", "divide": "÷"}
_RANK = {"add": 1, "subtract": 1, "multiply": 2, "divide": 2, "negative": 3}

_SIMPLE = ("name", "dotted", "leg", "length", "number", "angle", "percent")

_SPELLED: dict[tuple[str, str], str] = {}
"""Formulas spelled before: they are the same for every client."""
_MOST_SPELLED = 20_000


def in_words(name: str) -> str:
    """`cb_scye` as “cb scye”, `front.side` as “front side”, `point_15` as “15”."""
    return bare_numbers(name.replace(".", " ")).replace("_", " ")


def bare_numbers(name: str) -> str:
    """Points named by a number (`point 15`, kept as point_15) as a printed draft has them: “15”, “17 1/2”."""
    return _NUMBERED.sub(_number_of, name) if "point_" in name else name


_NUMBERED = re.compile(r"\bpoint_(\d+)(?:_(\d+)(?:_(\d+))?)?\b")


def _number_of(match: re.Match[str]) -> str:
    whole, part, of = match.groups()
    return f"{whole} {part}/{of}" if of else f"{whole}.{part}" if part else whole


def spell(node: Node, fill: Fill | None = None) -> str:
    """The formula as text; `fill` puts values in place of names and measured phrases."""
    if fill is not None:
        return _spell(node, fill, 0)
    key = node.word, node.text
    spelled = _SPELLED.get(key)
    if spelled is None:
        if len(_SPELLED) >= _MOST_SPELLED:
            _SPELLED.clear()
        spelled = _SPELLED[key] = _spell(node, lambda _: None, 0)
    return spelled


def _spell(node: Node, fill: Fill, rank: int) -> str:
    filled = fill(node)
    if filled is not None:
        return filled
    match node.word:
        case "name" | "dotted" | "leg":
            return in_words(node.text)
        case "length" | "number" | "angle" | "percent":
            return " ".join(node.text.split())
        case "add" | "subtract" | "multiply" | "divide":
            own = _RANK[node.word]
            left = _spell(node.left, fill, own)
            right = _spell(node.right, fill, own + (node.word in ("subtract", "divide")))
            text = f"{left} {_SYMBOLS[node.word]} {right}"
            return f"({text})" if own < rank else text
        case "negative":
            return "−" + _spell(node.of, fill, 3)
    return _source_with_parts(node, fill)


def _source_with_parts(node: Node, fill: Fill) -> str:
    """The phrase as written, with its parts respelled in place."""
    cuts = node.cuts
    if cuts is None:
        cuts = _cut_up(node)
        object.__setattr__(node, "cuts", cuts)
    out = [
        cut if isinstance(cut, str) else _spell(cut, fill, 0 if cut.word in _SIMPLE else 1) for cut in cuts
    ]
    return " ".join("".join(out).split())


def _find_whole(text: str, part: str, position: int) -> int:
    """Where `part` stands in the text, not as a piece of a longer word ("a" in "and"); -1 where it doesn't."""
    at = text.find(part, position)
    while at >= 0:
        end = at + len(part)
        if not (_joins(text[at - 1 : at], part[0]) or _joins(part[-1], text[end : end + 1])):
            return at
        at = text.find(part, at + 1)
    return -1


def _joins(one: str, other: str) -> bool:
    return (one.isalnum() or one == "_") and (other.isalnum() or other == "_")


def _cut_up(node: Node) -> tuple[str | Node, ...]:
    """The text of a phrase between its parts, and the parts that may be spelled otherwise than they are written."""
    text, position = node.text, 0
    out: list[str | Node] = []
    for part in node.inside:
        if part is None or not part.text:
            continue
        length = len(part.text)
        at = _find_whole(text, part.text, position)
        if at < 0 and "point_" in part.text:  # written as point 15
            found = re.compile(part.text.replace("_", r"\W+")).search(text, position)
            at, length = (found.start(), len(found[0])) if found else (-1, 0)
        if at < 0:
            continue
        out.append(text[position:at])
        out.append(part.text if part.word.isupper() else part)
        position = at + length
    out.append(text[position:])
    return tuple(out)
