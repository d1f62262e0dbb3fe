"""The accent can be read wherever it is used."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.site.palette import DARK_GROUND, LIGHT_GROUND, accent_sheet, contrast, legible

colours = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06x}")


def test_contrast_as_wcag_defines_it() -> None:
    # WCAG 2.2: black on white is 21 to 1. #777777 on white is the well-known near miss at 4.48 to 1.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)
    assert contrast("#ffffff", "#777777") == contrast("#777777", "#ffffff")


@given(colours)
def test_any_accent_is_made_readable(colour: str) -> None:
    for ground in (LIGHT_GROUND, DARK_GROUND):
        assert contrast(legible(colour, ground), ground) >= 4.5


def test_a_readable_accent_is_kept() -> None:
    assert legible("#8c3b2e", LIGHT_GROUND) == "#8c3b2e"


@given(colours)
def test_ink_on_the_accent_can_be_read(colour: str) -> None:
    words = accent_sheet(colour).split()
    value = {
        words[n].rstrip(":"): words[n + 1].rstrip(";")
        for n in range(len(words) - 1)
        if words[n].startswith("--")
    }
    for kind in ("--accent", "--accent-dark"):
        assert contrast(value[kind], value[f"{kind}-on"]) >= 4.5


def grounds() -> dict[str, dict[str, str]]:
    """The colours of the style sheet, light and dark."""
    import re

    from catalogue.site.folders import built_in_templates

    sheet = (built_in_templates() / "catalogue.css").read_text(encoding="utf-8")
    light, dark = sheet.split("@media (prefers-color-scheme: dark)", 1)
    found = re.compile(r"--([a-z-]+):\s*(#[0-9a-f]{6})")
    return {
        "light": dict(found.findall(light)),
        "dark": dict(found.findall(dark.split("/* ---- ground", 1)[0])),
    }


@pytest.mark.parametrize("mode", ["light", "dark"])
def test_inks_of_the_style_sheet_can_be_read_on_its_papers(mode: str) -> None:
    colours = grounds()[mode]
    for ink in ("ink", "soft", "good", "bad", "warn"):
        for paper in ("paper", "sheet", "tint"):
            assert contrast(colours[ink], colours[paper]) >= 4.5, (ink, paper)
    for paper in ("paper", "sheet", "tint"):
        assert contrast(colours["edge"], colours[paper]) >= 3, paper  # WCAG 2.2, 1.4.11: parts of controls
    assert colours["tint"] == {"light": LIGHT_GROUND, "dark": DARK_GROUND}[mode]


def test_no_ground_is_nearer_to_the_accent_than_the_one_reckoned_with() -> None:
    light, dark = grounds()["light"], grounds()["dark"]
    white, black = "#ffffff", "#000000"
    assert all(contrast(light[p], white) <= contrast(LIGHT_GROUND, white) for p in ("paper", "sheet"))
    assert all(contrast(dark[p], black) <= contrast(DARK_GROUND, black) for p in ("paper", "sheet"))
