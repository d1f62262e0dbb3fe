"""Other names that the trade has for one thing, British, American and everyday: for search, handbook and messages."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from difflib import SequenceMatcher
from functools import cache
from types import MappingProxyType
from typing import NamedTuple

GROUPS = {
    # Common practice, no source; each row is one thing, the name used here first.
    "Garments": (
        "straight skirt, pencil skirt, tube skirt",
        "gored skirt, panelled skirt, paneled skirt, flared skirt, A-line skirt",
        "circle skirt, circular skirt, skater skirt, flared skirt",
        "waistcoat, vest, gilet",
        "trousers, pants, slacks",
        "dungarees, overalls, bib and brace",
        "pinafore, jumper dress, pinafore dress",
        "apron, pinny, smock",
        "robe, dressing gown, bathrobe, housecoat, wrapper",
        "cape, cloak, capelet",
        "coat, overcoat, topcoat",
        "petticoat, underskirt, half-slip",
        "pullover, jumper, sweater",
        "nightdress, nightgown, nightie",
        "shirt dress, shirtwaister, shirtwaist dress",
        "princess, princess line, princess seams, panelled dress, fitted dress",
        "dress, frock, gown",
        "blouse, ladies' shirt, top",
        "bodice, top",
        "shirt, button-down, button-up, dress shirt",
    ),
    "Parts of a garment": (
        "armhole, armscye, scye, armseye, armsaye",
        "sleeve cap, sleeve head, sleeve crown, crown of the sleeve",
        "notched collar, step collar, tailored collar, lapels, revers",
        "yoke, shoulder piece",
        "turn-up, turnup, cuff of trousers",
        "crotch, crutch",
        "waistband, waist band",
        "hem, hemline",
        "pleat, plait",
        "pocket bag, pocket sack",
    ),
    "The pattern": (
        "block, sloper, foundation, master pattern",
        "toile, muslin, mock-up, calico",
        "seam allowance, turnings, turning",
        "notch, balance mark, nick",
        "grain, grainline, grain line, straight grain, straight of grain",
        "stitch line, stitching line, seam line, sewing line",
        "fold line, foldline",
        "drill hole, awl hole, punch hole",
        "anticlockwise, counterclockwise, counter-clockwise",
    ),
    "Cloth and notions": (
        "cloth, fabric, material",
        "calico, muslin",
        "interfacing, fusing, fusible",
        "wadding, batting",
        "selvedge, selvage",
        "fibre, fiber",
        "notions, haberdashery",
        "zip, zipper",
        "press stud, snap, snap fastener, popper",
        "braces, suspenders",
        "bias binding, bias tape",
        "hook and loop tape, touch fastener",
    ),
    "Sewing": (
        "tack, baste",
        "gathered, shirred",
    ),
    "The body": (
        "abdomen, tummy, belly, stomach",
        "seat, bottom, buttocks",
        "upper arm, bicep, biceps",
    ),
    "Who it is for": (
        "children, kids",
        "child, kid",
        "women, ladies, womenswear",
        "men, gentlemen, gents, menswear",
        "girls, girlswear",
        "boys, boyswear",
    ),
    "Orders": (
        "choices, options",
        "price, cost, charge",
        "deposit, down payment, advance",
        "due, wanted by, deadline",
        "sewn, stitched",
        "finished, completed",
        "delivered, handed over, collected",
        "note, remark, comment",
    ),
    "Spelling": (
        "centre, center",
        "metre, meter",
        "centimetre, centimeter",
        "millimetre, millimeter",
        "colour, color",
        "grey, gray",
    ),
}
"""Rows of names by what they are names of."""

ROWS = tuple(tuple(name.strip() for name in row.split(",")) for rows in GROUPS.values() for row in rows)
LONGEST = 80
"""Characters of a name beyond which it is no other name for anything."""
_SPELT = 0.8
"""How alike two names are that differ in their spelling alone: centre and center."""


class OtherName(NamedTuple):
    """A name that is known here, and the words of the row by which another name means it."""

    known: str
    theirs: str
    ours: str


@cache
def _pattern(name: str) -> re.Pattern[str]:
    """A name as it stands in a text, of one or of several."""
    return re.compile(rf"\b{re.escape(name)}s?\b", re.IGNORECASE)


@cache
def _patterns() -> tuple[tuple[re.Pattern[str], dict[str, str]], ...]:
    """Of each row a pattern for any of its names, and the names, each with itself in small letters."""
    return tuple(
        (
            re.compile(r"\b(?:" + "|".join(map(re.escape, names)) + r")\b", re.IGNORECASE),
            {name: name.casefold() for name in names},
        )
        for names in ROWS
    )


def other_names(text: str) -> tuple[str, ...]:
    """Names that the text does not have, of things that it names."""
    low = text.casefold()
    # Most texts name few of these things, and a plain search tells so sooner than a pattern.
    rows = (
        names
        for pattern, names in _patterns()
        if any(small in low for small in names.values()) and pattern.search(text)
    )
    return tuple(dict.fromkeys(name for names in rows for name, small in names.items() if small not in low))


def names_for(name: str) -> tuple[str, ...]:
    """Every name of what `name` is the first name of, itself first. KeyError where no row begins with it."""
    return next((row for row in ROWS if row[0] == name), None) or _no_row(name)


def _no_row(name: str) -> tuple[str, ...]:
    raise KeyError(name)


def wordings(name: str) -> Iterator[tuple[str, str, str]]:
    """`name` in plain words with another name for a thing that it names: (wording, their word, ours)."""
    text = _plain(name)
    if len(text) > LONGEST:
        return
    for row, patterns in _plain_rows():
        for theirs, pattern in patterns:
            if not (found := pattern.search(text)):
                continue
            for ours in row:
                if ours != theirs:
                    yield text[: found.start()] + ours + text[found.end() :], theirs, ours
            break


@cache
def _plain_rows() -> tuple[tuple[tuple[str, ...], tuple[tuple[str, re.Pattern[str]], ...]], ...]:
    """Each row in plain words, and its names with their patterns, the longest first: “sleeve head” is no head."""
    rows = (tuple(map(_plain, row)) for row in ROWS)
    return tuple(
        (row, tuple((name, _pattern(name)) for name in sorted(row, key=len, reverse=True))) for row in rows
    )


def called_here(name: str, known: Iterable[str]) -> tuple[OtherName, ...]:
    """Those of `known` that are another name for what `name` means, in the order of the rows."""
    by_words: dict[str, str] = {}
    for each in known:
        by_words.setdefault(_one_of(_plain(each)), each)
    if _one_of(_plain(name)) in by_words:
        return ()
    found: dict[str, OtherName] = {}
    for wording, theirs, ours in wordings(name):
        if right := by_words.get(_one_of(wording)):
            found.setdefault(right, OtherName(right, theirs, ours))
    return tuple(found.values())


def trade_hint(name: str, known: Iterable[str], written: Mapping[str, str] = MappingProxyType({})) -> str:
    """A hint that says what `name` is called here, "" where none of `known` is another name for it.

    Args:
        written: how some of `known` are to be written, by their names.
    """
    found = called_here(name, known)
    right = list(dict.fromkeys(written.get(each.known, each.known) for each in found))[:3]
    if len(right) == 1:
        return called(name, right[0], *found[0][1:])
    listed = " or ".join(f"“{each}”" for each in right)
    return f"“{name[:LONGEST]}” is called {listed} here: write the one that is meant." if listed else ""


def called(name: str, right: str, theirs: str = "", ours: str = "") -> str:
    """A hint that `name` is called `right` here; `theirs` and `ours` are the words in which they differ."""
    if SequenceMatcher(None, theirs or name, ours or right).ratio() >= _SPELT:
        return f"Did you mean “{right}”?"
    return f"“{name[:LONGEST]}” is called “{right}” here: write {right}."


def put_in_our_words(line: str) -> Iterator[tuple[str, str, str]]:
    """A line with the name used here for one thing that it names: (line, their words, ours), for each such thing."""
    for row in ROWS:
        for other in sorted(row[1:], key=len, reverse=True):
            if found := _pattern(other).search(line):
                yield line[: found.start()] + row[0] + line[found.end() :], found[0], row[0]
                break


def _plain(name: str) -> str:
    return " ".join(re.sub(r"[_\-‐‑]", " ", name.casefold()).split())


def _one_of(text: str) -> str:
    """A plain name as of one thing, by its last word: "skirts" and "skirt"."""
    return text.removesuffix("s")
