"""What people call the measurements of the register, and where each name was met.

A name is given once, in the plainest form; `naming` takes its other forms for the same ("circumference", "round the",
"measurement", "center", ...). The order is that of the measuring page: the commonest first.
"""

from __future__ import annotations

SOURCES = {
    "trade": "common practice, no source",
    "iso": "ISO 8559:1989, list as reprinted in Anthropometry, Apparel Sizing and Design, table 4.1",
    "iso-memory": "ISO 8559-1:2017, from memory",
    "astm": "ASTM D5585-11, table 1, names of the girths",
    "ansur": "US Army survey of 2012, NATICK/TR-15/007, names of the columns",
    "heinz": "Heinz et al. 2003, body dimensions (openintro bdims), names of the columns",
    "korea": "Size Korea 2015, names of the dimensions as translated by us",
    "coast-guard": "US Coast Guard, COMDINST M1020.6G, 6.B.23 and 6.B.25",
    "nmsu": "New Mexico State University, Guide C-209, Measurements for Fitting Pants",
    "extension": "Extension publication E-372, Principles of Pattern Alteration",
    "usda": "USDA, Fitting Dresses, 1946, as retold",
    "vincent": "W. D. F. Vincent, Systems of Cutting, and The Cutter's Practical Guide",
    "rosenfeld": "I. Rosenfeld, The Practical Designer, 1918",
    "ingalls": "C. C. Ingalls, Text-Book on Domestic Art",
    "wakeman": "A. Wakeman, Scientific Sewing and Garment Cutting",
    "baldt": "L. I. Baldt, Clothing for Women",
    "hertzer": "G. F. Hertzer, Garment Cutting in the Twentieth Century",
    "vienna": "Vienna Ladies' Tailoring Institute, 1902",
    "corsetiere": "The Practical Corsetiere",
    "lessons": "Hand Sewing Lessons, Drafting Children's Garments",
    "wikieducator": "WikiEducator, Handout for drafting skirt block",
    "wikibooks": "Wikibooks, Dressmaking, page Pants",
    "tailors": "tailors' trouser drafts published on a forum and a blog (2011)",
    "indian": "Indian drafting lessons: bodice block, princess petticoat, drafting of trousers",
    "toddler": "Drafting children's bodice block (toddler block, metric)",
}
"""Where names come from, by the short word that `EVERYDAY` uses."""

EVERYDAY: dict[str, dict[str, str]] = {
    "head_girth": {"astm": "head", "trade": "hat size, hat measure"},
    "neck_girth": {
        "vincent": "neck",
        "astm": "mid-neck, mid-neck girth",
        "trade": "collar size, shirt collar",
    },
    "neck_base_girth": {
        "astm": "neck base",
        "ansur": "neck girth base",
        "trade": "base of neck, neckline girth",
    },
    "shoulder_girth": {"ansur": "shoulder girth", "trade": "round the shoulders and arms"},
    "chest_girth": {
        "vincent": "chest, breast, breast girth",
        "extension": "high bust, high bust girth",
        "astm": "upper chest, upper chest girth",
        "trade": "upper bust, upper bust girth, above bust",
    },
    "bust_girth": {"wakeman": "bust", "extension": "full bust"},
    "under_bust_girth": {
        "astm": "under-bust",
        "trade": "below bust, rib cage, rib cage girth, band measure, bra band",
    },
    "waist_girth": {"ingalls": "waist", "vincent": "natural waist", "trade": "waistline"},
    "high_hip_girth": {
        "trade": "high hip, upper hip, upper hip girth, top hip, hip bone girth, abdomen girth, "
        "abdomen, tummy"
    },
    "hip_girth": {
        "rosenfeld": "hip",
        "wikieducator": "hips",
        "vincent": "seat, seat girth",
        "ansur": "buttock girth",
        "trade": "full hip, low hip, lower hip",
    },
    "trunk_circumference": {"ansur": "trunk girth, vertical trunk girth", "trade": "torso girth, body loop"},
    "crotch_length": {
        "iso": "crotch",
        "ansur": "crotch length, crotch length waist to waist",
        "trade": "total crotch, total rise, fork length, through the legs, between the legs",
    },
    "armscye_girth": {
        "ingalls": "armseye, armseye girth",
        "baldt": "armhole, armhole girth",
        "vincent": "scye, scye girth",
        "iso": "armscye",
    },
    "upper_arm_girth": {
        "korea": "upper arm",
        "heinz": "biceps, biceps girth",
        "trade": "bicep, bicep girth, top arm, top arm girth, round sleeve, sleeve girth",
    },
    "elbow_girth": {"ingalls": "elbow"},
    "forearm_girth": {"heinz": "forearm", "trade": "lower arm girth"},
    "wrist_girth": {"ingalls": "wrist"},
    "hand_girth": {"ingalls": "hand", "trade": "knuckle girth, palm girth, fist girth"},
    "thigh_girth": {"ansur": "thigh", "trade": "upper thigh, upper thigh girth, top of leg, full thigh"},
    "mid_thigh_girth": {"iso": "mid thigh", "trade": "middle of thigh"},
    "knee_girth": {"wikibooks": "knee"},
    "lower_knee_girth": {"iso": "lower knee", "trade": "below knee, below knee girth, under knee girth"},
    "calf_girth": {"vincent": "calf"},
    "minimum_leg_girth": {"vincent": "small", "trade": "small leg, thinnest leg, above ankle girth"},
    "ankle_girth": {"ansur": "ankle"},
    "height": {"ansur": "stature", "trade": "body height, how tall"},
    "nape_height": {
        "ansur": "cervicale height, cervical height",
        "ingalls": "nape to floor",
        "trade": "neck to floor, back neck to floor, full length back",
    },
    "waist_height": {"ansur": "height of waist", "trade": "waist straight to floor"},
    "hip_height": {"iso": "height of hip", "trade": "seat height, hip to floor"},
    "knee_height": {"ansur": "height of knee", "trade": "knee to floor"},
    "ankle_height": {"iso": "height of ankle", "trade": "ankle to floor"},
    "outside_leg_length": {
        "tailors": "outside leg",
        "wikibooks": "outseam",
        "trade": "outside seam, waist to floor, trouser length, side of leg",
    },
    "inside_leg_length": {
        "tailors": "inside leg",
        "coast-guard": "inseam",
        "ansur": "crotch height",
        "trade": "inside seam, crotch to floor, inleg, inner leg",
    },
    "body_rise": {
        "rosenfeld": "rise",
        "nmsu": "crotch depth, sitting rise",
        "trade": "seat depth, sitting depth, waist to seat, waist to chair, waist to crotch",
    },
    "waist_to_hip": {
        "wikieducator": "waist to hip",
        "rosenfeld": "hip depth",
        "trade": "hip length, waist to hip length",
    },
    "waist_to_knee": {"trade": "waist to knee length, knee length"},
    "nape_to_knee": {"iso": "nape to knee hollow", "trade": "neck to knee, back neck to knee"},
    "scye_depth": {
        "ingalls": "depth of armseye",
        "trade": "armhole depth, armscye depth, back depth, nape to armpit, neck to armpit line, "
        "depth of scye",
    },
    "back_waist_length": {
        "iso": "nape to waist, nape to waist back",
        "vincent": "waist length",
        "ansur": "waist back length",
        "toddler": "back length",
        "trade": "back waist, back length to waist, centre back length, centre back waist length, "
        "centre back to waist, "
        "back neck to waist, neck to waist back",
    },
    "neck_shoulder_point_to_waist_back": {
        "korea": "back length neck side over shoulder blade",
        "trade": "shoulder to waist back, shoulder to waist at the back, back shoulder to waist, "
        "neck shoulder to waist back, side neck to waist back, shoulder neck to waist back",
    },
    "front_waist_length": {
        "iso": "neck shoulder to waist",
        "korea": "front waist length over bust",
        "trade": "front waist, neck shoulder point to waist, neck shoulder point to waist front, "
        "shoulder to waist front, "
        "shoulder to waist at the front, side neck to waist front, shoulder to waist over bust",
    },
    "front_neck_to_waist": {
        "korea": "centre front length",
        "trade": "centre front waist length, centre front to waist, front neck point to waist, "
        "neck to waist front",
    },
    "nape_to_waist_front": {
        "iso": "nape to waist front",
        "coast-guard": "nape to waist over bust",
        "trade": "nape to front waist",
    },
    "neck_shoulder_point_to_bust_point": {
        "iso": "neck shoulder point to breast point",
        "korea": "neck side to bust point",
        "trade": "shoulder to bust point, shoulder to bust, shoulder to apex, bust depth, "
        "bust height, side neck to bust, "
        "bust length, bust point height",
    },
    "nape_to_bust_point": {"iso": "nape to breast point", "korea": "nape to bust"},
    "under_arm_length": {
        "ingalls": "underarm, underarm length",
        "trade": "underarm to waist, armpit to waist, armhole to waist, side waist length, "
        "side bodice length",
    },
    "shoulder_length": {
        "baldt": "shoulder seam, shoulder seam length",
        "iso": "neck point to shoulder point",
        "trade": "small shoulder, neck to shoulder point, neck to shoulder, one shoulder, single shoulder",
    },
    "shoulder_drop": {"korea": "shoulder slope", "trade": "drop of shoulder, slope of shoulder"},
    "upper_arm_length": {"ingalls": "shoulder to elbow", "trade": "elbow length, sleeve length to elbow"},
    "arm_length": {
        "ansur": "sleeve outseam",
        "trade": "sleeve length, outside arm, outside arm length, shoulder to wrist, over arm, "
        "over arm length, outer arm",
    },
    "inside_arm_length": {
        "rosenfeld": "inside sleeve, inside sleeve length",
        "trade": "inside arm, under arm to wrist, armpit to wrist, sleeve inseam, inner arm, "
        "inner arm length",
    },
    "nape_to_wrist": {
        "iso": "7th vertebra to wrist, seventh vertebra to wrist",
        "ansur": "spine to wrist",
        "trade": "centre back to wrist, neck to wrist, back neck to wrist",
    },
    "hand_length": {"iso": "length of hand"},
    "foot_length": {"iso": "foot", "trade": "length of foot"},
    "shoulder_width": {
        "iso": "shoulder width",
        "trade": "shoulder to shoulder, tip to tip, across shoulders, across shoulder, "
        "full shoulder, back shoulder width, "
        "shoulder tip to tip",
    },
    "back_width": {
        "ansur": "interscye",
        "vincent": "width of back",
        "trade": "across back, across the back, cross back, back breadth, blade width",
    },
    "chest_width": {
        "vincent": "across chest",
        "ingalls": "front width",
        "trade": "across front, across the front, cross front, cross chest, chest breadth, front chest width",
    },
    "bust_point_width": {
        "korea": "bust point distance",
        "trade": "bust point to bust point, bust span, bust width, breast point width, "
        "apex to apex, bust points apart, "
        "between the bust points, nipple to nipple, apex distance",
    },
    "weight": {"trade": "body weight"},
}
"""By measurement and source: its other names, the commonest first."""

AMBIGUOUS: dict[str, tuple[tuple[str, ...], str]] = {
    # Ingalls measures the shoulder from the neck outwards; the Indian lessons from tip to tip; ASTM lists its girth.
    "shoulder": (("shoulder_length", "shoulder_width", "shoulder_girth"), "ingalls, indian, astm"),
    "shoulders": (("shoulder_width", "shoulder_girth"), "indian, astm"),
    # Ingalls and Wakeman: a bodice from the neck down, at the centre or over the bust.
    "front length": (("front_waist_length", "front_neck_to_waist"), "ingalls, wakeman"),
    "length of front": (("front_waist_length", "front_neck_to_waist"), "ingalls, wakeman"),
    "front": (("front_waist_length", "front_neck_to_waist", "chest_width"), "trade"),
    "back": (("back_waist_length", "back_width"), "vienna, vincent"),
    "full back length": (("nape_height", "neck_shoulder_point_to_waist_back"), "trade"),
    "full front length": (("front_waist_length", "nape_to_waist_front"), "trade"),
    # Vincent's side is that of the trousers, Wakeman's that of the bodice.
    "side": (("outside_leg_length", "under_arm_length"), "vincent, wakeman"),
    "side length": (("outside_leg_length", "under_arm_length"), "vincent, wakeman"),
    "side seam": (("outside_leg_length", "under_arm_length"), "trade"),
    "leg": (("inside_leg_length", "outside_leg_length"), "vincent, trade"),
    "leg length": (("inside_leg_length", "outside_leg_length"), "vincent, trade"),
    "arm": (("arm_length", "upper_arm_girth"), "trade"),
    "sleeve": (("arm_length", "inside_arm_length"), "lessons, rosenfeld"),
    "depth": (("scye_depth", "waist_to_hip", "body_rise"), "rosenfeld, trade"),
    "shoulder to waist": (("front_waist_length", "neck_shoulder_point_to_waist_back"), "trade"),
    "neck to waist": (("back_waist_length", "front_neck_to_waist"), "trade"),
    "neck to bust": (("neck_shoulder_point_to_bust_point", "nape_to_bust_point"), "trade"),
    "torso": (("back_waist_length", "trunk_circumference"), "trade"),
    "torso length": (("back_waist_length", "trunk_circumference"), "trade"),
    "trunk": (("back_waist_length", "trunk_circumference"), "trade"),
    "across": (("back_width", "chest_width", "shoulder_width"), "trade"),
    "hip to knee": (("waist_to_knee", "waist_to_hip"), "trade"),
}
"""Names that mean one measurement to some and another to others: what they may mean, and where they were met."""


def names_of(key: str) -> tuple[str, ...]:
    """The everyday names of a measurement, lower case, the commonest first."""
    return tuple(name.strip() for names in EVERYDAY.get(key, {}).values() for name in names.split(","))


def source_of(key: str, name: str) -> str:
    """Where an everyday name of a measurement was met, as a line of a list of sources; "" when it is not listed."""
    for code, names in EVERYDAY.get(key, {}).items():
        if name in (each.strip() for each in names.split(",")):
            return SOURCES[code]
    return ""
