"""From pieces with a way to draw each to the finished file: layout, sheet, first page, pages."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

from catalogue.drawing.canvas import LineKind
from catalogue.drawing.linestyles import LineStyle
from catalogue.drawing.paint import Join
from catalogue.geometry import Box, Path, Point, Transform
from catalogue.sheets.cover import CoverPiece, CoverText, draw_cover
from catalogue.sheets.ink import CUT, GRID, LABELS, MARKS, SEAM, PdfCanvas
from catalogue.sheets.label_overflow import PlacedLabel, lay_labels
from catalogue.sheets.marks import DIAMOND, draw_frame, draw_numbers, number_joins, sides_of
from catalogue.sheets.outside import Aside
from catalogue.sheets.packing import Item, Known, Layout, pack, pack_again, pack_on
from catalogue.sheets.paper import Paper, desk_paper
from catalogue.sheets.pdf import PdfFile
from catalogue.sheets.shapes import CELL, moved_box
from catalogue.sheets.squares import Square, draw_square, squares_on_sheet
from catalogue.sheets.tiles import FOOTER, OVERLAP, Tile, TileGrid, tile_grid

_PANEL = (196.0, 262.0)  # mm: what a first page takes when it is printed beside the pieces
_GRID_STEP = 50.0
_FAINT = LineStyle(0.13, (), 0.75)
_LAYER_TITLES = {
    CUT: "Cutting lines and folds",
    SEAM: "Seam lines",
    MARKS: "Marks",
    LABELS: "Labels",
    GRID: "Grid of 5 cm",
}


class SheetItem(NamedTuple):
    """What is laid on the sheet as one.

    Attributes:
        aside: the label, where it has no room on the piece.
        draw: draws it on a canvas where a movement takes it, its words off the joins of the paper.
    """

    part: CoverPiece
    aside: Aside | None
    draw: Callable[[PdfCanvas, Transform, Sequence[Join]], None]

    def item(self, *, with_label: bool) -> Item:
        """What is laid as one: the piece, with or without the label beside it."""
        return (*self.part.outlines, self.aside.outline) if self.aside and with_label else self.part.outlines


class Sheet(NamedTuple):
    """Where everything lies.

    Attributes:
        panel: whether the first page lies on it as the last item.
        labels: labels that do not move with their pieces, by their piece's number, as they stand on the sheet.
        squares: to be measured.
    """

    grid: TileGrid
    layout: Layout
    panel: bool
    labels: Mapping[int, PlacedLabel]
    squares: Sequence[Square]


class LaidBefore:
    """What is known of pieces that were laid on a paper before: their shapes, and the sheet without any labels."""

    def __init__(self) -> None:
        self.shapes: Known = {}
        self.bare: tuple[TileGrid, Layout, bool] | None = None


def lay_on_paper(
    laid: Sequence[SheetItem],
    paper: Paper,
    *,
    may_turn: bool = True,
    effort: int = 1,
    before: LaidBefore | None = None,
) -> Sheet:
    """Lay pieces on a paper, and labels that have no room on them in free room near them.

    A label that finds none is laid as part of its piece. `before` is given again where the same pieces are laid
    another time with other labels. Raises ValueError when the paper is too small to print on.
    """
    bound: set[int] = set()
    before = before or LaidBefore()
    known = before.shapes
    if before.bare is None:
        items = [each.item(with_label=False) for each in laid]
        before.bare = _lay(items, paper, may_turn, effort, known)
    grid, layout, panel = before.bare
    while True:
        asides = [None if i in bound else each.aside for i, each in enumerate(laid)]
        cut = _cut_to_length(grid, layout)
        squares = (
            [] if panel else squares_on_sheet(layout.taken, layout.tiles, cut)
        )  # the panel brings its own
        placed = lay_labels(asides, layout, cut, [square.box for square in squares])
        without = {
            i for i, (aside, label) in enumerate(zip(asides, placed, strict=False)) if aside and not label
        }
        if not without:
            break
        bound |= without
        items = [each.item(with_label=i in bound) for i, each in enumerate(laid)]
        again = None if panel else pack_again(items, grid, layout, may_turn=may_turn, known=known)
        if again:
            layout = again
        else:
            grid, layout, panel = _lay(items, paper, may_turn, effort, known)
    return Sheet(cut, layout, panel, {i: label for i, label in enumerate(placed) if label}, squares)


def _lay(
    items: Sequence[Item], paper: Paper, may_turn: bool, effort: int, known: Known
) -> tuple[TileGrid, Layout, bool]:
    """The items on the paper, and with them the first page if all have room on one large sheet."""
    grid, layout = pack_on(items, _grids(paper), may_turn=may_turn, effort=effort, known=known)
    if not (paper.is_large and len(layout.tiles) == 1):
        return grid, layout, False
    wide, tall = _PANEL
    corners = Box(0.0, 0.0, wide, tall).corners
    rectangle = Path.polyline([*corners, corners[0]])
    for tried in dict.fromkeys((grid, *_grids(paper))):
        if tried.window_width < wide + OVERLAP or tried.window_height < tall + OVERLAP:
            continue
        with_it = pack([*items, rectangle], tried, may_turn=may_turn, effort=effort, upright=(len(items),))
        if len(with_it.tiles) == 1:
            return tried, with_it, True
    return grid, layout, False


def _grids(paper: Paper) -> list[TileGrid]:
    """The paper upright and on its side, as far as it can be printed on."""
    found: list[TileGrid] = []
    trouble: ValueError | None = None
    for way in (paper,) if paper.roll else (paper, paper.landscape()):
        try:
            found.append(tile_grid(way))
        except ValueError as error:
            trouble = trouble or error
    if trouble and not found:
        raise trouble
    return found


def _cut_to_length(grid: TileGrid, layout: Layout) -> TileGrid:
    """A roll's page no longer than the pattern; other papers as they are."""
    used = len(layout.taken) * CELL
    if layout.rows != 1 or not grid.paper.roll:
        return grid
    m = grid.paper.margins
    paper = grid.paper._replace(height=m.top + used + FOOTER + m.bottom)
    return grid._replace(paper=paper, step_y=used - OVERLAP, window_top=m.top)


def assemble(
    file: PdfFile,
    laid: Sequence[SheetItem],
    sheet: Sheet,
    text: CoverText,
    words: str,
    *,
    with_grid: bool = False,
) -> int:
    """Draw everything into the file; returns the number of pages.

    Args:
        sheet: as `lay_on_paper` gives it.
        words: whose pattern it is, for the foot of every page.
        with_grid: draw a faint grid over the sheet.
    """
    grid, layout, panel = sheet.grid, sheet.layout, sheet.panel
    parts = [each.part for each in laid]
    count = len(layout.tiles) + (0 if panel else 1)
    if not panel:
        first = desk_paper(grid.paper) if grid.paper.is_large else _upright(grid.paper)
        cover = file.page()
        draw_cover(cover, text, parts, layout, grid, printable_part(first))
        file.add_page(cover, first.width, first.height, "cover")
        file.bookmark("First page", 0)
    if layout.tiles:
        _add_sheet(file, laid, sheet, with_grid)
    frames = _Frames(file, layout, grid, words)
    start = 0 if panel else 1
    for i, tile in enumerate(layout.tiles):
        page = file.page()
        if panel:
            corner = grid.on_page(tile, layout.moves[-1].apply(Point(0.0, 0.0)))
            box = Box(corner.x, corner.y, corner.x + _PANEL[0], corner.y + _PANEL[1])
            draw_cover(page, text, parts, layout, grid, box)
        frames.draw(page, tile, f"page {start + i + 1} of {count}")
        file.add_page(page, grid.paper.width, grid.paper.height, tile.label)
    windows = [grid.window(tile) for tile in layout.tiles]
    for i, (part, move) in enumerate(zip(parts, layout.moves, strict=False)):
        if not i:
            file.bookmark("Pieces", start)
        box = _union([moved_box(o, move) for o in part.outlines])
        index, shown = _where(box, windows, layout, grid)
        file.bookmark(f"{part.letter} {part.piece.title}", start + index, level=1, shown=shown)
    if len(layout.tiles) > 1:
        file.bookmark("Pages", start)
        for i, tile in enumerate(layout.tiles):
            file.bookmark(tile.label, start + i, level=1)
    return count


def _upright(paper: Paper) -> Paper:
    return paper.landscape() if paper.width > paper.height else paper


def printable_part(paper: Paper) -> Box:
    """The part of a first page that is drawn on: as wide as a page's window, or what margins leave."""
    try:
        grid = tile_grid(paper)
        box = Box(grid.window_left, grid.window_top, 0.0, 0.0)
        return Box(box.left, box.top, box.left + grid.window_width, box.top + grid.window_height)
    except ValueError:
        m = paper.margins
        return Box(m.left, m.top, paper.width - m.right, paper.height - m.bottom)


def layers(file: PdfFile, *, seams: bool, with_grid: bool) -> dict[str, str]:
    """Register the layers of a sheet; returns the name of each by the part of the drawing."""
    wanted = [CUT, *([SEAM] if seams else []), MARKS, LABELS, *([GRID] if with_grid else [])]
    return {part: file.layer(_LAYER_TITLES[part]) for part in wanted}


def _add_sheet(file: PdfFile, laid: Sequence[SheetItem], lies: Sheet, with_grid: bool) -> None:
    """The sheet as a form that every page shows a part of."""
    grid, layout, labels = lies.grid, lies.layout, lies.labels
    sheet = file.canvas(layers(file, seams=True, with_grid=with_grid))
    wide, tall = grid.extent(layout.columns, layout.rows)
    if with_grid:
        _draw_grid(sheet, wide, tall)
    joins = paper_joins(grid, layout)
    for i, (each, move) in enumerate(zip(laid, layout.moves, strict=False)):
        each.draw(sheet, move, joins)
        if i in labels:
            label, there = labels[i]
            label.draw(sheet, there)
        elif each.aside:
            each.aside.draw(sheet, move)
    for square in lies.squares:
        draw_square(sheet, square)
    file.add_form("sheet", sheet, wide, tall)


def _draw_grid(sheet: PdfCanvas, wide: float, tall: float) -> None:
    sheet.open_group("grid", kind="grid")
    usual = sheet.styles
    sheet.styles = {**usual, LineKind.FRAME: _FAINT}
    for i in range(1, int(wide / _GRID_STEP) + 1):
        x = i * _GRID_STEP
        sheet.stroke(Path.polyline([Point(x, 0.0), Point(x, tall)]), LineKind.FRAME)
    for i in range(1, int(tall / _GRID_STEP) + 1):
        y = i * _GRID_STEP
        sheet.stroke(Path.polyline([Point(0.0, y), Point(wide, y)]), LineKind.FRAME)
    sheet.styles = usual
    sheet.close_group()


class _Frames:
    """What each page shows: its frame and the sheet, which it shares with others, and what is its own."""

    def __init__(self, file: PdfFile, layout: Layout, grid: TileGrid, words: str) -> None:
        self._file, self._grid, self._words = file, grid, words
        self._apart = stands_apart(grid, layout)
        self._joins = number_joins(() if self._apart else layout.tiles)
        self._sheet_height = grid.extent(layout.columns, layout.rows)[1]
        self._known: set[str] = set()

    def draw(self, page: PdfCanvas, tile: Tile, number: str) -> None:
        file, grid = self._file, self._grid
        wide, tall = grid.paper.width, grid.paper.height
        sides = sides_of(tile, self._joins)
        frame = "frame" + "".join(str(int(side)) for side in sides)
        if frame not in self._known:
            self._known.add(frame)
            shared = file.canvas()
            draw_frame(shared, grid, sides, self._words)
            file.add_form(frame, shared, wide, tall)
        file.place(page, frame, tall, Box(0.0, 0.0, wide, tall), Point(0.0, 0.0))
        draw_numbers(page, tile, grid, self._joins, number)
        page.open_group("sheet", kind="sheet", title=f"Page {tile.label} of the pattern")
        shown = grid.own(tile) if self._apart else grid.window(tile)
        corner = grid.on_page(tile, Point(shown.left, shown.top))
        file.place(page, "sheet", self._sheet_height, shown, corner)  # last: nothing lies over it
        page.close_group()


def stands_apart(grid: TileGrid, layout: Layout) -> bool:
    """Whether every large sheet holds whole pieces, so that none is joined to another."""
    return grid.paper.is_large and not layout.splits


def _union(boxes: Sequence[Box]) -> Box:
    whole = boxes[0]
    for box in boxes[1:]:
        whole = whole.union(box)
    return whole


def _where(box: Box, windows: Sequence[Box], layout: Layout, grid: TileGrid) -> tuple[int, Box]:
    """The page that shows most of a box of the sheet, by its place among the pages, and the box on it.

    `windows` are the parts of the sheet that the pages show.
    """
    left, top, right, low = box
    most, index = -1.0, 0
    for i, window in enumerate(windows):
        wide = min(window[2], right) - max(window[0], left)
        tall = min(window[3], low) - max(window[1], top)
        area = wide * tall if wide > 0.0 and tall > 0.0 else 0.0
        if area > most:
            most, index = area, i
    tile, (x0, y0, x1, y1) = layout.tiles[index], windows[index]
    shown = Box(max(x0, left), max(y0, top), min(x1, right), min(y1, low))
    corner, other = (
        grid.on_page(tile, Point(shown.left, shown.top)),
        grid.on_page(tile, Point(shown.right, shown.bottom)),
    )
    return index, Box(corner.x, corner.y, other.x, other.y)


def paper_joins(grid: TileGrid, layout: Layout) -> list[Join]:
    """The strips where pages overlap and joins are marked, as lines right through the sheet."""
    wide, tall = grid.extent(layout.columns, layout.rows)
    first, last = -DIAMOND, OVERLAP  # from where the diamonds begin to where the overlap ends
    middle, half = (first + last) / 2, (last - first) / 2
    across = [c * grid.step_x + middle for c in range(1, layout.columns)]
    down = [r * grid.step_y + middle for r in range(1, layout.rows)]
    return [
        *((Point(x, 0.0), Point(x, tall), half) for x in across),
        *((Point(0.0, y), Point(wide, y), half) for y in down),
    ]
