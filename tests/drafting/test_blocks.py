"""Styles cut from other styles: pieces taken with all that is drawn on them, values, choices, checks and seams."""

from dataclasses import replace

import pytest

from catalogue.drafting.block_drafts import BLOCK_DRAFTS, BlockDrafts
from catalogue.drafting.drafter import draft_style
from catalogue.drafting.model import Draft
from catalogue.drafting.record import draft_record
from catalogue.studio.joining import joined
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style
from tests.drafting.people_and_styles import person, with_choices

SLIP = """
choices:
  hip ease: 4 cm (2 cm to 20 cm) - room
  closing: zip (zip, laces)
"""

SLIP_DRAFT = """
quarter   = hip_girth / 4 + hip_ease / 4
top       = start
centre_hem = 60 cm down from top
side_top  = quarter right from top
side_hem  = quarter right from centre_hem
hip_mark  = 20 cm down from side_top
hip_line  = line (20 cm down from top) to hip_mark
piece front "Slip front", cut 1 on fold
  outline centre: top to centre_hem, fold
          hem: centre_hem to side_hem, allow 4 cm
          side: side_hem to side_top
          waist: side_top to top
  notch side at hip_mark
dart front.waist, middle at halfway, intake 2 cm, length 9 cm, fold to centre
new paper "Back"
piece back, cut 1 on fold
  outline centre: top to centre_hem, fold
          hem: centre_hem to side_hem
          side: side_hem to side_top
          waist: side_top to top
  notch side at hip_mark
sew front.side to back.side
check length of front.side = length of back.side, "sides are one length"
check quarter is more than 10 cm, "wide enough"
finished hip girth measured at front.hip_mark = 4 * quarter, ease at least 2 cm
when closing is laces
  note "Lace it"
"""

WEARER = person(hip_girth="96 cm", waist_girth="70 cm")


def style(slug: str, front: str = "", *blocks: str) -> Style:
    body = "\n".join(f"```draft\n{block.strip()}\n```\n" for block in blocks)
    text = f"---\ntitle: {slug.capitalize()}\n{front.strip()}\n---\n\n# Draft\n\n{body}"
    return style_from(text.encode(), slug, f"styles/{slug}.md")


def cut(
    front: str, *blocks: str, client=WEARER, others: tuple[Style, ...] = (), slug: str = "dress"
) -> Draft:
    """A style cut from the slip, and perhaps others, drafted."""
    styles = joined([style(slug, front, *blocks), style("slip", SLIP, SLIP_DRAFT), *others])
    return draft_style(styles[0], client, Settings())


FROM_SLIP = "cut from:\n  slip: slip\n"


def errors(draft: Draft) -> list[str]:
    return [f.message for f in draft.findings if f.is_error]


# --- what is taken --------------------------------------------------------------------------------------------


def test_a_piece_is_taken_with_all_that_is_drawn_on_it():
    draft = cut(FROM_SLIP, "take front as shell, back from slip")
    block = draft.blocks[0].draft
    assert not errors(draft)
    assert list(draft.pieces) == ["shell", "back"]
    taken, before = draft.pieces["shell"], block.pieces["front"]
    for what in ("title", "cut", "grain", "darts", "notches", "marks", "lines", "points"):
        assert getattr(taken, what) == getattr(before, what), what
    assert [e.path for e in taken.edges] == [e.path for e in before.edges]
    assert draft.pieces["shell"].edge("hem").allowance == 40.0, "the edge's own allowance is the default"


def test_title_and_count_are_the_styles_where_it_says_so():
    draft = cut(FROM_SLIP, 'take front "Lining front", cut 2 of lining, back from slip\nallow 1 cm, hem 2 cm')
    front, back = draft.pieces["front"], draft.pieces["back"]
    assert (front.title, front.cut.count, front.cut.cloth) == ("Lining front", 2, "lining")
    assert (back.title, back.cut.on_fold) == ("Back", True)
    assert front.edge("hem").allowance == 20.0
    assert front.edge("side").allowance == 10.0


def test_values_points_and_lines_of_the_block_are_reached_by_its_name():
    draft = cut(
        FROM_SLIP, "half = 2 * slip.quarter\nbelow_it = 1 cm down from slip.hip_mark\ntake front from slip"
    )
    assert draft.values["half"].value == pytest.approx(500.0)
    assert draft.points["below_it"] == (250.0, 210.0)
    assert list(draft.values) == ["half"], "the block's names are not the style's"
    [step] = draft.steps
    assert step.workings[0].formula == "2 × slip quarter"
    assert step.workings[0].substituted == "2 × 25 cm"


def test_work_goes_on_upon_the_sheet_of_the_first_piece_taken():
    draft = cut(
        FROM_SLIP,
        "take front, back from slip",
        "low = 30 cm down from front.top\nside_low = below front.side_top on level low\n"
        "cut_line = line low to side_low\ncut front along cut_line into upper, lower",
    )
    assert not errors(draft)
    assert {"upper", "lower", "back"} == set(draft.pieces)
    assert {item.paper for item in draft.items if item.name in ("low", "front", "upper")} == {"Slip"}
    assert {item.paper for item in draft.items if item.name == "back"} == {"Back"}


# --- choices --------------------------------------------------------------------------------------------------


def test_the_clients_choice_for_a_block_holds_where_it_is_used_unless_the_style_states_it():
    chooser = with_choices(WEARER, "slip", hip_ease="10 cm")
    wide = "wide = slip.quarter"
    assert cut(FROM_SLIP, wide, client=chooser).values["wide"].value == pytest.approx(265.0)
    stated = "cut from:\n  slip: slip, hip ease = 12 cm\n"
    draft = cut(stated, wide, client=chooser)
    assert draft.values["wide"].value == pytest.approx(270.0)
    assert draft.blocks[0].stated == {"hip ease": "12 cm"}


def test_a_style_may_hand_its_own_choice_on():
    front = (
        "choices:\n  room: 6 cm (4 cm to 9 cm)\n  fastening: laces (laces, zip)\n"
        "cut from:\n  slip: slip, hip ease = room + 2 cm, closing = fastening\n"
    )
    chooser = with_choices(WEARER, "dress", room="8 cm")
    draft = cut(front, "wide = slip.quarter", client=chooser)
    assert draft.values["wide"].value == pytest.approx(265.0)
    assert [f.message for f in draft.findings] == ["Lace it"], "the block's note is passed on"


def test_what_a_style_needs_includes_what_its_blocks_need():
    _, block = joined([style("dress", FROM_SLIP, "take front from slip"), style("slip", SLIP, SLIP_DRAFT)])
    dress = joined([style("dress", FROM_SLIP, "take front from slip"), block])[0]
    assert dress.needs == ("hip_girth",)
    assert draft_style(dress, person(waist_girth="70 cm"), Settings()).missing == ("hip_girth",)


# --- checks, seams, finished measurements ---------------------------------------------------------------------


def test_what_the_block_asks_for_is_walked_again_and_told_as_coming_from_it():
    draft = cut(FROM_SLIP, "take front as shell, back from slip")
    assert draft.ok
    assert [(s.first, s.second, s.block) for s in draft.seams] == [("shell.side", "back.side", "Slip")]
    assert [(c.text, c.block) for c in draft.checks] == [
        ("Sides are one length", "Slip"),
        ("Wide enough", "Slip"),
    ]
    [hip] = draft.finished
    assert (hip.name, hip.block, hip.measured) == ("hip girth", "Slip", True)
    assert hip.garment == pytest.approx(1000.0)


def test_a_change_to_one_side_alone_is_found_by_the_blocks_seam():
    draft = cut(FROM_SLIP, "take front, back from slip", "lengthen front at slip.hip_line by 3 cm")
    assert not errors(draft), errors(draft)
    assert [s.ok for s in draft.seams] == [False]
    assert [c.ok for c in draft.checks] == [False, True]


def test_what_no_longer_applies_is_left_out():
    half = "across = line slip.top to slip.side_hem\ncut front along across into front, rest"
    draft = cut(FROM_SLIP, "take front, back from slip", half)
    assert not errors(draft), errors(draft)
    assert draft.seams == ()
    assert [c.text for c in draft.checks] == ["Wide enough"]
    assert draft.finished == ()
    assert cut(FROM_SLIP, "take front from slip").seams == ()


def test_the_styles_own_word_counts_before_the_blocks():
    own = (
        "take front, back from slip\nsew front.side to back.side, within 5 mm\n"
        "finished hip girth measured at front.hip_mark, ease at least 1 cm"
    )
    draft = cut(FROM_SLIP, own)
    assert [s.block for s in draft.seams] == [""]
    assert [f.block for f in draft.finished] == [""]


def test_on_pieces_that_were_changed_the_most_ease_of_the_block_is_no_longer_meant():
    wider = "spread back, 3 lines from hem to waist, 4 cm and 4 cm and 4 cm at hem, 4 cm and 4 cm and 4 cm at waist"
    draft = cut(FROM_SLIP, "take front, back from slip", wider)
    assert not errors(draft), errors(draft)
    [hip] = draft.finished
    assert hip.ok
    assert hip.claimed is None
    assert hip.garment == pytest.approx(1000.0 + 2 * 120.0)


# --- parts ----------------------------------------------------------------------------------------------------

BAND = style(
    "band",
    "receives:\n  edge length: 30 cm (10 cm to 200 cm) - the edge it is sewn to\n  depth: 3 cm\nblock: yes\n",
    "end = edge_length right from start\nend_low = depth down from end\nlow = depth down from start\n"
    "piece band, cut 2\n  outline seam: low to start\n  outline top: start to end\n  outline other: end to end_low\n"
    "  outline bottom: end_low to low\n",
)
FROM_BOTH = "cut from:\n  slip: slip\n  band: band\n"
WITH_BAND = (
    "take front from slip\ntake band from band with edge_length = 2 * length of front.waist and depth = 4 cm"
)


def test_a_part_is_drafted_to_the_lengths_it_is_given():
    draft = cut(
        FROM_BOTH.replace("band: band", "strip: band"),
        WITH_BAND.replace("from band", "from strip"),
        others=(BAND,),
    )
    assert not errors(draft), errors(draft)
    assert draft.pieces["band"].edge("top").path.length == pytest.approx(460.0)
    assert draft.pieces["band"].edge("seam").path.length == pytest.approx(40.0)
    alone = draft_style(BAND, WEARER, Settings())
    assert alone.pieces["band"].edge("top").path.length == pytest.approx(300.0), (
        "its own page has its defaults"
    )


def test_two_of_one_part_are_two_blocks_by_name():
    front = "cut from:\n  left: band\n  right: band\n"
    draft = cut(
        front,
        "take band as left_band from left with edge_length = 20 cm and depth = 2 cm\n"
        "take band as right_band from right with edge_length = 25 cm and depth = 2 cm",
        others=(BAND,),
    )
    assert not errors(draft)
    assert [draft.pieces[n].edge("top").path.length for n in ("left_band", "right_band")] == [200.0, 250.0]


# --- chains ---------------------------------------------------------------------------------------------------


def test_a_block_may_itself_be_cut_from_a_block():
    middle = style(
        "long-slip",
        FROM_SLIP,
        "take front, back from slip\nlonger = 5 cm\nlengthen front at slip.hip_line by longer\n"
        "lengthen back at slip.hip_line by longer",
    )
    draft = cut(
        "cut from:\n  long: long-slip\n",
        "take front, back from long\nmore = 2 * long.longer",
        others=(middle,),
    )
    assert not errors(draft), errors(draft)
    assert draft.values["more"].value == 100.0
    assert draft.pieces["front"].edge("side").path.length == pytest.approx(650.0)
    assert draft_record(draft)["blocks"] == ["long-slip", "slip"]
    assert [(s.block, s.ok) for s in draft.seams] == [("Slip", True)]
    assert [(c.text, c.block, c.ok) for c in draft.checks] == [
        ("Sides are one length", "Slip", True),
        ("Wide enough", "Slip", True),
    ]


def test_blocks_are_drafted_once_for_a_client_and_shared(monkeypatch):
    drafts = BlockDrafts()
    monkeypatch.setattr("catalogue.drafting.block_drafts.BLOCK_DRAFTS", drafts)
    styles = joined(
        [
            *(style(f"dress-{n}", FROM_SLIP, f"take front from slip\nn = {n} cm") for n in range(5)),
            style("slip", SLIP, SLIP_DRAFT),
        ]
    )
    made = [draft_style(each, WEARER, Settings()) for each in styles[:5]]
    assert drafts.drafted == 1
    assert len({id(draft.blocks[0].draft) for draft in made}) == 1
    measured_again = replace(WEARER, measurements=person(hip_girth="97 cm").measurements)
    assert draft_style(styles[0], measured_again, Settings()).values != {}
    assert drafts.drafted == 2


def test_only_so_many_blocks_are_kept(monkeypatch):
    drafts = BlockDrafts()
    drafts.most = 2
    block = style("slip", SLIP, SLIP_DRAFT)
    for hip in (90, 91, 92, 91, 92, 90):
        drafts.draft(block, person(hip_girth=f"{hip} cm"), {}, {})
    assert drafts.drafted == 4


def test_the_shared_draft_is_never_changed():
    before = cut(FROM_SLIP, "take front from slip")
    pieces = dict(before.blocks[0].draft.pieces)
    cut(FROM_SLIP, "take front, back from slip", "unfold front on centre\ndiscard back")
    assert dict(BLOCK_DRAFTS.draft(before.style.blocks["slip"], WEARER, {}, {}).pieces) == pieces


# --- mistakes -------------------------------------------------------------------------------------------------

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
