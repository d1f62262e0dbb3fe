"""What the demo studio's styles say of cutting and sewing: what is there for the client, and nothing else."""

from __future__ import annotations

import re

import pytest

from catalogue.studio.prose import Prose
from catalogue.workroom.notions import notion_words
from tests.demo import demo_client
from tests.drafting.people_and_styles import (
    DEMO_STYLES,
    demo_draft,
    demo_style,
    draft,
    suited,
    with_choices,
)

_HEDGES = re.compile(
    r"\b(if there is|where (?:there is|it has)|where the (?:cape|skirt|cap|sleeve) has|without one,"
    r"|with(?:out)? a (?:vent|ribbon|tuck|turn-up)\b|with (?:one|gathers|pleats|snaps):|with (?:six|eight) gores)",
    re.IGNORECASE,
)


@pytest.mark.parametrize("slug", DEMO_STYLES)
def test_no_step_leaves_it_to_the_seamstress_what_the_draft_has(slug):
    style = demo_style(slug)
    told = [part.markdown for section in style.sections for part in section.parts if isinstance(part, Prose)]
    assert [found[0] for text in told for found in _HEDGES.finditer(text)] == []


WAYS = [
    ("straight-skirt", "ines", {"vent": "no"}, "", "vent|laps|snip|ribbon|petersham"),
    ("straight-skirt", "ines", {"waist_finish": "ribbon", "skirt_length": "50 cm"}, "ribbon|vent", "band|hook inside"),
    ("straight-skirt", "wren", {}, "band|fuse", "ribbon"),
    ("circle-skirt", "ines", {"flare": "quarter"}, "bias", "two backs|side seam"),
    ("circle-skirt", "aarav", {"flare": "full"}, "two backs|side seams|on the fold",
     "twice, its middle|centre front from"),
    ("gored-skirt", "ines", {"gores": "six", "pleat": "no"}, "six gores", "pleat|eight"),
    ("gored-skirt", "ines", {"gores": "eight", "pleat": "yes"}, "eight gores|pleat|inner edges",
     "six|on the fold, two"),
    ("hooded-cape", "ines", {"shoulder_dart": "no"}, "slit|shoulder notch|and the shoulder on the neck", "dart"),
    ("hooded-cape", "ines", {"length": "51 cm"}, "dart", "slit"),
    ("mens-trousers", "osric-tamblyn", {"pleats": "none"}, "crease", "pleat|dart|outside up"),
    ("mens-trousers", "nadim", {"pleats": "two", "turnup": "yes"}, "pleat|dart|outside up|zigzag at the front",
     "longer behind"),
    ("mens-shirt", "nadim", {"back_pleat": "none"}, "zigzag at the sleeve hem", "pleat of the back|top of the back"),
    ("yoked-shirt", "nadim", {}, "pleat of the back", "bust dart"),
    ("yoked-shirt", "ines", {}, "bust dart", ""),
    ("yoked-blouse", "ines", {"fullness": "pleated"}, "bust dart|zigzag|fold the pleats", "long stitches"),
    ("childs-dungarees", "wren", {"inside_legs": "closed"}, "in one seam", "socket|snap"),
    ("childs-pinafore", "wren", {"growth_tuck": "no"}, "turn up the hem", "tuck"),
    ("mens-waistcoat", "osric-tamblyn", {}, "", "darts?\\b"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("slug", "client", "choices", "said", "unsaid"), WAYS, ids=lambda value: str(value)[:24]
)
def test_cutting_and_sewing_are_those_of_the_draft(slug, client, choices, said, unsaid):
    chosen = with_choices(demo_client(client), slug, **choices)
    made = draft(demo_style(slug), chosen) if choices else demo_draft(slug, client)
    assert [f for f in made.findings if f.is_error] == []
    chapters, inside = [], False
    for section in made.style.sections:
        inside = section.heading in ("Cutting", "Sewing") if section.level == 1 else inside
        if inside:
            chapters += [
                part.filled(made.rendered, made.holding) for part in section.parts if isinstance(part, Prose)
            ]
    text = " ".join(" ".join(chapters).split())
    assert len(text) > 500 and "…" not in text
    for words in filter(None, said.split("|")):
        assert re.search(words, text, re.IGNORECASE), words
    found = re.search(unsaid, text, re.IGNORECASE) if unsaid else None
    assert found is None, text[max(found.start() - 60, 0) : found.end() + 60]


def test_notions_are_those_of_the_draft():
    ribbon = draft(
        demo_style("straight-skirt"),
        with_choices(demo_client("ines"), "straight-skirt", waist_finish="ribbon"),
    )
    assert any("petersham" in notion for notion in ribbon.notions)
    assert not any("hook and bar" in notion for notion in ribbon.notions)
    assert demo_draft("straight-skirt", "wren").notions[1:] == ("hook and bar", "sewing thread")


def test_notions_are_as_long_as_the_draft_needs_them():
    """Whole centimetres and half inches, never short of the opening by more than a millimetre (common practice)."""
    skirt = demo_draft("straight-skirt", "wren")
    assert skirt.values["zip_length"].value == pytest.approx(160, abs=0.01)
    assert notion_words(skirt)[0] == "zip (16 cm), or a longer one to shorten"
    dress = demo_draft("princess-dress", "omolara")
    assert 24 * 25.4 < dress.values["zip_length"].value < 24.5 * 25.4
    assert notion_words(dress)[0] == "zip (24 1/2 in), or a longer one to shorten"
    snaps = draft(
        demo_style("childs-dungarees"),
        with_choices(demo_client("wren"), "childs-dungarees", inside_legs="snaps"),
    )
    long = snaps.values["snap_long"].value
    assert long == pytest.approx(2 * snaps.pieces["front"].edge("inside").path.length, abs=5)
    assert f"snap tape for the inside of the legs ({long / 10:g} cm)" in notion_words(snaps)


@pytest.mark.parametrize("slug", DEMO_STYLES)
def test_no_notion_leaves_its_length_to_the_reader(slug):
    client = next(c for s, c in suited() if s == slug)
    assert not [words for words in notion_words(demo_draft(slug, client)) if "how" in words]
