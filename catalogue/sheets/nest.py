"""One style for several clients, or in several sizes, nested: like pieces on one another, each in a line of its own.

What tells them apart is the kind of line, never colour; a key on the first page says whose is whose, and each has a
layer of its own that viewers can hide.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from catalogue.days import day_words
from catalogue.drawing.arrange import moved_piece
from catalogue.drawing.canvas import LineKind
from catalogue.drawing.labels import LabelLine, allowance_words, cut_words, drill_key, letters_of
from catalogue.drawing.lettering import isolated
from catalogue.drawing.linestyles import NARROW, OWN_LINES, STYLES, WIDE, LineStyle
from catalogue.drawing.paint import Join, paint_piece
from catalogue.drawing.piece_lines import Look
from catalogue.drawing.room import Block, Room, place_label
from catalogue.findings import Finding
from catalogue.geometry import Box, Path, Point, Transform, signed_area
from catalogue.pattern import Piece
from catalogue.sheets.allowances import allowance_facts
from catalogue.sheets.assembly import SheetItem, assemble, lay_on_paper
from catalogue.sheets.cover import CoverPiece, CoverText, is_for_child
from catalogue.sheets.ink import PdfCanvas
from catalogue.sheets.nest_labels import NestedPiece, names_on
from catalogue.sheets.outside import Aside, beside
from catalogue.sheets.packing import fits
from catalogue.sheets.paper import Paper
from catalogue.sheets.recording_canvas import RecordingCanvas, WordlessCanvas
from catalogue.sheets.sheet import (
    SheetResult,
    SheetSettings,
    facts,
    new_file,
    strips,
    too_large,
    unwritten,
)
from catalogue.sheets.wrapping import wrap

if TYPE_CHECKING:
    from catalogue.drafting.model import Draft


class _Member(NamedTuple):
    """One client's piece, moved so that it lies on those of the others."""

    owner: int
    piece: Piece
    cut_line: Path | None

    @property
    def outline(self) -> Path:
        return self.cut_line or self.piece.outline

    def moved(self, move: Transform) -> _Member:
        line = self.cut_line.transformed(move) if self.cut_line else None
        return _Member(self.owner, moved_piece(self.piece, move), line)


class _Owner(NamedTuple):
    """A client or size: the name, its line, and its layer in the file."""

    name: str
    style: LineStyle
    layer: str


def nested_pdf(
    drafts: Sequence[Draft], paper: Paper, settings: SheetSettings, heading: str = ""
) -> SheetResult:
    """Print one style drafted for several clients or sizes on one paper; `heading` says who they are in few words.

    Like pieces (those of one name) lie on one another at the corner where they take the least room together.

    Raises ValueError when the paper is too small to print on, when there are no drafts or they are of several
    styles, and when there are more than there are kinds of line.
    """
    if not drafts:
        raise ValueError("there is nothing to nest: expected at least one draft")
    if len(titles := dict.fromkeys(d.style.title for d in drafts)) > 1:
        raise ValueError(
            f"only one style can be nested at a time, and these are {len(titles)}: {', '.join(titles)}"
        )
    if len(drafts) > len(OWN_LINES):
        raise ValueError(f"{len(drafts)} are too many for one sheet: expected at most {len(OWN_LINES)}")
    title = drafts[0].style.title
    names = _names(drafts)
    who = isolated(heading) if heading else ", ".join(names)
    file = new_file(title, who, paper, settings)
    owners = [
        _Owner(name, style, file.layer(name, "Clients and sizes"))
        for name, style in zip(names, OWN_LINES, strict=False)
    ]
    groups, left_out = _groups(drafts)
    firsts = [group[0].piece for group in groups]
    letters = letters_of(firsts)
    allowance = settings.allowance or allowance_facts(
        {letters[g[0].piece.name]: [m.piece for m in g] for g in groups}, drafts[0].client.units
    )
    day = day_words(settings.day, drafts[0].client.units.dates) if settings.day else ""
    laid = [
        _laid(
            group,
            letters[group[0].piece.name],
            owners,
            _label(
                group,
                letters,
                title,
                who if len(group) == len(owners) else ", ".join(owners[m.owner].name for m in group),
                day,
                _own_allowance(group, settings),
            ),
        )
        for group in groups
    ]
    sheet_of = lay_on_paper(laid, paper, may_turn=settings.may_turn, effort=settings.effort)
    grid, layout, panel = sheet_of.grid, sheet_of.layout, sheet_of.panel
    text = CoverText(
        settings.studio,
        title,
        who,
        facts(day, grid, layout, panel, allowance),
        any(is_for_child(d.client.kind, d.style.audience) for d in drafts),
        tuple((o.name, o.style) for o in owners),
        drill_key((m.piece for g in groups for m in g), drafts[0].client.units),
        notices=tuple(
            f"{name}: {notice}"
            for name, draft in zip(names, drafts, strict=True)
            for notice in draft.client.notices
        ),
    )
    words = " · ".join(w for w in (isolated(title), who, day) if w)
    count = assemble(file, laid, sheet_of, text, words, with_grid=settings.grid)
    findings = [*unwritten(file), *left_out, *strips(laid, paper, layout)]
    if not laid:
        findings.append(
            Finding("no-pieces", f"“{title}” has no pieces for {who}, so there is nothing to print.")
        )
    return SheetResult(
        file.getvalue(), count, tuple(t.label for t in layout.tiles), tuple(findings), layout.lower_bound
    )


def _names(drafts: Sequence[Draft]) -> list[str]:
    """The clients' names, numbered where two are the same."""
    names: list[str] = []
    for draft in drafts:
        name, number = isolated(draft.client.name), 2
        while name in names:
            name, number = f"{isolated(draft.client.name)} ({number})", number + 1
        names.append(name)
    return names


def _groups(drafts: Sequence[Draft]) -> tuple[list[list[_Member]], list[Finding]]:
    """Like pieces together, moved onto one another, in the order they first come up; and what was left out."""
    by_name: dict[str, list[_Member]] = {}
    findings = []
    for owner, draft in enumerate(drafts):
        for piece in draft.pieces.values():
            member = _Member(owner, piece, draft.cut_lines.get(piece.name))
            if fits(member.outline):
                by_name.setdefault(piece.name, []).append(member)
            else:
                findings.append(too_large(piece))
    return [_matched(members) for members in by_name.values()], findings


def _matched(members: Sequence[_Member]) -> list[_Member]:
    """Members moved so that one corner is common to all: that at which they take the least room together.

    Corners are the ends of edges that all members have; those at a fold are preferred, so that folds lie together.
    Pieces without an edge in common are laid on one another by the middles of their outlines.
    """
    shared = [
        e
        for e in members[0].piece.edges
        if all(any(f.name == e.name for f in m.piece.edges) for m in members)
    ]
    folds = [e for e in shared if e.fold]
    best: tuple[float, list[_Member]] | None = None
    for edge in folds or shared:
        for at_end in (False, True):
            corners = []
            for member in members:
                path = member.piece.edge(edge.name).path
                corners.append(path.end if at_end else path.start)
            laid = _at(members, corners)
            room = _around(laid)
            if best is None or room.width * room.height < best[0] - 1e-6:
                best = room.width * room.height, laid
    return best[1] if best else _at(members, [m.outline.bounds().centre for m in members])


def _at(members: Sequence[_Member], points: Sequence[Point]) -> list[_Member]:
    """Members moved so that each one's point comes to where the first one's is."""
    return [m.moved(Transform.translation(points[0] - p)) for m, p in zip(members, points, strict=True)]


def _around(members: Sequence[_Member]) -> Box:
    box = members[0].outline.bounds()
    for member in members[1:]:
        box = box.union(member.outline.bounds())
    return box


def _label(
    group: Sequence[_Member],
    letters: Mapping[str, str],
    title: str,
    who: str,
    day: str,
    allowance: str,
) -> list[LabelLine]:
    piece = group[0].piece
    cuts = list(dict.fromkeys(cut_words(m.piece.cut) for m in group))
    lines = [
        LabelLine(f"{letters[piece.name]}  {isolated(piece.title)}", 8.0, "strong"),
        *(LabelLine(words, 5.5) for words in cuts),
        LabelLine(title, 4.5),
        *(LabelLine(words, 4.5) for words in wrap(who, 4.5, 75.0)),
        LabelLine(" · ".join(w for w in (day, allowance) if w), 4.0, "quiet"),
    ]
    return [line for line in lines if line.words]


def _own_allowance(group: Sequence[_Member], settings: SheetSettings) -> str:
    """What these pieces have of seam allowance, in words; the settings speak only for pieces that have some."""
    pieces = [m.piece for m in group]
    given = settings.allowance if any(e.allowance for p in pieces for e in p.edges) else ""
    return given or allowance_words(pieces)


def _laid(
    group: Sequence[_Member], letter: str, owners: Sequence[_Owner], label: list[LabelLine]
) -> SheetItem:
    inner = min(group, key=lambda m: abs(signed_area(m.piece.outline)))
    outer = max(group, key=lambda m: abs(signed_area(m.outline)))
    block = _placed(inner, group, label, [])
    whole = block is not None and len(block.lines) == len(label)
    aside: Aside | None = None if whole else beside(outer.outline, label, _around(group))

    def draw(canvas: PdfCanvas, move: Transform, joins: Sequence[Join]) -> None:
        members = [m.moved(move) for m in group]
        usual = canvas.styles
        recorded = RecordingCanvas(canvas)
        for i, member in enumerate(members):
            owner = owners[member.owner]
            canvas.owner = owner.layer
            canvas.styles = _styles(owner.style, member.cut_line is not None)
            # Words, grain and fold marks once are enough; what differs is drawn for each.
            piece = member.piece if i == 0 else replace(member.piece, grain=None)
            shown = Look(show_seam=False, edge_names=False, fold_marks=i == 0)
            paint_piece(
                WordlessCanvas(canvas) if i else recorded, piece, cut_line=member.cut_line, look=shown
            )
        there = next(m for m in members if m.owner == inner.owner)
        placed = None
        if not aside:
            placed = _placed(there, members, label, joins) or _placed(there, members, label, [])
        lines = [(line.words, spot) for line, spot in placed.lines] if placed else []
        sheets = [
            NestedPiece(owners[m.owner].name, m.piece if i == 0 else replace(m.piece, grain=None), m.outline)
            for i, m in enumerate(members)
        ]
        every = names_on(sheets, (*recorded.words, *lines), joins, recorded.marks)
        for member, names in zip(members, every, strict=True):
            canvas.owner = owners[member.owner].layer
            for words, spot in names:
                canvas.text(spot.at, words, spot.size, anchor="middle", angle=spot.angle)
        canvas.owner, canvas.styles = "", usual
        for line, spot in placed.lines if placed else ():
            canvas.text(spot.at, line.words, spot.size, anchor="middle", angle=spot.angle, kind=line.kind)

    outlines = tuple(m.outline for m in group)
    return SheetItem(CoverPiece(group[0].piece, letter, outlines), aside, draw)


def _styles(own: LineStyle, has_cut_line: bool) -> dict[LineKind, LineStyle]:
    """How one client or size is drawn: wide where it is cut, what is folded or sewn narrow, in its kind of line."""
    narrow = LineStyle(NARROW, tuple(part * NARROW / WIDE for part in own.dash))
    return {
        **STYLES,
        LineKind.DART: narrow,
        LineKind.PLEAT: narrow,
        LineKind.STITCH: narrow,
        LineKind.SEAM: narrow if has_cut_line else own,
        LineKind.CUT: own,
    }


def _placed(
    inner: _Member, group: Sequence[_Member], label: Sequence[LabelLine], joins: Sequence[Join]
) -> Block | None:
    """The label inside the smallest of a group, clear of all that is drawn on any of them."""
    room = Room(inner.piece.outline.flatten(0.35))
    for member in group:
        piece = member.piece
        if member is not inner:
            room.keep_clear(_closed(piece.outline), 2.0)
        room.keep_clear(_closed(member.outline), 2.0)
        for dart in piece.darts:
            for end in (dart.apex, dart.far_apex or dart.apex):
                room.keep_clear([dart.legs[0], end, dart.legs[1]], 3.0)
        for line in piece.lines:
            room.keep_clear(line.path.flatten(0.5), 2.5)
        for mark in piece.marks:
            room.keep_clear([mark.at, mark.at + Point(25.0 if mark.text else 1.0, 0.0)], 4.0)
    grain = group[0].piece.grain
    angle = 90.0
    if grain is not None and grain[0].distance(grain[1]) > 1e-6:
        angle = (grain[1] - grain[0]).angle
        room.keep_clear(list(grain), 6.0)
    for a, b, reach in joins:
        room.keep_clear([a, b], reach)
    return place_label(room, label, angle, scale=1.0, gap=5.0, least=0.7 if joins else 0.0)


def _closed(path: Path) -> list[Point]:
    points = path.flatten(0.5)
    return [*points, points[0]]
