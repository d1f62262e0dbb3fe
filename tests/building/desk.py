"""A studio of the fakes' own kind on the disk, built and built again."""

from __future__ import annotations

import shutil
from pathlib import Path

from catalogue.building.report import Report, Request
from catalogue.building.run import build
from tests.building.fakes import fakes, site_files, write_studio


class Desk:
    """A studio, its output folder and a count of drafts made."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.studio = write_studio(folder / "studio")
        self.output = folder / "site"
        self.log = folder / "drafts.log"

    def build(self, version: str = "1", **asked: object) -> Report:
        request = Request(self.studio, self.output, **{"jobs": 1} | asked)  # type: ignore[arg-type]
        self.log.unlink(missing_ok=True)
        return build(request, fakes(self.log, version))

    def drafts(self) -> list[str]:
        """Pairs drafted by the last build."""
        return sorted(self.log.read_text().split()) if self.log.exists() else []

    def fresh(self, version: str = "1") -> dict[str, bytes]:
        """What a first build of the same studio gives."""
        output = self.folder / "fresh"
        shutil.rmtree(output, ignore_errors=True)
        build(Request(self.studio, output, jobs=1), fakes(None, version))
        return site_files(output)

    def style(self, number: int) -> Path:
        return self.studio / "styles" / f"style{number}.md"

    def client(self, number: int) -> Path:
        return self.studio / "clients" / f"client{number}.md"


def change(path: Path, old: str, new: str) -> None:
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new))
