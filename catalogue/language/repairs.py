"""The line to write instead of one that is not understood.

Changes are tried one after another, the likeliest first, until the line parses: ways of speaking (`sayings`), words
spelt or capitalised otherwise, a word or sign put in, left out or changed for another small word, parts in another
order. The writer's own names and figures are never left out or made up.
"""

from __future__ import annotations

import heapq
import re
from collections.abc import Iterator
from difflib import get_close_matches
from functools import cache, lru_cache
from itertools import count, permutations
from typing import NamedTuple

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from catalogue.language.letters import NAME
from catalogue.language.naming import named_parts
from catalogue.language.sayings import SAYINGS, SPOKEN
from catalogue.language.signs import COUNTS, OTHER_SIGNS, tidy
from catalogue.language.words import ARITHMETIC, first_words, is_word, language_words, words_of

LONGEST = 160
"""Characters of a line up to which it is repaired."""

MOST_TRIED = 100
"""Lines tried for one mistake: a tenth of a second at most, a fortieth where one is found."""

MOST_JOINED = 6
"""Pairs of words that may be one name, in one line."""

DEAREST = 6.0
"""Sum of the costs of the changes beyond which a line is no longer the one that was written."""

SMALL = ("to", "and", "from", "at", "of", "along", "by", "with", "on", "as", "about", "into", "over")
PUT_IN = (*SMALL[:5], "by", "into")
ARTICLES = ("the", "an")
FILLERS = re.compile(
    r"(?<![\w.])(?:the|please|straight|directly|exactly|simply|now|also|just|again|its|my|your|her)(?![\w.])"
)
DIRECTIONS = {"up", "down", "left", "right"}
SIGNS = {"COMMA": ",", "EQUAL": "=", "COLON": ":", "RPAR": ")", "LPAR": "("}

_QUOTED = re.compile(r"(?<![\d½¼¾⅛⅜⅝⅞⅓⅔])(?<![\d½¼¾⅛⅜⅝⅞⅓⅔] )(?:\"[^\"\n]*\"|“[^”\n]*”)")
_CHUNK = re.compile(
    r"(?=\b(?:from|to|toward|towards|along|at|by|about|down|up|left|right|on|over|into|as|turning|radius|with)\b)"
    r"|(?<=\bdown)\s|(?<=\bup)\s|(?<=\bleft)\s|(?<=\bright)\s|(?<=[a-zA-Z_.)])\s+(?=\d)|,"
)


_LIKE_NAMES = {
    "start", "length", "depth", "width", "middle", "centre", "center", "mid", "size", "seam", "fold", "ease", "intake",
    "dart", "notch", "mark", "grain", "button", "pleat", "square", "open", "end", "gather", "tuck", "circle", "radius",
    "a", "x", "corner", "part", "rest", "sheet", "page", "body", "edge", "point", "long", "short", "foot", "lower",
    "higher", "box", "mouth", "shape", "zip", "piece", "placement", "seams", "edges", "pleats", "gathers", "buttons",
    "hole", "cross",
}  # fmt: skip
"""Words of the language, and of what is said, that a drafter may well give as names."""

ALIKE = 0.75
"""Likeness (0 to 1) of a word to the one that it is a slip for."""


@cache
def _no_names(lark: Lark) -> frozenset[str]:
    """Words that stand for no name in a line put right, though the grammar would take them for some."""
    ways = [way for ways in words_of(lark).values() for way in ways if is_word(way)]
    own = {word for way in ways for word in way.split()}
    other = {
        *SMALL,
        *ARTICLES,
        *COUNTS,
        *DIRECTIONS,
        "all",
        "cms",
        "mms",
        "ins",
        "mm",
        "cm",
        "in",
        "inch",
        "inches",
        "ft",
        "that",
        "so",
        "while",
        "for",
        "repeat",
        "loop",
        "across",
        "joining",
        "the",
    }
    return frozenset((own | SPOKEN | other) - _LIKE_NAMES)


@cache
def _slips(word: str, known: frozenset[str]) -> tuple[str, ...]:
    """Words that it may be a slip for."""
    near = get_close_matches(word, sorted(known), 2, ALIKE) if len(word) > 2 else []
    return tuple(each for each in near if each != word and abs(len(each) - len(word)) <= 2)


_DENIED = re.compile(r"!=|<>|≠")
"""What says the opposite when it is left out or changed."""


_WHICH = re.compile(
    r",?\s*(?:at|on|in)?\s*(?:the)?\s*"
    r"(highest|lowest|leftmost|rightmost|first|last|topmost|uppermost|upper|top|bottom|lower|left|right)\b"
)
_SAME = {
    "highest": ("topmost", "uppermost", "upper", "top"),
    "lowest": ("bottom", "lower"),
    "leftmost": ("left",),
    "rightmost": ("right",),
}


def _meant_which(word: str) -> str:
    """Of several crossings the one that is meant, as the language says it."""
    return next((own for own, others in _SAME.items() if word in others), word)


class _Stop(NamedTuple):
    """Where a line is not understood: offset, what stands there ("" at the end), terminals that could."""

    at: int
    found: str
    expected: frozenset[str]


@lru_cache(maxsize=256)
def line_to_write(text: str, start: str, lark: Lark) -> str:
    """The line put right, in one row; "" when nothing tried parses. `start` is the rule to parse by."""
    return _Attempts(start, lark).repaired(text) if text.strip() and len(text) <= LONGEST else ""


class _Attempts:
    """The lines tried for one mistake."""

    def __init__(self, start: str, lark: Lark) -> None:
        self.start, self.lark = start, lark
        self.own = language_words(lark) | DIRECTIONS
        self.no_names = _no_names(lark)
        self.first = {way.split()[0] for way in first_words(lark)} if start == "statement" else set()
        self.quoted: list[str] = []
        self.left = MOST_TRIED
        self.known: dict[str, _Stop | None] = {}

    def repaired(self, text: str) -> str:
        if _DENIED.search(text):
            return ""
        masked = re.sub(_QUOTED, self._mask, text)
        masked = " ".join(" ".join(row.split("#")[0] for row in masked.split("\n")).split())
        order = count()
        queue = [(0.0, next(order), masked)]
        best = {masked: 0.0}
        while queue and self.left > 0:
            cost, _, line = heapq.heappop(queue)
            if cost > best.get(line, cost):
                continue
            stop = self._stop(line)
            if stop is None:
                return self._unmasked(line)
            for more, changed in self._changes(line, stop, cost):
                changed = tidy(changed)
                dearer = cost + more
                if dearer > DEAREST or dearer >= best.get(changed, DEAREST + 1):
                    continue
                best[changed] = dearer
                heapq.heappush(queue, (dearer, next(order), changed))
        return ""

    # --- what may be changed --------------------------------------------------------------------------------

    def _changes(self, line: str, stop: _Stop, cost: float) -> Iterator[tuple[float, str]]:
        yield from self._letters(line)
        words = frozenset(re.findall(r"[^\W\d_][\w.]*", line))
        for saying in SAYINGS:
            for changed in saying.ways(line, words, self.no_names):
                yield 1.5, changed
        yield from self._names(line, stop)
        yield from self._at_stop(line, stop)
        if cost < 2:
            for changed in self._reordered(line):
                yield 2.5, changed

    def _letters(self, line: str) -> Iterator[tuple[float, str]]:
        """Signs of other trades and capital letters."""
        for sign, better in OTHER_SIGNS:
            changed = sign.sub(better, line)
            if changed != line:
                yield 1.0, changed
        lowered = re.sub(
            NAME, lambda m: m[0].lower() if len(m[0]) > 1 and m[0].lower() in self.no_names else m[0], line
        )
        yield 1.0, FILLERS.sub(" ", line)
        if lowered != line:
            yield 1.0, lowered
        units = re.sub(r"(\d\s*)(CM|MM|IN|Cm|Mm|In|FT|Ft)\b", lambda m: m[1] + m[2].lower(), line)
        if units != line:
            yield 1.0, units
        for word in re.finditer(NAME, line):
            if word[0] not in self.no_names:
                for better in _slips(word[0].lower(), self.own):
                    yield 2.2, line[: word.start()] + better + line[word.end() :]

    def _names(self, line: str, stop: _Stop) -> Iterator[tuple[float, str]]:
        """Names of several words, with hyphens, without one, or on the wrong side of the sign."""
        if self.start == "statement":
            named = re.match(
                rf"(?:(?:let|set|put|make|define|var|name|call)\s+)?({NAME}(?:[\s.-]+\w+)*)\s*=(?!=)", line
            )
            if named and not re.match(r"(check|finished|find|when)\b", line):
                name = re.sub(r"[\s.-]+", "_", named[1])
                yield 1.2, f"{name} = {line[named.end() :]}"
            turned = re.fullmatch(rf"([^=]*[^=\w\s][^=]*|\d[^=]*)=\s*({NAME})\s*", line)
            if turned and not re.match(r"(check|finished|find|when|dart|piece)\b", line):
                yield 2.0, f"{turned[2]} = {turned[1]}"
            shape = re.fullmatch(rf"(curve|line|arc|circle|parallel)\s+({NAME})\s*[:=]?\s+(.*)", line)
            if shape and shape[2] not in self.own:
                yield 2.0, f"{shape[2]} = {shape[1]} {shape[3]}"
            title = re.fullmatch(r"piece\s+(\"q\d+\")(.*)", line)
            if title:
                words = re.sub(r"\W+", "_", self._unmasked(title[1])).strip("_").lower()
                yield 1.5, f"piece {words} {title[1]}{title[2]}"
        pair = re.compile(rf"(?<![\w.])({NAME})(?:\s+|\s*-\s*)({NAME})(?![\w.])")
        at = joined = 0
        while joined < MOST_JOINED and (found := pair.search(line, at)):
            at = found.start() + 1
            if found.start() == 0 and found[1] in self.first:
                continue
            if not {found[1], found[2]}.isdisjoint(self.no_names):
                continue
            if "." not in line[max(found.start() - 1, 0) : found.end() + 1]:
                joined += 1
                yield (
                    1.9 if line.startswith("piece") else 2.5,
                    f"{line[: found.start()]}{found[1]}_{found[2]}{line[found.end() :]}",
                )
                yield 2.6, f"{line[: found.start()]}{found[1]}.{found[2]}{line[found.end() :]}"

    def _at_stop(self, line: str, stop: _Stop) -> Iterator[tuple[float, str]]:
        """A word or sign put in, left out, or changed for another, where the line is not understood."""
        before, behind = line[: stop.at], line[stop.at :]
        rest = behind[len(stop.found) :]
        likely = self._likely(stop)
        if re.search(r"\b(crosses|on|meeting)\b", before) and (which := _WHICH.match(behind)):
            yield 0.7, f"{before.rstrip()}, {_meant_which(which[1])} {behind[which.end() :]}"
        for word in _slips(stop.found, frozenset(likely)) if stop.found not in ARTICLES else ():
            yield 1.4, f"{before} {word} {rest}"
        if stop.found in ARTICLES:
            yield 0.8, before + rest
        elif stop.found in (*SMALL, "in", "onto", "through", "for") or (
            re.fullmatch(r"\W", stop.found) and stop.found not in "()"
        ):
            yield 2.6, before + rest
            for word in likely:
                if word in SMALL and not (stop.found == "," and line.startswith("check")):
                    yield 1.8, f"{before} {word} {rest}"
        last = re.search(rf"(?:{NAME}|[^\w\s.])\s*$", before)
        if last and (last[0].strip() in SMALL + ARTICLES or last[0].strip() in ",:;="):
            yield 2.4, before[: last.start()] + " " + behind
            for word in SMALL:
                if last[0].strip() in SMALL and last[0].strip() != "as" and word != last[0].strip():
                    yield 2.6, f"{before[: last.start()]} {word} {behind}"
        for sign in SIGNS:
            # A comma there would make “from” the far end of a dart, not where its middle is measured from.
            from_middle = stop.found == "from" and re.search(r"\bmiddle at [^,]*$", before)
            if sign in stop.expected and not from_middle:
                changed = tidy(f"{before.rstrip()}{SIGNS[sign]} {behind}")
                further = sign == "COMMA" and stop.found and self._gets_further(changed, stop)
                yield (0.8 if further else 1.9), changed
        if stop.found == ")" and line.count(")") > line.count("("):
            yield 1.5, before + rest
        for word in (
            *(word for word in likely if word in PUT_IN),
            *(("is",) if "IS" in stop.expected else ()),
        ):
            yield (2.0 if word in SMALL[:5] else 1.7 if word == "is" else 2.8), f"{before} {word} {behind}"
        if (
            "TEXT" in stop.expected
            and re.match(r"\w", behind)
            and not re.match(r"check\b.*[^,\s]\s*$", before)
        ):
            words = re.split(r",|\bwhen\b", behind)[0].rstrip()
            self.quoted.append(f'"{words}"')
            yield 2.0, f'{before} "q{len(self.quoted) - 1}" {behind[len(words) :]}'

        for comma in re.finditer(rf",(?=\s*({NAME}))", line):
            if comma[1] in self.no_names:
                yield 2.5, line[: comma.start()] + " " + line[comma.end() :]

    def _likely(self, stop: _Stop) -> list[str]:
        """Words of the language that could stand where the line stops."""
        words = words_of(self.lark)
        wanted = stop.expected - ARITHMETIC - {"COMPARE", "IS", "NOT"}
        likely = {w for e in wanted for w in words.get(e, ()) if is_word(w)}
        return sorted(likely | (DIRECTIONS if "DIRECTION" in wanted else set()))

    def _reordered(self, line: str) -> Iterator[str]:
        """The line with its parts in another order, where that parses: those first that move least."""
        head = re.match(rf"{NAME}\s*=\s*|(?:check|close|cut|spread|fold out|shorten|lengthen)\s+", line)
        begin = head.end() if head else 0
        parts = [p.strip() for p in _CHUNK.split(line[begin:]) if p and p.strip()]
        if not 2 <= len(parts) <= 4:
            return
        ways = sorted(
            permutations(range(len(parts))), key=lambda way: sum(abs(i - w) for i, w in enumerate(way))
        )
        for way in ways[1:]:
            if self.left <= 0:
                return
            changed = tidy(line[:begin] + " ".join(parts[i] for i in way))
            if self._stop(changed) is None:
                yield changed
                return

    def _gets_further(self, line: str, stop: _Stop) -> bool:
        """Whether a line with a sign put in is understood beyond the word at which it was not."""
        after = self._stop(line)
        return after is None or after.at > stop.at + len(stop.found) + 2

    # --- whether it is right --------------------------------------------------------------------------------

    def _stop(self, line: str) -> _Stop | None:
        """Where it is not understood; None when it is."""
        if line not in self.known:
            self.left -= 1
            self.known[line] = self._tried(line)
        return self.known[line]

    def _tried(self, line: str) -> _Stop | None:
        try:
            tree = self.lark.parse(line, start=self.start)
        except UnexpectedToken as error:
            at_end = error.token.type == "$END"
            found = "" if at_end else str(error.token)
            if error.token.type == "WORDS":
                found = found.split()[0]
            at = len(line) if at_end or error.pos_in_stream is None else error.pos_in_stream
            return _Stop(at, found, frozenset(error.accepts or error.expected))
        except UnexpectedCharacters as error:
            at = error.pos_in_stream or 0
            whole = re.compile(rf"{NAME}|\S").match(line, at)
            return _Stop(at, whole[0] if whole else "", frozenset(error.allowed or ()))
        except UnexpectedInput:
            return _Stop(len(line), "", frozenset())
        return None if _is_plausible(tree, self.no_names) else _Stop(len(line), "", frozenset())

    # --- words in quotes are left alone ---------------------------------------------------------------------

    def _mask(self, found: re.Match[str]) -> str:
        self.quoted.append(found[0].strip())
        return f' "q{len(self.quoted) - 1}"'

    def _unmasked(self, line: str) -> str:
        return re.sub(r'"q(\d+)"', lambda found: self.quoted[int(found[1])], line)


_PLACES = {"start", "aim", "centre", "other_centre", "past", "end"}
_MOVES = {"move", "toward", "beyond", "along", "square_off", "touching", "sweeps", "parallel", "line_aimed"}


def _is_plausible(tree: Tree[Token], no_names: frozenset[str]) -> bool:
    """Whether no word of the language is taken for a name, no length for a point and no mere number for a length."""
    chosen = {id(t.children[-1]) for t in tree.find_pred(lambda t: t.data in ("is_word", "row_word"))}
    for token in tree.scan_values(lambda leaf: isinstance(leaf, Token)):
        if (
            id(token) not in chosen
            and token.type in ("NAME", "DOTTED")
            and not no_names.isdisjoint(token.split("."))
        ):
            return False
    for phrase in tree.iter_subtrees():
        for slot in named_parts().get(phrase.data, ()):
            if isinstance(slot.at, slice) or slot.name not in _PLACES | {"amount"}:
                continue
            part = phrase.children[slot.at]
            kind = part.data if isinstance(part, Tree) else ""
            if slot.name in _PLACES and kind in ("length", "number", "percent", "angle"):
                return False
            if slot.name == "amount" and phrase.data in _MOVES and kind in ("number", "percent"):
                return False
    return True
