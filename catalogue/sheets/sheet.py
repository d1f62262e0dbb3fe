"""A draft as a PDF: a first page, and the pieces at true scale on as many pages as they need."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from catalogue.days import day_words
from catalogue.drawing.arrange import moved_piece
from catalogue.drawing.bounds import Recorder
from catalogue.drawing.labels import (
    LabelLine,
    allowance_words,
    drill_key,
    drill_words,
    label_lines,
    letters_of,
)
from catalogue.drawing.lettering import isolated
from catalogue.drawing.paint import Join, paint_piece
from catalogue.drawing.piece_lines import Look
from catalogue.findings import Finding, Severity
from catalogue.geometry import Path, Transform
from catalogue.sheets.allowances import allowance_facts
from catalogue.sheets.assembly import LaidBefore, Sheet, SheetItem, assemble, lay_on_paper, paper_joins
from catalogue.sheets.basis import basis_of
from catalogue.sheets.cover import CoverPiece, CoverText, is_for_child
from catalogue.sheets.fonts import SCRIPTS
from catalogue.sheets.ink import PdfCanvas
from catalogue.sheets.outside import beside, seems_to_hold
from catalogue.sheets.packing import LARGEST, Layout, fits
from catalogue.sheets.paper import Paper
from catalogue.sheets.pdf import PdfFile
from catalogue.sheets.tiles import TileGrid

if TYPE_CHECKING:
    from catalogue.drafting.model import Draft
    from catalogue.pattern import Piece
    from catalogue.people import Client


@dataclass(frozen=True, slots=True)
class SheetSettings:
    """What the sheets say and how they are laid.

    Attributes:
        day: the date printed and written into the file; nothing else of the file depends on when it is made.
            None when nobody gave one: then none is printed.
        studio: the studio's name; may be empty.
        allowance: what is said about seam allowances, in words; "" says what the draft has.
        may_turn: lay pieces turned by quarter and half turns too (grain need not be followed on paper).
        effort: how long to go on looking for a better way of laying the pieces; 1 is enough as a rule.
        cut_lines: cutting line by piece name, in place of the draft's own.
        language: of the words in the file.
        grid: draw a faint grid of 5 cm over the sheet.
        warnings: sentences that stand on the first page.
    """

    day: date | None
    studio: str = ""
    allowance: str = ""
    may_turn: bool = True
    effort: int = 1
    cut_lines: Mapping[str, Path] = field(default_factory=dict)
    language: str = "en-GB"
    grid: bool = False
    warnings: tuple[str, ...] = ()


class SheetResult(NamedTuple):
    """The file and what is to be said about it.

    Attributes:
        data: the PDF.
        pages: how many, the first page included.
        tiles: labels of the pages with the pattern, in order ("1-1", "1-2", ...).
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
    lines = settings.cut_lines or draft.cut_lines
    letters = letters_of(list(draft.pieces.values()))
    pieces = [p for p in draft.pieces.values() if fits(lines.get(p.name, p.outline))]
    allowance = settings.allowance or allowance_facts(
        {letters[p.name]: [p] for p in pieces}, draft.client.units
    )
    day = day_words(settings.day, draft.client.units.dates) if settings.day else ""
    title, client = draft.style.title, client_words(draft.client)
    look = Look(drill=drill_words(draft.client.units))
    parts = []
    for piece in pieces:
        own = settings.allowance if any(e.allowance for e in piece.edges) else ""
        own = own or allowance_words([piece])
        label = label_lines(piece, letters[piece.name], title, client, day=day, allowance=own)
        parts.append(_PrintedPiece(piece, letters[piece.name], lines.get(piece.name), label, look))
    laid, sheet_of = _laid_whole(parts, paper, settings)
    grid, layout, panel = sheet_of.grid, sheet_of.layout, sheet_of.panel
    file = new_file(title, client, paper, settings)
    text = CoverText(
        settings.studio,
        title,
        client,
        facts(day, grid, layout, panel, allowance),
        is_for_child(draft.client.kind, draft.style.audience),
        drill=drill_key(pieces, draft.client.units),
        basis=basis_of(draft, settings.warnings, _days(draft)),
        notices=draft.client.notices,
    )
    words = " · ".join(w for w in (isolated(title), isolated(client), day) if w)
    count = assemble(file, laid, sheet_of, text, words, with_grid=settings.grid)
    findings = [*unwritten(file), *(too_large(p) for p in draft.pieces.values() if p not in pieces)]
    findings += strips(laid, paper, layout)
    if not draft.pieces:
        findings.append(
            Finding("no-pieces", f"“{title}” for {client} has no pieces, so there is nothing to print.")
        )
    tiles = tuple(t.label for t in layout.tiles)
    return SheetResult(file.getvalue(), count, tiles, tuple(findings), layout.lower_bound)


def _laid_whole(
    parts: Sequence[_PrintedPiece], paper: Paper, settings: SheetSettings
) -> tuple[list[SheetItem], Sheet]:
    """The pieces on a paper, each with its whole label: beside it, where there turns out to be no room on it."""
    before = LaidBefore()
    while True:
        laid = [part.item() for part in parts]
        sheet = lay_on_paper(laid, paper, may_turn=settings.may_turn, effort=settings.effort, before=before)
        joins = paper_joins(sheet.grid, sheet.layout)
        crowded = [
            part
            for part, move in zip(parts, sheet.layout.moves, strict=False)
            if not part.aside and not part.painted(move, joins).whole
        ]
        if not crowded:
            return laid, sheet
        for part in crowded:
            part.aside = True


class _Painted(NamedTuple):
    """A piece drawn somewhere, and whether its whole label stands on it."""

    drawing: Recorder
    whole: bool


class _PrintedPiece:
    """A piece with its label, drawn where it is laid.

    Attributes:
        aside: whether its label stands beside it.
    """

    def __init__(
        self, piece: Piece, letter: str, cut_line: Path | None, label: list[LabelLine], look: Look
    ) -> None:
        self._piece, self._letter, self._cut_line, self._label, self._look = (
            piece,
            letter,
            cut_line,
            label,
            look,
        )
        self.aside = not seems_to_hold(piece, cut_line, label)
        self._painted: tuple[object, _Painted] | None = None

    def item(self) -> SheetItem:
        """What is laid on the sheet."""
        outline = self._cut_line or self._piece.outline
        aside = beside(outline, self._label) if self.aside else None
        return SheetItem(CoverPiece(self._piece, self._letter, (outline,)), aside, self._draw)

    def painted(self, move: Transform, joins: Sequence[Join]) -> _Painted:
        """The piece where `move` takes it; drawn once, as long as nothing changes."""
        asked = self.aside, move, joins
        if self._painted is None or self._painted[0] != asked:
            # Where the whole label stands beside the piece, it has its letter.
            label = [LabelLine(self._letter, 8.0, "strong")] if self.aside else self._label
            line = self._cut_line.moved(move) if self._cut_line else None
            drawing = Recorder()
            whole = paint_piece(
                drawing,
                moved_piece(self._piece, move),
                label=label,
                cut_line=line,
                look=self._look,
                avoid=joins,
            )
            self._painted = asked, _Painted(drawing, whole)
        return self._painted[1]

    def _draw(self, canvas: PdfCanvas, move: Transform, joins: Sequence[Join]) -> None:
        self.painted(move, joins).drawing.replay(canvas)


def client_words(client: Client) -> str:
    """Whose the pieces are: the client, and the order where they are for one with other options."""
    return f"{client.name}, {client.for_order}" if client.for_order else client.name


def _days(draft: Draft) -> dict[object, str]:
    """The days on which measurements were taken, in words."""
    dates = {m.date for m in draft.client.measurements.values() if m.date is not None}
    return {day: day_words(day, draft.client.units.dates) for day in dates}


def new_file(title: str, client: str, paper: Paper, settings: SheetSettings) -> PdfFile:
    """An empty file that says what it will hold."""
    return PdfFile(
        title=f"{title}, {client}",
        subject=f"Sewing pattern at true scale on {paper.title}",
        author=settings.studio or "pattern-catalogue",
        day=settings.day,
        language=settings.language,
    )


def facts(day: str, grid: TileGrid, layout: Layout, panel: bool, allowance: str) -> tuple[str, ...]:
    """The short lines under the title of the first page."""
    pages = len(layout.tiles) + (not panel)
    paper = grid.paper
    lying = ", landscape" if paper.width > paper.height and not paper.roll else ""
    count = "1 page" if pages == 1 else f"{pages} pages including this one"
    if paper.roll:
        count = f"{paper.height / 10:.0f} cm long" if pages == 1 else count
    return tuple(w for w in (day, f"{paper.title}{lying}, {count}", allowance) if w)


def strips(laid: Sequence[SheetItem], paper: Paper, layout: Layout) -> list[Finding]:
    """What is to be said when a roll is too narrow for a piece whichever way it lies."""
    if not paper.roll or layout.columns < 2:
        return []
    room = paper.width - paper.margins.left - paper.margins.right
    found = []
    for each in laid:
        least = min(min(o.bounds().width, o.bounds().height) for o in each.part.outlines)
        if least > room:
            found.append(
                Finding(
                    "piece-wider-than-roll",
                    f"“{each.part.piece.title}” is {least / 10:.0f} cm wide and the {paper.title} prints "
                    f"{room / 10:.0f} cm: it is printed in strips to be joined.",
                    hint="On a wider roll it is one piece.",
                    severity=Severity.WARNING,
                )
            )
    return found


def unwritten(file: PdfFile) -> list[Finding]:
    """What could not be written as it should be."""
    return [_no_glyph(words, missing) for words, missing in file.fonts.missing.items()]


def too_large(piece: Piece) -> Finding:
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
        f"“{words}” cannot be printed in full: no font of the sheets has {signs}. “\ufffd” is printed instead.",
        hint=f"The fonts cover {SCRIPTS}.",
        severity=Severity.WARNING,
    )
