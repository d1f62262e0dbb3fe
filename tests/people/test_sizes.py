"""Tables of sizes: what is read, and each mistake with its place."""

from __future__ import annotations

import pickle
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.findings import Place, Severity
from catalogue.frontmatter import split
from catalogue.lengths import Unit, Units
from catalogue.people import SizeTable, read_sizes
from catalogue.people.size_reading import SizeReader
from catalogue.people.steps import out_of_step
from tests.people.published import ASTM_MISSES, IN_ORDER, TRADE_MISSES, TRADE_PETITE, TRADE_WOMEN, as_file

ROOT = Path(__file__).parents[2]
HEAD = "---\nname: Sizes\nfor: woman\nunits: cm\n---\n"
TABLE = HEAD + "\n| size | 36 | 38 | 40 |\n|---|---|---|---|\n"


def read(text: str, defaults: Units | None = None) -> SizeTable:
    return SizeReader(split(text, "s.md"), "s", "s", "", defaults or Units()).table()


def told(text: str) -> list[tuple[str, int, int]]:
    return [(f.code, f.place.line, f.place.column) for f in read(text).findings if f.place]


def test_reads_a_whole_file(tmp_path: Path) -> None:
    path = tmp_path / "clients/sizes" / "everyday.md"
    path.parent.mkdir(parents=True)
    path.write_text(
        "---\nname: Ẹ̀wù ojoojúmọ́\nfor: women\nunits: inches\nsources: [measured here; in 2026, lent by a friend]\n"
        "garments: straight skirt\nchoices:\n  straight skirt:\n    hip ease: 2 in\nlanguage: yo\n---\n\n"
        "First words.\n\n"
        "| body measurement | 36 | **38** | 40 tall |\n"
        "|:--|--:|--:|:-:|\n"
        '| Bust-Girth | 34 | 36 1/2 | 39½" |\n'
        "| waist (cm) | 66 | 70,5 | 30 in |\n"
        "| hip girth  | 37 | – | 42 |\n\n"
        "Between.\n\n"
        "| size | 36 | 38 | 40 tall |\n| - | - | - | - |\n| weight | 60 kg | 65 kg | 11 st |\n\nLast *words*.\n",
        encoding="utf-8",
    )
    table = read_sizes(path, tmp_path)
    assert table.findings == ()
    assert (table.slug, table.file, table.name) == ("everyday", "clients/sizes/everyday.md", "Ẹ̀wù ojoojúmọ́")
    assert (table.kind, table.units, table.lang) == ("woman", Units(Unit.IN), "yo")
    assert table.sources == ("measured here; in 2026", "lent by a friend")
    assert [size.name for size in table.sizes] == ["36", "38", "40 tall"]
    first, second, third = table.sizes
    assert list(first.measurements) == ["bust_girth", "waist_girth", "hip_girth"]
    assert second.measurements["bust_girth"].mm == pytest.approx(36.5 * 25.4)
    assert second.measurements["bust_girth"].place == Place("clients/sizes/everyday.md", 17, 21)
    assert third.measurements["bust_girth"].mm == pytest.approx(39.5 * 25.4)
    # A unit in brackets holds for its line; a figure may still say its own.
    assert first.measurements["waist_girth"].mm == 660
    assert second.measurements["waist_girth"].mm == 705
    assert third.measurements["waist_girth"].mm == pytest.approx(762)
    # A dash says there is none.
    assert "hip_girth" not in second.measurements and "hip_girth" in third.measurements
    assert first.weight_kg == 60 and third.weight_kg == pytest.approx(154 * 0.45359237)
    assert table.garments == ("straight-skirt",)
    assert table.choices["straight-skirt"]["hip ease"].text == "2 in"
    assert table.notes.split("\n\n")[0] == "First words." and table.notes.endswith("Last *words*.")
    assert "|" not in table.notes and "Between." in table.notes
    assert table.notes_line == 13
    assert pickle.loads(pickle.dumps(table)) == table
    client = table.client(third)
    assert (client.name, client.kind, client.slug) == ("size 40 tall", "woman", "everyday-40-tall")
    assert client.measurements == third.measurements and client.ok
    assert client.choices == table.choices and client.garments == table.garments


def test_the_units_of_the_studio_stand_in() -> None:
    text = "---\nname: A\nfor: woman\n---\n| size | 1 |\n|--|--|\n| hip girth | 38 |\n"
    table = read(text, Units(Unit.IN, 8))
    assert table.sizes[0].measurements["hip_girth"].mm == pytest.approx(38 * 25.4)
    assert table.units == Units(Unit.IN, 8)


MISTAKES = [
    # what is wrong, the text, code and place of each finding
    ("no table", HEAD + "Only words.\n", [("no-table", 6, 1)]),
    ("nothing below", HEAD.rstrip("\n"), [("no-table", 5, 1)]),
    ("no dashes", HEAD + "| size | 36 |\n| hip girth | 94 |\n", [("no-rule", 7, 3)]),
    ("one column", HEAD + "| size |\n|---|\n| hip girth |\n", [("no-sizes", 6, 3)]),
    ("a size twice", HEAD + "| s | 36 | 3 6 |\n|-|-|-|\n| hip girth | 94 | 96 |\n", [("twice", 6, 12)]),
    ("no name", HEAD + "| s | 36 | |\n|-|-|-|\n| hip girth | 94 | 96 |\n", [("no-name", 6, 11)]),
    ("unknown measurement", TABLE + "| hip grith | 94 | 96 | 98 |\n", [("unknown-measurement", 9, 3)]),
    ("a measurement twice", TABLE + "| hips | 94 | 96 | 98 |\n| seat | 94 | 96 | 98 |\n", [("twice", 10, 3)]),
    ("no length", TABLE + "| hip girth | 94 | 9b | 98 |\n", [("not-a-length", 9, 21)]),
    ("below zero", TABLE + "| hip girth | 94 | -96 | 98 |\n", [("negative", 9, 20)]),
    ("no tape's fraction", TABLE + "| hip girth | 94 | 38 1/7 in | 98 |\n", [("not-a-length", 9, 23)]),
    ("a cell is empty", TABLE + "| hip girth | 94 | | 98 |\n", [("missing", 9, 19)]),
    ("too few", TABLE + "| hip girth | 94 | 96 |\n", [("uneven", 9, 20)]),
    ("too many", TABLE + "| hip girth | 94 | 96 | 98 | 99 |\n", [("uneven", 9, 30)]),
    ("no lines between", TABLE + "hip girth 94 96 98\n", [("unknown-measurement", 9, 1)]),
    ("impossible", TABLE + "| hip girth | 94 | 960 | 98 |\n", [("impossible", 9, 20)]),
    ("unlikely", TABLE + "| hip girth | 74 | 96 | 98 |\n", [("improbable", 9, 15)]),
    (
        "unlikely beside another",
        TABLE + "| hip girth | 94 | 98 | 102 |\n| waist girth | 70 | 74 | 108 |\n",
        [("improbable-together", 10, 27)],
    ),
    (
        "out of step",
        HEAD + "| s | 1 | 2 | 3 | 4 |\n|-|-|-|-|-|\n| hip girth | 94 | 98 | 89 | 106 |\n",
        [("out-of-step", 8, 25)],
    ),
    (
        "sizes in rows",
        HEAD + "| size | bust | hip |\n|-|-|-|\n| 36 | 84 | 94 |\n",
        [("sizes-in-rows", 6, 10)],
    ),
    (
        "other sizes below",
        TABLE + "| hip girth | 94 | 98 | 102 |\n\n| s | 36 | 38 | 42 |\n|-|-|-|-|\n| waist | 7 | 7 | 7 |\n",
        [("other-sizes", 11, 17)],
    ),
    ("a key of clients", TABLE.replace("units: cm", "garment: x"), [("unknown-key", 4, 1)]),
    ("a measurement above", TABLE.replace("units: cm", "hip girth: 94"), [("unknown-key", 4, 1)]),
    ("no kind", TABLE.replace("for: woman\n", ""), [("no-kind", 1, 1)]),
    ("no name of its own", TABLE.replace("name: Sizes\n", ""), [("no-name", 1, 1)]),
]


@pytest.mark.parametrize(("text", "found"), [m[1:] for m in MISTAKES], ids=[m[0] for m in MISTAKES])
def test_each_mistake_is_told_at_its_place(text: str, found: list[tuple[str, int, int]]) -> None:
    assert told(text) == found


def test_what_would_help_is_said() -> None:
    by_code = {f.code: f for _, text, _ in MISTAKES for f in read(text).findings}
    assert read(TABLE + "| hip grith | 94 | 96 | 98 |\n").findings[0].hint == "Did you mean “hip girth”?"
    assert "hip girth of size 38 is missing" in by_code["missing"].message
    assert by_code["missing"].severity is by_code["out-of-step"].severity is Severity.WARNING
    assert by_code["impossible"].message.startswith("size 38: hip girth: 960 cm can't be right for a woman")
    assert by_code["uneven"].is_error and "4 figures for 3 sizes" in by_code["uneven"].message
    (above,) = read(TABLE.replace("units: cm", "hip girth: 94")).findings
    assert above.hint == "hip girth belongs in the table below the front matter, on a line of its own."


def test_a_table_with_a_mistake_drafts_nothing_and_one_with_a_warning_does() -> None:
    wrong = read(TABLE + "| hip girth | 94 | 9b | 98 |\n")
    assert not wrong.ok and not wrong.client(wrong.sizes[0]).ok
    warned = read(TABLE + "| hip girth | 94 | | 98 |\n")
    assert warned.ok and warned.client(warned.sizes[1]).ok
    assert "hip_girth" not in warned.client(warned.sizes[1]).measurements


def test_a_table_in_a_fence_and_a_pipe_in_a_name_are_taken_as_they_are_meant() -> None:
    text = HEAD + "```\n| a | b |\n|---|---|\n```\n| s | 36\\|38 |\n|-|-|\n| hip girth | 94 |\n"
    table = read(text)
    assert table.findings == ()
    assert [s.name for s in table.sizes] == ["36|38"]
    assert "| a | b |" in table.notes


def test_too_many_sizes_end_the_reading(tmp_path: Path) -> None:
    names = " | ".join(str(n) for n in range(200))
    path = tmp_path / "s.md"
    path.write_text(HEAD + f"| size | {names} |\n|{'-|' * 201}\n", encoding="utf-8")
    (finding,) = read_sizes(path, tmp_path).findings
    assert finding.code == "too-many-sizes" and finding.place and finding.place.line == 6


@given(st.text(alphabet='|-: 0123456789./"abehirtgs\n\\–½', max_size=300))
def test_whatever_stands_in_it_is_read_or_told(body: str) -> None:
    table = read(HEAD + "| size | 36 |\n|---|---|\n" + body)
    for finding in table.findings:
        assert finding.place and finding.place.line >= 1 and finding.place.column >= 1
    assert all(m.mm >= 0 for size in table.sizes for m in size.measurements.values())


def test_steps() -> None:
    assert out_of_step([80, 84, 88, 92]) == []
    assert out_of_step([800, 840, 1280, 920, 960]) == [2]
    assert out_of_step([800, 840, 280, 920, 960]) == [2]
    assert out_of_step([900, 840, 880, 920]) == [0]
    assert out_of_step([800, 840, 880, 820]) == [3]
    # Sizes for the short and for the tall stand one after the other.
    assert out_of_step([800, 880, 960, 800, 880, 960]) == []
    # What falls from size to size, stays, or is not there at all.
    assert out_of_step([90, 86, 82, 80]) == []
    assert out_of_step([90, 86, 120, 82, 80]) == [2]
    assert out_of_step([168, 168, 168, 168]) == []
    assert out_of_step([800, None, 840, 880, None, 920]) == []
    # Two figures changed over.
    assert len(out_of_step([800, 880, 840, 920, 960])) == 1


@pytest.mark.parametrize(
    "published", [ASTM_MISSES, TRADE_MISSES, TRADE_WOMEN, TRADE_PETITE], ids=lambda p: p.name
)
def test_published_tables_are_read_figure_by_figure_without_a_complaint(published) -> None:
    table = read(as_file(published))
    assert [str(f) for f in table.findings] == []
    assert [size.name for size in table.sizes] == list(published.sizes)
    for key, row in published.rows.items():
        assert [s.measurements[key].mm for s in table.sizes] == pytest.approx([v * 25.4 for v in row])


def test_published_tables_grow_as_their_publishers_say() -> None:
    """The steps of the trade's misses' sizes, as the secondary source states them beside its figures."""
    for key, steps in IN_ORDER.items():
        row = TRADE_MISSES.rows[key]
        assert [b - a for a, b in pairwise(row)] == list(steps)


def test_a_slip_of_the_pen_in_a_published_table_is_noticed() -> None:
    text = as_file(TRADE_MISSES).replace("| 32.5 | 34 | 36 |", "| 32.5 | 43 | 36 |", 1)
    found = [(f.code, f.message) for f in read(text).findings]
    assert found and found[0][0] == "out-of-step"
    assert "bust girth of size 12" in found[0][1]


def test_the_demo_table_is_whole_and_unremarkable() -> None:
    (path,) = sorted((ROOT / "clients/sizes").glob("*.md"))
    table = read_sizes(path, ROOT)
    assert table.findings == ()
    assert len({frozenset(size.measurements) for size in table.sizes}) == 1
    assert "invented" in table.sources[0]
