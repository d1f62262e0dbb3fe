"""People of a survey made as unlike each other as people are: what was not measured varies beside its regression.

Girths and stature keep their place among the survey's people and are spread as a nation's are; everything else follows
from them by the lines of `regressions`, each person lying beside every line as far as its spread says, measurements
that go together drawn together. Every person has a seed, so that one body can be drawn again alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from functools import cache

import numpy as np

from catalogue.people import Client
from tests.survey.bodies import Body, client, completed
from tests.survey.regressions import (
    CHEST_ABOVE_BUST,
    CHILDREN,
    MEN,
    NATION,
    SLOPE_OF_A_SIDE,
    TOGETHER,
    WAIST_FROM_NAVEL,
    WEIGHT,
    WOMEN,
    Line,
)

FURTHEST = 2.5
"""Standard deviations: nobody lies further from a line or from the nation's mean. The lines are unproven beyond."""

SHORTEST_CHILD, TALLEST_CHILD = 870.0, 1640.0
"""mm: about the 5th centile at 2 years and the 95th at 14 (Snyder 1977)."""


def varied(people: Sequence[Body], kind: str, seed: int) -> Iterator[Client]:
    """A client for each row of a survey: `people` in cm by measurement, `kind` "woman" or "man".

    A row with "navel_girth" has its natural waist worked out from that.
    """
    lines = WOMEN if kind == "woman" else MEN
    nation = NATION[kind]
    chest = "bust_girth" if kind == "woman" else "chest_girth"
    rows = [{key: 10 * cm for key, cm in completed(person, kind).items()} for person in people]
    middle = {key: _mean_and_sd([_known(row, key) for row in rows]) for key in nation}
    for number, row in enumerate(rows):
        chance = np.random.default_rng([seed, number])
        body = {}
        for key, spread in nation.items():
            mean, sd = middle[key]
            body[key] = spread.mean + spread.sd * _near((_known(row, key) - mean) / sd)
        if "navel_girth" in row:
            line = WAIST_FROM_NAVEL[kind]
            navel = {"navel_girth": body.pop("waist_girth"), chest: body[chest]}
            body["waist_girth"] = line.at(navel) + line.spread * _near(chance.normal())
        body |= _drawn(lines, body, chance)
        _shoulders(body, kind, chance)
        larger = body["hip_girth"] / row["hip_girth"]
        for key in ("thigh_girth", "knee_girth", "calf_girth", "minimum_leg_girth"):
            if key in row:
                body[key] = row[key] * (larger if key == "thigh_girth" else math.sqrt(larger))
        for key in ("forearm_girth", "wrist_girth"):
            if key in row:
                body[key] = row[key] * math.sqrt(body[chest] / row[chest])
        if kind == "woman":
            body["chest_girth"] = CHEST_ABOVE_BUST.at(body) + CHEST_ABOVE_BUST.spread * _near(chance.normal())
        yield client(f"{kind}-{number + 1}", kind, completed(_in_cm(body), kind))


def children(count: int, seed: int) -> Iterator[Client]:
    """Girls and boys in turn, by height, from 2 to about 14 years; completed as Snyder's children were."""
    for number in range(count):
        chance = np.random.default_rng([seed, number])
        kind = "boy" if number % 2 else "girl"
        height = float(chance.uniform(SHORTEST_CHILD, TALLEST_CHILD))
        tall = height >= 1400
        constant, share, spread = WEIGHT[kind, tall]
        weight = math.exp(constant + share * math.log(height) + spread * _near(chance.normal()))
        body = {"height": height, "weight": weight}
        body |= _drawn(CHILDREN[kind, tall], body, chance)
        body["waist_girth"] = min(
            body["navel_girth"] - 14 - 15 * _near(chance.normal()), 1.04 * body["navel_girth"]
        )
        body["shoulder_length"] = 0.32 * body["biacromial"]
        body["slope"] = 20 + 4 * _near(chance.normal())
        _shoulders(body, "woman", chance)
        body["body_rise"] = 0.9 * (body["waist_height"] - body["seat_fold_height"])
        body["inside_leg_length"] = body["waist_height"] - body["body_rise"]
        yield client(f"{kind}-{number + 1}", kind, _child_completed(_in_cm(body)))


def _child_completed(body: dict[str, float]) -> dict[str, float]:
    """What a child's draft needs besides. Shares of the chest are own judgement, near drafts for children.

    Scye depth an eighth of the chest and 2 1/2 in (a dress block for a chest of 36), here a sixth and 3.4 cm, which is
    12.4 cm at 18 to 24 months (a published toddler block).
    """
    chest = body["chest_girth"]
    body.pop("navel_girth")
    more = {
        "scye_depth": chest / 6 + 3.4,
        "back_width": 0.42 * chest,
        "chest_width": 0.395 * chest,
        "neck_base_girth": 1.06 * body["neck_girth"],
        "front_waist_length": body["back_waist_length"] + 1.0,
        "armscye_girth": 0.44 * chest,
        "wrist_girth": 0.66 * body["upper_arm_girth"],
        "hand_girth": 0.82 * body["upper_arm_girth"],
        "upper_arm_length": 0.56 * body["arm_length"],
        "waist_to_knee": 0.58 * body["waist_height"],
        "knee_girth": 0.46 * body["hip_girth"],
        "thigh_girth": 0.59 * body["hip_girth"],
        "crotch_length": 0.4 * body["hip_girth"] + 1.6 * body["body_rise"],
    }
    return more | body


def _drawn(
    lines: Mapping[str, Line], body: Mapping[str, float], chance: np.random.Generator
) -> dict[str, float]:
    """A figure for each line, the ones that go together drawn together."""
    keys = tuple(lines)
    noise = _roots(keys) @ chance.normal(size=len(keys))
    return {
        key: line.at(body) + line.spread * _near(float(off))
        for (key, line), off in zip(lines.items(), noise, strict=True)
    }


@cache
def _roots(keys: tuple[str, ...]) -> np.ndarray:
    """The matrix that gives independent noise the correlations of TOGETHER."""
    matrix = np.eye(len(keys))
    for (first, second), share in TOGETHER.items():
        if first in keys and second in keys:
            i, j = keys.index(first), keys.index(second)
            matrix[i, j] = matrix[j, i] = share
    values, vectors = np.linalg.eigh(matrix)
    root = vectors @ np.diag(np.sqrt(np.clip(values, 0, None)))
    return root / np.sqrt((root**2).sum(axis=1, keepdims=True))


def _shoulders(body: dict[str, float], kind: str, chance: np.random.Generator) -> None:
    """The drop of the shoulder from its slope; the right and the left one by themselves too."""
    slope = body.pop("slope")
    body.pop("biacromial", None)
    body["shoulder_drop"] = body["shoulder_length"] * math.sin(math.radians(slope))
    for side in ("right", "left"):
        beside = slope + SLOPE_OF_A_SIDE[kind] * _near(chance.normal())
        body[f"shoulder_drop_{side}"] = body["shoulder_length"] * math.sin(math.radians(beside))


def _known(row: Mapping[str, float], key: str) -> float:
    return row["navel_girth"] if key == "waist_girth" and "navel_girth" in row else row[key]


def _mean_and_sd(values: Sequence[float]) -> tuple[float, float]:
    return float(np.mean(values)), float(np.std(values))


def _near(z: float) -> float:
    return max(-FURTHEST, min(FURTHEST, float(z)))


def _in_cm(body: Mapping[str, float]) -> dict[str, float]:
    return {key: mm if key == "weight" else mm / 10 for key, mm in body.items()}
