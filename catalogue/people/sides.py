"""Measurements of one side of the body: which there are, and which count beside those of both sides."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from catalogue.people.client import Measured, MeasurementSet

_ONE_SIDED = frozenset(
    {
        "shoulder_length",
        "shoulder_drop",
        "neck_shoulder_point_to_bust_point",
        "neck_shoulder_point_to_waist_back",
        "front_waist_length",
        "under_arm_length",
        "armscye_girth",
        "upper_arm_girth",
        "elbow_girth",
        "forearm_girth",
        "wrist_girth",
        "hand_girth",
        "upper_arm_length",
        "arm_length",
        "inside_arm_length",
        "nape_to_wrist",
        "hand_length",
        "waist_to_hip",
        "waist_to_knee",
        "outside_leg_length",
        "inside_leg_length",
        "waist_height",
        "hip_height",
        "knee_height",
        "ankle_height",
        "thigh_girth",
        "mid_thigh_girth",
        "knee_girth",
        "lower_knee_girth",
        "calf_girth",
        "minimum_leg_girth",
        "ankle_girth",
        "foot_length",
    }
)


def is_of_one_side(key: str) -> bool:
    """Whether a body has this measurement once on each side; it has the others once, round it or down its middle."""
    return key in _ONE_SIDED


def newest_of(sets: Sequence[MeasurementSet], register: Iterable[str]) -> dict[str, Measured]:
    """The newest value of every measurement of the whole body, in the order of the register; `sets` oldest first."""
    newest = {key: m for one in sets for key, m in one.values.items()}
    for one in sets:
        # Measured on both sides and on neither alone: what goes by the body as a whole takes the mean.
        left, right = one.of_sides.get("left", {}), one.of_sides.get("right", {})
        for key in left.keys() & right.keys():
            if key not in newest:
                mm = (left[key].mm + right[key].mm) / 2
                newest[key] = replace(left[key], mm=mm, text=f"{left[key].text} / {right[key].text}")
    return {key: newest[key] for key in register if key in newest}


def sides_of(
    sets: Sequence[MeasurementSet], measurements: Mapping[str, Measured]
) -> dict[str, dict[str, Measured]]:
    """The newest measurements of each side that no later one of both sides has taken the place of.

    Args:
        sets: oldest first.
        measurements: what counts for both sides.
    """
    found: dict[str, dict[str, Measured]] = {}
    for one in sets:
        for side, values in one.of_sides.items():
            found.setdefault(side, {}).update(values)
    oldest = datetime.date.min
    return {
        side: kept
        for side, values in sorted(found.items())
        if (
            kept := {
                key: m
                for key, m in values.items()
                if key not in measurements or (measurements[key].date or oldest) <= (m.date or oldest)
            }
        )
    }
