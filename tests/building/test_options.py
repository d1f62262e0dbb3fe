"""A client's draft compared with the same under other options: whole without script, made only where asked for."""

from __future__ import annotations

import json
import re
from html import unescape
from pathlib import Path

import pytest

from catalogue.building.checking import check
from catalogue.building.report import Report, Request
from catalogue.building.run import build
from catalogue.building.units import CATALOGUE
from tests.building.fakes import site_files

STYLE = """---
title: Tube
garment: skirt
for: women
flat: no
cloth:
  main: any woven, 140 cm wide
choices:
  length: 60 cm (40 cm to 90 cm)
  with band: yes (yes, no)
---

```draft
side = waist_girth / 4 right from start
hem  = length down from side
low  = below start on level hem
piece front "Front", cut 2
  outline waist: start to side
          side: side to hem
          hem: hem to low
          centre: low to start
end  = waist_girth / 2 right from start
foot = 6 cm down from end
toe  = below start on level foot
when with_band is yes
  piece band "Band", cut 1
    outline top: start to end
            end: end to foot
            lower: foot to toe
            other: toe to start
allow 1 cm
finished length = length of front.side
```
"""
CLIENT = """---
name: Ada
for: woman
units: cm
measured:
  2026-01-15:
    waist girth: 80
choices:
  tube:
    length: 62
compare:
  tube:
    longer:
      length: 72 cm
    no band:
      with band: {band}
orders:
  garden one:
    style: tube
    ordered: 2026-03-02
    choices:
      length: 50
garments: tube
---
"""
PAGE = "styles/tube/compare/ada/"


class Desk:
    def __init__(self, folder: Path) -> None:
        self.studio, self.output = folder / "studio", folder / "site"
        for folder_name, name, text in (
            ("styles", "tube.md", STYLE),
            ("clients", "ada.md", CLIENT.format(band="no")),
            (
                "clients",
                "bea.md",
                CLIENT.format(band="no").replace("Ada", "Bea").split("choices:")[0] + "---\n",
            ),
        ):
            (self.studio / folder_name).mkdir(parents=True, exist_ok=True)
            (self.studio / folder_name / name).write_text(text, encoding="utf-8")

    def build(self, output: Path | None = None, **asked: object) -> Report:
        return build(Request(self.studio, output or self.output, jobs=1, **asked), CATALOGUE)  # type: ignore[arg-type]

    def read(self, path: str) -> str:
        return unescape((self.output / path).read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    made = Desk(tmp_path_factory.mktemp("options"))
    assert made.build().findings == ()
    return made


def section(page: str, words: str) -> str:
    return page.partition(f"<bdi>{words}</bdi></h2>")[2].partition("</section>")[0]


def rows(part: str) -> list[list[str]]:
    """The rows of the tables of a part of a page, without their heads."""
    found = re.findall(r"<tr><th scope=\"row\">(.*?)</th>(.*?)</tr>", part)
    return [[what, *re.findall(r"<td[^>]*>(.*?)</td>", cells)] for what, cells in found]


def test_what_differs_is_told_as_it_can_be_worked_out_by_hand(desk: Desk) -> None:
    """The pieces are rectangles: 10 cm longer are 10 cm more on side and centre, and nothing else.

    On cloth 140 cm wide, two fronts of 20 cm and a band of 40 cm, 1 cm allowed all round, lie beside each other, so
    the cloth is as long as the fronts: 62 and 2 cm, asked for to the next 5 cm, are 0.65 m; 10 cm more, 0.75 m. The
    lay counts whole centimetres.
    """
    page = desk.read(f"{PAGE}index.html")
    longer = section(page, "Longer")
    assert rows(longer) == [
        ["Length", "62 cm", "72 cm"],
        ["Main cloth", "0.65 m", "0.75 m", "+0.10 m"],
        ["Length", "62 cm", "72 cm", "+10 cm"],
        ["side", "62 cm", "72 cm", "+10 cm"],
        ["centre", "62 cm", "72 cm", "+10 cm"],
    ]
    assert "The same in both, so not drawn: Band." in longer
    assert longer.count('class="over-first"') == longer.count('class="over-second"') == 1
    assert 'src="set-longer.svg"' in longer and (desk.output / PAGE / "set-longer.svg").is_file()


def test_a_piece_that_only_one_has_is_told(desk: Desk) -> None:
    part = section(desk.read(f"{PAGE}index.html"), "No band")
    assert "Band (only as chosen now)" in part and "over-second" not in part
    assert "The same in both, so not drawn: Front." in part
    assert ["With band", "yes", "no"] in rows(part)


def test_an_order_that_chooses_is_compared_too_but_not_in_the_clients_copy(
    desk: Desk, tmp_path: Path
) -> None:
    assert ["Length", "62 cm", "50 cm"] in rows(
        section(desk.read(f"{PAGE}index.html"), "As ordered: garden one")
    )
    assert desk.build(tmp_path / "copy", recipient="Ada").ok
    copy = site_files(tmp_path / "copy")
    assert f"{PAGE}set-longer.svg" in copy
    assert not [path for path, data in copy.items() if b"garden one" in data or "garden" in path]


def test_any_two_can_be_laid_over_each_other(desk: Desk) -> None:
    form = desk.read("styles/tube/compare/index.html")
    for key in ("set-longer", "set-no-band", "order-garden-one"):
        assert f'<option value="ada@{key}" data-from="compare/ada">' in form
    script = desk.read(f"{PAGE}outline.js")
    name, data = re.fullmatch(r'catalogueOutline\("([^"]+)",(.*)\);\n', script).groups()  # type: ignore[union-attr]
    assert name == "tube/compare/ada"
    edges = {
        key: dict(e[:2] for e in each["pieces"]["front"]["edges"]) for key, each in json.loads(data).items()
    }
    assert {key: each["side"] for key, each in edges.items()} == {
        "": 620.0,
        "set-longer": 720.0,
        "set-no-band": 620.0,
        "order-garden-one": 500.0,
    }


def test_pages_lead_there_only_where_there_is_something(desk: Desk) -> None:
    link = "styles/tube/compare/ada/index.html"
    assert link in desk.read("styles/tube/ada/index.html") and link in desk.read("clients/ada/index.html")
    assert "what=compare&style=tube" in desk.read("styles/tube/bea/index.html")
    assert not (desk.output / "styles/tube/compare/bea").exists()


def test_a_set_that_changes_makes_its_page_and_no_draft_anew(tmp_path: Path) -> None:
    desk = Desk(tmp_path)
    desk.build()
    file = desk.studio / "clients/ada.md"
    file.write_text(file.read_text().replace("length: 72 cm", "length: 75 cm"))
    report = desk.build()
    assert report.made == 0 and f"{PAGE}index.html" in report.changed
    assert not [path for path in report.changed if path.startswith("styles/tube/ada/")]
    fresh = tmp_path / "fresh"
    desk.build(fresh)
    assert site_files(desk.output) == site_files(fresh)
    file.write_text(re.sub(r"compare:\n.*?(?=orders:)", "", file.read_text(), flags=re.DOTALL))
    desk.build()
    assert not (desk.output / PAGE / "set-longer.svg").exists()
    assert (desk.output / PAGE / "order-garden-one.svg").exists()


def test_a_set_that_cannot_be_taken_is_reported_once_with_its_line(tmp_path: Path) -> None:
    desk = Desk(tmp_path)
    (desk.studio / "clients/ada.md").write_text(CLIENT.format(band="perhaps"), encoding="utf-8")
    wanted = "Compared as “no band”: “perhaps” is not one of the words of “with band”: yes, no."
    for told in (desk.build(), check(Request(desk.studio, desk.output, jobs=1), CATALOGUE)):
        assert [(t.finding.message, t.finding.place and t.finding.place.line) for t in told.findings] == [
            (wanted, 16)
        ]
    assert "could not be finished" not in desk.read("styles/tube/ada/index.html")
    (desk.studio / "clients/ada.md").write_text(
        CLIENT.format(band="no").replace("compare:\n  tube", "compare:\n  tub")
    )
    assert [t.finding.code for t in desk.build().findings] == ["unknown-style"]
