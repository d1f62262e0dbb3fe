"""How measurements that a survey did not take follow from those it took, and how far people lie beside that line.

Every row is our own least-squares fit to the people of a survey; lengths in mm, weight in kg, age left out. `spread`
is the standard deviation of what is left over, taken as normal.

WOMEN and MEN: 7th Size Korea survey of 2015 (Korean Agency for Technology and Standards), 3,224 women and 3,196 men
of 15 to 69 years. WAIST_FROM_NAVEL: the same survey, the natural waist from the girth at the navel. CHILDREN: Snyder
and others, "Anthropometry of Infants, Children and Youths to Age 18", University of Michigan 1977, every second row;
girls and boys of 850 to 1,400 mm and of 1,400 to 1,800 mm. TOGETHER: correlations of what is left over, women of the
first survey. NATION: adults of the United States, NHANES 2015 to 2018 (stature, iliac-crest waist), girths about the
means that the SizeUK survey gave the press; the spread of bust and hip is widened like that of the waist (our
deduction). CHEST_ABOVE_BUST: every second woman, 1,104, of the US Army survey of 1988 (ANSUR I, NATICK/TR-89/044), her
chest at scye level beside that over the bust.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple


class Line(NamedTuple):
    """`constant` and a share of other measurements, mm; the person lies about it with `spread` mm."""

    constant: float
    shares: Mapping[str, float]
    spread: float

    def at(self, body: Mapping[str, float]) -> float:
        """Where the line is for a body in mm."""
        return self.constant + sum(share * body[key] for key, share in self.shares.items())


WOMEN = {
    "slope": Line(31.201, {"height": -0.0036487, "bust_girth": -0.0068938}, 3.75),
    "front_waist_length": Line(66.782, {"height": 0.13122, "bust_girth": 0.16756}, 17.61),
    "front_neck_to_waist": Line(81.435, {"height": 0.10572, "bust_girth": 0.11995}, 19.02),
    "back_waist_length": Line(48.094, {"height": 0.18408, "bust_girth": 0.070995}, 16.89),
    "neck_shoulder_point_to_bust_point": Line(57.273, {"height": -0.0087989, "bust_girth": 0.24053}, 14.23),
    "nape_to_bust_point": Line(65.599, {"height": 0.025051, "bust_girth": 0.26876}, 14.83),
    "bust_point_width": Line(44.588, {"height": 0.0018853, "bust_girth": 0.14628}, 13.8),
    "under_bust_girth": Line(86.068, {"height": -0.017285, "bust_girth": 0.8047}, 25.75),
    "chest_width": Line(60.406, {"height": 0.094332, "bust_girth": 0.12963}, 12.84),
    "back_width": Line(50.811, {"height": 0.12184, "bust_girth": 0.14204}, 17.06),
    "shoulder_length": Line(17.319, {"height": 0.049974, "bust_girth": 0.020958}, 8.75),
    "scye_depth": Line(32.358, {"height": 0.050473, "bust_girth": 0.068453}, 16.8),
    "armscye_girth": Line(34.474, {"height": 0.045184, "bust_girth": 0.32758}, 20.93),
    "upper_arm_girth": Line(16.046, {"height": -0.0053479, "bust_girth": 0.29392}, 16.6),
    "neck_base_girth": Line(127.703, {"height": 0.062797, "bust_girth": 0.17208}, 19.92),
    "waist_to_hip": Line(9.992, {"height": 0.084706, "hip_girth": 0.034449}, 17.57),
    "body_rise": Line(-64.825, {"height": 0.14887, "hip_girth": 0.064154}, 18.72),
    "crotch_length": Line(55.283, {"height": 0.11355, "hip_girth": 0.46542}, 28.38),
}

MEN = {
    "slope": Line(27.426, {"height": 0.0029737, "chest_girth": -0.013234}, 4.33),
    "front_waist_length": Line(37.107, {"height": 0.15509, "chest_girth": 0.14801}, 18.36),
    "front_neck_to_waist": Line(67.563, {"height": 0.12999, "chest_girth": 0.084917}, 18.2),
    "back_waist_length": Line(66.967, {"height": 0.17594, "chest_girth": 0.073722}, 18.67),
    "chest_width": Line(56.869, {"height": 0.092585, "chest_girth": 0.16648}, 16.54),
    "back_width": Line(72.956, {"height": 0.1043, "chest_girth": 0.17121}, 21.62),
    "shoulder_length": Line(20.178, {"height": 0.051823, "chest_girth": 0.027241}, 11.85),
    "scye_depth": Line(19.908, {"height": 0.068151, "chest_girth": 0.061485}, 15.82),
    "armscye_girth": Line(-8.341, {"height": 0.079466, "chest_girth": 0.34077}, 27.49),
    "upper_arm_girth": Line(1.218, {"height": 0.00048824, "chest_girth": 0.32957}, 19.31),
    "neck_base_girth": Line(143.057, {"height": 0.057239, "chest_girth": 0.19123}, 22.87),
    "waist_to_hip": Line(-27.701, {"height": 0.07683, "hip_girth": 0.09388}, 18.19),
    "body_rise": Line(-6.351, {"height": 0.073222, "hip_girth": 0.14863}, 18.69),
    "crotch_length": Line(4.222, {"height": 0.045032, "hip_girth": 0.67628}, 34.73),
}

CHEST_ABOVE_BUST = Line(220.148, {"bust_girth": 0.734455}, 22.92)

WAIST_FROM_NAVEL = {
    "woman": Line(-94.8, {"navel_girth": 0.8111, "bust_girth": 0.2308}, 22.1),
    "man": Line(-33.8, {"navel_girth": 0.9236, "chest_girth": 0.0855}, 16.8),
}

TOGETHER: dict[tuple[str, str], float] = {
    ("front_waist_length", "back_waist_length"): 0.39,
    ("front_waist_length", "front_neck_to_waist"): 0.645,
    ("front_neck_to_waist", "back_waist_length"): 0.501,
    ("front_waist_length", "neck_shoulder_point_to_bust_point"): 0.27,
    ("neck_shoulder_point_to_bust_point", "nape_to_bust_point"): 0.758,
    ("front_waist_length", "back_width"): -0.18,
    ("front_waist_length", "slope"): -0.14,
    ("slope", "back_width"): 0.20,
    ("slope", "shoulder_length"): 0.218,
    ("slope", "scye_depth"): 0.26,
    ("chest_width", "shoulder_length"): 0.421,
    ("back_width", "shoulder_length"): 0.325,
    ("shoulder_length", "scye_depth"): 0.216,
    ("armscye_girth", "upper_arm_girth"): 0.283,
    ("body_rise", "crotch_length"): 0.55,
    ("body_rise", "back_waist_length"): -0.76,
    ("body_rise", "front_waist_length"): -0.479,
    ("body_rise", "front_neck_to_waist"): -0.607,
    ("crotch_length", "back_waist_length"): -0.507,
    ("crotch_length", "front_waist_length"): -0.319,
    ("crotch_length", "front_neck_to_waist"): -0.407,
}
"""Pairs not named are independent (their correlation is 0.2 at most)."""


class Spread(NamedTuple):
    """Mean and standard deviation, mm."""

    mean: float
    sd: float


NATION = {
    "woman": {
        "height": Spread(1612, 70),
        "bust_girth": Spread(978, 130),
        "waist_girth": Spread(864, 150),
        "hip_girth": Spread(1029, 125),
    },
    "man": {
        "height": Spread(1753, 75),
        "chest_girth": Spread(1067, 125),
        "waist_girth": Spread(940, 145),
        "hip_girth": Spread(1029, 110),
    },
}

SLOPE_OF_A_SIDE = {"woman": 1.9, "man": 2.7}
"""Degrees by which each shoulder lies beside the mean of both, reading error taken off (our deduction)."""

WEIGHT = {
    ("girl", False): (-12.395, 2.191, 0.104),
    ("girl", True): (-18.561, 3.049, 0.131),
    ("boy", False): (-12.378, 2.190, 0.102),
    ("boy", True): (-19.548, 3.182, 0.125),
}
"""Of a child, by whether it is 1,400 mm or taller: the logarithm of the weight is a + b * that of the height, +- c."""

CHILDREN: dict[tuple[str, bool], dict[str, Line]] = {
    ("girl", False): {
        "chest_girth": Line(372, {"weight": 9.51}, 20),
        "navel_girth": Line(516, {"height": -0.229, "weight": 13.11}, 26),
        "hip_girth": Line(369, {"height": -0.007, "weight": 11.23}, 19),
        "upper_arm_girth": Line(172, {"height": -0.083, "weight": 4.62}, 9),
        "neck_girth": Line(127, {"height": 0.111}, 14),
        "head_girth": Line(400, {"height": 0.092}, 14),
        "arm_length": Line(-8, {"height": 0.327}, 15),
        "biacromial": Line(31, {"height": 0.198}, 11),
        "waist_to_hip": Line(10, {"height": 0.085}, 16),
        "waist_height": Line(-172, {"height": 0.722}, 14),
        "seat_fold_height": Line(-173, {"height": 0.589}, 20),
        "back_waist_length": Line(19, {"height": 0.225}, 13),
    },
    ("girl", True): {
        "chest_girth": Line(617, {"height": -0.103, "weight": 6.64}, 26),
        "navel_girth": Line(837, {"height": -0.351, "weight": 8.24}, 34),
        "hip_girth": Line(490, {"height": -0.021, "weight": 8.17}, 24),
        "upper_arm_girth": Line(303, {"height": -0.149, "weight": 3.40}, 11),
        "neck_girth": Line(109, {"height": 0.123}, 16),
        "head_girth": Line(400, {"height": 0.088}, 15),
        "arm_length": Line(18, {"height": 0.317}, 18),
        "biacromial": Line(57, {"height": 0.182}, 16),
        "waist_to_hip": Line(-46, {"height": 0.129}, 21),
        "waist_height": Line(-33, {"height": 0.624}, 18),
        "seat_fold_height": Line(42, {"height": 0.439}, 24),
        "back_waist_length": Line(19, {"height": 0.225}, 13),
    },
    ("boy", False): {
        "chest_girth": Line(392, {"height": -0.011, "weight": 9.31}, 20),
        "navel_girth": Line(548, {"height": -0.253, "weight": 12.45}, 23),
        "hip_girth": Line(428, {"height": -0.080, "weight": 11.51}, 17),
        "upper_arm_girth": Line(192, {"height": -0.107, "weight": 4.88}, 8),
        "neck_girth": Line(156, {"height": 0.089}, 13),
        "head_girth": Line(432, {"height": 0.073}, 13),
        "arm_length": Line(-61, {"height": 0.383}, 17),
        "biacromial": Line(33, {"height": 0.194}, 11),
        "waist_to_hip": Line(32, {"height": 0.065}, 15),
        "waist_height": Line(-169, {"height": 0.716}, 14),
        "seat_fold_height": Line(-235, {"height": 0.642}, 20),
        "back_waist_length": Line(29, {"height": 0.216}, 13),
    },
    ("boy", True): {
        "chest_girth": Line(476, {"height": -0.004, "weight": 6.47}, 28),
        "navel_girth": Line(904, {"height": -0.397, "weight": 8.19}, 34),
        "hip_girth": Line(611, {"height": -0.090, "weight": 6.87}, 24),
        "upper_arm_girth": Line(245, {"height": -0.105, "weight": 3.27}, 12),
        "neck_girth": Line(-18, {"height": 0.212}, 17),
        "head_girth": Line(388, {"height": 0.101}, 15),
        "arm_length": Line(-24, {"height": 0.355}, 18),
        "biacromial": Line(-31, {"height": 0.237}, 16),
        "waist_to_hip": Line(3, {"height": 0.087}, 20),
        "waist_height": Line(-28, {"height": 0.620}, 19),
        "seat_fold_height": Line(75, {"height": 0.426}, 25),
        "back_waist_length": Line(29, {"height": 0.216}, 13),
    },
}
"""The waist was taken near the navel; the natural one is 14 mm less, +- 30. The back waist length is our deduction."""
