"""What can be wrong with a style that is cut from others, each told once and where it stands."""

import pytest

from catalogue.drafting.drafter import draft_style
from catalogue.studio.joining import joined
from catalogue.studio.settings import Settings
from tests.drafting.people_and_styles import with_choices
from tests.drafting.slip import BAND, FROM_BOTH, FROM_SLIP, WEARER, cut, style

TOO_WIDE = "cut from:\n  slip: slip, hip ease = 30 cm\n"

IN_LINES = [
    ("take front from slop", "1:17", "unknown-block", "not cut from a block “slop”", "slip"),
    ("take frnt from slip", "1:6", "unknown-piece", "has no piece “frnt”", "front"),
    ("take front, front from slip", "1:13", "name-taken", "“front” is a piece", ""),
    ("take front as slip from slip", "1:15", "name-taken", "a block that the style is cut from", ""),
    ("take front as hip_girth from slip", "1:15", "name-taken", "the body measurement hip girth", ""),
    ("take cut 2, front from slip", "1:6", "no-piece", "Say first which piece", ""),
    ("take front, cut 2, cut 1 from slip", "1:20", "cut-twice", "given twice", ""),
    ("a = slip.quartr", "1:5", "unknown-name", "gives no name “quartr”", "quarter"),
    ("a = slip.front", "1:5", "piece-not-value", "is a piece of the block", "take front from slip"),
    ("a = slip.hip_girth", "1:5", "unknown-name", "is a body measurement", "Write hip_girth"),
    ("a = slip", "1:5", "block-not-value", "is a block", "slip."),
    ("slip = 3 cm", "1:1", "name-taken", "a block that the style is cut from", ""),
    ("grain of slip down", "1:10", "block-not-piece", "is a block", "take front from slip"),
    ("take front from slip with a = 3 cm", "1:27", "unknown-name", "receives no “a”", "leave out with"),
    ("a = band.end", "1:5", "not-given", "not been given its edge length", "with edge_length = … and depth"),
    ("take band from band", "1:16", "not-given", "not been given its edge length", "edge_length"),
    (
        "take band from band with depth = 3 cm",
        "1:26",
        "not-given",
        "must be given edge_length too",
        "edge_length",
    ),
    ("take band from band with edge_lenght = 3 cm", "1:26", "unknown-name", "receives no", "edge_length"),
    (
        "take band from band with edge_length = 20 cm and edge_length = 30 cm",
        "1:50",
        "given-twice",
        "given twice",
        "",
    ),
    (
        "take band as b from band with edge_length = 3 m and depth = 3 cm",
        "1:45",
        "out-of-range",
        "300 cm is outside the range of “edge length”: 10 cm to 200 cm",
        "",
    ),
    (
        "take band as b from band with edge_length = 20 and depth = 3 cm",
        "1:45",
        "wrong-kind",
        "“edge length” needs a value of another kind than a number",
        "30 cm",
    ),
    (
        "take band as one from band with edge_length = 20 cm and depth = 3 cm\n"
        "take band as other from band with edge_length = 30 cm and depth = 3 cm",
        "2:30",
        "given-otherwise",
        "was given other values before",
        "twice under cut from",
    ),
]


@pytest.mark.parametrize(
    ("lines", "place", "code", "message", "hint"), IN_LINES, ids=[m[0][:40] for m in IN_LINES]
)
def test_a_mistake_with_a_block_is_told_once_and_where_it_stands(lines, place, code, message, hint):
    draft = cut(FROM_BOTH, lines, others=(BAND,))
    assert [f.code for f in draft.findings] == [code], [str(f) for f in draft.findings]
    [finding] = draft.findings
    assert f"{finding.place.line - FROM_BOTH_LINES}:{finding.place.column}" == place
    assert message in finding.message
    assert hint in finding.hint
    assert finding.source
    assert not draft.ok


FROM_BOTH_LINES = 10
"""Lines of the file before the first of the draft block, where it is cut from two blocks."""


def test_a_stated_choice_that_the_block_refuses_is_told_at_the_style():
    draft = cut(TOO_WIDE, "take front from slip")
    [finding] = draft.findings
    assert (finding.code, finding.place.file, finding.place.line) == ("out-of-range", "styles/dress.md", 4)
    assert "30 cm is outside the range of “hip ease”: 2 cm to 20 cm" in finding.message


def test_a_block_that_fails_says_so_once_with_its_file_and_line():
    broken = style(
        "broken", "", "a = 2 cm + 1\nb = 2 * a\npiece p, cut 1\n  outline one: start to c", "d = nothing"
    )
    draft = cut("cut from:\n  b: broken\n", "take p from b\nx = b.b\ny = b.a\nz = 2 * y", others=(broken,))
    [finding] = draft.findings
    assert (finding.code, str(finding.place)) == ("block-fails", "styles/broken.md:9:5")
    assert finding.message == "The block “Broken” can't be drafted: a number can't be added to a length."
    assert finding.source.startswith("a = 2 cm + 1")


def test_a_mistake_in_the_clients_choices_for_a_block_stands_in_the_clients_file():
    draft = cut(FROM_SLIP, "take front from slip", client=with_choices(WEARER, "slip", hip_eas="3 cm"))
    [finding] = draft.findings
    assert (finding.code, finding.place.file) == ("unknown-choice", "clients/made-up.md")


def test_the_work_of_blocks_counts(monkeypatch):
    quiet = cut(FROM_SLIP, "take front from slip")
    assert quiet.ok
    monkeypatch.setattr("catalogue.drafting.budget.BUDGET", 2500)
    monkeypatch.setattr("catalogue.drafting.evaluate.BUDGET", 2500)
    lines = "\n".join(f"a{n} = hip_girth / {n + 1}" for n in range(100))
    block = style("much", "", lines)
    draft = cut(
        "cut from:\n  one: much, x = 1\n  two: much, x = 2\n  three: much, x = 3\n".replace("x", "x"),
        "a = one.a1 + two.a1 + three.a1",
        others=(style("much", "choices:\n  x: 1 (1 to 9)\n", lines + "\nb = x"),),
    )
    assert block.ok
    assert [f.code for f in draft.findings] == ["too-much-work"]


def test_a_style_that_was_not_joined_is_refused():
    with pytest.raises(ValueError, match="was not joined with its block “slip”"):
        draft_style(style("dress", FROM_SLIP, "take front from slip"), WEARER, Settings())


SIDED = style(
    "pocket",
    "receives:\n  depth: 3 cm\n  side: left (left, right)\n",
    "end = depth right from start\nlow = depth down from end\npiece p, cut 1\n"
    '  outline a: start to end to low to start\nwhen side is right\n  note "Right side"',
)


@pytest.mark.parametrize(
    ("given", "place", "code", "message"),
    [
        (
            "depth = 3 cm and side = rihgt",
            "1:49",
            "unknown-word",
            "“rihgt” is not one of the words of “side”",
        ),
        ("depth = 1 cm - 4 cm and side = right", "1:33", "out-of-range", "−3 cm is negative"),
    ],
)
def test_what_a_part_can_not_be_given(given: str, place: str, code: str, message: str):
    draft = cut("cut from:\n  pocket: pocket\n", f"take p from pocket with {given}", others=(SIDED,))
    [finding] = [f for f in draft.findings if f.is_error]
    assert (finding.code, f"{finding.place.line - 9}:{finding.place.column}") == (code, place)
    assert message in finding.message
    assert finding.hint


@pytest.mark.parametrize(
    ("side", "notes"), [("right", ["Right side"]), ("left", []), ("hand", ["Right side"])]
)
def test_a_part_is_given_a_word_or_a_choice_of_the_style(side: str, notes: list[str]):
    front = "cut from:\n  pocket: pocket\n"
    if side == "hand":
        front += "choices:\n  hand: right (left, right)\n"
    draft = cut(front, f"take p from pocket with depth = 0 cm + 2 cm and side = {side}", others=(SIDED,))
    assert [f.message for f in draft.findings] == notes


@pytest.mark.parametrize(
    ("piece", "code", "hint"),
    [
        ("cut 2\n  outline centre: a to b, fold", "fold-lost", "Write cut 2 on fold"),
        (
            "cut 1 on fold\n  outline centre: a to b",
            "no-fold",
            "which edge lies on the fold, as in centre: A to B, fold",
        ),
        ("cut 1 on fold\n  outline centre: a to b, fold", "", ""),
        ("cut 2\n  outline centre: a to b", "", ""),
    ],
)
def test_a_fold_and_cut_on_fold_go_together(piece: str, code: str, hint: str):
    """That what is drafted to a fold is cut on it: common practice, no source."""
    lines = (
        f"a = start\nb = 9 cm up from a\nc = 9 cm right from b\npiece p, {piece}\n  outline r: b to c to a"
    )
    draft = draft_style(joined([style("bag", "", lines)])[0], WEARER, Settings())
    assert [f.code for f in draft.findings] == ([code] if code else [])
    assert all(f.place.line == 12 and hint in f.hint for f in draft.findings)


@pytest.mark.parametrize("said", ["cut 2", "cut 1 of lining"])
def test_a_fold_that_is_lost_where_a_piece_is_taken_is_told(said):
    draft = cut(FROM_SLIP, f"take front, {said} from slip")
    assert [f.code for f in draft.findings] == ["fold-lost"]
    assert "Slip front" in draft.findings[0].message
    assert draft.findings[0].place.line == 10
    assert not cut(
        FROM_SLIP, f"take front, {said} on fold from slip".replace(" of lining on fold", " on fold of lining")
    ).findings
    assert not cut(FROM_SLIP, f"take front, {said} from slip\nunfold front on centre").findings
