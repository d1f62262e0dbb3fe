"""Two figures of a first set that were typed in each other's line are asked about, and other people's are not."""

from __future__ import annotations

from statistics import NormalDist

import pytest

from catalogue.people.exchanged import EXCHANGES, Expected
from tests.people.test_client import client_with
from tests.people.test_dating import dated


def asked(measurements: str, person: str = "woman") -> list[str]:
    return [f.code for f in client_with(measurements, person).findings]


@pytest.mark.parametrize(
    ("measurements", "person", "line", "words"),
    [
        # A woman of 88 and 100 with the thighs and ribs that go with it, the two girths exchanged.
        (
            "bust girth: 100\nhip girth: 88\nthigh girth: 57\nunder-bust girth: 76",
            "woman",
            7,
            "the bust girth (100 cm) and the hip girth (88 cm) may have changed places: beside this client's "
            "under-bust girth (76 cm) and thigh girth (57 cm) the hip girth is usually some 7.5 cm larger",
        ),
        (
            "hip girth: 34 in\nwaist girth: 25 1/2 in\nbust girth: 39 1/2 in",
            "woman",
            8,
            "the bust girth (39 1/2 in) and the hip girth (34 in)",
        ),
        ("back width: 33\nchest width: 36", "woman", 7, "the chest width (36 cm) and the back width (33 cm)"),
        (
            "back width: 38\nchest width: 42.2",
            "man",
            7,
            "of a man the back width is usually some 4 cm larger",
        ),
        ("chest width: 27\nback width: 25", "girl", 7, "of a girl the back width is usually"),
    ],
)
def test_exchanged_figures_of_a_first_set_are_asked_about(
    measurements: str, person: str, line: int, words: str
) -> None:
    [finding] = client_with(measurements, person).findings
    assert finding.code == "exchanged" and not finding.is_error
    assert words in finding.message
    assert finding.place is not None and finding.place.line == line


def test_what_is_told_of_the_two_is_told_once() -> None:
    assert asked("back width: 34\nchest width: 40") == ["exchanged"]
    exchanged_since = dated(
        ("2026-01-10", "bust girth: 88; hip girth: 100; waist girth: 64"),
        ("2026-02-20", "bust girth: 100; hip girth: 88; waist girth: 64"),
    )
    assert [f.code for f in exchanged_since.findings] == ["swapped"]


def test_a_second_set_like_the_first_is_not_asked_about() -> None:
    first = "chest width: 36; back width: 33"
    assert [f.code for f in dated(("2026-01-10", first)).findings] == ["exchanged"]
    assert dated(("2026-01-10", first), ("2026-06-20", "chest width: 36.2; back width: 33.4")).findings == ()


# Back width and chest width (scye to scye), mm: means, standard deviations and their correlation, 7th Size Korea survey
# of 2015, women and men of 15 to 69 years.
WIDTHS = {"woman": (368.0, 21.5, 323.1, 17.2, 0.434), "man": (410.2, 27.0, 369.6, 22.6, 0.452)}


@pytest.mark.parametrize(("kind", "caught"), [("woman", 0.9), ("man", 0.55)])
def test_hardly_anybodys_own_widths_are_asked_about_and_most_exchanged_ones_are(
    kind: str, caught: float
) -> None:
    back, back_sd, chest, chest_sd, together = WIDTHS[kind]
    spread = (back_sd**2 + chest_sd**2 - 2 * together * back_sd * chest_sd) ** 0.5
    difference = NormalDist(back - chest, spread)
    [line] = next(e for e in EXCHANGES if e.larger == "back_width" and kind in e.bodies).lines
    assert isinstance(line, Expected) and abs(line.constant - (back - chest)) < 0.5
    limit = line.surely * line.spread**2 / (2 * line.constant)
    assert difference.cdf(-limit) < 1 / 200
    assert 1 - difference.cdf(limit) > caught
