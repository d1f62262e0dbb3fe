"""The manifest of a large catalogue stands in parts; here one of nine drafts has some."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from catalogue.building import fingerprint, manifest, published
from catalogue.building.made_units import MadeUnit
from catalogue.building.manifest import NAME, PARTS, Manifest, parts_in
from catalogue.building.published import verify
from tests.building.desk import Desk, change
from tests.building.fakes import site_files


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    monkeypatch.setattr(manifest, "FEW", 4)
    monkeypatch.setattr(manifest, "PART", 6)
    desk = Desk(tmp_path)
    desk.build()
    yield desk
    assert site_files(desk.output) == desk.fresh() and verify(desk.output).ok


def test_a_build_writes_only_the_parts_in_which_something_differs(desk: Desk) -> None:
    before = {path: (desk.output / path).stat().st_ino for path in parts_in(desk.output)}
    change(desk.client(1), "notes", "other notes")
    desk.build()
    after = parts_in(desk.output)
    same = [path for path in after if (desk.output / path).stat().st_ino == before.get(path)]
    assert 0 < len(same) < len(after) and len(before) > 3


def test_the_units_are_those_that_a_manifest_in_one_piece_has(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    parted = manifest.read(desk.output)
    monkeypatch.setattr(manifest, "FEW", 1000)
    desk.build(force=True)
    whole = manifest.read(desk.output)
    assert parted.units == whole.units and len(whole.units) > 20
    assert parts_in(desk.output) == [] and not (desk.output / PARTS).exists()


@pytest.mark.parametrize("damage", ["gone", "cut off", "another's"])
def test_a_damaged_part_only_costs_time(desk: Desk, damage: str) -> None:
    part, other = [desk.output / path for path in parts_in(desk.output)][:2]
    if damage == "gone":
        part.unlink()
    else:
        part.write_bytes(other.read_bytes() if damage == "another's" else part.read_bytes()[:-9])
    assert "is damaged" in verify(desk.output).trouble
    desk.style(2).unlink()
    (desk.output / "mine.txt").write_text("mine")
    assert desk.build().made == 6
    assert (desk.output / "mine.txt").read_text() == "mine"
    (desk.output / "mine.txt").unlink()


def test_parts_that_count_no_longer_are_removed_and_other_files_stay(desk: Desk) -> None:
    left = desk.output / manifest.part_path("0" * 32)
    left.write_text("left by a build that was cut off")
    mine = desk.output / PARTS / "mine.json"
    mine.write_text("mine")
    assert desk.build().made == 0 and not left.exists()
    assert mine.read_text() == "mine" and verify(desk.output).others == (f"{PARTS}/mine.json",)
    mine.unlink()


@pytest.mark.parametrize("jobs", [1, 2])
def test_files_that_are_gone_or_touched_are_seen_whoever_looks(
    desk: Desk, jobs: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(published, "MANY", 2)
    (desk.output / "styles/style0/client0/draft.svg").write_bytes(b"drawn over")
    (desk.output / "styles/style2/client1/draft.json").unlink()
    page = desk.output / "clients/client2/index.html"
    page.write_bytes(bytes(page.stat().st_size))
    report = desk.build(jobs=jobs)
    assert sorted(report.changed) == [
        "clients/client2/index.html",
        "styles/style0/client0/draft.svg",
        "styles/style2/client1/draft.json",
    ]
    (desk.output / "styles/style0/client0/draft.set-aside.svg").unlink()
    assert desk.build(jobs=jobs).changed == ()


def test_paths_that_lead_out_of_the_folder_are_not_believed(desk: Desk) -> None:
    """Whoever can write a manifest can seal it too."""
    units = dict(manifest.read(desk.output).units)
    body = bytes(units["home"].body).replace(b'"index.html"', b'"../x.html"')
    units["home"] = MadeUnit(units["home"].source, body=manifest.msgspec.Raw(body))
    (desk.folder / "x.html").write_text("mine")
    told = Manifest(units).packed()
    (desk.output / NAME).write_bytes(told.head)
    for digest, data in told.parts.items():
        (desk.output / manifest.part_path(digest)).write_bytes(data)
    with pytest.raises(ValueError, match="leaves the folder"):
        _ = units["home"].files
    desk.build()
    assert (desk.folder / "x.html").read_text() == "mine"


def test_a_manifest_of_the_earlier_format_is_taken_over(desk: Desk) -> None:
    """It was one file; what it says is ours is removed when it is no longer wanted, and nothing else."""
    now = manifest.read(desk.output)
    units = {
        name: {
            "from": unit.source,
            "files": {w.path: [w.digest, w.size] for w in unit.files},
            "summary": unit.summary,
            "findings": [],
        }
        for name, unit in now.units.items()
    }
    told = {
        "made by": "pattern-catalogue",
        "format": 3,
        "studio": now.studio,
        "only": "",
        "rest": now.rest,
        "clients": now.clients,
        "held": {k: list(v) for k, v in now.held.items()},
        "units": units,
    }
    body = json.dumps(told).encode()
    (desk.output / NAME).write_bytes(body + b"\n" + fingerprint.of_bytes(body).encode() + b"\n")
    for path in parts_in(desk.output):
        (desk.output / path).unlink()
    desk.client(0).unlink()
    mine = desk.output / "assets" / "mine.css"
    mine.write_text("mine")
    report = desk.build()
    assert report.made == 0 and any("client0" in path for path in report.changed)
    assert mine.read_text() == "mine"
    mine.unlink()
