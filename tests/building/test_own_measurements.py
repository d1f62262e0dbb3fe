"""The studio's own measurements in a whole catalogue: where they are shown, and what a change of them makes again."""

import shutil
from pathlib import Path

import pytest

from catalogue.building.checking import check
from catalogue.building.report import Report, Request
from catalogue.building.run import build
from catalogue.building.units import CATALOGUE
from catalogue.findings import Finding
from catalogue.starter import make_studio
from tests.building.fakes import site_files
from tests.building.test_rooms import SECOND, differing

OWN = """---
units: cm
measurements:
  strap length:
    how: From the top edge of the front, over the shoulder, to the top edge of the back
    for: women
    range: 30 to 52
    also called: strap
---
"""
BAND = """---
title: Shoulder band
for: women
---

# Drafting

A strap of {strap}.

```draft
top_left = start
top_right = strap_length right from top_left
bottom_right = 4 cm down from top_right
bottom_left = 4 cm down from top_left

piece band "Band", cut 2
  outline top: top_left to top_right
          end: top_right to bottom_right
          bottom: bottom_right to bottom_left
          start: bottom_left to top_left
  grain right
```
"""


class Desk:
    def __init__(self, folder: Path) -> None:
        self.folder, self.studio, self.output = folder, folder / "studio", folder / "site"
        make_studio(self.studio)
        (self.studio / "styles/bag.md").write_text(SECOND, encoding="utf-8")
        (self.studio / "styles/band.md").write_text(BAND, encoding="utf-8")
        self.own = self.studio / "clients/measurements.md"
        self.own.write_text(OWN, encoding="utf-8")
        (self.studio / "clients/strapped.md").write_text(
            "---\nname: Strapped\nfor: woman\nunits: cm\nmeasurements:\n  strap: 41\n  waist: 72\n---\n",
            encoding="utf-8",
        )

    def build(self) -> Report:
        return build(Request(self.studio, self.output, jobs=1), CATALOGUE)

    def page(self, path: str) -> str:
        return (self.output / path).read_text(encoding="utf-8")

    def is_a_first_build(self) -> bool:
        output = self.folder / "fresh"
        shutil.rmtree(output, ignore_errors=True)
        build(Request(self.studio, output, jobs=1), CATALOGUE)
        return differing(site_files(self.output), site_files(output)) == []


def told(report: Report) -> list[Finding]:
    return [each.finding for each in report.findings]


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(tmp_path)


def test_an_own_measurement_is_used_like_the_others_and_made_again_where_it_is_used(desk: Desk) -> None:
    report = desk.build()
    assert [f for f in told(report) if f.place and "strap" in f.place.file] == []
    assert "41 cm" in desk.page("styles/band/strapped/index.html")
    for path in (
        "measuring/index.html",
        "measuring/form/index.html",
        "clients/strapped/index.html",
        "assets/search.js",
        "styles/band/index.html",
    ):
        assert "strap length" in desk.page(path).lower(), path
    before = site_files(desk.output)

    # How it is taken is shown on the page of how to measure; what is drawn of it stays as it is.
    desk.own.write_text(OWN.replace("to the top edge", "down to the top edge"), encoding="utf-8")
    report = desk.build()
    changed = set(differing(before, site_files(desk.output))) - {".catalogue.json"}
    # The draft that waits for it says how it is taken too.
    assert changed == {
        "measuring/index.html",
        "measuring/form/index.html",
        "styles/band/first-client/index.html",
        "clients/first-client/add/index.html",
        "clients/new/index.html",
        "clients/strapped/add/index.html",
    }
    assert report.made == 2 and desk.is_a_first_build()

    # A range that leaves the client's figure out is told on the client's page and the draft's.
    desk.own.write_text(OWN.replace("30 to 52", "30 to 40"), encoding="utf-8")
    codes = [f.code for f in told(desk.build()) if f.place and f.place.file == "clients/strapped.md"]
    assert "improbable" in codes and desk.is_a_first_build()

    # Without the file the client's line and the style's name mean nothing.
    desk.own.unlink()
    codes = [f.code for f in told(desk.build())]
    assert "unknown-measurement" in codes and "unknown-name" in codes
    assert desk.is_a_first_build()


def test_a_mistake_in_the_file_is_told_and_stops_nothing_else(desk: Desk) -> None:
    desk.own.write_text(OWN.replace("range: 30 to 52", "range: plenty"), encoding="utf-8")
    report = check(Request(desk.studio, desk.output, jobs=1), CATALOGUE)
    found = [f for f in told(report) if f.place and f.place.file == "clients/measurements.md"]
    assert [(f.code, f.place and f.place.line) for f in found] == [("bad-range", 7)]
    assert found[0].is_error and "range: 30 cm to 52 cm" in found[0].hint
    desk.build()
    assert "41 cm" in desk.page("styles/band/strapped/index.html")
