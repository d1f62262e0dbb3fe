"""The plain SVG of a piece, read as XML: true size, true curves, and nothing a cutter would trip over."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from catalogue.drawing.exchange import exchange_files
from catalogue.drawing.piece_svg import CROSS, MARGIN, piece_svg
from catalogue.geometry import Cubic, Line, Path, Point
from catalogue.pattern import Notch
from catalogue.pattern.allowance import cutting_line
from tests.drawing.pieces import bodice_front, draft, skirt_front, tab

SVG = "{http://www.w3.org/2000/svg}"


def groups(text: str) -> dict[str, list[str]]:
    root = ElementTree.fromstring(text)
    return {g.get("id", ""): [p.get("d", "") for p in g.iter(f"{SVG}path")] for g in root.iter(f"{SVG}g")}


def lines(data: str) -> Path:
    """Path data of M, L, C and Z alone, absolute, as a path."""
    segments: list[Line | Cubic] = []
    at = Point(0.0, 0.0)
    for letter, figures in re.findall(r"([MLC])([^MLCZ]*)", data):
        numbers = [float(n) for n in figures.replace(",", " ").split()]
        spots = [Point(x, y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
        if letter == "L":
            segments.append(Line(at, *spots))
        elif letter == "C":
            segments.append(Cubic(at, *spots))
        at = spots[-1]
    return Path(tuple(segments))


@pytest.mark.parametrize("make", [bodice_front, skirt_front, tab])
def test_cutting_line_and_seam_line_are_there_at_true_size(make: object) -> None:
    piece = make()  # type: ignore[operator]
    cut = cutting_line(piece).path
    text = piece_svg(piece, cut)
    root = ElementTree.fromstring(text)
    box = [float(v) for v in root.get("viewBox", "").split()]
    assert root.get("width") == f"{box[2]:g}mm" and root.get("height") == f"{box[3]:g}mm"
    bounds = cut.bounds()
    assert box[0] <= bounds.left - MARGIN + 1e-3 and box[0] + box[2] >= bounds.right + MARGIN - 1e-3
    found = groups(text)
    for data, path in ((found["cut"][0], cut), (found["seam"][0], piece.outline)):
        assert data.endswith("Z")
        back = lines(data)
        assert all(path.nearest(p)[1] < 0.01 for p in back.flatten(0.2))
        assert all(back.nearest(p)[1] < 0.01 for p in path.flatten(0.2))
        assert len(back.segments) >= len(
            [s for s in path.segments if s.length() > 1e-3]
        )  # no curve became a polyline
        assert len(back.segments) <= len(path.segments) + 1


def test_notches_run_from_the_cutting_line_to_the_seam_line() -> None:
    piece = bodice_front()
    edge = next(e for e in piece.edges if not e.fold)
    at = edge.path.point_at(edge.path.length / 2)
    piece = piece.with_changes(notches=(Notch(edge.name, at, 2),))
    cut = cutting_line(piece).path
    ticks = [lines(d) for d in groups(piece_svg(piece, cut))["notches"]]
    assert len(ticks) == 2 + 2 * len(piece.darts)  # one for each leg of a dart
    for dart in piece.darts:
        for leg in dart.legs:
            (tick,) = (t for t in ticks if t.end.distance(leg) < 0.01)
            # in line with the leg: the point, the leg's end and the tick's start lie on one line
            assert abs((leg - dart.apex).unit().cross((tick.start - leg).unit())) < 1e-3
    for tick in ticks:
        assert cut.nearest(tick.start)[1] < 0.01 and piece.outline.nearest(tick.end)[1] < 0.01


def test_without_an_allowance_a_notch_is_cut_into_the_piece_and_there_is_one_line() -> None:
    piece = tab()
    edge = piece.edges[0]
    at = edge.path.point_at(edge.path.length / 2)
    found = groups(piece_svg(piece.with_changes(notches=(Notch(edge.name, at),)), None))
    assert "seam" not in found
    (tick,) = (lines(d) for d in found["notches"])
    assert tick.start.distance(at) < 0.01 and tick.length == pytest.approx(5, abs=0.01)


def test_grain_and_drill_marks() -> None:
    piece = bodice_front()
    assert piece.grain is not None
    found = groups(piece_svg(piece, None))
    grain = lines(found["grain"][0])
    assert grain.start.distance(piece.grain[0]) < 0.01 and grain.end.distance(piece.grain[1]) < 0.01
    dart = piece.darts[0]
    # 10 mm short of the point, so that the stitching covers it (common practice, no source)
    hole = dart.apex.toward(dart.legs[0].mix(dart.legs[1], 0.5), 10.0)
    arm = f"M{hole.x - CROSS:.3f}".rstrip("0").rstrip(".")
    assert any(d.startswith(arm) for d in found["marks"])


def test_it_is_lines_alone() -> None:
    text = piece_svg(bodice_front(), None, title='Front & "back" <1>')
    kinds = {e.tag.removeprefix(SVG) for e in ElementTree.fromstring(text).iter()}
    assert kinds == {"svg", "title", "g", "path"}
    assert ElementTree.fromstring(text).findtext(f"{SVG}title") == 'Front & "back" <1>'


def test_files_of_a_draft_by_the_kinds_asked_for() -> None:
    made = draft(bodice_front(), tab())
    assert exchange_files(made, ()) == []
    assert [f.name for f in exchange_files(made, ("dxf",))] == ["draft.dxf"]
    names = [f.name for f in exchange_files(made, ("svg", "dxf"))]
    assert names[0] == "draft.dxf" and len(names) == 3
    assert all(n.startswith("exchange/") and n.endswith(".svg") for n in names[1:])
    assert exchange_files(made, ("svg", "dxf")) == exchange_files(made, ("svg", "dxf"))


def test_a_buttonhole_keeps_its_direction_and_length() -> None:
    from catalogue.pattern import Mark

    at = tab().outline.bounds()
    middle = Point(at.left + at.width / 2, at.top + at.height / 2)
    piece = tab().with_changes(marks=(Mark(middle, "buttonhole", "", 90.0, 21.0),))
    (data,) = groups(piece_svg(piece, None))["marks"]
    assert abs(lines(data).end.y - lines(data).start.y) == pytest.approx(21.0, abs=0.01)


def test_a_buttonhole_is_two_to_three_millimetres_longer_than_a_shirt_button() -> None:
    """Common practice, no source; buttons of 11 mm are what the demo's shirt asks for."""
    from catalogue.pattern import BUTTONHOLE

    assert 11 + 2 <= BUTTONHOLE <= 11 + 3
