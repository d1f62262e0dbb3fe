"""What is probably typed wrong in a style file and would otherwise pass in silence: asked about, with its line."""

from __future__ import annotations

import pytest

from catalogue.findings import Finding
from catalogue.studio.reading import style_from

STYLE = """---
title: Sample
garment: skirt
cloth:
  main: firm wool, 140 cm wide
choices:
  length: 60 cm (40 cm to 90 cm)
---

# Drafting

```draft
a = length down from start
b = 3 cm right from a
```

# Cutting

Cut it.

# Sewing

Sew it.
"""


def told(old: str, new: str) -> list[Finding]:
    assert old in STYLE
    return list(style_from(STYLE.replace(old, new).encode(), "sample", "styles/sample.md").findings)


def test_a_style_without_slips_is_not_asked_about() -> None:
    assert told("Sample", "Sample") == []


@pytest.mark.parametrize(
    ("old", "new", "line", "code", "words", "is_error"),
    [
        ("garment: skirt", "garment: skrit", 3, "doubted-garment", "Did you mean “skirt”?", False),
        ("garment: skirt", "garment: long wastecoat", 3, "doubted-garment", "“waistcoat”", False),
        ("140 cm wide", "14 cm wide", 5, "doubted-width", "no cloth is 14 cm wide", False),
        ("140 cm wide", "1400 cm wide", 5, "doubted-width", "no cloth is 1400 cm wide", False),
        ("# Sewing", "# Sowing", 21, "doubted-heading", "Did you mean “Sewing”?", False),
        ("# Cutting", "# Cuting", 17, "doubted-heading", "Did you mean “Cutting”?", False),
        ("60 cm (40 cm", "60 in (40 cm", 7, "default-outside", "90 cm is taken", False),
        ("60 cm (40 cm", "6 cm (40 cm", 7, "default-outside", "40 cm is taken", False),
        ("(40 cm to 90 cm)", "(90 cm to 40 cm)", 7, "bad-range", "Write 40 cm to 90 cm", True),
        ("60 cm (40", "60 (40", 7, "bad-range", "“60” is a number", True),
    ],
)
def test_a_slip_is_asked_about(old: str, new: str, line: int, code: str, words: str, is_error: bool) -> None:
    [finding] = told(old, new)
    assert (finding.code, finding.is_error) == (code, is_error)
    assert finding.place is not None and finding.place.line == line
    assert words in f"{finding.message} {finding.hint}"


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("garment: skirt", "garment: skirts and coats"),
        ("garment: skirt", "garment: skort"),
        ("garment: skirt", "garment: áo dài"),
        ("garment: skirt", "garment: cloak"),
        ("140 cm wide", "54 in wide, or 140 cm wide"),
        ("140 cm wide", "with a stripe 2 cm wide, 140 cm wide"),
        ("140 cm wide", "as wide as there is"),
        ("# Sewing", "# Marking"),
        ("# Sewing", "# sewing"),
        ("# Sewing", "# Making up and pressing"),
        ("# Sewing", "## Sowing"),
        ("60 cm (40 cm to 90 cm)", "waist_to_knee (40 cm to waist_to_knee + 30 cm)"),
        ("60 cm (40 cm to 90 cm)", "3 cm (-1 cm to 1 1/2 in)"),
        ("60 cm (40 cm to 90 cm)", "24 in (40 cm to 90 cm)"),
    ],
)
def test_what_may_be_meant_is_not_asked_about(old: str, new: str) -> None:
    assert told(old, new) == []
