"""Which way each part of a line of text runs: the Unicode Bidirectional Algorithm (UAX #9), implicit rules.

Of the explicit characters only the first-strong isolate (U+2068 ... U+2069) is honoured, which keeps a name from
mixing with the words around it; embeddings and overrides are passed over.
"""

from __future__ import annotations

import unicodedata
from typing import NamedTuple

ISOLATES = "\u2068\u2069"
_STRONG = {"L": "L", "R": "R", "AL": "R"}
_NEUTRAL = frozenset(("B", "S", "WS", "ON"))
_BRACKETS = dict(zip("([{⟨⟦", ")]}⟩⟧", strict=True))


class TextRun(NamedTuple):
    """Characters `start` to `end` of the text, all running one way."""

    start: int
    end: int
    rtl: bool


def base_level(text: str) -> int:
    """0 when the line runs left to right, 1 when its first strong character runs right to left (P2, P3)."""
    depth = 0
    for character in text:
        if character in ISOLATES:
            depth = max(0, depth + (1 if character == ISOLATES[0] else -1))
        strong = _STRONG.get(unicodedata.bidirectional(character))
        if strong and not depth:
            return int(strong == "R")
    return 0


def levels(text: str) -> list[int]:
    """The embedding level of every character."""
    base = base_level(text)
    kinds = [unicodedata.bidirectional(c) or "L" for c in text]
    if not base and not any(k in ("R", "AL", "AN") for k in kinds):
        return [0] * len(text)
    edge = "R" if base else "L"
    _weak(kinds, edge)
    _pairs(text, kinds, edge)
    _neutral(kinds, edge)
    found = []
    for kind in kinds:
        if base:
            found.append(1 if kind == "R" else 2)
        else:
            found.append({"L": 0, "R": 1}.get(kind, 2))
    for i in range(len(text) - 1, -1, -1):  # L1: trailing blanks follow the line
        if unicodedata.bidirectional(text[i]) not in ("WS", "S", "B", "BN"):
            break
        found[i] = base
    return found


def visual_runs(text: str) -> list[TextRun]:
    """The runs of one direction in the order they stand on paper, left to right.

    What an isolate encloses is laid out by itself and stands where a single sign would.
    """
    inside = _isolated(text)
    outer = list(text)
    for start, end in inside:
        outer[start:end] = [_STAND_IN] * (end - start)
    found: list[TextRun] = []
    for run in _reordered("".join(outer)):
        within = [(s, e) for s, e in inside if run.start <= s and e <= run.end]
        parts: list[TextRun] = []
        at = run.start
        for start, end in within:
            parts.append(TextRun(at, start, run.rtl))
            parts.append(TextRun(start, end, False))
            at = end
        parts.append(TextRun(at, run.end, run.rtl))
        for part in reversed(parts) if run.rtl else parts:
            if (part.start, part.end) in within:
                shift = part.start
                inner = visual_runs(text[part.start : part.end])
                found += [TextRun(r.start + shift, r.end + shift, r.rtl) for r in inner]
            elif part.end > part.start:
                found.append(part)
    return found


# A private sign that is neutral like the object replacement character: it takes the direction around it.
_STAND_IN = "\ufffc"


def _isolated(text: str) -> list[tuple[int, int]]:
    """Start and end of what each outermost isolate encloses; one that is never closed reaches to the end."""
    found = []
    depth, start = 0, 0
    for i, character in enumerate(text):
        if character == ISOLATES[0]:
            depth += 1
            if depth == 1:
                start = i + 1
        elif character == ISOLATES[1] and depth:
            depth -= 1
            if not depth:
                found.append((start, i))
    if depth:
        found.append((start, len(text)))
    return [(s, e) for s, e in found if e > s]


def _reordered(text: str) -> list[TextRun]:
    """Runs of one direction in visual order (L2)."""
    given = levels(text)
    runs: list[tuple[TextRun, int]] = []
    start = 0
    for i in range(1, len(text) + 1):
        if i == len(text) or given[i] != given[start]:
            runs.append((TextRun(start, i, given[start] % 2 == 1), given[start]))
            start = i
    highest = max((level for _, level in runs), default=0)
    for level in range(highest, 0, -1):
        i = 0
        while i < len(runs):
            j = i
            while j < len(runs) and runs[j][1] >= level:
                j += 1
            if j > i:
                runs[i:j] = runs[i:j][::-1]
            i = max(j, i + 1)
    return [run for run, _ in runs]


def _weak(kinds: list[str], edge: str) -> None:
    """Rules W1 to W7, in place."""
    before = edge
    strong = edge
    for i, kind in enumerate(kinds):
        if kind in ("FSI", "PDI"):
            kind = "ON"
        if kind in ("NSM", "BN") or kind.startswith(("LR", "RL", "PD")):
            kind = before
        if kind in _STRONG:
            strong = kind
        elif kind == "EN" and strong == "AL":
            kind = "AN"
        kinds[i] = before = kind
    for i, kind in enumerate(kinds):
        if kind == "AL":
            kinds[i] = "R"
        elif kind in ("ES", "CS") and 0 < i < len(kinds) - 1:
            left, right = kinds[i - 1], kinds[i + 1]
            if left == right and (left == "EN" or (left == "AN" and kind == "CS")):
                kinds[i] = left
    i = 0
    while i < len(kinds):
        if kinds[i] != "ET":
            i += 1
            continue
        j = i
        while j < len(kinds) and kinds[j] == "ET":
            j += 1
        if (i and kinds[i - 1] == "EN") or (j < len(kinds) and kinds[j] == "EN"):
            kinds[i:j] = ["EN"] * (j - i)
        i = j
    strong = edge
    for i, kind in enumerate(kinds):
        if kind in ("L", "R"):
            strong = kind
        elif kind == "EN" and strong == "L":
            kinds[i] = "L"
        elif kind in ("ES", "ET", "CS"):
            kinds[i] = "ON"


def _as_strong(kind: str) -> str:
    return "R" if kind in ("R", "EN", "AN") else kind if kind == "L" else ""


def _pairs(text: str, kinds: list[str], edge: str) -> None:
    """Rule N0: a pair of brackets goes with what it encloses."""
    stack: list[tuple[str, int]] = []
    pairs = []
    for i, character in enumerate(text):
        if character in _BRACKETS and kinds[i] == "ON":
            stack.append((_BRACKETS[character], i))
        else:
            for depth in range(len(stack) - 1, -1, -1):
                if stack[depth][0] == character and kinds[i] == "ON":
                    pairs.append((stack[depth][1], i))
                    del stack[depth:]
                    break
    for start, end in sorted(pairs):
        inside = {_as_strong(k) for k in kinds[start + 1 : end]} - {""}
        if edge in inside:
            kinds[start] = kinds[end] = edge
        elif inside:
            before = next((s for k in reversed(kinds[:start]) if (s := _as_strong(k))), edge)
            kinds[start] = kinds[end] = before


def _neutral(kinds: list[str], edge: str) -> None:
    """Rules N1 and N2: neutrals between two of a kind go with them, others with the line."""
    i = 0
    while i < len(kinds):
        if kinds[i] not in _NEUTRAL:
            i += 1
            continue
        j = i
        while j < len(kinds) and kinds[j] in _NEUTRAL:
            j += 1
        left = _as_strong(kinds[i - 1]) if i else edge
        right = _as_strong(kinds[j]) if j < len(kinds) else edge
        kinds[i:j] = [left if left == right else edge] * (j - i)
        i = j
