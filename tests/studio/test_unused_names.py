"""Names that nothing uses are pointed out when a studio is checked; a build says nothing of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from catalogue.building.checking import check
from catalogue.building.report import Request
from catalogue.building.run import build
from catalogue.building.units import CATALOGUE
from catalogue.starter import make_studio
from catalogue.studio.joining import joined
from catalogue.studio.reading import read_style, style_from
from catalogue.studio.style import Style
from catalogue.studio.unused_names import unused_names
from tests.demo import ROOT

PIECE = "piece p, cut 1\n  outline one: start to b\n  outline two: b to c to start"


def style(lines: str, front: str = "", prose: str = "", slug: str = "bag") -> Style:
    text = f"---\ntitle: Bag\n{front}---\n\n{prose}\n\n```draft\n{lines}\n```\n"
    return style_from(text.encode(), slug, f"styles/{slug}.md")


def unused(*styles: Style) -> list[str]:
    return [f.message for f in unused_names(joined(styles))]


USED = "b = 9 cm right from start\nc = 9 cm down from b\n"


@pytest.mark.parametrize(
    ("lines", "names"),
    [
        ("d = 3 cm down from b\n", ["d"]),
        ("room = 3 cm\nroom_2 = room + 1 cm\n", ["room_2"]),
        ("d = 3 cm down from b\nsize = distance d to b\nmore = 2 * size\n", ["more"]),
        # A line is drawn, and so is seen.
        ("guide = line b to c\nbow = curve b leaving down, c\nround = circle about b radius 2 cm\n", []),
        (
            "when hip_girth is more than 1 m\n  d = 3 cm down from b\notherwise\n  d = 2 cm down from b\n",
            ["d"],
        ),
        ("repeat for n 1 to 3\n  d_{n} = 1 cm * n down from b\n", []),
    ],
)
def test_a_point_or_a_figure_that_nothing_uses_is_told(lines: str, names: list[str]) -> None:
    bag = style(USED + lines + PIECE)
    assert bag.ok
    assert unused(bag) == [f"Nothing uses “{name}”." for name in names]


@pytest.mark.parametrize(
    ("lines", "after"),
    [
        ("d = 3 cm down from b\n", "notch p.two at d"),
        ("d = 3 cm down from b\n", "mark d drill hole on p"),
        ("d = 3 cm down from b\n", "e = line p.d to c"),
        ("d = 3 cm\n", "allow d"),
        ("d = 3 cm\n", "check d is less than 4 cm"),
        ("d = 3 cm\n", "finished hip girth = 4 * d, ease at least 1 cm"),
        ("d = 3 cm\n", 'note "Wide" when d is more than 2 cm'),
        (
            "d = 3 cm down from b\n",
            "find x between 1 cm and 3 cm so that distance d to f = 2 cm\n  f = x down from b",
        ),
    ],
)
def test_what_any_later_line_uses_is_not_told(lines: str, after: str) -> None:
    bag = style(USED + lines + PIECE + "\n" + after)
    assert bag.ok, bag.findings
    assert unused(bag) == []


def test_prose_and_what_is_stated_for_a_block_use_a_name() -> None:
    assert unused(style(USED + "d = 3 cm\n" + PIECE, prose="It is {d} deep.")) == []
    block = style(USED + PIECE, "choices:\n  room: 2 cm\n", "{room}", "block")
    assert unused(style("d = 3 cm\n" + USED + PIECE, "cut from:\n  it: block, room = 2 cm\n"), block) == [
        "Nothing uses “d”."
    ]


def test_names_of_blocks_are_there_for_what_is_cut_from_them() -> None:
    lines = USED + "d = 3 cm down from b\n" + PIECE
    assert unused(style(lines, "block: yes\n")) == []
    assert unused(style("take p from it", "cut from:\n  it: block\n"), style(lines, slug="block")) == []


def test_a_style_with_a_mistake_is_left_alone() -> None:
    assert unused(style(USED + "d = 3 cm\ne = = d\n" + PIECE)) == []


def test_nothing_is_told_of_the_demo_and_the_studio_that_new_makes(tmp_path: Path) -> None:
    demo = [read_style(path, ROOT) for path in sorted((ROOT / "styles").glob("*.md"))]
    assert len(demo) > 5 and unused(*demo) == []
    make_studio(tmp_path)
    text = (tmp_path / "styles/first-skirt.md").read_bytes()
    assert unused(style_from(text, "first-skirt", "styles/first-skirt.md")) == []


def test_a_check_tells_it_and_a_build_does_not(tmp_path: Path) -> None:
    make_studio(tmp_path / "studio")
    path = tmp_path / "studio/styles/first-skirt.md"
    path.write_text(path.read_text().replace("quarter_waist =", "left_over = 3 cm\nquarter_waist ="))
    request = Request(tmp_path / "studio", tmp_path / "site", jobs=1)
    [told] = check(request, CATALOGUE).findings
    assert told.finding.message == "Nothing uses “left_over”."
    assert told.finding.source == "left_over = 3 cm" and not told.finding.is_error
    assert build(request, CATALOGUE).findings == ()
