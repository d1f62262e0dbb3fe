"""The SVG stands alone, is in millimetres, and says the same every time."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations
from xml.etree import ElementTree

import pytest

from catalogue.drawing.canvas import LineKind
from catalogue.drawing.lettering import text_width
from catalogue.drawing.markup import formatted, safe_id
from catalogue.drawing.overview import draft_svg
from catalogue.drawing.svg import SvgCanvas
from catalogue.geometry import Box, Path, Point
from catalogue.pattern import Edge, Piece
from tests.drawing.pieces import bodice_front, draft, line, sleeve

SVG = "{http://www.w3.org/2000/svg}"


def parsed(text: str) -> ElementTree.Element:
    return ElementTree.fromstring(text.encode())


def test_width_height_and_view_box_are_millimetres() -> None:
    root = parsed(SvgCanvas(Box(-10, 5, 190.5, 105)).tostring())
    assert root.attrib["width"] == "200.5mm"
    assert root.attrib["height"] == "100mm"
    assert root.attrib["viewBox"] == "-10 5 200.5 100"


def test_title_and_description_come_first_for_screen_readers() -> None:
    root = parsed(draft_svg(draft(title="Skirt & <top>", name="Ọlá “X”")))
    assert [child.tag for child in root][:2] == [f"{SVG}title", f"{SVG}desc"]
    assert root[0].text == "Skirt & <top> for Ọlá “X”"
    assert "Bodice front" in (root[1].text or "")
    assert root.attrib["role"] == "img"
    named = {child.attrib["id"] for child in root[:2]}
    assert set(root.attrib["aria-labelledby"].split()) == named


def test_every_piece_is_a_group_named_by_the_piece() -> None:
    sample = draft()
    groups = {g.attrib["id"]: g for g in parsed(draft_svg(sample)).iter(f"{SVG}g")}
    for piece in sample.pieces.values():
        group = groups[piece.name]
        assert group.attrib["class"] == "piece"
        assert group.find(f"{SVG}title").text == piece.title  # type: ignore[union-attr]


def test_ids_are_unique_even_when_names_repeat() -> None:
    canvas = SvgCanvas(Box(0, 0, 10, 10), title="front", prefix="p-")
    for _ in range(3):
        canvas.open_group("front")
        canvas.close_group()
    ids = re.findall(r' id="([^"]+)"', canvas.tostring())
    assert len(ids) == 4
    assert len(set(ids)) == 4
    assert all(i.startswith("p-") for i in ids)


@pytest.mark.parametrize("name", ["Rock vorn", "  <b>", "前身頃", "1", "-", "ọ́ 2/3"])
def test_any_name_makes_a_lawful_id(name: str) -> None:
    assert re.fullmatch(r"[^\W\d_][\w-]*", safe_id(name))


def test_numbers_have_at_most_three_decimals() -> None:
    text = draft_svg(draft())
    body = text[text.index("</style>") :]
    assert re.search(r"\d\.\d{3}", body)
    assert not re.search(r"\d\.\d{4}", body)
    assert not re.search(r"-0[ \"ZCLM]", body)


@pytest.mark.parametrize(("value", "words"), [(1.0, "1"), (-0.0004, "0"), (12.3456, "12.346"), (0.5, "0.5")])
def test_figures(value: float, words: str) -> None:
    assert formatted(value) == words


def test_line_kinds_are_classes_with_a_rule_in_the_file() -> None:
    text = draft_svg(draft(sleeve(), bodice_front()))
    sheet = text[text.index("<style") : text.index("</style>")]
    used = set(re.findall(r'<path [^>]*class="(\w+)"', text))
    lines = {kind.value for kind in LineKind} & used
    assert {"seam", "fold", "grain", "dart", "notch", "guide"} <= lines
    for kind in lines:
        assert re.search(rf"\.{kind}\{{stroke:#[0-9a-f]{{6}};stroke-width:", sheet)


def test_nothing_is_fetched() -> None:
    text = draft_svg(draft())
    addresses = set(re.findall(r"https?://[^\"' ]+", text))
    assert all(a.startswith("http://www.w3.org/") for a in addresses)
    assert "@import" not in text
    assert "url(" not in text


def test_the_same_draft_gives_the_same_file() -> None:
    assert draft_svg(draft()) == draft_svg(draft())


def test_curves_stay_curves() -> None:
    assert "C" in "".join(re.findall(r' d="([^"]+)"', draft_svg(draft(sleeve()))))


def test_forbidden_signs_and_markup_in_words_do_no_harm() -> None:
    canvas = SvgCanvas(Box(0, 0, 10, 10), title="a\x00b")
    canvas.text(Point(0, 0), "</text><script>\x0b&", 4)
    root = parsed(canvas.tostring())
    words = root.find(f"{SVG}text")
    assert words is not None
    assert words.text == "</text><script> &"
    assert root.find(f".//{SVG}script") is None


def test_a_closed_path_is_closed_and_a_turned_text_turns_about_its_foot() -> None:
    canvas = SvgCanvas(Box(0, 0, 10, 10))
    canvas.stroke(line(Point(0, 0), Point(5, 0), Point(5, 5), Point(0, 0)), LineKind.CUT, closed=True)
    canvas.text(Point(3, 4), "a", 2, anchor="end", angle=-90, kind="quiet")
    root = parsed(canvas.tostring())
    assert root.find(f"{SVG}path").attrib["d"].endswith("Z")  # type: ignore[union-attr]
    text = root.find(f"{SVG}text")
    assert text is not None
    assert text.attrib["transform"] == "rotate(-90 3 4)"
    assert text.attrib["text-anchor"] == "end"


def test_a_draft_without_pieces_still_gives_a_drawing_that_says_so() -> None:
    from dataclasses import replace

    root = parsed(draft_svg(replace(draft(), pieces={})))
    assert root[1].text == "No piece was drafted."


def test_a_cutting_line_is_drawn_outside_the_seam() -> None:
    piece = bodice_front()
    box = piece.outline.bounds().grown(15)
    cut = Path.polyline([*box.corners, box.corners[0]])
    text = draft_svg(draft(piece), cut_lines={"front": cut})
    assert re.search(r'<path [^>]*class="cut"', text)


def test_a_small_pieces_label_does_not_run_into_the_next_ones() -> None:
    top, low = (Point(0, 0), Point(6, 0)), (Point(6, 300), Point(0, 300))
    strip = Piece("strip", "An exceedingly long name for a strip", (Edge("round", line(*top, *low, top[0])),))
    strips = [replace(strip, name=f"strip{i}") for i in range(4)]
    labels = []
    for text in parsed(draft_svg(draft(*strips))).iter(f"{SVG}text"):
        words, size = "".join(text.itertext()), float(text.attrib["font-size"])
        if "exceedingly" in words and "transform" not in text.attrib:
            x, y = float(text.attrib["x"]), float(text.attrib["y"])
            labels.append(Box(x, y - size, x + text_width(words, size), y))
    assert len(labels) == 4
    for a, b in combinations(labels, 2):
        assert a.right < b.left or b.right < a.left or a.bottom < b.top or b.bottom < a.top
