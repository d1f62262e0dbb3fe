"""Sketches in prose: what is read, what is said of a row that is not understood."""

import pytest

from catalogue.studio.reading import style_from
from catalogue.studio.sketches import MOST_ROWS, read_sketch, sketches_in


def test_rows_become_areas_lines_and_words():
    sketch = read_sketch(
        "A corner",
        "wrong side: 0 0, 30 0, 30 20\nstitch curve: 0 0, 5 8, 20 10\nwords end: 28 6, left  back\ndots: 3 4",
    )
    assert not sketch.mistakes
    area, stitch, words, dots = sketch.strokes
    assert area.path is not None and area.path.is_closed
    assert stitch.path is not None and stitch.path.length > 20
    assert (words.words, words.anchor, words.points) == ("left back", "end", ((28, 6),))
    assert dots.points == ((3, 4),)


@pytest.mark.parametrize(
    ("row", "column", "said"),
    [
        ("edge 0 0, 1 1", 1, "a kind, a colon and points"),
        ("egde: 0 0, 1 1", 1, "“egde” is no kind of line"),
        ("  edge: 0 0, 1", 14, "“1” is no point"),
        ("edge: 0 0, 1 x", 12, "“1 x” is no point"),
        ("edge: 0 0, 999 1", 11, "between 0 and 160 mm"),
        ("edge: 0 0, inf 1", 11, "between 0 and 160 mm"),
        ("edge: 3 3, 3 3", 6, "at least 2 different points"),
        ("lining: 3 3, 9 3", 8, "at least 3 different points"),
        ("words: 4 4", 7, "a point, a comma and a text"),
        ("words left: 4 4, a", 1, "“words left” is not understood"),
        ("dots curve: 4 4", 1, "“dots curve” is no kind"),
    ],
)
def test_a_row_that_is_not_understood_is_reported_and_the_rest_is_kept(row, column, said):
    sketch = read_sketch("A corner", f"edge: 0 0, 5 5\n{row}\nedge: 0 0, 9 9")
    [wrong] = sketch.mistakes
    assert (wrong.row, wrong.column) == (1, column) and said in wrong.message
    assert len(sketch.strokes) == 2


def test_a_sketch_is_not_read_without_end():
    sketch = read_sketch("Many", "edge: 0 0, 5 5\n" * 1000)
    assert len(sketch.strokes) == MOST_ROWS and len(sketch.mistakes) == 1


def test_sketches_are_found_in_lists_and_not_inside_other_blocks():
    text = "1. Sew.\n\n    ```sketch Deep in\n    edge: 0 0, 5 5\n    ```\n\n````\n```sketch No\n```\n````\n"
    [(row, indent, sketch)] = list(sketches_in(text))
    assert (row, indent, sketch.caption, len(sketch.strokes)) == (2, 4, "Deep in", 1)


@pytest.mark.parametrize("blanks", ["", "   ", "    "])
def test_a_mistake_in_a_sketch_is_a_warning_with_its_place_and_no_formula(blanks):
    """Whatever a sketch says in braces is no formula, as deep as it may lie."""
    rows = ["```sketch A vent", "egde: 0 0, 1 1", "words: 1 1, {bust}", "```"]
    text = "---\ntitle: T\n---\n# Sewing\n\n1. Sew.\n\n" + "".join(f"{blanks}{row}\n" for row in rows)
    made = style_from(text.encode(), "t", "styles/t.md")
    [finding] = made.findings
    assert not finding.is_error and finding.code == "sketch"
    assert (finding.place.line, finding.place.column) == (9, len(blanks) + 1)
    assert "edge" in finding.hint and not made.needs


@pytest.mark.parametrize("row", ["{0}: 0 0, 1 1", "words {0}: 1 1, a", "edge: {0}, 1 1"])
def test_a_long_row_is_not_repeated_whole(row: str) -> None:
    [mistake] = read_sketch("A corner", row.format("x" * 100_000)).mistakes
    assert len(mistake.message) < 200
