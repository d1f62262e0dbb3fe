"""Small sketches in a style's prose: how a detail lies, for what words say badly.

A sketch is a fenced block that begins with the word `sketch` and its caption. Each row is a kind, a colon and points in
millimetres, x to the right and y down:

    ```sketch The vent from the wrong side
    wrong side: 0 0, 40 0, 40 50, 0 50
    stitch: 20 0, 20 30
    stitch curve: 20 30, 24 36, 30 38
    words: 4 10, left back
    ```
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

from catalogue.findings import did_you_mean
from catalogue.geometry import Knot, Path, Point, smooth
from catalogue.studio.body import fence_of

SKETCH = "sketch"

AREAS = ("right side", "wrong side", "lining")
LINES = ("edge", "hidden", "stitch", "fold", "cut", "arrow")
KINDS = (*AREAS, *LINES, "dots", "words")
Anchor = Literal["start", "middle", "end"]
ANCHORS: dict[str, Anchor] = {"": "start", "middle": "middle", "end": "end"}
"""How words may stand to their point, by the word after `words`."""

LARGEST = 160.0
"""mm to the right and down that a sketch may take."""
MOST_ROWS, MOST_POINTS = 80, 40
LONGEST_WORDS = 60


class Stroke(NamedTuple):
    """What one row draws: its kind, the path or the points, and its words."""

    kind: str
    path: Path | None
    points: tuple[Point, ...]
    words: str = ""
    anchor: Anchor = "start"


class Mistake(NamedTuple):
    """A row that is not understood: its number in the block from 0, the column from 1, what is wrong, what helps."""

    row: int
    column: int
    message: str
    hint: str = ""


class Sketch(NamedTuple):
    """A sketch as it was read; rows with mistakes are left out of `strokes`."""

    caption: str
    strokes: tuple[Stroke, ...]
    mistakes: tuple[Mistake, ...]


class _WrongRowError(Exception):
    def __init__(self, column: int, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.column, self.message, self.hint = column, message, hint


def caption_of(info: str) -> str | None:
    """The caption after the word `sketch` that opens a fenced block; None for a block of another kind."""
    word, _, caption = info.strip().partition(" ")
    return " ".join(caption.split()) if word == SKETCH else None


def read_sketch(caption: str, text: str) -> Sketch:
    """The sketch of a fenced block's rows."""
    strokes: list[Stroke] = []
    mistakes: list[Mistake] = []
    if not caption:
        mistakes.append(
            Mistake(
                -1, 1, "The sketch has no caption.", "Write it after the word: ```sketch The vent from inside"
            )
        )
    for number, row in enumerate(text.split("\n")):
        if not row.strip():
            continue
        if number >= MOST_ROWS:
            mistakes.append(Mistake(number, 1, f"A sketch has at most {MOST_ROWS} rows.", "Make two of it."))
            break
        try:
            strokes.append(_stroke(row))
        except _WrongRowError as wrong:
            mistakes.append(Mistake(number, wrong.column, wrong.message, wrong.hint))
    return Sketch(caption, tuple(strokes), tuple(mistakes))


def sketches_in(markdown: str) -> Iterator[tuple[int, int, Sketch]]:
    """Every sketch of a text, with the number of its opening row from 0 and the blanks before it."""
    opened, start, caption, indent = "", 0, None, 0
    rows: list[str] = []
    for number, row in enumerate(markdown.split("\n")):
        fence = fence_of(row.lstrip(" "))  # inside a list it is set in
        if opened:
            if fence.closes(opened):
                if caption is not None:
                    yield start, indent, read_sketch(caption, "\n".join(rows))
                opened = ""
            else:
                rows.append(row[indent:] if not row[:indent].strip() else row)
        elif fence.ticks:
            opened, start, rows = fence.ticks, number, []
            indent = len(row) - len(row.lstrip(" "))
            caption = caption_of(row.strip().lstrip(fence.ticks[0]))


def _stroke(row: str) -> Stroke:
    head, colon, rest = row.partition(":")
    kind, column = " ".join(head.split()), len(head) - len(head.lstrip()) + 1
    if not colon:
        raise _WrongRowError(
            column, "A row of a sketch is a kind, a colon and points.", "Write edge: 0 0, 40 0"
        )
    at = len(head) + 2
    if kind == "words" or kind.startswith("words "):
        return _words(kind, column, rest, at)
    plain = kind.removesuffix(" curve")
    if plain not in KINDS or (plain == "dots" and plain != kind):
        raise _WrongRowError(
            column,
            f"“{kind[:LONGEST_WORDS]}” is no kind of line in a sketch.",
            did_you_mean(plain[:LONGEST_WORDS], KINDS) or f"Known: {', '.join(KINDS)}.",
        )
    points = tuple(_points(rest, at))
    least = 3 if plain in AREAS else 1 if plain == "dots" else 2
    if len(dict.fromkeys(points)) < least:
        raise _WrongRowError(
            at, f"“{plain}” needs at least {least} different points.", "Part them with commas: 0 0, 40 0"
        )
    if plain == "dots":
        return Stroke(plain, None, points)
    closed = plain in AREAS
    if kind != plain:
        return Stroke(plain, smooth([Knot(p) for p in points], closed=closed), points)
    return Stroke(plain, Path.polyline((*points, points[0]) if closed else points), points)


def _words(kind: str, column: int, rest: str, at: int) -> Stroke:
    anchor = ANCHORS.get(kind.removeprefix("words").strip())
    if anchor is None:
        raise _WrongRowError(
            column, f"“{kind[:LONGEST_WORDS]}” is not understood.", "Write words, words middle or words end."
        )
    place, comma, words = rest.partition(",")
    words = " ".join(words.split())
    if not comma or not words:
        raise _WrongRowError(at, "Words need a point, a comma and a text.", "Write words: 4 10, left back")
    if len(words) > LONGEST_WORDS:
        raise _WrongRowError(at, f"Words in a sketch have at most {LONGEST_WORDS} letters.")
    return Stroke("words", None, tuple(_points(place, at)), words, anchor)


def _points(text: str, at: int) -> Iterator[Point]:
    parts = text.split(",")
    if len(parts) > MOST_POINTS:
        raise _WrongRowError(at, f"A line of a sketch has at most {MOST_POINTS} points.")
    for part in parts:
        numbers = part.split()
        try:
            x, y = map(float, numbers)
        except ValueError:
            raise _WrongRowError(
                at + len(part) - len(part.lstrip()),
                f"“{part.strip()[:LONGEST_WORDS]}” is no point: two numbers in mm are expected.",
                "Write 40 0 for 40 mm to the right of the corner.",
            ) from None
        if not (0 <= x <= LARGEST and 0 <= y <= LARGEST):
            raise _WrongRowError(at, f"Points of a sketch lie between 0 and {LARGEST:.0f} mm.")
        yield Point(x, y)
        at += len(part) + 1
