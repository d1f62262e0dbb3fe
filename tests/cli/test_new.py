"""`catalogue new`: a studio that builds at once, and never a file written over."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from catalogue import starter
from catalogue.building.disk import CannotWrite
from catalogue.building.report import Request
from catalogue.building.run import build
from catalogue.building.units import CATALOGUE
from catalogue.cli import main


def everything(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def test_the_new_studio_builds_with_nothing_to_complain_of(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", str(tmp_path / "mine")]) == 0
    assert f"catalogue open {tmp_path / 'mine'}" in capsys.readouterr().out
    report = build(Request(tmp_path / "mine", tmp_path / "site", jobs=1), CATALOGUE)
    assert report.findings == () and report.drafts == 1 and report.waiting == 0
    draft = json.loads((tmp_path / "site/styles/first-skirt/first-client/draft.json").read_text())
    assert draft["ok"] is True
    # By hand from the starter's own rules: a quarter of 101.5 cm and of 4 cm of ease is 263.75 mm.
    assert draft["values"]["quarter_hip"] == {"value": 263.75, "unit": "mm"}
    # The waist of front and back together: 2 x 2 x (76 cm / 4 + 5 mm), measured along a curve that rises 1 cm.
    waist = sum(draft["pieces"][name]["edges"]["waist"]["sewn_length"] for name in ("front", "back")) * 2
    assert 780 <= waist <= 790


def test_the_starter_is_explained_line_by_line() -> None:
    files = starter.files()
    assert sorted(files) == [
        "clients/first-client.md",
        "clients/sizes/first-sizes.md",
        "site_template/studio.toml",
        "styles/first-skirt.md",
    ]
    for name, data in files.items():
        assert data.decode().count("\n# ") + data.decode().startswith("# ") >= 3, (
            f"{name} has hardly a remark"
        )


@pytest.mark.parametrize(
    "there",
    [
        "styles/mine.md",
        "clients/first-client.md",
        "clients/sizes/first-sizes.md",
        "site_template/studio.toml",
        "styles",
    ],
)
def test_nothing_is_written_over(tmp_path: Path, there: str) -> None:
    path = tmp_path / there
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("mine")
    before = everything(tmp_path)
    assert main(["new", str(tmp_path)]) == 2
    assert everything(tmp_path) == before


def test_a_file_of_that_name_is_refused(tmp_path: Path) -> None:
    (tmp_path / "studio").write_text("mine")
    assert main(["new", str(tmp_path / "studio")]) == 2
    assert (tmp_path / "studio").read_text() == "mine"


def test_an_empty_folder_and_one_with_other_things_are_taken(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine")
    assert main(["new", str(tmp_path)]) == 0
    assert (tmp_path / "notes.txt").read_text() == "mine" and (
        tmp_path / "styles" / "first-skirt.md"
    ).exists()


def test_a_disk_that_fails_midway_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = Path.open

    def failing(self: Path, mode: str = "r", *rest: object, **more: object) -> object:
        if self.name == "first-skirt.md" and "x" in mode:
            raise OSError(28, "No space left on device")
        return real(self, mode, *rest, **more)  # type: ignore[call-overload]

    monkeypatch.setattr(Path, "open", failing)
    with pytest.raises(CannotWrite, match="No space left"):
        starter.make_studio(tmp_path / "studio")
    assert list(tmp_path.iterdir()) == []
