"""A draft as a PDF: a first page, and the pieces at true scale on as many pages as they need."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from catalogue.drawing.arrange import Placed
from catalogue.drawing.labels import allowance_words, label_lines, letters_of
from catalogue.drawing.lettering import isolated
from catalogue.drawing.paint import Join, paint_piece
from catalogue.findings import Finding, Severity
from catalogue.geometry import Box, Path, Point
from catalogue.sheets.cover import CoverText, Part, draw_cover, is_for_child
from catalogue.sheets.fonts import SCRIPTS
from catalogue.sheets.marks import DIAMOND, draw_frame, draw_numbers, number_joins, sides_of
from catalogue.sheets.packing import LARGEST, Layout, fits, pack
from catalogue.sheets.paper import Paper
from catalogue.sheets.pdf import PdfFile
from catalogue.sheets.shapes import CELL
from catalogue.sheets.squares import draw_square, squares_on_sheet
from catalogue.sheets.tiles import FOOTER, OVERLAP, TileGrid, tile_grid

if TYPE_CHECKING:
    from catalogue.drafting.model import Draft
    from catalogue.pattern import Piece

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip

_NO_DAY = date(2000, 1, 1)
"""A PDF has to bear a date; this stands in where there is none, so that equal drafts give equal bytes."""


def day_words(day: date) -> str:
    """A date as it is printed: "5 March 2026", the same on every machine."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


@dataclass(frozen=True, slots=True)
class SheetSettings:
    """What the sheets say and how they are laid.

    Attributes:
        day: the date printed and written into the file; nothing else of the file depends on when it is made.
            None when nobody gave one: then none is printed.
        studio: the studio's name; may be empty.
        allowance: what is said about seam allowances, in words; "" says what the draft has.
        may_turn: lay pieces turned by quarter and half turns too (grain need not be followed on paper).
        effort: how many ways of laying the pieces to try.
        cut_lines: cutting line by piece name, in place of the draft's own.
    """

    day: date | None
    studio: str = ""
    allowance: str = ""
    may_turn: bool = True
    effort: int = 1
    cut_lines: Mapping[str, Path] = field(default_factory=dict)
    language: str = "en-GB"


class SheetResult(NamedTuple):
    """The file and what is to be said about it.

    Attributes:
        data: the PDF.
        pages: how many, the first page included.
        tiles: labels of the pages with the pattern, in order ("A1", "B1", ...).
        lower_bound: no fewer pages could hold the pieces' area.
    """

    data: bytes
    pages: int
    tiles: tuple[str, ...]
    findings: tuple[Finding, ...]
    lower_bound: int


def sheet_pdf(draft: Draft, paper: Paper, settings: SheetSettings) -> SheetResult:
    """Print a draft on a paper.

    Raises ValueError when the paper is too small to print on at all.
    """
    grid = tile_grid(paper)
    lines = settings.cut_lines or draft.cut_lines
    letters = letters_of(list(draft.pieces.values()))
    pieces = [p for p in draft.pieces.values() if fits(lines.get(p.name, p.outline))]
    allowance = settings.allowance or allowance_words(pieces)
    layout = pack(
        [lines.get(p.name, p.outline) for p in pieces],
        grid,
        may_turn=settings.may_turn,
        effort=settings.effort,
    )
    if paper.roll and layout.tiles:
        grid = _cut_to_length(grid, layout)
    day = day_words(settings.day) if settings.day else ""
    title, client = draft.style.title, draft.client.name
    file = PdfFile(
        title=f"{title}, {client}",
        subject=f"Sewing pattern at true scale on {paper.title}",
        author=settings.studio or "pattern-catalogue",
        day=settings.day or _NO_DAY,
        language=settings.language,
    )
    sheet = file.canvas()
    joins_of_paper = _paper_joins(grid, layout)
    for piece, move in zip(pieces, layout.moves, strict=True):
        line = lines.get(piece.name)
        paint_piece(
            sheet,
            Placed(piece, move).moved(),
            label=label_lines(piece, letters[piece.name], title, client, day=day, allowance=allowance),
            cut_line=line.transformed(move) if line else None,
            avoid=joins_of_paper,
        )
    for square in squares_on_sheet(layout.taken, layout.tiles, grid):
        draw_square(sheet, square)
    wide, tall = grid.extent(layout.columns, layout.rows)
    if layout.tiles:
        file.add_form("sheet", sheet, wide, tall)
    count = len(layout.tiles) + 1
    text = CoverText(
        settings.studio,
        title,
        client,
        tuple(w for w in (day, f"{paper.title}, {count} pages with this one", allowance) if w),
        is_for_child(draft.client.kind, draft.style.audience),
    )
    cover = file.page()
    parts = [Part(p, letters[p.name], lines.get(p.name, p.outline)) for p in pieces]
    draw_cover(cover, text, parts, layout, grid)
    file.bookmark("First page", "cover")
    file.add_page(cover, grid.paper.width, grid.paper.height, "cover")
    _add_tiles(file, layout, grid, " · ".join(w for w in (isolated(title), isolated(client), day) if w))
    findings = [_no_glyph(words, missing) for words, missing in file.fonts.missing.items()]
    findings += [_too_large(p) for p in draft.pieces.values() if p not in pieces]
    if not draft.pieces:
        findings.append(
            Finding("no-pieces", f"“{title}” for {client} has no pieces, so there is nothing to print.")
        )
    return SheetResult(
        file.getvalue(), count, tuple(t.label for t in layout.tiles), tuple(findings), layout.lower_bound
    )


def _add_tiles(file: PdfFile, layout: Layout, grid: TileGrid, words: str) -> None:
    """A page for each tile: what it shares with others as forms, over it what is its own."""
    joins = number_joins(layout.tiles)
    sheet_height = grid.extent(layout.columns, layout.rows)[1]
    wide, tall = grid.paper.width, grid.paper.height
    whole, corner = Box(0.0, 0.0, wide, tall), Point(grid.window_left, grid.window_top)
    frames: set[str] = set()
    count = len(layout.tiles) + 1
    for number, tile in enumerate(layout.tiles, 2):
        sides = sides_of(tile, joins)
        frame = "frame" + "".join(str(int(side)) for side in sides)
        if frame not in frames:
            frames.add(frame)
            shared = file.canvas()
            draw_frame(shared, grid, sides, words)
            file.add_form(frame, shared, wide, tall)
        page = file.page()
        file.place(page, frame, tall, whole, Point(0.0, 0.0))
        draw_numbers(page, tile, grid, joins, f"page {number} of {count}")
        page.open_group("sheet", kind="sheet", title=f"Page {tile.label} of the pattern")
        file.place(page, "sheet", sheet_height, grid.window(tile), corner)  # last: nothing lies over it
        page.close_group()
        file.bookmark(tile.label, tile.label)
        file.add_page(page, wide, tall, tile.label)


def _cut_to_length(grid: TileGrid, layout: Layout) -> TileGrid:
    """A roll's page as long as the pattern."""
    used = len(layout.taken) * CELL
    m = grid.paper.margins
    paper = grid.paper._replace(height=m.top + used + FOOTER + m.bottom)
    return grid._replace(paper=paper, step_y=used - OVERLAP, window_top=m.top)


def _too_large(piece: Piece) -> Finding:
    box = piece.outline.bounds()
    return Finding(
        "piece-too-large",
        f"“{piece.title}” is {box.width / 1000:.1f} × {box.height / 1000:.1f} m and is left out of the sheets: "
        f"expected at most {LARGEST / 1000:g} m each way.",
    )


def _no_glyph(words: str, missing: str) -> Finding:
    signs = ", ".join(f"“{c}” (U+{ord(c):04X})" for c in missing)
    return Finding(
        "no-glyph",
        f"“{words}” cannot be printed in full: no font of the sheets has {signs}. “\ufffd” stands there instead.",
        hint=f"The fonts cover {SCRIPTS}.",
        severity=Severity.WARNING,
    )


def _paper_joins(grid: TileGrid, layout: Layout) -> list[Join]:
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
