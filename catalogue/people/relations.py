"""How body measurements go together: what is unusual beside another measurement, and what can't be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

INFINITE = float("inf")
ADULTS = ("woman", "man")
EVERYONE = ("woman", "man", "child")


@dataclass(frozen=True, slots=True)
class Ratio:
    """`first` divided by `second` lies from `low` to `high`; below `lowest` or above `highest` it can't be.

    Attributes:
        why: the fact of the body behind it, for the hint.
        bodies: kinds of person it holds for.
    """

    first: str
    second: str
    lowest: float
    low: float
    high: float
    highest: float
    why: str
    bodies: tuple[str, ...] = EVERYONE

    @property
    def keys(self) -> tuple[str, ...]:
        return self.first, self.second


@dataclass(frozen=True, slots=True)
class Sum:
    """`whole` is about `parts` together: within `spare` mm it is usual, beyond `limit` mm it can't be."""

    whole: str
    parts: tuple[str, ...]
    spare: float
    limit: float
    why: str
    bodies: tuple[str, ...] = EVERYONE

    @property
    def keys(self) -> tuple[str, ...]:
        return self.whole, *self.parts


Relation = Ratio | Sum


@dataclass(frozen=True, slots=True)
class Clash:
    """Measurements that don't go together. `gap` in mm is how far a Sum is out, 0 for a Ratio."""

    relation: Relation
    impossible: bool
    large: bool
    gap: float = 0.0


def clashes(values: Mapping[str, float], body: str) -> Iterator[Clash]:
    """The relations that `values` (key to mm) break, for "woman", "man" or "child"."""
    for relation in RELATIONS:
        if body not in relation.bodies or not all(values.get(k, 0) > 0 for k in relation.keys):
            continue
        if isinstance(relation, Ratio):
            ratio = values[relation.first] / values[relation.second]
            large = ratio > relation.high
            if large or ratio < relation.low:
                yield Clash(relation, not relation.lowest <= ratio <= relation.highest, large)
        else:
            gap = values[relation.whole] - sum(values[p] for p in relation.parts)
            if abs(gap) > relation.spare:
                yield Clash(relation, abs(gap) > relation.limit, gap > 0, gap)


# The limits are our own judgement. Where a survey took both measurements they let its people pass: of
# every second subject of ANSUR II (2012) none meets an error and under 3 in 100 a warning from here; of the
# 507 adults of Heinz et al. 2003 none meets either.
RELATIONS: tuple[Relation, ...] = (
    Ratio("under_bust_girth", "bust_girth", 0.5, 0.7, 1.0, 1.15, "the ribs are smaller round than the bust"),
    Ratio("chest_girth", "bust_girth", 0.6, 0.8, 1.06, 1.35, "the chest is taken above the bust", ("woman",)),
    Ratio(
        "waist_girth", "hip_girth", 0.4, 0.58, 1.0, 1.6, "the waist is seldom larger than the hip", ("woman",)
    ),
    Ratio(
        "waist_girth", "hip_girth", 0.4, 0.62, 1.12, 1.7, "the waist is seldom larger than the hip", ("man",)
    ),
    Ratio(
        "waist_girth",
        "hip_girth",
        0.4,
        0.65,
        1.08,
        1.6,
        "the waist is seldom larger than the hip",
        ("child",),
    ),
    Ratio(
        "waist_girth",
        "bust_girth",
        0.4,
        0.57,
        1.08,
        1.7,
        "the waist is seldom larger than the bust",
        ("woman",),
    ),
    Ratio("waist_girth", "chest_girth", 0.4, 0.62, 1.15, 1.7, "the waist is seldom larger than the chest"),
    Ratio(
        "waist_girth", "high_hip_girth", 0.45, 0.6, 1.1, 1.7, "the waist is seldom larger than the hip bones"
    ),
    Ratio(
        "waist_girth",
        "under_bust_girth",
        0.5,
        0.78,
        1.35,
        2.0,
        "the waist is about as large round as the ribs",
        ("woman",),
    ),
    Ratio(
        "under_bust_girth",
        "chest_girth",
        0.5,
        0.68,
        1.05,
        1.4,
        "the ribs narrow below the chest",
        ("woman",),
    ),
    Ratio("high_hip_girth", "hip_girth", 0.5, 0.72, 1.05, 1.5, "the hip is taken where the seat is fullest"),
    Ratio("neck_girth", "neck_base_girth", 0.5, 0.72, 1.04, 1.4, "the neck is thinner than its base"),
    Ratio("bust_girth", "shoulder_girth", 0.5, 0.68, 1.15, 1.6, "the arms lie inside the shoulder girth"),
    Ratio("wrist_girth", "elbow_girth", 0.25, 0.4, 0.95, 1.2, "the wrist is thinner than the elbow"),
    Ratio(
        "forearm_girth", "upper_arm_girth", 0.4, 0.6, 1.09, 1.4, "the forearm is thinner than the upper arm"
    ),
    Ratio("wrist_girth", "forearm_girth", 0.25, 0.42, 0.9, 1.2, "the wrist is thinner than the forearm"),
    Ratio("elbow_girth", "upper_arm_girth", 0.35, 0.55, 1.1, 1.4, "the elbow is thinner than the upper arm"),
    Ratio("wrist_girth", "upper_arm_girth", 0.2, 0.33, 0.85, 1.2, "the wrist is thinner than the upper arm"),
    Ratio("hand_girth", "wrist_girth", 0.75, 1.0, 1.6, 2.2, "the hand is larger round than the wrist"),
    Ratio(
        "upper_arm_girth", "armscye_girth", 0.3, 0.5, 0.98, 1.4, "the armscye goes round the arm at its root"
    ),
    Ratio("armscye_girth", "bust_girth", 0.2, 0.3, 0.62, 1.0, "the armscye goes round one arm"),
    Ratio("armscye_girth", "chest_girth", 0.2, 0.3, 0.62, 1.0, "the armscye goes round one arm"),
    Ratio("thigh_girth", "hip_girth", 0.3, 0.43, 0.76, 1.0, "the hip goes round both thighs"),
    Ratio(
        "mid_thigh_girth", "thigh_girth", 0.5, 0.66, 1.02, 1.3, "the thigh is fullest close under the seat"
    ),
    Ratio("knee_girth", "thigh_girth", 0.3, 0.45, 0.95, 1.3, "the knee is thinner than the thigh"),
    Ratio("lower_knee_girth", "knee_girth", 0.5, 0.75, 1.06, 1.4, "the leg is thinner just below the knee"),
    Ratio("ankle_girth", "calf_girth", 0.3, 0.48, 1.0, 1.4, "the ankle is thinner than the calf"),
    Ratio(
        "minimum_leg_girth", "ankle_girth", 0.5, 0.65, 1.03, 1.3, "the leg is thinnest above the ankle bones"
    ),
    Ratio("nape_height", "height", 0.6, 0.78, 0.9, 1.0, "the nape is below the crown of the head"),
    Ratio("waist_height", "nape_height", 0.4, 0.62, 0.81, 1.0, "the waist is below the nape"),
    Ratio("hip_height", "waist_height", 0.5, 0.68, 0.93, 1.0, "the seat is below the waist"),
    Ratio("knee_height", "hip_height", 0.3, 0.42, 0.66, 1.0, "the knee is below the seat"),
    Ratio("inside_leg_length", "waist_height", 0.35, 0.55, 0.88, 1.0, "the crotch is below the waist"),
    Ratio("inside_leg_length", "outside_leg_length", 0.35, 0.55, 0.87, 1.0, "the crotch is below the waist"),
    Ratio("outside_leg_length", "waist_height", 0.85, 0.97, 1.07, 1.25, "both are taken from waist to floor"),
    Ratio("waist_to_hip", "body_rise", 0.3, 0.5, 1.05, 1.6, "the seat's fullest part is above the chair"),
    Ratio("waist_to_hip", "waist_to_knee", 0.12, 0.22, 0.5, 1.0, "the hip is above the knee"),
    Ratio("waist_to_knee", "outside_leg_length", 0.3, 0.46, 0.68, 1.0, "the knee is above the floor"),
    Ratio("scye_depth", "back_waist_length", 0.2, 0.36, 0.68, 1.0, "the armpit is above the waist"),
    Ratio("back_waist_length", "height", 0.14, 0.2, 0.32, 0.42, "the back is about a quarter of the height"),
    Ratio(
        "front_waist_length",
        "back_waist_length",
        0.7,
        0.96,
        1.3,
        1.7,
        "the front goes over the bust",
        ("woman",),
    ),
    Ratio(
        "front_waist_length",
        "back_waist_length",
        0.7,
        0.88,
        1.2,
        1.6,
        "both run from neck to waist",
        ("man", "child"),
    ),
    Ratio(
        "neck_shoulder_point_to_waist_back",
        "back_waist_length",
        0.7,
        0.92,
        1.2,
        1.5,
        "it starts at the side of the neck, about as high as the nape",
    ),
    Ratio("front_neck_to_waist", "front_waist_length", 0.5, 0.66, 0.97, 1.1, "the neck hollow lies lower"),
    Ratio(
        "front_waist_length", "nape_to_waist_front", 0.6, 0.72, 0.95, 1.0, "it starts at the side of the neck"
    ),
    Ratio(
        "neck_shoulder_point_to_bust_point",
        "front_waist_length",
        0.3,
        0.46,
        0.82,
        1.0,
        "the waist is below the bust",
    ),
    Ratio(
        "neck_shoulder_point_to_bust_point",
        "nape_to_bust_point",
        0.4,
        0.6,
        0.9,
        1.0,
        "the nape is further back",
    ),
    Ratio("under_arm_length", "back_waist_length", 0.2, 0.36, 0.68, 1.0, "the armpit is below the nape"),
    Ratio("bust_point_width", "bust_girth", 0.08, 0.14, 0.28, 0.5, "the bust points lie on the front half"),
    Ratio(
        "shoulder_length", "shoulder_width", 0.15, 0.25, 0.46, 0.6, "the shoulder width holds two shoulders"
    ),
    Ratio("shoulder_drop", "shoulder_length", 0.0, 0.12, 0.65, 1.0, "a shoulder slopes, it doesn't hang"),
    Ratio("back_width", "bust_girth", 0.2, 0.28, 0.5, 0.7, "the back is well under half the girth"),
    Ratio("back_width", "chest_girth", 0.2, 0.29, 0.52, 0.7, "the back is well under half the girth"),
    Ratio("back_width", "shoulder_width", 0.5, 0.75, 1.15, 1.5, "the back is about as wide as the shoulders"),
    Ratio("chest_width", "back_width", 0.5, 0.74, 1.15, 1.6, "the chest is about as wide as the back"),
    Ratio("arm_length", "height", 0.2, 0.28, 0.4, 0.55, "the arm is about a third of the height"),
    Ratio("upper_arm_length", "arm_length", 0.35, 0.5, 0.72, 1.0, "the elbow is about halfway down"),
    Ratio("inside_arm_length", "arm_length", 0.5, 0.66, 0.92, 1.05, "the armpit is below the shoulder point"),
    Ratio("arm_length", "nape_to_wrist", 0.45, 0.58, 0.8, 1.0, "the shoulder point is past the nape"),
    Ratio("head_girth", "height", 0.2, 0.28, 0.75, 1.1, "a head is about a third of the height round"),
    Ratio("foot_length", "height", 0.1, 0.125, 0.185, 0.25, "a foot is about a seventh of the height"),
    Ratio("crotch_length", "body_rise", 1.5, 1.9, 3.4, 5.0, "it goes down in front and up at the back"),
    Ratio(
        "nape_to_knee", "height", 0.35, 0.5, 0.72, 0.9, "nape and knee are more than half the height apart"
    ),
    Ratio("trunk_circumference", "height", 0.6, 0.82, 1.22, 1.6, "it is about as long as the body"),
    Sum("nape_height", ("waist_height", "back_waist_length"), 50, 200, "the back joins nape and waist"),
    Sum("waist_height", ("hip_height", "waist_to_hip"), 35, 150, "the hip lies that far below the waist"),
    Sum("outside_leg_length", ("inside_leg_length", "body_rise"), 50, 200, "the rise joins crotch and waist"),
    Sum("back_waist_length", ("scye_depth", "under_arm_length"), 45, 160, "the armpit divides the back"),
)
