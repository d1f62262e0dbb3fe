"""The DXF file, read back by a library that had no part in writing it (ezdxf)."""

from __future__ import annotations

from pathlib import Path as File
from tempfile import TemporaryDirectory

import ezdxf
import pytest
from ezdxf.document import Drawing
from ezdxf.layouts import BlockLayout
from ezdxf.lldxf.encoding import decode_dxf_unicode
from shapely import LineString
from shapely import Point as Spot

from catalogue.drafting import draft_style
from catalogue.drafting.model import Draft
from catalogue.drawing.dxf import LAYERS, block_names, draft_dxf
from catalogue.drawing.parts import NOTCH_APART
from catalogue.geometry import Path, Point
from catalogue.people import read_client
from catalogue.studio.joining import read_with_blocks
from catalogue.studio.settings import Settings

ROOT = File(__file__).parents[2]
WITHIN = 0.0101
"""mm: the file's own 0.01 and its four decimals."""

PAIRS = (
    ("bodice-block", "omolara"),
    ("straight-skirt", "wren"),
    ("circle-skirt", "thuy-mien"),
    ("yoked-shirt", "hester-pellow"),
)


@pytest.fixture(scope="module", params=PAIRS, ids="-".join)
def draft(request: pytest.FixtureRequest) -> Draft:
    style, client = request.param
    made = draft_style(
        read_with_blocks(ROOT / f"styles/{style}.md", ROOT),
        read_client(ROOT / f"clients/{client}.md", ROOT),
        Settings(),
    )
    assert made.pieces and made.cut_lines
    return made


def written(draft: Draft) -> bytes:
    return draft_dxf(
        list(draft.pieces.values()),
        draft.cut_lines,
        style=draft.style.title,
        client=draft.client.name,
        day="2026-03-14",
    )


def read(data: bytes) -> Drawing:
    with TemporaryDirectory() as folder:
        path = File(folder) / "draft.dxf"
        path.write_bytes(data)
        doc = ezdxf.readfile(path)
    audit = doc.audit()
    assert audit.errors == [] and audit.fixes == []
    return doc


def blocks(draft: Draft) -> list[tuple[str, BlockLayout]]:
    doc = read(written(draft))
    names = block_names(list(draft.pieces))
    return [(name, doc.blocks.get(names[name])) for name in draft.pieces]


def polylines(block: BlockLayout, layer: str) -> list[LineString]:
    found = []
    for entity in block.query(f'POLYLINE[layer=="{layer}"]'):
        points = [(v.dxf.location.x, -v.dxf.location.y) for v in entity.vertices]
        found.append(LineString([*points, points[0]] if entity.is_closed else points))
    return found


def points(block: BlockLayout, layer: str) -> list[Point]:
    return [Point(e.dxf.location.x, -e.dxf.location.y) for e in block.query(f'POINT[layer=="{layer}"]')]


def apart(line: LineString, path: Path) -> float:
    """The most that either strays from the other, mm."""
    fine = LineString(path.flatten(0.001))
    ours = max(path.nearest(Point(x, y))[1] for x, y in line.segmentize(2.0).coords)
    return max(ours, max(line.distance(Spot(p)) for p in fine.coords))


def test_every_piece_is_a_block_of_its_own_inserted_once_and_named(draft: Draft) -> None:
    doc = read(written(draft))
    assert doc.dxfversion == "AC1009"
    inserted = [e.dxf.name for e in doc.modelspace().query("INSERT")]
    assert sorted(inserted) == sorted(block_names(list(draft.pieces)).values())
    for name, block in blocks(draft):
        said = [decode_dxf_unicode(e.dxf.text) for e in block.query('TEXT[layer=="15"]')]
        piece = draft.pieces[name]
        assert f"Piece Name: {piece.title}" in said
        assert f"Quantity: {piece.cut.count}" in said
    style = [decode_dxf_unicode(e.dxf.text) for e in doc.modelspace().query("TEXT")]
    assert f"Style Name: {draft.style.title}" in style and "Units: METRIC" in style
    assert f"Client: {draft.client.name}" in style


def test_the_cutting_line_and_the_seam_line_come_back(draft: Draft) -> None:
    for name, block in blocks(draft):
        (cut,) = polylines(block, "1")
        (seam,) = polylines(block, "14")
        assert apart(cut, draft.cut_lines[name]) < WITHIN
        assert apart(seam, draft.pieces[name].outline) < WITHIN


def test_notches_lie_on_both_lines(draft: Draft) -> None:
    seen = 0
    for name, block in blocks(draft):
        piece, cut = draft.pieces[name], draft.cut_lines[name]
        at_cut = points(block, "4")
        legs = [(d.edge, leg) for d in piece.darts if d.edge for leg in d.legs]
        assert len(at_cut) == sum(n.count for n in piece.notches) + len(legs)
        assert all(cut.nearest(p)[1] < WITHIN for p in at_cut)
        feet = [Point(e.dxf.end.x, -e.dxf.end.y) for e in block.query('LINE[layer=="4"]')]
        assert all(piece.outline.nearest(p)[1] < WITHIN for p in feet)
        singles = [n.at for n in piece.notches if n.count == 1 and piece.edge(n.edge).allowance]
        singles += [leg for edge, leg in legs if piece.edge(edge).allowance]
        for at in singles:
            assert min(at.distance(f) for f in feet) < WITHIN
        for double in (n for n in piece.notches if n.count == 2 and piece.edge(n.edge).allowance):
            beside = sorted(double.at.distance(f) for f in feet)[:2]
            assert beside == pytest.approx([NOTCH_APART / 2] * 2, abs=0.02)
        seen += len(at_cut)
    assert seen


def test_grain_folds_darts_and_drill_marks_come_back(draft: Draft) -> None:
    for name, block in blocks(draft):
        piece = draft.pieces[name]
        assert piece.grain is not None
        (grain,) = block.query('LINE[layer=="7"]')
        ends = [Point(p.x, -p.y) for p in (grain.dxf.start, grain.dxf.end)]
        assert all(a.distance(b) < WITHIN for a, b in zip(ends, piece.grain, strict=True))
        folds = polylines(block, "6")
        assert len(folds) == sum(e.fold for e in piece.edges)
        for fold, edge in zip(folds, (e for e in piece.edges if e.fold), strict=True):
            assert apart(fold, edge.path) < WITHIN
        drilled = points(block, "13")
        # Short of the point, so that the stitching covers the hole: 10 mm (common practice, no source).
        assert all(abs(min(d.apex.distance(p) for p in drilled) - 10) < WITHIN for d in piece.darts)
        holes = [m for m in piece.marks if m.kind in ("button", "drill", "end", "point")]
        assert all(min(m.at.distance(p) for p in drilled) < WITHIN for m in holes)
        inner = polylines(block, "8")
        for line in piece.lines:
            assert min(apart(p, line.path) for p in inner if p.length > 0) < WITHIN


def test_corners_of_the_cutting_line_are_turn_points(draft: Draft) -> None:
    for name, block in blocks(draft):
        cut = draft.cut_lines[name]
        corners = [cut.point_at(s) for s in cut.corners()]
        turns = points(block, "2")
        assert len(turns) == len(corners)
        assert all(min(c.distance(t) for t in turns) < WITHIN for c in corners)


def test_pieces_lie_side_by_side_in_millimetres(draft: Draft) -> None:
    doc = read(written(draft))
    names = {b: n for n, b in block_names(list(draft.pieces)).items()}
    right = -1.0
    for insert in doc.modelspace().query("INSERT"):
        box = draft.cut_lines[names[insert.dxf.name]].bounds()
        assert insert.dxf.insert.x + box.left > right
        assert insert.dxf.insert.y - box.bottom == pytest.approx(0, abs=1e-3)
        right = insert.dxf.insert.x + box.right


def test_nothing_lies_on_a_layer_without_a_meaning(draft: Draft) -> None:
    doc = read(written(draft))
    used = {e.dxf.layer for b in doc.blocks for e in b} | {e.dxf.layer for e in doc.modelspace()}
    assert used <= set(LAYERS)
    assert set(LAYERS) <= {layer.dxf.name for layer in doc.layers}


def test_two_runs_give_the_same_bytes(draft: Draft) -> None:
    assert written(draft) == written(draft)


def test_names_in_any_script_come_back_in_the_text_and_blocks_have_plain_names() -> None:
    from catalogue.pattern import Cut
    from tests.drawing.pieces import tab

    titles = ("Thân trước", "Ẹ̀yìn apá", "القطعة الأمامية", "袖")
    pieces = [
        tab().with_changes(name=t.lower().replace(" ", "_"), title=t, cut=Cut(2, mirrored=True))
        for t in titles
    ]
    doc = read(draft_dxf(pieces, {}, style="Áo dài"))
    names = block_names([p.name for p in pieces])
    assert list(names.values()) == ["THAN_TRUOC", "EYIN_APA", "PIECE_3", "PIECE_4"]
    for piece in pieces:
        said = [decode_dxf_unicode(e.dxf.text) for e in doc.blocks.get(names[piece.name]).query("TEXT")]
        assert f"Piece Name: {piece.title}" in said
        assert "Annotation: in mirrored pairs" in said


def test_block_names_are_short_and_differ() -> None:
    names = block_names(["a" * 60, "a" * 61, "đai", "front side", "front_side"])
    assert list(names.values()) == ["A" * 27, "A" * 27 + "_2", "DAI", "FRONT_SIDE", "FRONT_SIDE_2"]
    assert all(len(n) <= 31 for n in names.values())
