"""Labels keep off each other and inside the figure."""

from hypothesis import given
from hypothesis import strategies as st

from catalogue.geometry import Box, Path, Point
from catalogue.site.labels import Label, Labels, width_in_letters

FRAME = Box(0, 0, 600, 600)
SIZE = 14.0


def box_of(label: Label, words: str) -> Box:
    """The box of a level label: letters reach from 0.65 above the middle of the line to 0.35 below it."""
    width = width_in_letters(words) * SIZE
    left = label.at.x - {"start": 0.0, "middle": width / 2, "end": width}[label.anchor]
    middle = label.at.y - 0.35 * SIZE
    return Box(left, middle - SIZE / 2, left + width, middle + SIZE / 2)


def overlap(a: Box, b: Box) -> float:
    across = min(a.right, b.right) - max(a.left, b.left)
    down = min(a.bottom, b.bottom) - max(a.top, b.top)
    return max(across, 0) * max(down, 0)


# One point in each of 16 fields, so that there is room for every name.
spots = st.lists(st.tuples(st.floats(20, 110), st.floats(20, 110)), min_size=16, max_size=16).map(
    lambda found: [Point(x + 145 * (n % 4), y + 145 * (n // 4)) for n, (x, y) in enumerate(found)]
)


@given(spots)
def test_names_overlap_neither_each_other_nor_other_points(points: list[Point]) -> None:
    labels = Labels(FRAME, SIZE)
    for point in points:
        labels.add_dot(point)
    placed = [box_of(labels.beside(p, f"point {n}"), f"point {n}") for n, p in enumerate(points)]
    for n, box in enumerate(placed):
        assert FRAME.grown(SIZE).contains(box)
        for other in placed[:n]:
            assert overlap(box, other) == 0
        for m, point in enumerate(points):
            assert m == n or not box.grown(-SIZE / 4).contains(point)


@given(spots)
def test_a_name_stays_near_its_point(points: list[Point]) -> None:
    labels = Labels(FRAME, SIZE)
    for n, point in enumerate(points):
        assert box_of(labels.beside(point, f"point {n}"), f"point {n}").distance(point) < 2 * SIZE


def test_a_name_keeps_off_a_line() -> None:
    labels = Labels(FRAME, SIZE)
    line = [Point(300, 100), Point(600, 100)]
    labels.add_path(Path.polyline(line))
    labels.add_path(Path.line(Point(300, 100), Point(600, 60)))
    box = box_of(labels.beside(Point(300, 100), "shoulder tip"), "shoulder tip")
    assert box.top > 100 or box.bottom < 60 or box.right < 300


def test_a_length_stands_along_its_line_and_not_on_it() -> None:
    labels = Labels(FRAME, SIZE)
    labels.add_path(Path.line(Point(100, 300), Point(500, 300)))
    label = labels.along([Point(100, 300), Point(500, 300)], "40 cm")
    assert label is not None and label.angle == 0 and label.at.x == 300
    assert 0 < 300 - label.at.y < SIZE  # above the line


def test_upright_lines_are_read_from_the_right() -> None:
    # ISO 129-1: dimensions are read from the bottom or from the right-hand side of the sheet.
    for ends in ([Point(300, 100), Point(300, 500)], [Point(300, 500), Point(300, 100)]):
        label = Labels(FRAME, SIZE).along(ends, "40 cm")
        assert label is not None and label.angle == -90


def test_a_line_shorter_than_its_length_s_words_gets_none() -> None:
    assert Labels(FRAME, SIZE).along([Point(0, 0), Point(20, 0)], "1 15/16 in") is None


def test_two_lengths_on_one_line_don_t_meet() -> None:
    labels = Labels(FRAME, SIZE)
    line = [Point(100, 300), Point(500, 300)]
    first, second = labels.along(line, "40 cm"), labels.along(line, "40 cm")
    assert first is not None and second is not None
    assert overlap(box_of(first, "40 cm"), box_of(second, "40 cm")) == 0


def test_width_of_other_scripts() -> None:
    assert width_in_letters("胸囲") > width_in_letters("bu")
    assert width_in_letters("Ọmọlará") == width_in_letters("Omolara")


def test_names_of_crowded_points_make_way_for_each_other() -> None:
    labels = Labels(FRAME, SIZE)
    points = [Point(200 + 40 * n, 300) for n in range(4)]  # nearer to each other than their names are long
    for point in points:
        labels.add_dot(point)
    boxes = [box_of(labels.beside(p, "shoulder"), "shoulder") for p in points]
    assert boxes[0].width > 40
    assert all(overlap(a, b) == 0 for n, a in enumerate(boxes) for b in boxes[:n])
