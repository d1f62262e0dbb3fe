"""Styles joined with the blocks they are cut from: what is wrong is told at its place; a style changes with them."""

import pytest

from catalogue.studio.joining import joined
from catalogue.studio.reading import style_from
from catalogue.studio.style import Style


def style(slug: str, front: str = "", lines: str = "a = 1 cm\nb = a down from start") -> Style:
    text = f"---\ntitle: {slug}\n{front}---\n\n```draft\n{lines}\n```\n"
    return style_from(text.encode(), slug, f"styles/{slug}.md")


def errors(*styles: Style) -> dict[str, list[tuple[str, str, str, str]]]:
    """By slug: code, place, message and hint of each error."""
    return {
        s.slug: [(f.code, str(f.place), f.message, f.hint) for f in s.findings if f.is_error]
        for s in joined(styles)
        if not s.ok
    }


FRONT = [
    ("cut from: bodice\n", "3:11", "wrong-kind", "should be names with the blocks"),
    ("cut from:\n  bodice: [a, b]\n", "4:11", "wrong-kind", "should be the name of a style's file"),
    ("cut from:\n  2 bodice: block\n", "4:3", "bad-name", "can't be the name of a block"),
    ("cut from:\n  a b: block\n  a_b: block\n", "5:3", "given-twice", "is there twice"),
    ("cut from:\n  bodice: ', ease = 3 cm'\n", "4:11", "no-block", "names no block"),
    (
        "cut from:\n  bodice: block, ease 3 cm\n",
        "4:18",
        "bad-choice",
        "“ease 3 cm” does not say what is chosen",
    ),
    ("cut from:\n  bodice: block; ease = 3 cm\n", "4:16", "no-block", "Expected a comma in place of “;”"),
    ("cut from:\n  bodice: block ease = 3 cm\n", "4:11", "no-block", "names no block"),
    ("cut from:\n  bodice: block, ease = 3 cm +\n", "4:31", "not-understood", ""),
    ("cut from:\n  bodice: block, ease = 3 cm, ease = 4 cm\n", "4:31", "given-twice", "stated twice"),
    ("cut from:\n  bodice: block, room = 3 cm\n", "4:18", "unknown-choice", "“block” has no choice “room”"),
    ("cut from:\n  bodice: blok\n", "4:11", "no-such-block", "There is no style “blok” here"),
    ("block: perhaps\n", "3:8", "yes-or-no", "is yes or no"),
    ("receives: 3 cm\n", "3:11", "wrong-kind", "“receives” should be names with values"),
]


@pytest.mark.parametrize(
    ("front", "place", "code", "message"), FRONT, ids=[m[0].replace("\n", " ") for m in FRONT]
)
def test_a_mistake_in_the_front_matter_is_told_where_it_stands(front, place, code, message):
    found = errors(style("dress", front), style("block", "choices:\n  ease: 1 cm\n", "a = ease"))
    assert list(found) == ["dress"]
    [(its_code, its_place, its_message, _)] = found["dress"]
    assert (its_code, its_place) == (code, f"styles/dress.md:{place}")
    assert message in its_message


def test_a_missing_comma_is_told_with_the_line_to_write():
    for written in ("block; ease = 3 cm;", "block ease = 3 cm"):
        [(_, _, _, hint)] = errors(style("dress", f"cut from:\n  bodice: {written}\n"), style("block"))[
            "dress"
        ]
        assert hint.endswith("bodice: block, ease = 3 cm")


def test_a_decimal_comma_does_not_end_what_is_stated():
    dress = style("dress", "cut from:\n  bodice: block, ease = 3,5 cm, room = 1/2 in\n")
    block = style("block", "choices:\n  ease: 1 cm\n  room: 1 cm\n", "a = ease + room")
    assert not errors(dress, block)
    assert [(each.choice, each.text) for each in dress.cut_from[0].stated] == [
        ("ease", "3,5 cm"),
        ("room", "1/2 in"),
    ]


def test_a_missing_block_is_told_with_the_nearest_or_the_file_to_look_for():
    near = errors(style("dress", "cut from:\n  b: bodice-blok\n"), style("bodice-block"))["dress"][0]
    assert "bodice-block" in near[3]
    far = errors(style("dress", "cut from:\n  b: trousers\n"))["dress"][0]
    assert far[3] == "Its file would be styles/trousers.md."


def test_a_circle_is_told_on_each_style_in_it_and_a_failing_block_on_those_beyond():
    found = errors(
        style("a", "cut from:\n  x: b\n"),
        style("b", "cut from:\n  x: c\n"),
        style("c", "cut from:\n  x: a\n"),
        style("d", "cut from:\n  x: a\n"),
        style("self", "cut from:\n  x: self\n"),
        style("well"),
    )
    assert {slug: each[0][0] for slug, each in found.items()} == {
        **dict.fromkeys(("a", "b", "c", "self"), "cut-from-itself"),
        "d": "block-fails",
    }
    assert found["a"][0][2] == (
        "“a” is cut from “b”, which is cut from “c”, which is cut from “a”: no style can be cut from itself."
    )
    assert found["d"][0][1] == "styles/a.md:4:6"


def test_a_chain_may_be_so_long_and_no_longer():
    chain = [style("s0"), *(style(f"s{n}", f"cut from:\n  x: s{n - 1}\n") for n in range(1, 12))]
    found = errors(*chain)
    assert list(found) == ["s8", "s9", "s10", "s11"]
    assert found["s8"][0][0] == "too-deep"
    assert "“s8” from “s7” from “s6”" in found["s8"][0][2]
    assert found["s9"][0][:2] == ("block-fails", "styles/s8.md:4:6")
    assert [each[0][0] for each in found.values()].count("block-fails") == 3, "told once on each"


def test_many_styles_in_a_row_are_joined_quickly_and_told():
    chain = [style("s0"), *(style(f"s{n}", f"cut from:\n  x: s{n - 1}\n") for n in range(1, 400))]
    assert len(errors(*chain)) == 400 - 8


def test_a_mistake_in_a_block_is_told_once_on_each_style_with_its_file_and_line():
    broken = style("block", "", "a = 1 cm\nb = = a\nc = = a")
    found = errors(style("dress", "cut from:\n  x: block\n  y: block\n"), broken)
    [(code, place, message, _)] = found["dress"]
    assert (code, place) == ("block-fails", "styles/block.md:7:5")
    assert message.startswith("The block “block” can't be drafted: ")


def test_a_style_changes_with_every_block_of_its_chain_and_with_no_other():
    def digests(lowest: str, other: str = "a = 1 cm") -> dict[str, str]:
        every = joined(
            [
                style("dress", "cut from:\n  x: middle\n"),
                style("middle", "cut from:\n  x: low\n"),
                style("low", "", lowest),
                style("other", "", other),
            ]
        )
        return {s.slug: s.digest for s in every}

    before = digests("a = 1 cm")
    changed = digests("a = 2 cm")
    assert [slug for slug in before if before[slug] != changed[slug]] == ["dress", "middle", "low"]
    assert [s for s in before if before[s] != digests("a = 1 cm", "a = 3 cm")[s]] == ["other"]


def test_the_chain_lists_the_nearest_first():
    every = joined(
        [
            style("dress", "cut from:\n  x: bodice\n  y: skirt\n"),
            style("bodice", "cut from:\n  x: foundation\n"),
            style("skirt"),
            style("foundation"),
        ]
    )
    assert [block.slug for block in every[0].chain] == ["bodice", "skirt", "foundation"]


def test_measurements_come_from_the_whole_chain_but_not_from_what_is_given():
    part = style("part", "receives:\n  seam: neck_base_girth / 2\n", "a = seam + wrist_girth")
    block = style("block", "choices:\n  ease: 1 cm\n", "a = either bust_girth or chest_girth\nb = ease")
    dress = style("dress", "cut from:\n  p: part\n  b: block, ease = hip_girth / 90\n", "a = waist_girth")
    joined_dress = joined([dress, part, block])[0]
    assert joined_dress.needs == ("waist_girth", "hip_girth", "wrist_girth")
    assert joined_dress.alternatives == (("bust_girth", "chest_girth"),)
    assert "neck_base_girth" in part.needs
