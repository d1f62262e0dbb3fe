"""What people call measurements: names taken, names that mean several things, and what is suggested for a wrong one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.people import REGISTER
from catalogue.people.everyday import AMBIGUOUS, EVERYDAY, SOURCES, names_of, source_of
from catalogue.people.naming import loose_name, plain_name, split_side

# Names as they stand in the sources that `catalogue.people.everyday` lists, and what each of them measures there.
FROM_SOURCES = {
    # US Army survey of 2012 (NATICK/TR-15/007), names of its columns in words
    "stature": "height", "cervicale height": "nape_height", "crotch height": "inside_leg_length",
    "buttock circumference": "hip_girth", "waist circumference": "waist_girth", "interscye": "back_width",
    "thigh circumference": "thigh_girth", "calf circumference": "calf_girth", "wrist circumference": "wrist_girth",
    "neck circumference": "neck_girth", "neck circumference base": "neck_base_girth", "sleeve outseam": "arm_length",
    "shoulder circumference": "shoulder_girth", "biceps circumference": "upper_arm_girth",
    "forearm circumference": "forearm_girth", "hand circumference": "hand_girth",
    "waist back length": "back_waist_length",
    "ankle circumference": "ankle_girth", "head circumference": "head_girth", "chest circumference": "chest_girth",
    "vertical trunk circumference": "trunk_circumference", "shoulder length": "shoulder_length",
    # ISO 8559:1989, table 4.1 of Anthropometry, Apparel Sizing and Design
    "neck shoulder point to breast point": "neck_shoulder_point_to_bust_point",
    "nape to breast point": "nape_to_bust_point", "neck shoulder to waist": "front_waist_length",
    "nape to waist, front": "nape_to_waist_front", "nape to waist, back": "back_waist_length",
    "nape to knee hollow": "nape_to_knee", "waist to hips": "waist_to_hip", "7th vertebra to wrist": "nape_to_wrist",
    # ASTM D5585-11, table 1
    "mid-neck": "neck_girth", "under-bust": "under_bust_girth", "upper chest": "chest_girth",
    # Vincent, Systems of Cutting
    "scye depth": "scye_depth", "natural waist": "waist_girth", "across chest": "chest_width", "seat": "hip_girth",
    "waist length": "back_waist_length", "back width": "back_width", "breast": "chest_girth",
    # Ingalls, Text-Book on Domestic Art
    "depth of armseye": "scye_depth", "front width": "chest_width", "underarm": "under_arm_length",
    "shoulder to elbow": "upper_arm_length", "armseye": "armscye_girth",
    # Rosenfeld 1918; WikiEducator skirt block; Wikibooks Dressmaking; tailors' trouser drafts; NMSU C-209
    "inside sleeve": "inside_arm_length", "rise": "body_rise", "hips": "hip_girth", "waist-to-hip": "waist_to_hip",
    "outseam": "outside_leg_length", "inseam": "inside_leg_length", "outside leg": "outside_leg_length",
    "crotch depth": "body_rise", "sitting rise": "body_rise",
    # Extension publication E-372
    "high bust": "chest_girth", "full bust": "bust_girth",
    # the toddler block
    "back length": "back_waist_length", "neck girth": "neck_girth",
}  # fmt: skip

# Forms people write (common practice, no source).
AS_WRITTEN = {
    "waist measurement": "waist_girth", "the waist": "waist_girth", "round the waist": "waist_girth",
    "hip circumference": "hip_girth", "Hips (round)": "hip_girth", "around hips": "hip_girth",
    "girth of bust": "bust_girth", "bust span": "bust_point_width", "apex distance": "bust_point_width",
    "nipple to nipple": "bust_point_width", "bust separation": "bust_point_width",
    "shoulder to waist at the back": "neck_shoulder_point_to_waist_back",
    "shoulder to waist at the front": "front_waist_length", "center back length": "back_waist_length",
    "CB to waist": "back_waist_length", "nape_to_waist": "back_waist_length", "arm hole depth": "scye_depth",
    "armhole circumference": "armscye_girth", "underbust": "under_bust_girth", "in seam": "inside_leg_length",
    "hip to waist": "waist_to_hip", "length of arm": "arm_length", "breadth of back": "back_width",
    "fore arm girth": "forearm_girth",
    "upper_arm_circumference": "upper_arm_girth", "sleeve length": "arm_length", "inner leg": "inside_leg_length",
}  # fmt: skip


@pytest.mark.parametrize(("name", "key"), (FROM_SOURCES | AS_WRITTEN).items())
def test_a_name_is_known_as_the_source_or_people_write_it(name: str, key: str) -> None:
    found = REGISTER.find(name)
    assert found is not None and found.key == key


def test_every_name_has_its_source() -> None:
    assert set(EVERYDAY) == set(REGISTER)
    for key, names in EVERYDAY.items():
        assert set(names) <= set(SOURCES), key
        assert len(set(names_of(key))) == len(names_of(key)), key
        assert all(source_of(key, name) and name == name.lower().strip() for name in names_of(key)), key
    assert source_of("waist_girth", "no such name") == ""
    used = {code for names in EVERYDAY.values() for code in names}
    used |= {code for _, codes in AMBIGUOUS.values() for code in codes.split(", ")}
    assert used - set(SOURCES) == set()


def test_two_measurements_share_no_form_of_a_name() -> None:
    owners: dict[tuple[str, ...], str] = {}
    for measurement in REGISTER.values():
        for name in (measurement.name, measurement.key, *measurement.aliases):
            form = loose_name(name)
            assert owners.setdefault(form, measurement.key) == measurement.key, name


@pytest.mark.parametrize("name", AMBIGUOUS)
def test_a_name_that_means_several_is_not_guessed(name: str) -> None:
    assert REGISTER.find(name) is None
    keys, _ = AMBIGUOUS[name]
    assert tuple(m.key for m in REGISTER.candidates(name)) == keys
    assert all(REGISTER[key].name in REGISTER.suggest(name) for key in keys)
    assert len(keys) > 1


def test_an_ambiguous_name_is_told_in_any_form() -> None:
    assert [m.key for m in REGISTER.candidates("the front length")] == [
        "front_waist_length",
        "front_neck_to_waist",
    ]
    assert REGISTER.suggest("shoulder") == (
        "Write shoulder length, shoulder width or shoulder girth, whichever was measured."
    )
    assert REGISTER.candidates("waist girth") == () == REGISTER.candidates("zzzz")


# What is typed and the measurement that the hint names; "" where nothing is likely. Common practice, no source.
SUGGESTED = {
    "bust circumfrence": "bust girth", "wiast": "waist girth", "wasit circumference": "waist girth",
    "hip circumfrance": "hip girth", "hipps": "hip girth", "nape to wasit": "back waist length",
    "nape too waist": "back waist length", "bust hight": "neck shoulder point to bust point",
    "crotch dept": "body rise", "crotch lenght": "crotch length", "sleeve lenght": "arm length",
    "front waist lenght": "front waist length", "back widht": "back width", "accross back": "back width",
    "shoulder lenth": "shoulder length", "shoulder widht": "shoulder width", "thigh circumferance": "thigh girth",
    "calf girt": "calf girth", "inside leg lenght": "inside leg length", "outer seam": "outside leg length",
    "hip level": "hip girth", "waist to hip depth": "waist to hip", "waist to hip height": "waist to hip",
    "back neck to waist length": "back waist length", "front neck to waist length": "front neck to waist",
    "foot lenght": "foot length", "body heigth": "height", "cervical hight": "nape height",
    "bicept": "upper arm girth", "belly circumference": "high hip girth", "stomach": "high hip girth",
    "trouser waist": "waist girth", "front chest": "chest width", "armhole length": "scye depth",
    "sleeve width": "arm length", "skirt waist": "waist girth", "dress bust": "bust girth",
    "hip round full": "hip girth", "ankel": "ankle girth", "elbo": "elbow girth", "wirst": "wrist girth",
    "kneee": "knee girth", "neck bass": "neck base girth",
    "neck base cirumference": "neck base girth", "high hipp": "high hip girth", "low waist": "waist girth",
    "hand lenght": "hand length", "head height": "head girth",
    "nape hight": "nape height", "knee hight": "knee height", "ankle hight": "ankle height",
    "waist hight": "waist height", "hip hight": "hip height", "upper arm lenght": "upper arm length",
    "under arm lenght": "under-arm length", "shoulder drp": "shoulder drop", "shoulder slop": "shoulder drop",
    "scye dept": "scye depth", "armscye depht": "scye depth", "bust point widht": "bust point width",
    "mid thigh circumferense": "mid thigh girth", "lower knee circumfrence": "lower knee girth",
    "nape to wirst": "nape to wrist", "waist to kne": "waist to knee", "trunk circumfrence": "trunk circumference",
    "body ris": "body rise", "wieght": "weight", "under bust circumfrence": "under-bust girth",
    "bust to waist": "", "nape to hip": "", "skirt length": "", "hem": "", "ease": "", "zzzz": "", "dress length": "",
}  # fmt: skip


@pytest.mark.parametrize(("typed", "meant"), SUGGESTED.items())
def test_a_wrong_name_is_answered_by_what_is_likely(typed: str, meant: str) -> None:
    assert REGISTER.find(typed) is None
    hint = REGISTER.suggest(typed)
    if not meant:
        assert hint == ""
    else:
        assert f"“{meant}”?" in hint or f"({meant})?" in hint, hint


def test_a_misspelt_ambiguous_name_is_answered_by_what_it_may_mean() -> None:
    hint = REGISTER.suggest("frnt length")
    assert hint == "Did you mean front waist length or front neck to waist?"
    assert "shoulder length, shoulder width or shoulder girth" in REGISTER.suggest("front shoulder")


@pytest.mark.parametrize("written", ["shoulder drop right", "right shoulder drop", "Shoulder drop (right)"])
def test_a_side_written_with_a_name_is_told_apart(written: str) -> None:
    assert split_side(written) == ("shoulder drop", "right")
    assert REGISTER.find(written) is None
    assert REGISTER.suggest(written) == "The two sides are not kept apart yet: write shoulder drop."
    assert split_side("left") == ("left", "") and split_side("bust girth").side == ""


@given(st.text(max_size=400))
def test_no_name_makes_the_register_fail(name: str) -> None:
    found = REGISTER.find(name)
    assert found is None or found.key in REGISTER
    assert isinstance(REGISTER.suggest(name), str)
    assert plain_name(plain_name(name)) == plain_name(name)
