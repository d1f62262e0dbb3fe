"""Client files: what is read, and each mistake with its place."""

import datetime
import pickle
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.findings import Place, Severity
from catalogue.frontmatter import split
from catalogue.lengths import Unit, Units
from catalogue.people import Client, read_client
from catalogue.people.reading import ClientReader
from catalogue.people.weights import parse_weight
from catalogue.slugs import slugify
from tests.work import calls

WHOLE = """---
name: Hester Pellow
for: woman
units: inches
measured:
  2026-03-14:
    note: after the winter
    bust: 38 1/2
    waist girth: 76.2 cm
    weight: 9 st 7 lb
  2025-01-02:
    bust girth: 37
    hip girth: 40 1/2
choices:
  straight skirt:
    hip  ease: 5 cm
    lining: yes
garments: [straight skirt, Circle-Skirt]
---

Likes a **close** waist.
"""


def read(text: str, defaults: Units | None = None) -> Client:
    return ClientReader(split(text, "c.md"), "c", "c", "", defaults or Units()).client()


def client_with(measurements: str, person: str = "woman", units: str = "cm") -> Client:
    lines = "".join(f"  {line.strip()}\n" for line in measurements.strip().split("\n"))
    return read(f"---\nname: A\nfor: {person}\nunits: {units}\nmeasurements:\n{lines}---\n")


def test_reads_a_whole_file(tmp_path: Path) -> None:
    path = tmp_path / "clients" / "hester-pellow.md"
    path.parent.mkdir()
    path.write_text(WHOLE, encoding="utf-8")
    client = read_client(path, tmp_path)
    assert client.ok and client.findings == ()
    assert (client.slug, client.file) == ("hester-pellow", "clients/hester-pellow.md")
    assert (client.name, client.kind, client.units) == ("Hester Pellow", "woman", Units(Unit.IN))
    assert [s.date for s in client.sets] == [datetime.date(2025, 1, 2), datetime.date(2026, 3, 14)]
    assert client.sets[1].note == "after the winter"
    bust = client.measurements["bust_girth"]
    assert (bust.mm, bust.text, bust.date) == (pytest.approx(977.9), "38 1/2", datetime.date(2026, 3, 14))
    assert bust.place == Place("clients/hester-pellow.md", 8, 11)
    assert client.measurements["waist_girth"].mm == 762.0
    # taken in 2025 only: still counts
    assert client.measurements["hip_girth"].mm == pytest.approx(1028.7)
    assert client.sets[0].values["bust_girth"].mm == pytest.approx(939.8)
    assert client.weight_kg == pytest.approx(133 * 0.45359237)
    assert "weight" not in client.measurements
    assert client.choices["straight-skirt"]["hip ease"].text == "5 cm"
    assert client.choices["straight-skirt"]["hip ease"].place == Place("clients/hester-pellow.md", 16, 16)
    assert client.garments == ("straight-skirt", "circle-skirt")
    assert client.garment_places["circle-skirt"] == Place("clients/hester-pellow.md", 18, 28)
    assert (client.notes, client.notes_line) == ("Likes a **close** waist.", 21)
    assert len(client.digest) == 64
    assert pickle.loads(pickle.dumps(client)) == client


def test_measurements_without_a_date_count_as_the_oldest() -> None:
    client = read(
        "---\nname: A\nfor: man\nmeasured:\n  2024-01-01:\n    waist: 90\nmeasurements:\n  waist: 88\n  neck: 39\n---\n"
    )
    assert [s.date for s in client.sets] == [None, datetime.date(2024, 1, 1)]
    assert client.measurements["waist_girth"].mm == 900
    assert client.measurements["neck_girth"].date is None


@pytest.mark.parametrize(
    ("units", "expected"),
    [
        ("inches", Units(Unit.IN)),
        ("in", Units(Unit.IN)),
        ("cm", Units(Unit.CM)),
        ("Centimetres", Units(Unit.CM)),
        ("mm", Units(Unit.MM)),
        ("inches and cm", Units(Unit.IN, both=True)),
        ("cm, inches", Units(Unit.CM, both=True)),
    ],
)
def test_units_as_people_write_them(units: str, expected: Units) -> None:
    assert read(f"---\nname: A\nfor: woman\nunits: {units}\n---\n").units == expected


def test_the_studio_says_what_the_file_does_not() -> None:
    studio = Units(Unit.IN, 8, True)
    assert read("---\nname: A\nfor: woman\n---\n", studio).units == studio
    assert read("---\nname: A\nfor: woman\nunits: cm\n---\n", studio).units == Units(Unit.CM, 8, True)
    client = read("---\nname: A\nfor: woman\nmeasurements: {waist: 30}\n---\n", studio)
    assert client.measurements["waist_girth"].mm == 762.0


@pytest.mark.parametrize(
    "name", ["Đặng Thùy Miên", "Ọmọlará Àjíbọ́yẹ̀", "نديم الساحلي", "Ирина", "山田 花", "O’Neill"]
)
def test_names_in_any_script(name: str, tmp_path: Path) -> None:
    path = tmp_path / f"{name}.md"
    path.write_text(f"---\nname: {name}\nfor: child\n---\n", encoding="utf-8")
    client = read_client(path, tmp_path)
    assert client.ok
    assert client.name == name
    assert client.slug.isascii()


HEAD = "name: A\nfor: woman\nunits: cm\n"
BAD = [
    # front matter, line and column in the file, code, part of the message, part of the hint
    ("for: woman", 1, 1, "no-name", "name is missing", "name:"),
    ("name:\nfor: woman", 2, 6, "no-name", "name is missing", "name:"),
    ("name: [A]\nfor: woman", 2, 7, "not-a-text", "must be a text, not a list", ""),
    ("name: A", 1, 1, "no-kind", "whom it is for", "for: woman"),
    ("name: A\nfor: womann", 3, 6, "unknown-kind", "“womann”", "Did you mean “woman”?"),
    ("name: A\nfor: robot", 3, 6, "unknown-kind", "“robot”", "girl"),
    (HEAD + "garmets: [x]", 5, 1, "unknown-key", "“garmets”", "Did you mean “garments”?"),
    (HEAD + "bust girth: 90", 5, 1, "unknown-key", "“bust girth”", "belongs under measured:"),
    (HEAD + "qqq: 1", 5, 1, "unknown-key", "“qqq”", "Known: name, for"),
    ("name: A\nfor: woman\nunits: inchs", 4, 8, "unknown-unit", "“inchs”", "Did you mean “inches”?"),
    ("name: A\nfor: woman\nunits: ells", 4, 8, "unknown-unit", "“ells”", "inches, cm or mm"),
    ("name: A\nfor: woman\nunits: feet", 4, 8, "unknown-unit", "“feet”", "inches, cm or mm"),
    (HEAD + "language: English!", 5, 11, "unknown-language", "language code", "vi"),
    (HEAD + "measurements:\n  wiast girth: 70", 6, 3, "unknown-measurement", "“wiast girth”", "“waist girth”"),
    (HEAD + "measurements:\n  wingspan: 170", 6, 3, "unknown-measurement", "“wingspan”", "Measuring"),
    (HEAD + "measurements:\n  hip girth: -92", 6, 14, "negative", "hip girth cannot be negative", "minus"),
    (HEAD + "measurements:\n  hip girth: 38 1/0", 6, 17, "not-a-length", "0 below the line", "1/2"),
    (HEAD + "measurements:\n  hip girth: '92 cmm'", 6, 18, "not-a-length", "“cmm” is not a unit", "cm"),
    (HEAD + "measurements:\n  hip girth: 1e400", 6, 14, "not-a-length", "powers of ten", "Write it out"),
    (HEAD + "measurements:\n  hip girth: nan", 6, 14, "not-a-length", "nan is not a length", ""),
    (HEAD + "measurements:\n  hip girth:", 6, 13, "not-a-length", "a length is expected", ""),
    (HEAD + "measurements:\n  hip girth: [92]", 6, 14, "not-a-text", "must be a length, not a list", ""),
    (HEAD + "measurements:\n  hips: 92\n  seat: 93", 7, 3, "twice", "already given on line 6", "Keep one"),
    (HEAD + "measurements: 92", 5, 15, "not-a-group", "names with values, not a text", "bust girth: 92"),
    (HEAD + "measurements:\n  weight: 62", 6, 11, "not-a-weight", "“62” is not a weight", "62 kg"),
    (HEAD + "measurements:\n  weight: 6200 kg", 5, 1, "impossible", "6200 kg can't be right", ""),
    (HEAD + "measured:\n  bust girth: 92", 6, 3, "no-date", "needs a date above it", "measurements:"),
    (HEAD + "measured:\n  14/03/2026:\n    bust: 92", 6, 3, "not-a-date", "“14/03/2026”", "2026-03-14"),
    (HEAD + "measured:\n  3.4.2026:\n    bust: 92", 6, 3, "not-a-date", "3.4.2026", "3 April 2026 or 2026-03-04 for"),
    (HEAD + "measured:\n  2026-02-30:\n    bust: 92", 6, 3, "not-a-date", "no day 2026-02-30", "year-month"),
    (HEAD + "measured:\n  2026-03-14: 92", 6, 15, "not-a-group", "names with values, not a text", "below the date"),
    (HEAD + "measured: 92", 5, 11, "not-a-group", "names with values", "2026-03-14"),
    (HEAD + "choices: long", 5, 10, "not-a-group", "names with values", "style's name"),
    (HEAD + "choices:\n  skirt: long", 6, 10, "not-a-group", "“skirt”", "length: 60 cm"),
    (HEAD + "choices:\n  skirt:\n    length: [1]", 7, 13, "not-a-text", "one value, not a list", ""),
    (HEAD + "garments:\n  skirt: 1", 6, 3, "not-a-list", "a list of styles", "[one style"),
    (HEAD + "garments: [[a]]", 5, 12, "not-a-text", "a style's name", ""),
    (HEAD + "measurements:\n  bust girth: 9.6", 6, 15, "impossible", "9.6 cm can't be right", "Is the unit right?"),
    (HEAD + "measurements:\n  bust girth: 970", 6, 15, "impossible", "970 cm can't be right", "70 cm to 165 cm"),
    (
        HEAD + "measurements:\n  wrist: 31\n  upper arm: 25",
        6, 10, "impossible-together",
        "the wrist girth (31 cm) cannot be so large compared with the upper arm girth (25 cm)",
        "thinner than the upper arm",
    ),
    (
        HEAD + "measurements:\n  height: 160\n  nape height: 164",
        7, 16, "impossible-together", "the nape height (164 cm) cannot be so large compared with the height (160 cm)",
        "below the crown",
    ),
    (
        HEAD + "measurements:\n  outside leg: 104\n  inside leg: 53\n  rise: 26",
        6, 16, "impossible-together",
        "cannot be 25 cm more than the inside leg length (53 cm) and the body rise (26 cm) together",
        "crotch and waist",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("front", "line", "column", "code", "words", "hint"), BAD)
def test_a_mistake_is_told_with_its_place(
    front: str, line: int, column: int, code: str, words: str, hint: str
) -> None:
    client = read(f"---\n{front}\n---\nNotes.\n")
    found = [f for f in client.findings if f.code == code and f.place == Place("c.md", line, column)]
    assert found, client.findings
    assert words in found[0].message
    assert hint in found[0].hint
    assert found[0].severity is Severity.ERROR
    assert not client.ok
    assert client.notes == "Notes."


WARNED = [
    ("waist girth: 108\nhip girth: 104", 6, "waist girth (108 cm) is unusually large compared with the hip girth (104"),
    ("bust girth: 92\nunder bust: 93", 7, "the under-bust girth (93 cm) is unusually large"),
    ("back waist length: 42\nfront waist length: 39", 7, "the front waist length (39 cm) is unusually small"),
    ("outside leg: 104\ninside leg: 70\nrise: 27", 6, "is 7 cm more than the inside leg length (70 cm) and the body"),
    ("shoulder length: 19", 6, "shoulder length: 19 cm is unusual for a woman"),
]  # fmt: skip


@pytest.mark.parametrize(("measurements", "line", "words"), WARNED)
def test_the_improbable_is_a_warning_and_no_more(measurements: str, line: int, words: str) -> None:
    client = client_with(measurements)
    assert client.ok
    found = [f for f in client.findings if words in f.message]
    assert found and found[0].severity is Severity.WARNING
    assert found[0].place and found[0].place.line == line
    assert len(client.findings) <= 2


def test_figures_are_told_in_the_clients_units() -> None:
    client = client_with("bust girth: 9 1/2", units="inches")
    assert "9 1/2 in can't be right" in client.findings[0].message
    assert "27 9/16 in to 64 15/16 in" in client.findings[0].hint


def test_every_mistake_of_a_file_is_told_at_once_in_order() -> None:
    client = read("---\nname: A\nfor: x\nunits: y\nz: 1\nmeasurements:\n  bust: q\n  hap: 1\n---\n")
    assert [f.code for f in client.findings] == [
        "unknown-kind", "unknown-unit", "unknown-key", "not-a-length", "unknown-measurement",
    ]  # fmt: skip


def test_a_replaced_value_is_history_and_never_an_error() -> None:
    client = read(
        "---\nname: A\nfor: woman\nunits: cm\nmeasured:\n"
        "  2024-01-01:\n    bust: 9.2\n  2025-01-01:\n    bust: 92\n---\n"
    )
    assert client.ok
    assert [(f.code, f.severity) for f in client.findings] == [("impossible", Severity.WARNING)]


@pytest.mark.parametrize(
    ("person", "measurements"),
    [
        ("woman", "bust: 150\nunder-bust: 128\nwaist: 140\nhip girth: 152\nupper arm: 49"),  # a large woman
        ("woman", "bust: 76\nwaist: 58\nhip girth: 82\nheight: 142\nback waist length: 34"),  # a small one
        ("man", "chest girth: 140\nwaist: 150\nhip girth: 136\nneck: 48"),
        ("girl", "height: 92\nchest girth: 52\nwaist: 51\nhip girth: 53"),  # about two years
        ("boy", "height: 152\nchest girth: 76\nwaist: 67\nhip girth: 80\narm length: 54"),
    ],
)
def test_people_of_every_size_pass_without_a_word(person: str, measurements: str) -> None:
    assert client_with(measurements, person).findings == ()


def test_a_style_in_any_script_is_the_style_of_that_file_name() -> None:
    client = read("---\nname: A\nfor: woman\ngarments: [Áo dài]\nchoices: {Áo dài: {length: 1 m}}\n---\n")
    assert client.garments == (slugify("Áo dài"),) == tuple(client.choices)


@pytest.mark.parametrize(
    "text", ["garments: a, B c;d", "garments:\n  - a\n  - B c\n  - d", "garments: [a, B c, d, a]"]
)
def test_garments_as_a_list_or_in_a_line(text: str) -> None:
    client = read(f"---\nname: A\nfor: woman\n{text}\n---\n")
    assert client.garments == ("a", "b-c", "d")
    assert client.ok


def test_a_file_that_can_not_be_taken_apart_still_gives_a_client(tmp_path: Path) -> None:
    for number, data in enumerate(
        [b"", b"name: A", b"---\na: b: c\n---\n", b"\xff\xff\xff", b"---\nx: \xe9\n---"]
    ):
        path = tmp_path / f"{number}.md"
        path.write_bytes(data)
        client = read_client(path, tmp_path)
        assert not client.ok
        assert client.name == str(number)
        assert client.findings[0].place and client.findings[0].place.file == f"{number}.md"
    assert not read_client(tmp_path / "none.md", tmp_path).ok


def test_a_hostile_file_takes_little_work(tmp_path: Path) -> None:
    path = tmp_path / "c.md"
    lines = "".join(f"  bust grith {i}: 90\n" for i in range(40_000))
    path.write_text(f"---\nname: A\nfor: woman\nmeasurements:\n{lines}---\n")
    client, work = calls(lambda: read_client(path, tmp_path))
    assert len(client.findings) == 100
    assert client.findings[-1].code == "too-much" and client.findings[-1].is_error
    assert work < 40 * 40_000  # measured: 22 calls of functions a line


KEYS = ["name", "for", "units", "measured", "measurements", "choices", "garments", "language", "x"]
VALUES = [
    "",
    "woman",
    "[a, b]",
    "{a: b}",
    "{2026-01-01: {bust: 90}}",
    "{bust: 1}",
    "{a: {b: c}}",
    "0",
    "[[]]",
]


@given(st.dictionaries(st.sampled_from(KEYS), st.sampled_from(VALUES), max_size=9))
def test_no_front_matter_makes_reading_fail(entries: dict[str, str]) -> None:
    text = "---\n" + "".join(f"{k}: {v}\n" for k, v in entries.items()) + "---\n"
    client = read(text)
    assert client.ok == (not any(f.is_error for f in client.findings))
    assert client.name


@pytest.mark.parametrize(
    ("text", "kilograms"),
    [
        ("62 kg", 62.0),
        ("62,5kg", 62.5),
        ("137 lb", 137 * 0.45359237),
        ("9 st", 126 * 0.45359237),
        ("9 stone 7 lbs", 133 * 0.45359237),
        ("9 st 7", 133 * 0.45359237),
        ("62", None),
        ("heavy", None),
        ("-3 kg", None),
        ("1e9 kg", None),
    ],
)
def test_reads_a_weight(text: str, kilograms: float | None) -> None:
    assert parse_weight(text) == (None if kilograms is None else pytest.approx(kilograms))


def test_a_fraction_that_no_tape_shows_is_told_of() -> None:
    client = client_with("waist girth: 41 7/9\n hip girth: 44 1/4", units="inches")
    (found,) = client.findings
    assert (found.place, found.code) == (Place("c.md", 6, 19), "not-a-length")
    assert (
        "no tape measure has ninths" in found.message and found.hint == "The nearest sixteenth is 41 3/4 in."
    )


def test_a_figure_that_is_wrong_by_itself_lays_no_blame_on_others() -> None:
    client = read(f"---\n{HEAD}measurements:\n  waist: 76\n  hip: 101.5 in\n---\n")
    assert [(f.code, f.place) for f in client.findings] == [("impossible", Place("c.md", 7, 8))]


# --- dates in the future ------------------------------------------------------------------------------------

AHEAD = """---
name: A
for: woman
units: cm
measured:
  2026-03-14:
    waist girth: 76
    hip girth: 100
  2062-03-15:
    waist girth: 79
---
"""


def read_on(text: str, today: datetime.date | None) -> Client:
    return ClientReader(split(text, "c.md"), "c", "c", "", Units(), today).client()


def test_a_set_dated_in_the_future_is_reported_and_does_not_count() -> None:
    client = read_on(AHEAD, datetime.date(2026, 3, 20))
    (finding,) = client.findings
    assert (finding.code, finding.place) == ("date-to-come", Place("c.md", 9, 3))
    assert finding.severity is Severity.ERROR
    assert "2062-03-15 is in the future" in finding.message and "do not count" in finding.message
    assert "the day they were taken" in finding.hint
    assert client.measurements["waist_girth"].mm == 760
    assert [s.date for s in client.sets] == [datetime.date(2026, 3, 14)]


def test_a_mistyped_year_of_a_choice_is_told() -> None:
    text = "---\nname: A\nfor: woman\nchoices:\n  skirt:\n    0206-09-01:\n      length: 56 cm\n---\n"
    assert [(f.code, f.place and f.place.line) for f in read_on(text, None).findings] == [("wrong-year", 6)]


def test_a_choice_that_stands_twice_is_told() -> None:
    text = "---\nname: A\nfor: woman\nchoices:\n  skirt:\n    hem depth: 4 cm\n    hem_depth: 6 cm\n---\n"
    client = read_on(text, None)
    assert [(f.code, f.place and f.place.line) for f in client.findings] == [("twice", 7)]
    assert client.choices["skirt"]["hem depth"].text == "4 cm"


SIDED = "---\nname: A\nfor: woman\nmeasured:\n  2026-03-14:\n    upper arm girth: 26\n{}---\n"


@pytest.mark.parametrize(
    ("lines", "code", "line"),
    [
        (["shoulder drop right: 40"], "impossible", 7),
        (["upper arm girth right: 31"], "sides-apart", 7),
        (["thigh girth left: 50", "right thigh girth: 58"], "sides-apart", 8),
        (["wrist girth left: 15", "left wrist girth: 16"], "twice", 8),
        (["upper arm girth right: 27.5", "shoulder drop left: 4", "shoulder drop right: 5"], None, 0),
    ],
)
def test_a_measurement_of_one_side_is_judged_as_the_others_are(
    lines: list[str], code: str | None, line: int
) -> None:
    found = read_on(SIDED.format("".join(f"    {each}\n" for each in lines)), None).findings
    assert [(f.code, f.place and f.place.line) for f in found] == ([(code, line)] if code else [])


@pytest.mark.parametrize(
    ("decided", "code", "kept"),
    [("dropped 2036-03-10", "date-to-come", ""), ("kept 2016-03-10", "decided-before", "kept")],
)
def test_a_mistyped_year_of_what_was_decided_is_told(decided: str, code: str, kept: str) -> None:
    text = "---\nname: A\nfor: woman\nfittings:\n  2026-03-07 skirt:\n    - hip let out 4 mm, {}\n---\n"
    client = read_on(text.format(decided), datetime.date(2026, 3, 20))
    assert [(f.code, f.place and f.place.line) for f in client.findings] == [(code, 6)]
    assert client.fittings[0].decided == kept


def test_the_day_of_the_reading_itself_is_not_in_the_future() -> None:
    on_the_day = read_on(AHEAD, datetime.date(2062, 3, 15))
    assert on_the_day.ok and on_the_day.measurements["waist_girth"].mm == 790
    assert not read_on(AHEAD, datetime.date(2062, 3, 14)).ok


def test_what_is_read_depends_on_the_day_by_such_dates_alone() -> None:
    assert read_on(AHEAD, datetime.date(2026, 3, 20)) == read_on(AHEAD, datetime.date(2040, 1, 1))
    assert read_on(WHOLE, datetime.date(2026, 3, 14)) == read_on(WHOLE, None)


def test_comments_in_corrections_are_read_by_no_page() -> None:
    from catalogue.site.page import fitting_notes

    notes = "# Correction of skirt, 2026-05-02\n\nDips.\n\n```draft\n# she gained\na = 1 cm # again\nb = 2 cm\n```\n"
    client = read(f"---\nname: A\nfor: woman\n---\n{notes}")
    [correction] = client.corrections
    assert correction.source == "\na = 1 cm\nb = 2 cm"
    shown = fitting_notes(client, "")
    assert "a = 1 cm" in shown and "gained" not in shown and "again" not in shown
