"""A wrong measurement stops the drafts that use it and no others; what nothing uses is told."""

from pathlib import Path

import pytest

from catalogue.drafting import draft_style
from catalogue.findings import Severity
from catalogue.people import Client, read_client
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style

HEAD = "title: T\nfor: women\n"


def style(formula: str, head: str = HEAD) -> Style:
    text = f"---\n{head}---\n\n# Drafting\n\n```draft\npart = {formula}\n```\n"
    return style_from(text.encode(), "t", "styles/t.md")


def client(tmp_path: Path, *lines: str) -> Client:
    figures = "".join(f"  {line}\n" for line in ("waist: 72", "hip: 96", *lines))
    (tmp_path / "c.md").write_text(f"---\nname: C\nfor: woman\nunits: cm\nmeasurements:\n{figures}---\n")
    return read_client(tmp_path / "c.md", tmp_path)


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("ankle: 225", "impossible"),
        ("ankle: 2 2 cm", "not-a-length"),
        ("ankle: -22", "negative"),
        ("ankle: [22]", "not-a-text"),
        ("ankel: 22", "unknown-measurement"),
        ("shoulder: 12", "ambiguous-measurement"),
        ("hip girth: 97", "twice"),
        ("hand: 30", "impossible-together"),
    ],
)
def test_an_error_on_another_measurement_stops_nothing(tmp_path: Path, line: str, code: str) -> None:
    more = ("wrist: 13",) if code == "impossible-together" else ()
    who = client(tmp_path, *more, line)
    assert [f.code for f in who.findings if f.is_error] == [code] and not who.ok
    draft = draft_style(style("waist_girth / 4"), who, Settings())
    assert draft.values["part"].value == 180.0
    told = [f for f in draft.findings if f.code == code]
    assert [f.severity for f in told] == [Severity.WARNING] and draft.ok


@pytest.mark.parametrize(
    ("line", "formula"), [("ankle: 225", "ankle_girth / 4"), ("hip girth: 97", "hips / 4")]
)
def test_an_error_on_a_measurement_that_is_used_stops_the_draft(
    tmp_path: Path, line: str, formula: str
) -> None:
    draft = draft_style(style(formula), client(tmp_path, line), Settings())
    assert dict(draft.values) == {} and any(f.is_error for f in draft.findings)


def test_a_figure_that_can_not_be_read_is_missing_where_it_is_used(tmp_path: Path) -> None:
    draft = draft_style(style("ankle_girth / 4"), client(tmp_path, "ankle: 22 cn"), Settings())
    assert draft.missing == ("ankle_girth",) and any(f.is_error for f in draft.findings)


def test_an_error_that_is_about_no_measurement_stops_every_draft(tmp_path: Path) -> None:
    (tmp_path / "c.md").write_text("---\nname: C\nfor: womna\nmeasurements:\n  waist: 72 cm\n---\n")
    draft = draft_style(style("waist_girth / 4"), read_client(tmp_path / "c.md", tmp_path), Settings())
    assert dict(draft.values) == {}


def test_a_choice_that_nothing_uses_is_told() -> None:
    head = f"{HEAD}choices:\n  length: 58 cm (40 cm to 75 cm)\n  hip ease: 5 cm (3 cm to 8 cm)\n"
    findings = style("length + 1 cm", head).findings
    assert [(f.code, f.severity, f.place and f.place.line) for f in findings] == [
        ("unused-choice", Severity.WARNING, 6)
    ]
    assert findings[0].hint == "Use it in a formula as hip_ease, or leave it out."
    assert style("length + hip_ease", head).findings == ()
    # One choice may serve another, or be asked for by its word.
    head = f"{HEAD}choices:\n  length: 58 cm (40 cm to 75 cm)\n  slit: length / 4 (1 cm to 30 cm)\n"
    head += "  hem: wide (wide, narrow)\n"
    assert style("slit / 2\nwhen hem is wide\n  more = slit + 1 cm", head).findings == ()


def test_a_style_that_lists_measurements_is_told_that_it_need_not() -> None:
    findings = style("waist_girth", f"{HEAD}needs: waist girth\n").findings
    assert [f.code for f in findings] == ["unknown-key"]
    assert (
        findings[0].hint
        == "Leave it out: the measurements that the formulas use are asked for, and no others."
    )


def test_an_option_out_of_range_says_what_is_really_done(tmp_path: Path) -> None:
    head = f"{HEAD}choices:\n  length: 58 cm (40 cm to 75 cm)\n"
    (tmp_path / "c.md").write_text(
        "---\nname: C\nfor: woman\nunits: cm\nchoices:\n  t:\n    length: 90 cm\n---\n"
    )
    who = read_client(tmp_path / "c.md", tmp_path)
    draft = draft_style(style("length + 1 cm", head), who, Settings())
    assert draft.values["part"].value == 590.0  # the drawing shows the default
    assert not draft.ok  # with an error, for which nothing is printed
    assert [f.hint for f in draft.findings] == [
        "Write what lies within it. Until then the drawing shows the default, 58 cm, and nothing is printed."
    ]
