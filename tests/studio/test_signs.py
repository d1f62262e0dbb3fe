"""The small drawings of signs: every alteration of the library has one, and wrong lines are refused in words."""

from __future__ import annotations

import pytest

from catalogue.drawing.canvas import LineKind
from catalogue.drawing.fitting_signs import MEANING, draw_sign, sign_svg, sign_words
from catalogue.drawing.page_svg import PageCanvas
from catalogue.geometry import Path, Point
from catalogue.studio.alterations import library
from catalogue.studio.signs import MARKS, PARTS, read_drawing


class Bounds(PageCanvas):
    def __init__(self) -> None:
        super().__init__()
        self.paths: list[tuple[Path, LineKind]] = []

    def stroke(self, path: Path, line: LineKind, *, closed: bool = False) -> None:
        self.paths.append((path, line))


def test_every_alteration_of_the_library_shows_its_sign_within_its_square() -> None:
    shown = set()
    for each in library().values():
        assert each.drawing is not None and each.drawing.marks, each.slug
        shown.add((each.drawing.part, each.drawing.marks))
        canvas = Bounds()
        draw_sign(canvas, each.drawing)
        for path, _ in canvas.paths:
            box = path.bounds()
            assert min(box.left, box.top) > -3 and max(box.right, box.bottom) < 103, each.slug
        assert sign_words(each.drawing)
    assert len(shown) == len(library())  # no two alike


def test_every_part_of_the_figure_can_be_drawn_and_every_mark_is_explained() -> None:
    assert MEANING.keys() == set(MARKS)
    for part in PARTS:
        marks = "; ".join(f"{mark} 20 30 to 40 50 bowed -3, mirrored" for mark in MARKS)
        drawing = read_drawing(f"{part}; {marks}")
        assert len(drawing.marks) == len(MARKS)
        assert sign_svg(drawing, "sign-x", "Seen <here>").count("<path") >= 2


def test_a_mirrored_mark_lies_on_the_other_half() -> None:
    canvas = Bounds()
    draw_sign(canvas, read_drawing("bodice back; edge 20 30 to 40 50, mirrored"), Point(0.0, 0.0))
    one, other = (path for path, line in canvas.paths if line is LineKind.SEAM)
    assert (one.start.x, one.end.y) == pytest.approx((20.0, 50.0))
    assert (other.start.x, other.end.y) == pytest.approx((80.0, 50.0))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("elbow; fold 1 1 to 2 2", "no part of the figure"),
        ("sleeve; crease 1 1 to 2 2", "should be a mark"),
        ("sleeve; fold 1 1", "should be a mark"),
        ("sleeve; fold 1 1 to 200 2", "beyond 100"),
        ("sleeve" + "; spot 1 1" * 30, "at most"),
    ],
)
def test_a_drawing_that_is_none_is_refused_in_words(text: str, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        read_drawing(text)
