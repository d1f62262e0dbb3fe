"""Builds with the real drafting, drawing and page-making: partial builds equal whole ones, byte for byte."""

from __future__ import annotations

import json
import random
import re
import shutil
import subprocess
import sys
import time
import zlib
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

import catalogue.drafting
from catalogue.building.readers import StudioReaders
from catalogue.building.report import Report, Request
from catalogue.building.run import build
from catalogue.building.units import CATALOGUE
from catalogue.drafting import Draft, Extent, draft_style
from catalogue.people import Client
from catalogue.starter import make_studio
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style
from tests.building.fakes import site_files
from tests.extent import THOROUGH

ROOT = Path(__file__).parents[2]
SECOND = """---
title: Bag
garment: bag
flat: no
choices:
  depth: 30 cm (20 cm to 40 cm)
---

The bag is {depth} deep and goes with a hip of {hip_girth}.

```draft
corner = start
right_corner = hip_girth / 4 right from corner
low_right = below right_corner on level (depth down from corner)
low_left = below corner on level low_right
piece bag "Bag", cut 2
  outline top: corner to right_corner
          side: right_corner to low_right
          low: low_right to low_left
          other: low_left to corner
```
"""
CLIENT = """---
name: {name}
for: woman
units: {units}
measured:
  2026-02-0{day}:
    waist girth: 30
    hip girth: 40
    bust girth: 38 1/2
    {more}
---
{notes}
"""


class Desk:
    """A studio and its catalogue in a folder."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.studio, self.output = folder, folder / "studio", folder / "site"

    def write(self) -> Desk:
        make_studio(self.studio)
        (self.studio / "styles" / "bag.md").write_text(SECOND)
        self.client("second", name="Bích Trâm", more="waist to hip: 8 1/4")
        return self

    def client(self, file: str, **said: object) -> None:
        filled = {"name": "Second", "units": "inches", "day": 1, "more": "", "notes": ""} | said
        (self.studio / "clients" / f"{file}.md").write_text(CLIENT.format(**filled), encoding="utf-8")

    def build(self, **asked: object) -> Report:
        return build(Request(self.studio, self.output, **{"jobs": 1} | asked), CATALOGUE)  # type: ignore[arg-type]

    def pairs(self) -> list[tuple[str, str]]:
        pages = self.output.glob("styles/*/*/draft.json")
        return sorted((page.parent.parent.name, page.parent.name) for page in pages)

    def fresh(self) -> dict[str, bytes]:
        """What a first build gives; of the same files it is made once."""
        files = site_files(self.studio)
        if _fresh[0] != files:
            output = self.folder / "fresh"
            shutil.rmtree(output, ignore_errors=True)
            build(Request(self.studio, output, jobs=2), CATALOGUE)
            _fresh[:] = files, site_files(output)
        return _fresh[1]


_fresh: list[dict[str, bytes]] = [{}, {}]
"""The files of the studio that was last built for comparing, and what they gave."""


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(tmp_path).write()


@pytest.fixture(scope="module")
def first_build(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The studio as it is first built, for copying."""
    desk = Desk(tmp_path_factory.mktemp("rooms")).write()
    desk.build()
    return desk.folder


@pytest.fixture
def built(first_build: Path, tmp_path: Path) -> Desk:
    """The studio with its catalogue."""
    shutil.copytree(first_build, tmp_path, symlinks=True, dirs_exist_ok=True)
    return Desk(tmp_path)


def differing(one: dict[str, bytes], other: dict[str, bytes]) -> list[str]:
    return sorted(path for path in one.keys() | other.keys() if one.get(path) != other.get(path))


def swap(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def drawings(report: Report) -> list[str]:
    """Pairs of which a drawing or a record changed."""
    found = (re.fullmatch(r"styles/(.*)/(?:draft.*|pieces\.svg)", path) for path in report.changed)
    return sorted({match[1] for match in found if match})


def test_notes_change_pages_and_no_drawing(built: Desk) -> None:
    swap(
        built.studio / "clients/first-client.md",
        "Fitting notes go here",
        "A **high** left shoulder; notes go here",
    )
    report = built.build()
    assert report.made == 0 and drawings(report) == []
    assert "<strong>high</strong>" in (built.output / "styles/bag/first-client/index.html").read_text()
    assert differing(site_files(built.output), built.fresh()) == []


@pytest.fixture
def drafts(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, str]]:
    """Grows by the style and client of every draft that is worked out for a client's pages."""
    worked_out: list[tuple[str, str]] = []

    def counted(style: Style, client: Client, settings: Settings, extent: Extent = Extent.WHOLE) -> Draft:
        if client.file.startswith("clients/"):  # The handbook's examples are drafted for a person of its own.
            worked_out.append((style.slug, client.slug))
        return draft_style(style, client, settings, extent)

    monkeypatch.setattr(catalogue.drafting, "draft_style", counted)
    return worked_out


def edit_notes(desk: Desk) -> None:
    swap(desk.studio / "clients/first-client.md", "Fitting notes go here", "A high left shoulder")


def edit_template(desk: Desk) -> None:
    text = (ROOT / "site_template" / "draft.html").read_text(encoding="utf-8")
    (desk.studio / "site_template").mkdir(exist_ok=True)
    own = desk.studio / "site_template" / "draft.html"
    own.write_text(text.replace("</h1>", "</h1>{{ figures.steps }}{{ steps }}", 1), encoding="utf-8")


@pytest.mark.parametrize("edit", [edit_notes, edit_template])
def test_pages_made_again_work_out_no_draft(
    desk: Desk, drafts: list[tuple[str, str]], edit: Callable[[Desk], None]
) -> None:
    desk.build()
    assert sorted(drafts) == sorted(desk.pairs())
    drafts.clear()
    edit(desk)
    report = desk.build()
    pages = [path for path in report.changed if re.fullmatch(r"styles/[^/]+/[^/]+/index\.html", path)]
    assert len(pages) >= 2 and drafts == []
    assert differing(site_files(desk.output), desk.fresh()) == []


def emptied(data: bytes) -> bytes:
    return b""


def touched_up(data: bytes) -> bytes:
    return bytes([data[0] ^ 1]) + data[1:]


def another(data: bytes) -> bytes:
    return zlib.compress(zlib.decompress(data).replace(b"hip", b"hop"))


@pytest.mark.parametrize("damage", [emptied, touched_up, another, None])
def test_a_damaged_record_of_a_draft_only_costs_time(
    built: Desk, drafts: list[tuple[str, str]], damage: Callable[[bytes], bytes] | None
) -> None:
    record = built.output / ".catalogue" / "bag" / "first-client.z"
    was = record.read_bytes()
    drafts.clear()
    if damage is None:
        shutil.rmtree(built.output / ".catalogue")
    else:
        record.write_bytes(damage(was))
    edit_notes(built)
    assert built.build().ok
    assert sorted(drafts) == (sorted(built.pairs()) if damage is None else [("bag", "first-client")])
    assert differing(site_files(built.output), built.fresh()) == []


def test_a_lost_manifest_leaves_nothing_stale_and_nothing_in_the_way(desk: Desk) -> None:
    settings = desk.studio / "site_template" / "studio.toml"
    settings.parent.mkdir(exist_ok=True)
    settings.write_text('exchange = ["dxf", "svg"]')
    desk.build()
    (desk.output / ".catalogue.json").unlink()
    settings.write_text('name = "Of another name"\nexchange = ["svg"]')
    swap(desk.studio / "clients/first-client.md", "waist girth: 76", "waist girth: 78")
    (desk.studio / "styles" / "bag.md").unlink()
    desk.build()
    assert differing(site_files(desk.output), desk.fresh()) == []


def test_a_measurement_makes_only_the_drafts_that_use_it(built: Desk) -> None:
    swap(built.studio / "clients/first-client.md", "waist girth: 76", "waist girth: 78")
    report = built.build()
    assert report.made == 1 and drawings(report) == ["first-skirt/first-client"]
    # One that neither a style nor the figure in its picture uses, written above all others: every line moves.
    swap(built.studio / "clients/first-client.md", "    waist girth", "    wrist girth: 16\n    waist girth")
    assert built.build().made == 0
    assert differing(site_files(built.output), built.fresh()) == []


def test_one_clients_choices_make_one_draft(built: Desk) -> None:
    swap(
        built.studio / "clients/first-client.md", "    length: 64 cm", "    length: 66 cm\n    hip ease: 5 cm"
    )
    report = built.build()
    assert report.made == 1 and drawings(report) == ["first-skirt/first-client"]
    assert differing(site_files(built.output), built.fresh()) == []


def test_a_remark_in_the_settings_makes_nothing_and_a_setting_makes_all(built: Desk) -> None:
    settings = built.studio / "site_template" / "studio.toml"
    swap(settings, "# The studio's settings.", "# Our settings.")
    assert built.build().changed == ()
    swap(settings, '["a4"]', '["a4", "letter"]')
    assert built.build().made == 4
    assert (built.output / "styles/bag/second/draft-letter.pdf").exists()
    assert differing(site_files(built.output), built.fresh()) == []


def test_a_template_of_the_studios_own_is_used_and_watched_for_changes(built: Desk) -> None:
    own = built.studio / "site_template" / "draft.html"
    text = (ROOT / "site_template" / "draft.html").read_text(encoding="utf-8")
    own.write_text(
        text.replace("{% block content %}", "{% block content %}Our own words.", 1), encoding="utf-8"
    )
    report = built.build()
    pages = [f"styles/{style}/{client}/index.html" for style, client in built.pairs()]
    assert set(report.changed) == set(pages), "a template makes no drawing again"
    assert all("Our own words." in (built.output / page).read_text(encoding="utf-8") for page in pages)
    style = built.studio / "site_template" / "catalogue.css"
    style.write_text("body { color: teal }\n")
    report = built.build()
    assert "assets/catalogue.css" in report.changed
    assert (built.output / "assets/catalogue.css").read_text() == style.read_text()
    assert differing(site_files(built.output), built.fresh()) == []


def test_a_missing_measurement_makes_only_the_styles_wait_that_need_it(desk: Desk) -> None:
    desk.client("third", name="Third")
    report = desk.build()
    assert report.ok and report.waiting == 1
    page = (desk.output / "styles/first-skirt/third/index.html").read_text()
    assert (
        "waist to hip" in page.lower() and not (desk.output / "styles/first-skirt/third/draft.svg").exists()
    )
    assert (desk.output / "styles/bag/third/draft.svg").exists()


def test_bad_files_stop_nothing_else(desk: Desk) -> None:
    (desk.studio / "styles" / "bad.md").write_text("no front matter here\n")
    (desk.studio / "styles" / "binary.md").write_bytes(bytes(range(256)) * 40)
    (desk.studio / "clients" / "worse.md").write_text("---\nname: [\n---\n")
    report = desk.build()
    assert not report.ok
    assert {t.finding.place.file for t in report.findings if t.finding.place} == {
        "styles/bad.md",
        "styles/binary.md",
        "clients/worse.md",
    }
    assert (desk.output / "styles/bag/second/draft-a4.pdf").exists()
    for page, file in (
        ("styles/bad/index.html", "styles/bad.md"),
        ("styles/bad/second/index.html", "styles/bad.md"),
        ("clients/worse/index.html", "clients/worse.md"),
        ("styles/bag/worse/index.html", "clients/worse.md"),
    ):
        words = re.sub(r"<[^>]*>", "", (desk.output / page).read_text(encoding="utf-8"))
        assert re.search(rf"{file}\D+[123]\b", words), f"{page} doesn't say where {file} is wrong"
    assert differing(site_files(desk.output), desk.fresh()) == []


@pytest.mark.parametrize("seed", range(20 if THOROUGH else 2))
def test_after_any_edits_a_build_equals_a_first_build(desk: Desk, seed: int) -> None:
    chance = random.Random(seed)
    for turn in range(5):
        for _ in range(chance.randint(1, 3)):
            edit(desk, chance)
        if chance.random() < 0.3:
            desk.build(clients=("second",))
        desk.build(jobs=chance.choice([1, 2]))
        if THOROUGH or turn % 2 == 0:  # what was left stale is still so after the next build
            assert differing(site_files(desk.output), desk.fresh()) == []


def edit(desk: Desk, chance: random.Random) -> None:
    """One thing that a person may do between two builds."""
    kind = chance.randrange(8)
    style = desk.studio / "styles" / "bag.md"
    if kind < 4:
        desk.client(
            chance.choice(["second", "third", "fourth"]),
            name=chance.choice(["Second", "Wanjirũ", "ليلى"]),
            units=chance.choice(["inches", "cm"]),
            day=chance.randint(1, 3),
            more=chance.choice(
                ["", "waist to hip: 8 1/4", "waist to hip: 21 cm", "neck girth: 14", "waist to hip: x"]
            ),
            notes=chance.choice(["", "a note", "# A heading\n\n* one\n* two"]),
        )
    elif kind == 4:
        style.write_text(SECOND.replace("30 cm (20", f"{chance.choice([25, 30, 35])} cm (20"))
    elif kind == 5:
        style.write_text(
            SECOND.replace("corner = start", chance.choice(["corner = strat", "corner = start", ""]))
        )
    elif kind == 6:
        (desk.studio / "clients" / "third.md").unlink(missing_ok=True)
    else:
        lines = chance.choice(
            ['name = "One"', 'name = "Two"\nunits = "inches"', "name = 3", 'date = "2026-03-01"']
        )
        (desk.studio / "site_template" / "studio.toml").write_text(lines)


def test_nothing_depends_on_the_machine(tmp_path: Path) -> None:
    """Another time zone, locale, hash seed, folder, number of workers and working folder: the same bytes."""
    here, there = Desk(tmp_path / "here").write(), Desk(tmp_path / "another place").write()
    environment = {
        "PYTHONPATH": str(ROOT),
        "TZ": "Asia/Kolkata",
        "LC_ALL": "C",
        "PYTHONHASHSEED": "1",
        "HOME": str(tmp_path),
    }
    command = [sys.executable, "-m", "catalogue", "build", str(there.studio), "--out", str(there.output)]
    done = subprocess.run([*command, "--jobs", "2"], cwd=tmp_path, env=environment, timeout=600)
    assert done.returncode == 0
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("TZ", "America/Lima")
        time.tzset()
        try:
            here.build()
        finally:
            patch.undo()
            time.tzset()
    assert differing(site_files(here.output), site_files(there.output)) == []


def test_the_record_names_style_and_client_and_gives_millimetres(built: Desk) -> None:
    record = json.loads((built.output / "styles/bag/second/draft.json").read_text(encoding="utf-8"))
    assert (record["style"], record["client"], record["name"]) == ("bag", "second", "Bích Trâm")
    # 40 in / 4 = 254 mm, by the inch of 25.4 mm.
    assert record["pieces"]["bag"]["edges"]["top"]["length"] == 254.0
    assert record["pieces"]["bag"]["area_mm2"] == pytest.approx(254 * 300)


def test_what_a_draft_is_made_of_is_all_in_its_fingerprint(desk: Desk) -> None:
    """A new field of a client must be sorted: into what drafts come from, or out of what they are made of."""
    from dataclasses import fields

    from catalogue.building.common import what_counts
    from catalogue.people import Client, read_client
    from catalogue.studio.reading import read_style

    style = read_style(desk.studio / "styles/first-skirt.md", desk.studio)
    client = read_client(desk.studio / "clients/first-client.md", desk.studio)
    used = what_counts(style, client, {"waist_girth", "hip_girth"})
    told = {"slug", "name", "kind", "units", "sets", "findings"}  # fingerprints of the client
    sifted = {"measurements", "choices", "garments", "file"}  # fingerprints of the pair
    blank = {f.name for f in fields(Client)} - told - sifted
    empty = Client("", "", "")
    assert {name for name in blank if getattr(used, name) != getattr(empty, name)} == set()
    assert set(used.measurements) == {"waist_girth", "hip_girth"} and set(used.choices) == {"first-skirt"}
    assert [s.values for s in used.sets] == [{}] and used.garments == ("first-skirt",)


def test_a_client_without_a_date_gets_no_made_up_one(desk: Desk) -> None:
    from pypdf import PdfReader

    client = desk.studio / "clients/first-client.md"
    client.write_text(
        "---\nname: Undated\nfor: woman\nunits: cm\n"
        "measurements:\n  waist girth: 76\n  hip girth: 101.5\n  waist to hip: 20.5\n---\n"
    )
    assert desk.build().ok
    folder = desk.output / "styles/first-skirt/first-client"
    words = " ".join(page.extract_text() for page in PdfReader(folder / "draft-a4.pdf").pages)
    assert "Undated" in words
    assert not re.search(r"\b(19|20)\d\d\b", words), "a year is printed"
    assert not re.search(r"\b(19|20)\d\d-", (folder / "draft.svg").read_text(encoding="utf-8"))


def test_settings_and_sheets_know_the_same_papers() -> None:
    from catalogue.sheets.paper import PAPERS as PRINTED
    from catalogue.studio.setting_values import PAPERS

    assert set(PRINTED) == set(PAPERS)
    for name, size in PAPERS.items():
        assert (PRINTED[name].width, PRINTED[name].height) == pytest.approx(size)


@pytest.mark.parametrize("paper", ["a4", "legal", "roll-24in"])
def test_the_margin_of_the_settings_stays_blank(desk: Desk, paper: str) -> None:
    import numpy
    import pypdfium2

    def blank() -> float:
        """The narrowest edge without ink of all sheets, mm."""
        edges = []
        for page in pypdfium2.PdfDocument(desk.output / f"styles/bag/second/draft-{paper}.pdf"):
            ink = numpy.asarray(page.render(scale=2).to_pil().convert("L")) < 250
            for lines in (ink.any(axis=0), ink.any(axis=1)):
                found = numpy.flatnonzero(lines)
                edges += [found[0], len(lines) - 1 - found[-1]]
        return float(min(edges)) / 2 / 72 * 25.4

    settings = desk.studio / "site_template" / "studio.toml"
    settings.write_text(f'papers = ["{paper}"]\n')
    assert desk.build(styles=("bag",), clients=("second",)).ok
    usual = blank()
    settings.write_text(f'papers = ["{paper}"]\nmargin = "22 mm"\n')
    assert desk.build(styles=("bag",), clients=("second",)).ok
    assert usual < 21.5 <= blank()


def test_a_record_in_lines_is_the_record() -> None:
    from catalogue.building.outputs import in_lines

    record = {
        "a": {},
        "b": [],
        "c": {"x": {"y": [1.5, None]}, 'q"': "ليلى\n"},
        "d": [{"e": True}, [1]],
        "f": 0.1,
    }
    text = in_lines(record)
    assert json.loads(text) == record and list(json.loads(text)) == list(record)
    assert text.count("\n") == 13 and "ليلى" in text


def test_a_measuring_date_in_the_future_counts_once_it_has_come(desk: Desk) -> None:
    """The files stay the same, so neither the manifest nor what was read before may keep the error alive."""
    client = desk.studio / "clients/second.md"
    swap(client, "2026-02-01", "2026-08-01")

    def on(day: date) -> Report:
        return build(
            Request(desk.studio, desk.output, jobs=1), replace(CATALOGUE, readers=StudioReaders(today=day))
        )

    def pieces() -> list[str]:
        return list(json.loads((desk.output / "styles/bag/second/draft.json").read_bytes())["pieces"])

    before = on(date(2026, 7, 1))
    (told,) = (t.finding for t in before.findings if t.finding.is_error)
    assert told.code == "date-to-come" and str(told.place) == "clients/second.md:6:3"
    assert pieces() == []
    early = site_files(desk.output)
    assert not on(date(2026, 7, 2)).changed
    assert site_files(desk.output) == early
    on_the_day = on(date(2026, 8, 1))
    assert on_the_day.ok and pieces() == ["bag"]
    late = site_files(desk.output)
    assert on(date(2026, 8, 2)).made == 0
    assert site_files(desk.output) == late
