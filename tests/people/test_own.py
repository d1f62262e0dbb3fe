"""The studio's own measurements: what its file may say, and what is said of mistakes in it."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.people import read_client, read_sizes
from catalogue.people.measurements import Bounds
from catalogue.people.own import FILE, Own, read_own

STRAP = """\
  strap length:
    what: the length of a shoulder strap
    how: From the top edge of the front, over the shoulder, to the top edge of the back
    for: women, girls
    range: 30 to 52 cm
    also called: strap, bra strap
    seen from: front
"""


def written(tmp_path: Path, text: str, head: str = "units: cm\nmeasurements:\n") -> Own:
    (tmp_path / "clients").mkdir(exist_ok=True)
    (tmp_path / FILE).write_text(f"---\n{head}{text}---\n")
    return read_own(tmp_path)


def test_a_studio_without_the_file_has_the_standard_measurements(tmp_path: Path) -> None:
    found = read_own(tmp_path)
    assert found.findings == () and found.register.own == ()


def test_a_measurement_is_read_whole(tmp_path: Path) -> None:
    found = written(tmp_path, STRAP)
    assert found.findings == ()
    strap = found.register["strap_length"]
    assert (strap.name, strap.kind, strap.figure, strap.own) == ("strap length", "length", "front", True)
    assert strap.how == (
        "The length of a shoulder strap. "
        "From the top edge of the front, over the shoulder, to the top edge of the back."
    )
    assert strap.aliases == ("strap", "bra strap")
    assert strap.bounds == dict.fromkeys(("woman", "child"), Bounds(180.0, 300.0, 520.0, 832.0))
    assert strap.is_for("girl") and strap.is_for("woman") and not strap.is_for("man")
    assert found.register.find("Bra-strap") is strap is found.register.find("strap_length")
    assert (
        "strap_length" in found.register.lengths()
        and len(found.register) == len(read_own(tmp_path / "x").register) + 1
    )
    assert "“strap length”?" in found.register.suggest("strap lenght")


def test_ranges_may_differ_from_person_to_person_and_be_in_inches(tmp_path: Path) -> None:
    own = written(
        tmp_path,
        "  wrist to knuckle:\n    how: along the back of the hand\n    range:\n      woman: 2 1/2 to 4 in\n"
        "      man: 7 - 11 cm\n",
    )
    assert own.findings == ()
    bounds = own.register["wrist_to_knuckle"].bounds
    assert set(bounds) == {"woman", "man"}
    assert (bounds["woman"].low, bounds["woman"].high) == (63.5, 101.6)
    assert (bounds["man"].low, bounds["man"].high) == (70.0, 110.0)


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("top thigh girth", "girth"),
        ("heel circumference", "girth"),
        ("pocket width", "width"),
        ("frill drop", "length"),
    ],
)
def test_its_kind_is_told_by_its_name(tmp_path: Path, name: str, kind: str) -> None:
    own = written(tmp_path, f"  {name}:\n    how: so\n    range: 10 to 20\n")
    assert [m.kind for m in own.register.own] == [kind] and own.findings == ()


ONE = "    how: along it\n    range: 10 to 20\n"


@pytest.mark.parametrize(
    ("text", "code", "line", "column", "says"),
    [
        ("  bust span:\n" + ONE, "name-taken", 4, 3, "the bust point width"),
        ("  shoulder:\n" + ONE, "name-taken", 4, 3, "“shoulder” is a name of the shoulder length"),
        ("  start:\n" + ONE, "name-taken", 4, 3, "something else"),
        ("  3 bands:\n" + ONE, "bad-name", 4, 3, "can't be the name"),
        ("  strap right:\n" + ONE, "bad-name", 4, 3, "names a side"),
        ("  strap:\n" + ONE + "  Strap:\n" + ONE, "twice", 7, 3, "is already given on line 4"),
        ("  strap:\n    range: 10 to 20\n", "no-how", 4, 3, "how the strap is taken"),
        ("  strap:\n    how: so\n", "no-range", 4, 3, "no range is given"),
        ("  strap:\n    how: so\n    range: 20 to 10\n", "bad-range", 6, 12, "the smaller"),
        ("  strap:\n    how: so\n    range: about 20\n", "bad-range", 6, 12, "a range is expected"),
        ("  strap:\n    how: so\n    range: 10 cn to 20 cn\n", "not-a-length", 6, 12, "“cn” is not a unit"),
        ("  strap:\n    hwo: so\n" + ONE, "unknown-key", 5, 5, "“hwo” is not known"),
        ("  strap:\n    kind: bow\n" + ONE, "unknown-word", 5, 11, "“bow”"),
        ("  strap:\n    for: ladeis\n" + ONE, "unknown-kind", 5, 10, "“ladeis”"),
        ("  strap:\n    also called: bust\n" + ONE, "name-taken", 5, 18, "the bust girth"),
        ("  strap: 3 cm\n", "not-a-group", 4, 10, "must be names with values"),
        (
            "  strap:\n    for: women\n    how: so\n    range:\n      man: 10 to 20\n",
            "not-for",
            8,
            7,
            "not for a man",
        ),
    ],
)
def test_a_mistake_is_told_with_its_place(
    tmp_path: Path, text: str, code: str, line: int, column: int, says: str
) -> None:
    findings = written(tmp_path, text).findings
    assert code in [f.code for f in findings], findings
    finding = next(f for f in findings if f.code == code)
    assert finding.place and (finding.place.file, finding.place.line, finding.place.column) == (
        FILE,
        line,
        column,
    )
    assert says in finding.message and finding.hint


def test_a_mistake_in_a_part_leaves_the_measurement_usable(tmp_path: Path) -> None:
    own = written(tmp_path, "  strap:\n    how: so\n    range: nonsense\n")
    assert [f.code for f in own.findings] == ["bad-range"]
    assert own.register.find("strap")


def test_a_file_without_measurements_or_of_another_kind_says_so(tmp_path: Path) -> None:
    assert [f.code for f in written(tmp_path, "", "units: cm\n").findings] == ["no-measurements"]
    (tmp_path / FILE).write_text("no front matter\n")
    assert read_own(tmp_path).findings and read_own(tmp_path).register.own == ()


def test_clients_and_tables_of_sizes_take_them(tmp_path: Path) -> None:
    register = written(tmp_path, STRAP).register
    (tmp_path / "c.md").write_text(
        "---\nname: C\nfor: woman\nunits: cm\nmeasurements:\n  bra strap: 38\n---\n"
    )
    client = read_client(tmp_path / "c.md", tmp_path, register=register)
    assert client.findings == () and client.measurements["strap_length"].mm == 380.0
    without = read_client(tmp_path / "c.md", tmp_path)
    assert [f.code for f in without.findings] == ["unknown-measurement"]
    (tmp_path / "s.md").write_text(
        "---\nname: S\nfor: woman\nunits: cm\n---\n\n| size | 1 | 2 |\n|---|---|---|\n| strap length | 36 | 37 |\n"
    )
    table = read_sizes(tmp_path / "s.md", tmp_path, register=register)
    assert table.findings == ()
    assert [size.measurements["strap_length"].mm for size in table.sizes] == [360.0, 370.0]
    assert table.client(table.sizes[0]).register is register


@pytest.mark.parametrize(
    ("kind", "figure", "codes"),
    [
        ("woman", "38", []),
        ("woman", "55", ["improbable"]),
        ("woman", "85", ["impossible"]),
        ("man", "38", ["not-taken"]),
        ("girl", "38", []),
    ],
)
def test_a_figure_is_judged_by_the_range_of_the_file(
    tmp_path: Path, kind: str, figure: str, codes: list[str]
) -> None:
    register = written(tmp_path, STRAP).register
    (tmp_path / "c.md").write_text(
        f"---\nname: C\nfor: {kind}\nunits: cm\nmeasurements:\n  strap length: {figure}\n---\n"
    )
    client = read_client(tmp_path / "c.md", tmp_path, register=register)
    assert [f.code for f in client.findings] == codes
    assert all(f.place and f.place.line == 6 for f in client.findings)


@given(st.text(alphabet=st.sampled_from("abz 0-:\n\t'\"{}[]|,äλ"), max_size=120))
def test_nothing_in_the_file_makes_reading_fail(tmp_path_factory: pytest.TempPathFactory, text: str) -> None:
    root = tmp_path_factory.mktemp("own")
    own = written(root, text)
    assert all(f.place and f.place.file == FILE for f in own.findings)
