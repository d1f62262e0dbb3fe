"""Labels laid in free room of the sheet: clear of everything, near their piece, on paper that is printed."""

from __future__ import annotations

import io
from collections.abc import Sequence
from functools import cache
from itertools import combinations, pairwise

import pypdf
import pytest
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as ShapelyPoint

from catalogue.drafting import Draft
from catalogue.geometry import Path, Point
from catalogue.sheets import PAPERS, assembly, sheet_pdf
from catalogue.sheets import sheet as sheet_module
from catalogue.sheets.assembly import Sheet, SheetItem
from tests.drafting.people_and_styles import demo_draft, suited
from tests.sheets.every_print import SETTINGS
from tests.sheets.reading import one_page_of

SHIRTS = [client for style, client in suited() if style == "yoked-shirt"][:2]


@cache
def drafted(style: str, client: str) -> Draft:
    return demo_draft(style, client)


def printed(monkeypatch: pytest.MonkeyPatch, draft: Draft, paper: str) -> tuple[list[SheetItem], Sheet]:
    """What is laid on the sheet of a print, and where."""
    kept: list[tuple[list[SheetItem], Sheet]] = []

    def lay(laid: list[SheetItem], *args: object, **named: object) -> Sheet:
        kept.append((laid, real(laid, *args, **named)))  # type: ignore[arg-type]
        return kept[-1][1]

    real = sheet_module.lay_on_paper
    monkeypatch.setattr(sheet_module, "lay_on_paper", lay)
    sheet_pdf(draft, PAPERS[paper], SETTINGS)
    return kept[-1]


def polygon(path: Path) -> Polygon:
    return Polygon(path.flatten(0.1))


@pytest.mark.parametrize("paper", ["a4", "a3", "letter", "a0", "roll-36in"])
@pytest.mark.parametrize("client", SHIRTS)
def test_labels_in_free_room(monkeypatch: pytest.MonkeyPatch, client: str, paper: str) -> None:
    laid, sheet = printed(monkeypatch, drafted("yoked-shirt", client), paper)
    pieces = [
        polygon(each.part.outlines[0].transformed(move))
        for each, move in zip(laid, sheet.layout.moves, strict=False)
    ]
    squares = [Polygon(square.box.corners) for square in sheet.squares]
    windows = [Polygon(sheet.grid.window(tile).corners) for tile in sheet.layout.tiles]
    assert len(sheet.labels) >= 3  # a shirt has collar, stand, cuffs and strips
    rooms = {i: polygon(label.outline.transformed(move)) for i, (label, move) in sheet.labels.items()}
    for a, b in combinations([*rooms.values(), *squares], 2):
        assert a.disjoint(b)
    for i, room in rooms.items():
        label, move = sheet.labels[i]
        assert any(window.buffer(1e-6).contains(room) for window in windows)  # whole on a page
        assert all(room.distance(piece) > 1.4 for piece in pieces)
        start, end = (move.apply(p) for p in label.leader)
        leader = LineString([start, end])
        assert leader.length < 44.0
        assert room.distance(ShapelyPoint(start)) < 1.2
        assert pieces[i].buffer(0.2).contains(ShapelyPoint(end))
        assert all(leader.disjoint(piece) for j, piece in enumerate(pieces) if j != i)
        assert all(leader.disjoint(other) for j, other in rooms.items() if j != i)


def test_the_whole_label_of_a_narrow_curved_piece_is_printed() -> None:
    """A facing 115 mm wide and 130 mm high is a strip along a curve, and its label does not fit on it."""
    draft = drafted(*next(pair for pair in suited() if pair[0] == "bodice-block"))
    data = one_page_of(sheet_pdf(draft, PAPERS["a4"], SETTINGS).data)
    words = pypdf.PdfReader(io.BytesIO(data)).pages[0].extract_text()
    said = words.count("Seam allowance included") + words.count("Seam allowance not included")
    assert said == len(draft.pieces)  # the last line of each label


def test_a_label_without_room_on_its_place_lays_no_piece_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """A label of a coat's that seemed to have room has none once the other words stand on its piece."""
    laid: list[int] = []

    def pack_on(items: Sequence[object], *args: object, **named: object) -> object:
        laid.append(len(items))
        return real(items, *args, **named)  # type: ignore[arg-type]

    real = assembly.pack_on
    monkeypatch.setattr(assembly, "pack_on", pack_on)
    draft = drafted(*next(pair for pair in suited() if pair[0] == "notched-coat"))
    asked: list[Sheet] = []
    lay = sheet_module.lay_on_paper
    monkeypatch.setattr(sheet_module, "lay_on_paper", lambda *a, **n: asked.append(lay(*a, **n)) or asked[-1])
    sheet_pdf(draft, PAPERS["a4"], SETTINGS)
    assert len(asked) == 2
    assert len(asked[1].labels) > len(asked[0].labels)
    assert laid == [len(draft.pieces)]


def test_points_far_apart_are_filled_up() -> None:
    from catalogue.sheets.label_overflow import _along

    points = list(_along([Point(0, 0), Point(100, 0), Point(100, 5)]))
    assert points[0] == (0, 0)
    assert points[-1] == (100, 5)
    assert max(a.distance(b) for a, b in pairwise(points)) <= 10.0
