"""What choices change: each drafted at its ends for a standard size."""

import re

import pytest

from catalogue.people import REGISTER
from catalogue.site.extremes import choice_picture_path, choice_pictures
from catalogue.site.neutral import MAN, WOMAN, standard_person
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings

SOURCE = """---
title: Slip
garment: skirt
{audience}
choices:
  length: 50 cm (waist_to_hip + 10 cm to 90 cm)
  take: 2 cm (1 cm to 3 cm) - what the dart takes
  band: yes (yes, no)
  free: 3 cm
---
# Drafting
```draft
top = start
low = length down from top
side_top = waist_girth / 4 + take right from top
side_low = hip_girth / 4 + 3 cm right from low
foot = midway top to side_top
piece front "Front", cut 1 on fold
  outline centre: top to low, fold
          hem: low to side_low
          side: side_low to side_top
          waist: side_top to top
dart front.waist, middle at foot, intake take, length 9 cm
piece back "Back", cut 1 on fold
  outline centre: top to low, fold
          hem: low to side_low
          side: side_low to side_top
          waist: side_top to top
dart back.waist, middle at foot, intake take, length 9 cm
sew front.side to back.side
finished length = length
```
"""


def pictures(audience: str = "for: women") -> dict[str, str]:
    style = style_from(SOURCE.replace("{audience}", audience).encode(), "slip", "slip.md")
    assert style.ok, [str(f) for f in style.findings]
    return choice_pictures(style, Settings())


def shown(svg: str) -> list[str]:
    return re.findall(r'text-anchor="middle">([^<]+)<', svg)


def test_every_choice_with_ends_or_words_has_a_picture() -> None:
    assert sorted(pictures()) == [f"styles/slip/choices/{name}.svg" for name in ("band", "length", "take")]


def test_the_ends_are_worked_out_and_drawn_at_one_scale() -> None:
    svg = pictures()["styles/slip/choices/length.svg"]
    # Waist to hip of the standard size is 20.5 cm.
    assert shown(svg) == ["30.5 cm", "90 cm"]
    assert "Finished length: 30.5 cm, 90 cm" in svg
    assert len(set(re.findall(r"scale\(([\d.]+)\)", svg))) == 1
    high = [
        max(ys) - min(ys)
        for part in svg.split('<g transform="translate')[1:]
        for edge in re.findall(r'class="edge" d="M([^"]+)Z"', part)[:1]
        for ys in [
            [float(pair.split()[1]) for pair in re.split("L", edge)[0:1]]
            + [float(y) for y in re.findall(r"[\d.-]+ ([\d.-]+)", edge)]
        ]
    ]
    assert high[0] == pytest.approx(305, abs=3) and high[-1] == pytest.approx(900, abs=3)


def test_what_changes_nothing_says_so() -> None:
    assert "The drawing stays the same." in pictures()["styles/slip/choices/band.svg"]


def test_a_change_too_small_for_the_garment_shows_the_pieces() -> None:
    svg = pictures()["styles/slip/choices/take.svg"]
    assert 'class="edge"' not in svg and 'class="dart"' in svg
    assert "waist: 19.8 cm, 21.8 cm" in svg.replace("Front, ", "").lower() or "waist" in svg


def test_standard_people_are_meant_by_the_style() -> None:
    for line, kind in (("for: women", "woman"), ("for: men", "man"), ("for: girls", "girl"), ("", "woman")):
        style = style_from(SOURCE.replace("{audience}", line).encode(), "slip", "slip.md")
        assert standard_person(style).kind == kind


def test_standard_people_have_every_length_of_the_register() -> None:
    lengths = {m.key for m in REGISTER.values() if m.kind != "weight"}
    assert set(WOMAN) == lengths == set(MAN)


def test_published_values_are_kept() -> None:
    # US home-pattern trade sizes after 1967, misses size 14: bust 36, waist 28, hip 38, back waist length 16 1/2 in.
    keys = ("bust_girth", "waist_girth", "hip_girth", "back_waist_length")
    assert [WOMAN[k] / 25.4 for k in keys] == pytest.approx([36, 28, 38, 16.5])


def test_a_path_is_made_safe() -> None:
    style = style_from(SOURCE.replace("{audience}", "").encode(), "slip", "slip.md")
    assert choice_picture_path("slip", style.choices[0]) == "styles/slip/choices/length.svg"


def test_each_value_can_be_shown_alone() -> None:
    """A `view` element is how SVG 2 (section 16.3) lets a link ask for a part of a drawing."""
    svg = pictures()["styles/slip/choices/length.svg"]
    views = [
        [float(n) for n in box.split()] for box in re.findall(r'<view id="v\d" viewBox="([^"]+)"/>', svg)
    ]
    whole = [float(n) for n in svg.partition('viewBox="')[2].partition('"')[0].split()]
    captions = [float(x) for x in re.findall(r'<text x="([\d.]+)" y="[\d.]+" text-anchor="middle">', svg)]
    assert [v[0] for v in views] == [0, whole[2] / 2] and {v[2] for v in views} == {whole[2] / 2}
    assert all(x < at < x + w for (x, _, w, _), at in zip(views, captions, strict=True))
