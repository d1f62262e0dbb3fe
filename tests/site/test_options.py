"""The ranges of options as forms take them: worked out for a client, or for a standard size."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from catalogue.people import Client
from catalogue.people.reading import read_client
from catalogue.site.options import made_ranges, option_data
from catalogue.studio.reading import read_style
from catalogue.studio.style import Style

STYLE = """---
title: Skirt
garment: skirt
for: women
choices:
  skirt length: waist_to_knee (waist_to_hip + 8 cm to 115 cm)
  vent height: skirt_length / 4 (5 cm to skirt_length / 2)
  hem: 4 cm (2 cm to 10 cm)
  seat: hip_girth / 4 (hip_girth / 5 to hip_girth / 3)
  band: yes (yes, no)
---

```draft
low = skirt_length down from start
wide = hip_girth right from start
```
"""
CLIENT = """---
name: Ada
for: woman
units: inches
measured:
  2026-01-15:
    waist to knee: 24
    waist to hip: 8
choices:
  skirt:
    skirt length: 30
---
"""


@pytest.fixture
def style(tmp_path: Path) -> Style:
    path = tmp_path / "styles" / "skirt.md"
    path.parent.mkdir()
    path.write_text(STYLE, encoding="utf-8")
    found = read_style(path, tmp_path)
    assert found.ok, found.findings
    return found


@pytest.fixture
def client(tmp_path: Path) -> Client:
    path = tmp_path / "clients" / "ada.md"
    path.parent.mkdir()
    path.write_text(CLIENT, encoding="utf-8")
    return read_client(path, tmp_path)


def test_a_range_is_worked_out_for_the_client(style: Style, client: Client) -> None:
    """8 in and 8 cm; the vent goes by the length that the client has; what needs the hip has to wait."""
    found = made_ranges(style, client)
    assert list(found) == ["skirt length", "vent height"]
    assert found["skirt length"] == pytest.approx((8 * 25.4 + 80, 1150, 24 * 25.4))
    assert found["vent height"] == pytest.approx((50, 30 * 25.4 / 2, 30 * 25.4 / 4))
    length, vent, hem, seat, band = option_data(style, found)
    assert (length["low"], length["high"], length["at"], length["made"]) == (283.2, 1150.0, 609.6, 1)
    assert (
        vent["made"] == 1
        and "made" not in hem
        and (hem["low"], hem["high"], hem["at"]) == (20.0, 100.0, 40.0)
    )
    assert "low" not in seat and "low" not in band


def test_without_a_client_it_is_that_of_a_standard_size(style: Style) -> None:
    """Half and a quarter of the length, whatever the size measures."""
    length, vent, _, seat, _ = option_data(style)
    assert length["low"] < length["at"] < length["high"] == 1150.0
    assert vent["high"] == pytest.approx(length["at"] / 2, abs=0.1) and vent["at"] == pytest.approx(
        vent["high"] / 2, abs=0.1
    )
    assert seat["high"] / seat["low"] == pytest.approx(5 / 3, rel=0.001)


def test_a_style_with_a_mistake_has_none(style: Style, client: Client) -> None:
    from catalogue.findings import Finding

    assert made_ranges(replace(style, findings=(Finding("x", "is wrong"),)), client) == {}
