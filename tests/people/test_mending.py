"""A colon left out in a client file is told with the line to write, and hides no other mistake."""

from __future__ import annotations

from pathlib import Path

import pytest

from catalogue.people import Client, read_client

FILE = """---
name: A
for: woman
units: cm
measured:
  2026-03-14:
    bust girth: 92
    waist girth: 70
    wasit to hip: 20
    hip girth: 700
garments: [skirt]
---
Notes: none.
"""


def read(text: str, tmp_path: Path) -> Client:
    path = tmp_path / "clients" / "a.md"
    path.parent.mkdir()
    path.write_text(text, encoding="utf-8")
    return read_client(path, tmp_path)


@pytest.mark.parametrize(
    ("wrong", "right"),
    [
        ("    waist girth 70", "waist girth: 70"),
        ("    bust girth 92", "bust girth: 92"),
        ("  2026-03-14", "2026-03-14:"),
        ("measured", "measured:"),
        ("for woman", "for: woman"),
        ("units cm", "units: cm"),
        ("garments [skirt]", "garments: [skirt]"),
    ],
)
def test_a_missing_colon_hides_nothing(wrong: str, right: str, tmp_path: Path) -> None:
    indent = len(wrong) - len(wrong.lstrip())
    text = FILE.replace(" " * indent + right, wrong, 1)
    assert text != FILE
    client = read(text, tmp_path)
    told = {f.code: f for f in client.findings}
    assert {"no-colon", "unknown-measurement", "impossible"} == set(told), client.findings
    assert told["no-colon"].instead == right and told["no-colon"].source == wrong
    line = text.split("\n").index(wrong) + 1
    assert told["no-colon"].place is not None and told["no-colon"].place.line == line
    assert [f.place.line for f in client.findings if f.place] == sorted(
        f.place.line for f in client.findings if f.place
    )
    assert not client.ok_for(["bust_girth"]), "what was meant is a guess until it is written"


def test_two_missing_colons_are_both_told(tmp_path: Path) -> None:
    text = FILE.replace("waist girth: 70", "waist girth 70").replace("  2026-03-14:", "  2026-03-14")
    assert [f.code for f in read(text, tmp_path).findings].count("no-colon") == 2


def test_what_is_no_name_is_left_out_and_told(tmp_path: Path) -> None:
    client = read(FILE.replace("units: cm", "units: cm\n(see the card)"), tmp_path)
    assert next((f.code, f.place.line if f.place else 0) for f in client.findings) == ("yaml", 5)
    assert "impossible" in {f.code for f in client.findings}
