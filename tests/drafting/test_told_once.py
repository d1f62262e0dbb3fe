"""One mistake in a demo style gives one finding: what only follows from it is not told."""

from __future__ import annotations

import pytest

from catalogue.building.outputs import wrong
from catalogue.studio.reading import style_from
from tests.drafting.people_and_styles import ROOT, demo_client, draft, suited

MISTAKES = [
    ("circle-skirt", "notch centre_back at zip_end", "notch centre_back at zpi_end", "zpi_end"),
    ("circle-skirt", "notch centre_back at zip_end", "notch centre_bakc at zip_end", "centre_bakc"),
    (
        "yoked-shirt",
        "extend front.centre by button_stand as",
        "extend front.centre by btuton_stand as",
        "btuton_stand",
    ),
    ("bodice-block", "full_rise     = neck_width / 3", "full_rise     = nekc_width / 3", "nekc_width"),
    (
        "bodice-block",
        "close front.shoulder_dart, pivoting",
        "close front.shoulder_dat, pivoting",
        "shoulder_dat",
    ),
    ("bodice-block", "facing_width = smaller", "fcaing_width = smaller", "facing_width"),
]
"""Style, what stands in it, what is written instead, and the name that is told."""


@pytest.mark.parametrize(("slug", "right", "mistake", "name"), MISTAKES)
def test_one_mistake_is_told_once(slug: str, right: str, mistake: str, name: str) -> None:
    client = next(client for style, client in suited() if style == slug)
    text = (ROOT / "styles" / f"{slug}.md").read_text(encoding="utf-8")
    assert text.count(right) == 1
    spoilt = style_from(text.replace(right, mistake).encode(), slug, f"styles/{slug}.md")
    [finding] = wrong(draft(spoilt, demo_client(client)))
    assert name in finding.message and finding.is_error


def test_two_mistakes_are_told_each() -> None:
    client = demo_client(next(client for style, client in suited() if style == "circle-skirt"))
    text = (ROOT / "styles" / "circle-skirt.md").read_text(encoding="utf-8")
    right = "notch centre_back at zip_end"
    assert text.count(right) == 1
    both = text.replace(right, "notch centre_back at zpi_end")
    both = both.replace("```draft\n", "```draft\nextra = hmm_length + 1 cm\n", 1)
    found = wrong(draft(style_from(both.encode(), "circle-skirt", "styles/circle-skirt.md"), client))
    assert sorted(f.message.split("”")[0] for f in found) == ["“hmm_length", "“zpi_end"]
