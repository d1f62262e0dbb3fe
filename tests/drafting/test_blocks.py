"""Styles cut from other styles: pieces taken with all that is drawn on them, values, choices, checks and seams."""

from dataclasses import replace

import pytest

from catalogue.drafting.block_drafts import BLOCK_DRAFTS, BlockDrafts
from catalogue.drafting.drafter import draft_style
from catalogue.drafting.record import draft_record
from catalogue.studio.joining import joined
from catalogue.studio.settings import Settings
from tests.drafting.people_and_styles import person, with_choices
from tests.drafting.slip import (
    BAND,
    FROM_BOTH,
    FROM_SLIP,
    SLIP,
    SLIP_DRAFT,
    WEARER,
    WITH_BAND,
    cut,
    errors,
    style,
)

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
