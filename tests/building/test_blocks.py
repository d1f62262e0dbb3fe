"""Blocks in a whole studio: pages that show where a style comes from, and what a change of a block makes again."""

from __future__ import annotations

import html
import json
import random
import re
import shutil
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from catalogue.building.report import Report, Request
from catalogue.building.run import build
from catalogue.building.units import CATALOGUE
from catalogue.site.pages import Site
from catalogue.starter import make_studio
from catalogue.studio.settings import Settings
from tests.building.fakes import dangling_links, site_files
from tests.building.test_rooms import differing
from tests.extent import THOROUGH

BLOCK = """---
title: Slip block
garment: skirt
block: yes
choices:
  hip ease: {ease} cm (2 cm to 20 cm) - room
---

# Drafting

## The frame of the block
A quarter is {{quarter}} wide. {{when quarter is more than 25.6 cm}} That is wide. {{otherwise}} That is narrow.

```draft
quarter    = hip_girth / 4 + hip_ease / 4
top        = start
centre_hem = {length} cm down from top
side_top   = quarter right from top
side_hem   = quarter right from centre_hem
piece front "Slip front", cut 1 on fold
  outline centre: top to centre_hem, fold
          hem: centre_hem to side_hem
          side: side_hem to side_top
          waist: side_top to top
piece back "Slip back", cut 1 on fold
  outline centre: top to centre_hem, fold
          hem: centre_hem to side_hem
          side: side_hem to side_top
          waist: side_top to top
sew front.side to back.side
```
"""
MIDDLE = """---
title: Long slip
garment: skirt
cut from:
  slip: slip-block
---

# Drafting

## Take the slip
{{when slip.quarter is more than 25.6 cm}}
Its quarter is {{slip.quarter}}: a wide slip.
{{otherwise}}
A narrow slip.
{{always}}

```draft
take front, back from slip
waist_line = line (20 cm down from start) to (20 cm down from front.side_top)
lengthen front at waist_line by {middle} cm
lengthen back at waist_line by {middle} cm
```
"""
DRESS = """---
title: Two slips
garment: dress
cut from:
  long: long-slip
---

# Drafting

## Take the long slip

```draft
take front as shell, back from long
half = {half} * length of shell.waist
```
"""
OTHER = """---
title: Belt
---

# Belt

```draft
end   = waist_girth right from start
low   = 4 cm down from end
start_low = 4 cm down from start
piece belt, cut 1
  outline top: start to end
          right: end to low
          bottom: low to start_low
          left: start_low to start
```
"""
CLIENT = """---
name: {name}
for: woman
units: cm
measurements:
  hip girth: {hip}
  waist girth: 70
choices:
  slip-block:
    hip ease: {ease} cm
---
"""


class Studio:
    def __init__(self, folder: Path) -> None:
        self.folder, self.root, self.output = folder, folder / "studio", folder / "site"
        (self.root / "styles").mkdir(parents=True)
        (self.root / "clients").mkdir()
        self.write("styles/slip-block.md", BLOCK.format(ease=4, length=60))
        self.write("styles/long-slip.md", MIDDLE.format(middle=5))
        self.write("styles/two-slips.md", DRESS.format(half=2))
        self.write("styles/belt.md", OTHER)
        self.write("clients/ada.md", CLIENT.format(name="Ada", hip=97, ease=5))
        self.write("clients/bea.md", CLIENT.format(name="Bea", hip=104, ease=8))

    def write(self, path: str, text: str) -> None:
        (self.root / path).write_text(text, encoding="utf-8")

    def build(self, output: Path | None = None, **asked: object) -> Report:
        return build(Request(self.root, output or self.output, **{"jobs": 1} | asked), CATALOGUE)  # type: ignore[arg-type]

    def page(self, path: str) -> str:
        return (self.output / path / "index.html").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Studio:
    studio = Studio(tmp_path_factory.mktemp("blocks"))
    report = studio.build()
    assert not [f for f in report.findings if f.is_error]
    return studio


def test_a_draft_shows_its_blocks_steps_with_the_clients_numbers(built: Studio) -> None:
    page = built.page("styles/two-slips/ada")
    folded = page.split('<details class="block">')
    assert len(folded) == 3, "the long slip, and the slip that it is cut from"
    assert "How “Long slip” is drafted" in folded[1]
    assert "How “Slip block” is drafted" in folded[2]
    assert "25.5 cm" in folded[2].replace("\u00a0", " "), "(97 + 5) / 4 cm, as a tape is read"
    assert "The frame of the block" in folded[2]
    assert '<svg class="' in folded[2] or "<svg" in folded[2]
    assert 'href="../../../styles/slip-block/index.html"' in page


def test_style_pages_link_both_ways(built: Studio) -> None:
    assert '<a href="../../styles/long-slip/index.html">Long slip</a>' in built.page("styles/two-slips")
    block = built.page("styles/slip-block")
    assert "Cut from this block" in block
    assert '<a href="../../styles/long-slip/index.html">Long slip</a>' in block
    assert "two-slips" not in block.split("Cut from this block")[1].split("</dd>")[0]
    assert not dangling_links(built.output)


def test_a_block_stays_out_of_the_clients_view_but_not_out_of_the_studios(built: Studio) -> None:
    assert "slip-block/" not in built.page("clients/ada")
    assert "slip-block/" not in built.page("flip")
    assert "styles/slip-block/index.html" in built.page("")


def changed(report: Report) -> set[str]:
    """The styles whose drafts were made again."""
    parts = [path.split("/") for path in report.changed]
    return {p[1] for p in parts if p[0] == "styles" and len(p) == 4 and p[3] == "draft.json"}


def test_a_change_of_a_block_makes_exactly_what_is_cut_from_it_again(tmp_path: Path) -> None:
    studio = Studio(tmp_path)
    studio.build()
    studio.write("styles/slip-block.md", BLOCK.format(ease=4, length=61))
    assert changed(studio.build()) == {"slip-block", "long-slip", "two-slips"}
    studio.write("styles/long-slip.md", MIDDLE.format(middle=7))
    assert changed(studio.build()) == {"long-slip", "two-slips"}
    studio.write("clients/ada.md", CLIENT.format(name="Ada", hip=97, ease=6))
    assert "A narrow slip." in studio.page("styles/long-slip/ada")
    report = studio.build()
    assert "a wide slip." in studio.page("styles/long-slip/ada")
    assert "That is wide." in studio.page("styles/slip-block/ada")
    assert changed(report) == {"slip-block", "long-slip", "two-slips"}
    assert all("/ada/" in path for path in report.changed if path.endswith("draft.json"))


def test_after_any_edits_of_blocks_and_styles_it_equals_a_first_build(tmp_path: Path) -> None:
    studio = Studio(tmp_path)
    rng = random.Random(12)
    studio.build()

    def gone(path: str) -> None:
        (studio.root / path).unlink(missing_ok=True)

    edits = [
        lambda: studio.write(
            "styles/slip-block.md", BLOCK.format(ease=rng.randint(2, 9), length=rng.randint(50, 70))
        ),
        lambda: studio.write("styles/slip-block.md", BLOCK.format(ease=4, length="a + ")),
        lambda: gone("styles/slip-block.md"),
        lambda: studio.write("styles/long-slip.md", MIDDLE.format(middle=rng.randint(1, 9))),
        lambda: studio.write(
            "styles/long-slip.md", MIDDLE.format(middle=2).replace("slip-block", "two-slips")
        ),
        lambda: gone("styles/long-slip.md"),
        lambda: studio.write("styles/two-slips.md", DRESS.format(half=rng.randint(1, 9))),
        lambda: studio.write("styles/two-slips.md", DRESS.format(half="x")),
        lambda: studio.write("clients/ada.md", CLIENT.format(name="Ada", hip=96, ease=rng.randint(2, 30))),
        lambda: studio.write(
            "clients/bea.md", "\n" + CLIENT.format(name="Bea", hip=99, ease=rng.randint(1, 9))
        ),
    ]
    for turn in range(240 if THOROUGH else 12):
        for edit in rng.sample(edits, rng.randint(1, 3)):
            edit()
        studio.build()
        if turn % 4 == 3:
            fresh = tmp_path / "fresh"
            shutil.rmtree(fresh, ignore_errors=True)
            studio.build(fresh)
            assert differing(site_files(studio.output), site_files(fresh)) == []


BAND = """---
title: Band
block: yes
receives:
  depth: {depth} cm
choices:
  room: 1 cm (0 cm to 5 cm)
---

# Drafting

```draft
end     = 30 cm + room right from start
end_low = depth down from end
low     = depth down from start
piece band, cut 2
  outline seam: low to start to end to end_low to low
```
"""


def test_the_pictures_of_choices_follow_what_a_part_is_given_by_default(tmp_path: Path) -> None:
    studio = Studio(tmp_path)
    studio.write("styles/band.md", BAND.format(depth=3))
    studio.build()
    studio.write("styles/band.md", BAND.format(depth=6))
    studio.build()
    studio.build(tmp_path / "fresh")
    assert "styles/band/choices/room.svg" in site_files(studio.output)
    assert differing(site_files(studio.output), site_files(tmp_path / "fresh")) == []


def test_a_copy_for_one_client_names_no_style_that_is_left_out_of_it(tmp_path: Path) -> None:
    studio = Studio(tmp_path)
    gown = MIDDLE.format(middle=5).replace("garment:", "for: men\ngarment:")
    studio.write("styles/slip-of-bea.md", gown.replace("Long slip", "Gown"))
    studio.write("styles/wrong.md", MIDDLE.format(middle=5).replace("slip-block", "slip-of-bee"))
    whole = studio.build()
    assert any("slip-of-bea" in f.finding.hint for f in whole.findings), "the studio is told what is near"
    copy = tmp_path / "copy"
    studio.build(copy, recipient="ada")
    files = site_files(copy)
    assert "styles/wrong/ada/index.html" in files
    assert [path for path in files if b"slip-of-bea" in (copy / path).read_bytes()] == []


def test_a_block_made_for_someone_else_is_shown_in_a_copy_without_links_and_the_studio_is_told_of_its_title(
    tmp_path: Path,
) -> None:
    studio = Studio(tmp_path)
    block = BLOCK.format(ease=4, length=60).replace("block: yes", "block: yes\nfor: men")
    studio.write("styles/slip-block.md", block.replace("title: Slip block", "title: Bea's slip"))
    report = studio.build(recipient="ada")
    warning, name = [each.finding for each in report.findings]
    assert name.code == "name-of-another" and "“Bea”" in name.message
    assert (warning.code, warning.place.file) == ("names-another", "styles/slip-block.md")
    assert "“Bea's slip”" in warning.message
    files = site_files(studio.output)
    assert not [path for path in files if path.startswith("styles/slip-block/")]
    assert "How “Bea's slip” is drafted" in html.unescape(studio.page("styles/long-slip/ada"))
    assert not dangling_links(studio.output)
    assert not [path for path in files if b"names-another" in (studio.output / path).read_bytes()]


@pytest.mark.parametrize("asked", [(), ("two-slips",), ("long-slip", "slip-block")])
def test_a_copy_has_the_pages_of_blocks_that_its_links_lead_to(
    built: Studio, tmp_path: Path, asked: tuple[str, ...]
) -> None:
    built.build(tmp_path / "copy", recipient="ada", styles=asked)
    assert not dangling_links(tmp_path / "copy")
    page = (tmp_path / "copy/styles/two-slips/ada/index.html").read_text() if "two-slips" in asked else ""
    assert "How “Slip block” is drafted" in html.unescape(page) or "two-slips" not in asked


def test_the_handbook_s_chapter_can_be_followed_as_it_is_written(tmp_path: Path) -> None:
    page = Site(Settings(), [], []).handbook_pages()["handbook/blocks/index.html"]
    names = re.findall(r"<code>styles/([a-z-]+)\.md</code>", page)
    texts = [html.unescape(t) for t in re.findall(r'class="lesson"><code>(.*?)</code>', page, re.S)]
    assert len(names) == len(texts) == 4
    make_studio(tmp_path / "studio")
    styles, site = tmp_path / "studio/styles", tmp_path / "site"

    def made() -> Mapping[str, Mapping[str, Any]]:
        """The drafts by their styles, once the catalogue is up to date."""
        report = build(Request(tmp_path / "studio", site, jobs=1), CATALOGUE)
        assert report.findings == ()
        return {
            name: json.loads((site / f"styles/{name}/first-client/draft.json").read_text()) for name in names
        }

    for name, text in zip(names, texts, strict=True):
        (styles / f"{name}.md").write_text(text + "\n", encoding="utf-8")
    before = made()
    assert before["flared-skirt"]["blocks"] == ["skirt-block"] and before["tabard"]["blocks"] == [
        "stand-collar"
    ]
    block = styles / "skirt-block.md"
    old, new = "hem      = 60 cm down from waist", "hem = 65 cm down from waist"
    assert old in block.read_text() and new in html.unescape(page)
    block.write_text(block.read_text().replace(old, new))
    after = made()

    def long(drafts: Mapping[str, Mapping[str, Any]], style: str) -> float:
        return float(drafts[style]["pieces"]["front"]["edges"]["centre"]["length"])

    assert long(after, "flared-skirt") - long(before, "flared-skirt") == pytest.approx(50)
    assert after["tabard"] == before["tabard"]
