"""People of standard sizes, for whom the extremes of a style's choices are drafted."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

from catalogue.findings import Place
from catalogue.lengths import Unit, Units
from catalogue.people import Client, Measured
from catalogue.studio.style import Style
from catalogue.studio.suiting import suits

INCH = 25.4

# Girths: US home-pattern trade sizes after 1967, misses size 14 (trade practice); neck base and under bust: ASTM
# D5585-11e1, misses size 8, whose bust is 36 1/4 in; heights, arm and hand: means of the women of the US Army survey
# of 2012 (NATICK/TR-15/007), computed from its public data. The rest is in proportion to these (common practice, no
# source).
WOMAN = {
    "bust_girth": 36 * INCH,
    "waist_girth": 28 * INCH,
    "hip_girth": 38 * INCH,
    "back_waist_length": 16.5 * INCH,
    "neck_shoulder_point_to_waist_back": 440.0,
    "head_girth": 21.75 * INCH,
    "neck_base_girth": 14.625 * INCH,
    "under_bust_girth": 30 * INCH,
    "shoulder_girth": 40.5 * INCH,
    "height": 1628.0,
    "nape_height": 1396.0,
    "inside_leg_length": 782.0,
    "upper_arm_girth": 280.0,
    "wrist_girth": 155.0,
    "hand_girth": 187.0,
    "neck_girth": 330.0,
    "shoulder_length": 125.0,
    "shoulder_drop": 42.0,
    "shoulder_width": 385.0,
    "chest_girth": 865.0,
    "chest_width": 325.0,
    "back_width": 350.0,
    "bust_point_width": 185.0,
    "scye_depth": 195.0,
    "front_waist_length": 440.0,
    "front_neck_to_waist": 345.0,
    "neck_shoulder_point_to_bust_point": 265.0,
    "nape_to_bust_point": 335.0,
    "nape_to_waist_front": 515.0,
    "under_arm_length": 205.0,
    "armscye_girth": 410.0,
    "elbow_girth": 250.0,
    "forearm_girth": 245.0,
    "upper_arm_length": 335.0,
    "arm_length": 575.0,
    "inside_arm_length": 440.0,
    "nape_to_wrist": 780.0,
    "hand_length": 180.0,
    "high_hip_girth": 870.0,
    "waist_height": 1030.0,
    "hip_height": 825.0,
    "knee_height": 449.0,
    "ankle_height": 65.0,
    "waist_to_hip": 205.0,
    "waist_to_knee": 580.0,
    "nape_to_knee": 990.0,
    "body_rise": 265.0,
    "outside_leg_length": 1035.0,
    "crotch_length": 680.0,
    "trunk_circumference": 1530.0,
    "thigh_girth": 560.0,
    "mid_thigh_girth": 490.0,
    "knee_girth": 360.0,
    "lower_knee_girth": 335.0,
    "calf_girth": 355.0,
    "minimum_leg_girth": 212.0,
    "ankle_girth": 235.0,
    "foot_length": 245.0,
}
# Means of the men of the same survey where it has them; the rest in proportion (common practice, no source).
MAN = WOMAN | {
    "chest_girth": 1000.0,
    "bust_girth": 1000.0,
    "under_bust_girth": 940.0,
    "waist_girth": 850.0,
    "hip_girth": 1000.0,
    "high_hip_girth": 950.0,
    "height": 1756.0,
    "nape_height": 1517.0,
    "waist_height": 1090.0,
    "hip_height": 880.0,
    "knee_height": 488.0,
    "back_waist_length": 450.0,
    "neck_shoulder_point_to_waist_back": 480.0,
    "front_waist_length": 450.0,
    "front_neck_to_waist": 380.0,
    "neck_base_girth": 420.0,
    "neck_girth": 390.0,
    "shoulder_length": 150.0,
    "shoulder_width": 455.0,
    "chest_width": 395.0,
    "back_width": 410.0,
    "scye_depth": 230.0,
    "upper_arm_girth": 340.0,
    "forearm_girth": 290.0,
    "wrist_girth": 176.0,
    "hand_girth": 212.0,
    "upper_arm_length": 370.0,
    "arm_length": 635.0,
    "nape_to_wrist": 860.0,
    "inside_leg_length": 846.0,
    "outside_leg_length": 1100.0,
    "waist_to_knee": 600.0,
    "thigh_girth": 600.0,
}
_CHILD = 0.72
"""A child is a woman in small here: enough to see what a choice changes, and no more (no source)."""


@cache
def _person(kind: str) -> Client:
    share = 1.0 if kind in ("woman", "man") else _CHILD
    values = {key: mm * share for key, mm in (MAN if kind == "man" else WOMAN).items()}
    measured = {
        key: Measured(mm, f"{mm / 10:g} cm", None, Place("standard size")) for key, mm in values.items()
    }
    return Client(
        "standard-size", "standard size", "Standard size", kind, Units(Unit.CM), measurements=measured
    )


def _measured_for(style: Style, kind: str) -> Client:
    """Such a person, with the middle of its range for each of the studio's own measurements that the style uses."""
    person = _person(kind)
    own = {
        m.key: Measured((b.low + b.high) / 2, "", None, Place("standard size"))
        for m in style.register.own
        if m.key in style.uses and math.isfinite((b := m.bounds_for(kind)).high)
    }
    return replace(person, measurements={**person.measurements, **own}) if own else person


def standard_person(style: Style) -> Client:
    """A person of a standard size for whom the style is meant."""
    for kind in ("woman", "man", "girl", "boy", "child"):
        if suits(style, _person(kind)):
            return _measured_for(style, kind)
    return _person("woman")
