"""Labels on and beside pieces in a print, and the bookmarks that lead to them."""

from __future__ import annotations

import pypdfium2
import pytest

from catalogue.drawing.bounds import Recorder, text_corners
from catalogue.geometry import Point
from catalogue.sheets.paper import PAPERS
from catalogue.sheets.sheet import sheet_pdf
from tests.drawing.pieces import draft, tab
from tests.sheets.slabs import SETTINGS, reader, words_of


def named_outlines(data: bytes) -> dict[str, tuple[int, list[float]]]:
    """Bookmarks of pieces: the page each leads to and, in points, the part of it."""
    file = reader(data)
    found = {}
    for entry in file.outline:
        for item in entry if isinstance(entry, list) else [entry]:
            if item.get("/Type") == "/FitR":
                number = file.get_destination_page_number(item)
                found[str(item["/Title"])] = (
                    number,
                    [float(item[k]) for k in ("/Left", "/Bottom", "/Right", "/Top")],
                )
    return found


@pytest.mark.parametrize("paper", ["a4", "roll-36in"])
def test_bookmarks_lead_to_the_label_of_their_piece(paper: str) -> None:
    result = sheet_pdf(draft(), PAPERS[paper], SETTINGS)
    marks = named_outlines(result.data)
    assert len(marks) == len(draft().pieces)
    document = pypdfium2.PdfDocument(result.data)
    for title, (number, (left, low, right, top)) in marks.items():
        assert left < right
        assert low < top
        wide, tall = document[number].get_size()
        assert 0 <= left < right <= wide
        assert 0 <= low < top <= tall
        if len(document) == 1:  # then the piece is whole, with its label
            text = document[number].get_textpage().get_text_bounded(left - 9, low - 150, right + 150, top + 9)
            assert title in " ".join(text.split())


def test_a_small_piece_has_its_label_beside_it_with_a_leader() -> None:
    from tests.sheets.reading import form_content, pdf_strokes

    result = sheet_pdf(draft(tab()), PAPERS["a4"], SETTINGS)
    words = words_of(result.data, 1)
    assert words.count("A Tab") == 1  # beside it in full; on it the letter alone
    assert "A A Tab" in words
    for part in ("Cut 2 pairs · lining", "Adaeze Okonjo · 5 March 2026", "Seam allowance not included"):
        assert part in words
    thin = [s for s in pdf_strokes(form_content(result.data)) if s.width == 0.25 and s.operator == "S"]
    seams = [s for s in pdf_strokes(form_content(result.data)) if s.width == 0.5 and s.dash]
    xs = [x for s in seams for seg in s.segments for x, _ in seg]
    ys = [y for s in seams for seg in s.segments for _, y in seg]
    (leader,) = thin
    inner = leader.segments[-1][-1]
    assert min(xs) < inner[0] < max(xs)
    assert min(ys) < inner[1] < max(ys)
    outer = leader.segments[0][0]
    assert not (min(xs) < outer[0] < max(xs) and min(ys) < outer[1] < max(ys))


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_a_label_beside_is_read_from_the_foot_or_the_right_and_inside_its_room(turn: int) -> None:
    from catalogue.drawing.labels import LabelLine
    from catalogue.geometry import Transform
    from catalogue.sheets.outside import beside

    aside = beside(
        tab().outline, [LabelLine("A  Tab", 8.0, "strong"), LabelLine("A long line of words", 5.0)]
    )
    move = Transform.rotation(turn).then(Transform.translation(Point(500, 300)))
    canvas = Recorder()
    aside.draw(canvas, move)
    room = aside.outline.transformed(move).bounds().grown(0.5)
    for args, named in canvas.of("text"):
        at, words, size = args
        assert named["angle"] in (0, -90) or abs(float(named["angle"])) < 1e-6  # type: ignore[arg-type]
        for corner in text_corners(at, str(words), float(size), "start", float(named["angle"])):  # type: ignore[arg-type]
            assert room.contains(corner), (words, corner, room)


def test_a_label_longer_than_its_piece_and_the_page_is_shortened_not_lost() -> None:
    name = "Wilhelmina-Konstantina " * 12
    result = sheet_pdf(draft(tab(), name=name.strip()), PAPERS["a4"], SETTINGS)
    assert result.tiles == ("1-1",)
    assert "Wilhelmina-Konstantina Wilhelmina" in words_of(result.data, 1)
