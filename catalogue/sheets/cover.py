"""The first page: whose pattern it is, the squares to measure, the map of pages, what to cut, and what to mind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from catalogue.drawing.canvas import Canvas, LineKind
from catalogue.drawing.labels import cloth_words, count_words
from catalogue.drawing.piece_lines import drill_sign
from catalogue.geometry import Box, Path, Point, Transform
from catalogue.sheets.basis import Basis, basis_height, draw_basis
from catalogue.sheets.ink import PdfCanvas
from catalogue.sheets.marks import shortened
from catalogue.sheets.shapes import moved_box
from catalogue.sheets.shaping import width
from catalogue.sheets.squares import IMPERIAL, METRIC, Square, draw_square
from catalogue.sheets.tiles import OVERLAP, Tile, TileGrid
from catalogue.sheets.wrapping import wrap

if TYPE_CHECKING:
    from catalogue.drawing.linestyles import LineStyle
    from catalogue.pattern import Piece
    from catalogue.sheets.packing import Layout

PRINTING = (
    "Print every page at 100 % (“actual size”); switch off “fit to page” and any other scaling.",
    "Measure both squares, across and down, before you cut: the sides are exactly 100 mm and 4 in. If they are not, "
    "change the print settings and print again.",
)
ROLL = "At a copy shop, ask for a plot at 100 %, unscaled, on paper of the width stated on this sheet."
JOINING = (
    "Trim the left edge and the top edge of each page along the solid line, where there is one.",
    "Lay the trimmed edge on the dotted line of the page next to it, match the halves of the diamonds and their "
    "numbers, and tape.",
    "Check long straight lines across the joins with a ruler.",
)
CAUTIONS = (
    "Scissors, rotary cutters, pins and needles are sharp: cut away from yourself, close or cover the blade when you "
    "put it down, and count the pins back into the box.",
    "Irons and steam burn: test the heat on a scrap of the cloth, and switch off when you leave the table.",
    "Cut a first garment from cheap cloth: a cut in good cloth cannot be undone.",
)
FOR_CHILDREN = (
    "Children’s wear: no cords or drawstrings at hood or neck, and none hanging loose elsewhere; buttons, snaps and "
    "trimmings must withstand a firm pull, and clothes for the very young should have none; choose cloth that does "
    "not catch fire easily, above all for nightwear. The rules of your country come before this sheet.",
)
_NOTICE = 3.8
_MOST_NOTICE = 3
"""Lines of notices: with more, the squares would not fit below them."""
_CHILD = frozenset(("child", "children", "girl", "girls", "boy", "boys", "baby", "babies", "infant", "infants",
                    "toddler", "toddlers", "kids"))  # fmt: skip


@dataclass(frozen=True, slots=True)
class CoverText:
    """What the first page says.

    Attributes:
        facts: short lines under the title.
        basis: what it was drafted from.
        notices: what must be read before anything is cut, under the client's name.
        drill: what the key says of the drill holes of darts; "" where there are none.
        key: where several are nested on the sheet, each name with the line it is cut along.
    """

    studio: str
    title: str
    client: str
    facts: tuple[str, ...]
    for_child: bool = False
    key: tuple[tuple[str, LineStyle], ...] = ()
    drill: str = ""
    basis: Basis = ()
    notices: tuple[str, ...] = ()


class CoverPiece(NamedTuple):
    """A piece with its letter and the lines it is cut along: one, or one for each client or size."""

    piece: Piece
    letter: str
    outlines: tuple[Path, ...]


def is_for_child(kind: str, audience: Sequence[str]) -> bool:
    """Whether the client is a child, or the style is for children alone."""
    for_children = [word.strip().casefold() in _CHILD for word in audience]
    return kind.strip().casefold() in _CHILD or (bool(for_children) and all(for_children))


def draw_cover(
    canvas: Canvas,
    text: CoverText,
    parts: Sequence[CoverPiece],
    layout: Layout,
    grid: TileGrid,
    page: Box,
) -> None:
    """Draw the first page into the box `page`: squares at true scale on the left, map and cut list on the right.

    Args:
        layout, grid: of the sheet that the map shows; `parts` lie on it in the order of its moves.
        page: at least 180 x 240 mm.
    """
    y = _head(canvas, text, page)
    joined = len(layout.tiles) > 1 and not (grid.paper.is_large and not layout.splits)
    squares = _squares(canvas, Point(page.left, y), text, layout if joined else None, grid.paper.roll)
    column = Box(squares.right + 7, y, page.right, page.bottom)
    kinds = [] if text.key else _kinds_on(parts)
    list_height = _cut_list_height(len(parts), len(text.key) or -(-len(kinds) // 2))
    drill = wrap(text.drill, _KEY_SIZE, column.width - _SIGN_ROOM) if parts else []
    list_height += len(drill) * _ROW
    most = max(0.0, 0.55 * (column.height - list_height))
    list_height += basis_height(text.basis, column.width, most)
    map_box = Box(column.left, column.top, column.right, column.bottom - list_height - 6)
    low = _map(canvas, map_box, parts, layout, grid)
    low = _key(canvas, Point(column.left, low + 6), column.width, text.key)
    low = _kinds(canvas, Point(column.left, low), column.width, kinds)
    low = _drill(canvas, Point(column.left, low), drill)
    low = _cut_list(canvas, Point(column.left, low), column.width, parts)
    draw_basis(canvas, Point(column.left, low + 3), text.basis, column.width, most)


def _head(canvas: Canvas, text: CoverText, page: Box) -> float:
    """Title and facts; returns where the rest begins."""
    x, y, room = page.left, page.top, page.width
    if text.studio:
        canvas.text(Point(x, y + 3.4), shortened(text.studio, 3.4, room), 3.4, kind="quiet")
        y += 5.5
    size = 9.0
    while size > 5 and width(text.title, size, bold=True) > room:
        size -= 0.5
    canvas.open_group("title", kind="title")
    canvas.text(Point(x, y + 8.2), shortened(text.title, size, room, bold=True), size, kind="strong")
    canvas.close_group()
    canvas.open_group("facts", kind="facts")
    canvas.text(Point(x, y + 15.4), shortened(text.client, 5.6, room), 5.6)
    for line in _notice_lines(text.notices, room):
        canvas.text(Point(x, y + 21.2), line, _NOTICE, kind="strong")
        y += 1.35 * _NOTICE
    for line in _lines(text.facts, 3.3, room):
        canvas.text(Point(x, y + 20.6), shortened(line, 3.3, room), 3.3, kind="quiet")
        y += 4.6
    canvas.close_group()
    y += 19.4
    canvas.stroke(Path.polyline([Point(x, y), Point(page.right, y)]), LineKind.FRAME)
    return y + 4


def _notice_lines(notices: Sequence[str], room: float) -> list[str]:
    lines = [line for notice in notices for line in wrap(notice, _NOTICE, 0.94 * room)]
    if len(lines) > _MOST_NOTICE:
        lines[_MOST_NOTICE - 1 :] = [shortened(f"{lines[_MOST_NOTICE - 1]} …", _NOTICE, room, bold=True)]
    return lines


def _lines(facts: Sequence[str], size: float, room: float) -> list[str]:
    """Facts side by side, on as few lines as hold them."""
    lines: list[str] = []
    for fact in facts:
        longer = f"{lines[-1]} · {fact}" if lines else fact
        if lines and width(longer, size) <= room:
            lines[-1] = longer
        else:
            lines += wrap(fact, size, room)
    return lines


_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth")


def _laying_out(layout: Layout) -> str:
    """How pages are named, by one of this map: the last of the first row that has several, else of the last row."""
    rows = [row for _, row in layout.tiles]
    several = next((row for row in rows if rows.count(row) > 1), rows[-1])
    page = [tile for tile in layout.tiles if tile.row == several][-1]
    words = f"{page.label} is the {_ordinal(page.column)} place in the {_ordinal(page.row)} row."
    if len(layout.tiles) < layout.columns * layout.rows:
        words += " Blank pages are not printed: their place stays free."
    return f"Lay the pages out as on the map: {words}"


def _ordinal(index: int) -> str:
    """The place with this index from 0 in words."""
    if index < len(_ORDINALS):
        return _ORDINALS[index]
    number = index + 1
    ending = "th" if number % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"


def _squares(canvas: Canvas, at: Point, text: CoverText, joined: Layout | None, roll: bool) -> Box:
    """Both squares, one under the other, with the instructions (of pages to be joined too) and the cautions in them."""
    first = METRIC._replace(at=at)
    second = IMPERIAL._replace(at=Point(at[0], at[1] + first.side + 4))
    draw_square(canvas, first)
    draw_square(canvas, second)
    printing = (*PRINTING, ROLL) if roll else PRINTING
    steps: list[tuple[str, str, Sequence[str]]] = [("Print and measure", "instructions", printing)]
    if joined:
        steps.append(("Trim and tape", "instructions", (_laying_out(joined), *JOINING)))
    _written(canvas, first, steps, numbered=True)
    cautions = (*CAUTIONS, *(FOR_CHILDREN if text.for_child else ()))
    _written(canvas, second, [("Safety", "cautions", cautions)], numbered=False)
    return Box(at[0], at[1], at[0] + second.side, second.at[1] + second.side)


def _written(
    canvas: Canvas, square: Square, parts: Sequence[tuple[str, str, Sequence[str]]], *, numbered: bool
) -> None:
    """Headings and paragraphs inside a square, as large as fits, clear of its sides and of its size."""
    inset, indent, clear = 4.0, 5.0, 9.0
    room = square.side - inset - clear
    size, wrapped = _set(tuple(item for _, _, items in parts for item in items), len(parts), room, indent)
    lines_of = iter(wrapped)
    x, y = square.at[0] + inset, square.at[1] + inset
    for heading, kind, items in parts:
        canvas.open_group(heading, kind=kind)
        canvas.text(Point(x, y + 4), heading, 4.4, kind="strong")
        y += 8 + 0.5 * size
        for number, _ in enumerate(items, 1):
            if numbered:
                canvas.text(Point(x, y), f"{number}.", size)
            else:
                canvas.dot(Point(x + 1.2, y - 0.32 * size), 0.5)
            for line in next(lines_of):
                canvas.text(Point(x + indent, y), line, size)
                y += 1.32 * size
            y += 0.45 * size
        canvas.close_group()


@lru_cache(maxsize=64)
def _set(
    items: tuple[str, ...], headings: int, room: float, indent: float
) -> tuple[float, tuple[tuple[str, ...], ...]]:
    """Paragraphs in lines, and the largest size at which they fit a square of `room` mm with their headings."""
    size = 3.6
    while True:
        wrapped = tuple(tuple(wrap(item, size, room - indent)) for item in items)
        lines = sum(map(len, wrapped))
        high = lines * 1.32 * size + len(items) * 0.45 * size + headings * 8.0
        if high <= room or size <= 2.0:
            return size, wrapped
        size -= 0.1


def _map(
    canvas: Canvas,
    room: Box,
    parts: Sequence[CoverPiece],
    layout: Layout,
    grid: TileGrid,
) -> float:
    """The printed pages in little, each with its label, and the pieces on them; returns where the map ends."""
    canvas.open_group("map", kind="map", title="Map of the pages")
    count = len(layout.tiles)
    words = f"Map: {count} page{'s' if count != 1 else ''}"
    canvas.text(Point(room.left, room.top + 4), words, 4.4, kind="strong")
    room = Box(room.left, room.top + 8, room.right, room.bottom)
    if not layout.tiles:
        canvas.close_group()
        return room.top
    wide, tall = grid.extent(layout.columns, layout.rows)
    scale = min(room.width / wide, room.height / tall)
    shrink = Transform.scaling(scale).then(Transform.translation(Point(room.left, room.top)))
    printed = set(layout.tiles)
    for tile in layout.tiles:
        left, top, right, low = grid.window(tile)
        right -= OVERLAP if Tile(tile.column + 1, tile.row) in printed else 0.0
        low -= OVERLAP if Tile(tile.column, tile.row + 1) in printed else 0.0
        corners = [shrink.apply(p) for p in Box(left, top, right, low).corners]
        around = Path.polyline([*corners, corners[0]])
        canvas.fill(around, "light")
        canvas.stroke(around, LineKind.FRAME, closed=True)
    for part, move in zip(parts, layout.moves, strict=False):
        for outline in part.outlines:
            canvas.stroke(outline.transformed(move.then(shrink)), LineKind.GUIDE, closed=True)
    size = _label_size(layout.tiles, grid.step_x * scale, grid.step_y * scale)
    for tile in layout.tiles:
        a = shrink.apply(Point(tile.column * grid.step_x, tile.row * grid.step_y))
        canvas.text(a + Point(0.35 * size, 1.05 * size), tile.label, size)
    for part, move in zip(parts, layout.moves, strict=False):
        box = moved_box(part.outlines[0], move.then(shrink))
        large = min(5.5, max(2.6, 0.45 * min(box.width, box.height)))
        at = box.centre + Point(0, 0.36 * large)
        canvas.text(at, part.letter, large, anchor="middle", kind="strong")
    canvas.close_group()
    return room.top + tall * scale


def _label_size(tiles: Sequence[Tile], wide: float, tall: float) -> float:
    """Size of the labels on the map, in fields of `wide` by `tall` mm: 2.5 mm (7 pt) or more where they have room."""
    longest = max(width(tile.label, _READABLE) for tile in tiles)
    fits = longest + 0.7 * _READABLE <= wide and tall >= 1.3 * _READABLE
    return min(4.0, max(_READABLE if fits else 1.8, 0.11 * wide))


_READABLE = 2.5
_ROW = 4.9
_KEY_SIZE, _SIGN_ROOM = 3.0, 19.0


def _cut_list_height(count: int, names: int) -> float:
    return 8.0 + _row_height(count) * count + (_row_height(names) * names + 14.0 if names else 0.0)


def _key(canvas: Canvas, at: Point, room: float, key: Sequence[tuple[str, LineStyle]]) -> float:
    """Whose line is drawn how; returns where the next part begins."""
    if not key:
        return at[1]
    assert isinstance(canvas, PdfCanvas)  # only a sheet has lines of several styles for one kind
    canvas.open_group("key", kind="cut-list", title="Key to the lines")
    usual = canvas.styles
    x, y = at
    canvas.text(Point(x, y + 4), "Lines", 4.4, kind="strong")
    y += 8
    row = _row_height(len(key))
    size = min(3.3, 0.72 * row)
    for name, style in key:
        base = y + 0.7 * row
        sample = Path.polyline([Point(x + 1, y + 0.5 * row), Point(x + 32, y + 0.5 * row)])
        canvas.styles = {**usual, LineKind.CUT: style}
        canvas.stroke(sample, LineKind.CUT)
        canvas.text(Point(x + 36, base), shortened(name, size, room - 37), size)
        y += row
    canvas.styles = usual
    canvas.close_group()
    return y + 6


_MEANING = {
    LineKind.CUT: "cut",
    LineKind.SEAM: "seam, sewn",
    LineKind.FOLD: "fold of the cloth",
    LineKind.PLEAT: "fold of a pleat",
    LineKind.DART: "dart",
    LineKind.GRAIN: "grain",
}


def _kinds_on(parts: Sequence[CoverPiece]) -> list[LineKind]:
    """The kinds of line that some of the pieces have."""
    pieces = [part.piece for part in parts]
    seen = {
        LineKind.CUT: bool(pieces),
        LineKind.SEAM: any(e.allowance for p in pieces for e in p.edges),
        LineKind.FOLD: any(e.fold for p in pieces for e in p.edges)
        or any(line.kind == "fold" for p in pieces for line in p.lines),
        LineKind.PLEAT: any(line.kind == "pleat" for p in pieces for line in p.lines),
        LineKind.DART: any(p.darts for p in pieces),
        LineKind.GRAIN: any(p.grain for p in pieces),
    }
    return [kind for kind in _MEANING if seen[kind]]


def _kinds(canvas: Canvas, at: Point, room: float, kinds: Sequence[LineKind]) -> float:
    """What each kind of line means, in two columns; returns where the next part begins."""
    if not kinds:
        return at[1]
    canvas.open_group("lines", kind="cut-list", title="What the lines mean")
    x, y = at
    canvas.text(Point(x, y + 4), "Lines", 4.4, kind="strong")
    y += 8
    half = room / 2
    size = _KEY_SIZE
    for i, kind in enumerate(kinds):
        left, top = x + (i % 2) * half, y + i // 2 * _ROW
        sample = Path.polyline([Point(left + 1, top + 0.5 * _ROW), Point(left + 17, top + 0.5 * _ROW)])
        canvas.stroke(sample, kind)
        canvas.text(Point(left + 19, top + 0.7 * _ROW), shortened(_MEANING[kind], size, half - 20), size)
    canvas.close_group()
    return y + -(-len(kinds) // 2) * _ROW + 6


def _drill(canvas: Canvas, at: Point, lines: Sequence[str]) -> float:
    """What the sign of a drill hole means, right under the lines; returns where the next part begins."""
    if not lines:
        return at[1]
    canvas.open_group("drill hole", kind="cut-list", title="What the sign of a drill hole means")
    x, y = at[0], at[1] - 6
    drill_sign(canvas, Point(x + 9, y + 0.5 * _ROW))
    for n, words in enumerate(lines):
        canvas.text(Point(x + _SIGN_ROOM, y + (n + 0.7) * _ROW), words, _KEY_SIZE)
    canvas.close_group()
    return y + len(lines) * _ROW + 6


def _row_height(count: int) -> float:
    """Rows of the cut list close up when there are many pieces."""
    return _ROW if count <= 14 else max(2.6, 14 * _ROW / count)


def _cut_list(canvas: Canvas, at: Point, room: float, parts: Sequence[CoverPiece]) -> float:
    """The pieces with how each is cut; returns where the next part begins."""
    canvas.open_group("cut list", kind="cut-list", title="What to cut")
    x, y = at
    canvas.text(Point(x, y + 4), "Cut", 4.4, kind="strong")
    row = _row_height(len(parts))
    size = min(3.3, 0.72 * row)
    y += 8
    for piece, letter, _ in parts:
        canvas.stroke(Path.polyline([Point(x, y), Point(x + room, y)]), LineKind.FRAME)
        base = y + 0.7 * row
        canvas.text(Point(x + 1, base), letter, size, kind="strong")
        words = f"{count_words(piece.cut)}, {cloth_words(piece.cut.cloth)}"
        words = words.removeprefix("Cut ")
        tail = min(width(words, size), 0.62 * room)
        canvas.text(Point(x + 7, base), shortened(piece.title, size, room - tail - 9), size)
        canvas.text(Point(x + room, base), shortened(words, size, 0.62 * room), size, anchor="end")
        y += row
    canvas.close_group()
    return y
