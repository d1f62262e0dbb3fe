"""A small studio to put files into that are wrong, hostile or just odd, and to build and check it with them."""

from __future__ import annotations

import io
import resource
import sys
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from pathlib import Path

from catalogue.starter import make_studio
from tests.building.sound import HEAD, Printed, Run, run

ROOT = Path(__file__).parents[2]
STYLE = (ROOT / "catalogue/starter/studio/styles/first-skirt.md").read_text(encoding="utf-8")
CLIENT = """---
name: A
for: woman
units: cm
measured:
  2026-01-15:
    waist girth: 76
    hip girth: 101.5
    waist to hip: 20.5
---
Notes.
"""
PLAIN = """---
title: First skirt
garment: skirt
for: women
flat: no
choices:
  length: 60 cm (40 cm to 90 cm)
---

The skirt is {waist_girth} round.

```draft
side = waist_girth / 4 right from start
hem  = length down from side
low  = below start on level hem
piece front "Front", cut 2
  outline waist: start to side
          side: side to hem
          hem: hem to low
          centre: low to start
```
"""
"""A style soon drafted and drawn, where it is the files beside it that are wrong."""
INCHES = """---
name: A
for: woman
units: inches
measured:
  2026-01-15:
    waist girth: 29 7/8”
    hip girth: 40″
    waist to hip: 8 1/4''
    high hip girth: 37½“
choices:
  first-skirt:
    length: 25 1/4”
---
Notes.
"""


class Desk:
    def __init__(self, folder: Path, capsys: Printed, style: str = PLAIN) -> None:
        self.studio, self.output, self.capsys = folder / "studio", folder / "site", capsys
        make_studio(self.studio)
        self.write("styles/first-skirt.md", style)

    def write(self, file: str, data: str | bytes) -> None:
        path = self.studio / file
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data if isinstance(data, bytes) else data.encode("utf-8", "surrogateescape"))

    def run(self) -> Run:
        return run(self.studio, self.output, self.capsys)


class _Captured:
    """What has been printed since it was last asked."""

    def __init__(self) -> None:
        self.out = self.err = ""

    def readouterr(self) -> _Captured:
        told = _Captured()
        told.out, told.err = sys.stdout.getvalue(), sys.stderr.getvalue()  # type: ignore[attr-defined]
        for stream in (sys.stdout, sys.stderr):
            stream.seek(0)
            stream.truncate()
        return told


@contextmanager
def captured() -> Iterator[Printed]:
    """Stands in for pytest's `capsys` where that can't be had: for what several tests share, and outside pytest."""
    with redirect_stdout(io.StringIO()), redirect_stderr(io.StringIO()):
        yield _Captured()


def said_of(file: str, told: Run) -> str:
    """All that was printed of one file."""
    said, ours = [], False
    for row in told.printed.split("\n"):
        if head := HEAD.fullmatch(row):
            ours = head["file"] == file
        if ours:
            said.append(row)
    return "\n".join(said)


def pages_of_clients(output: Path) -> list[str]:
    return sorted(p.name for p in (output / "clients").iterdir() if p.name not in ("first-client", "new"))


def no_more_memory_than(count: int) -> None:
    """From now on this process can't have more bytes than these: asking for more is a MemoryError."""
    resource.setrlimit(resource.RLIMIT_DATA, (count, count))
