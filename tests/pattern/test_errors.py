"""What paper can't do: each wrong line is told at its place, with what would help, and leaves the paper as it was."""

from __future__ import annotations

import pytest

from catalogue.drafting.drafter import draft_style
from catalogue.lengths import Unit, Units
from catalogue.people import Client
from catalogue.studio.reading import style_from

PAPER = """a = start
b = 30 cm right from a
c = 60 cm down from b
d = 60 cm down from a
m = 30 cm down from a
p = 15 cm right from m
q = 10 cm right from a
off = 80 cm right from a
piece front, cut 1 on fold
  outline waist: a to b
          side: b to c
          hem: c to d
          centre: d to a, fold
  grain along centre
dart front.side, middle at halfway, intake 3 cm, length 12 cm
new paper "Back"
piece back, cut 2
  outline waist: a to b
          side: b to c
          hem: c to d
          centre: d to a
"""
FRONT = "---\ntitle: Sample\n---\n\n# Draft\n\n```draft\n"
LINE = FRONT.count("\n") + PAPER.count("\n") + 1
"""The wrong line's number in the style file."""

# ruff: noqa: E501
# label, the wrong line, its column, words of the message, words of the hint
TABLE = [
    # scissors
    ("a cut beside the piece", "cut front along (line off to (10 cm down from off)) into top, low", 1,
     "line misses the piece “front”", "edge to edge"),
    ("a cut along an edge", "cut front along (line a to m) into top, low", 1, "misses the piece", "edge to edge"),
    ("a curve that ends inside", "cut front along (curve p leaving right, c) into top, low", 1,
     "ends inside the piece", "from one edge to another"),
    ("a cut along a dart", "cut front along (line from m right 50 cm) into top, low", 1,
     "runs through the dart “side_dart”", "Close the dart first"),
    ("a cut across a dart", "cut front along (line (25 cm right from a) to (25 cm right from d)) into top, low", 1,
     "runs through the dart “side_dart”", "move the line"),
    ("one part too few", "cut front from a to c into top, low, third", 1, "cuts a piece in two", "second line"),
    ("two parts of one name", "cut front from a to c into top, top", 33, "Two parts are called “top”", "another name"),
    ("a part named as a piece", "cut front from a to c into back, low", 28, "“back” is a piece", "another name"),
    ("a piece that is not there", "cut fornt from a to c into top, low", 5, "no piece “fornt”", "“front”"),
    ("a panel seam to a point inside", "cut front through side_dart and p into top, low", 1,
     "off the outline", "a point on the edge"),
    ("a panel seam to no dart", "cut front through side_dart and side_drat into top, low", 33,
     "“side_drat” is not known", "“side_dart”"),
    ("discarding what is not there", "discard top", 9, "no piece “top”", "front, back"),
    # darts
    ("a dart longer than the paper", "dart front.waist, middle at halfway, intake 3 cm, length 70 cm", 1,
     "point of the dart “waist_dart” lies outside", "Shorten the dart"),
    ("a dart off its edge", "dart front.waist, middle at (1 cm right from a), intake 3 cm, length 7 cm", 1,
     "wider than the room on “waist”", "take in less"),
    ("a dart on a dart", "dart front.side, middle at halfway, intake 3 cm, length 7 cm", 1,
     "runs into another one", "Move its middle"),
    ("a dart folded to no edge", "dart front.waist, middle at halfway, intake 3 cm, length 7 cm, fold to neck", 1,
     "folded to “neck”", "waist, side, hem, centre"),
    ("a dart that is not there", "close front.waist_dart, pivoting on p, opening waist at q", 7,
     "no dart “waist_dart”", "“side_dart”"),
    ("a pivot beside the dart", "close front.side_dart, pivoting on a, opening waist at q", 1,
     "pivot lies beside the dart", "the middle of the dart"),
    ("a pivot off the paper", "close front.side_dart, pivoting on (30 cm down from off), opening waist at q", 1,
     "pivot lies outside the piece", "point of the paper"),
    ("an opening on the dart", "close front.side_dart, pivoting on side_dart, opening side at (halfway along front.side)",
     1, "opening lies on the dart itself", "somewhere else"),
    ("an opening off the paper", "close front.side_dart, pivoting on side_dart, opening (5 cm down from off)", 1,
     "50 cm off the outline", "a point on the edge"),
    ("an opening on another edge", "close front.side_dart, pivoting on side_dart, opening hem at p", 1,
     "off the edge “hem”", "a point on the edge"),
    ("an opening on no edge", "close front.side_dart, pivoting on side_dart, opening neck at a", 55,
     "no edge “neck”", "waist, side, hem, centre"),
    ("more closed than there is", "close front.side_dart by 5 cm, pivoting on side_dart, opening waist at q", 1,
     "at most completely", "Leave out “by”"),
    ("shares that don't add up",
     "close front.side_dart, pivoting on side_dart, opening waist at q taking 0.3, opening hem at d taking 0.3", 1,
     "add up to the whole", "taking 0.4"),
    ("a dart that stops too short", "close front.side_dart, pivoting on side_dart, opening waist at q stopping 60 cm short",
     1, "short by more than its length", "less far short"),
    # slash and spread
    ("a slash beside the piece", "spread back, along (line from off down 10 cm), 8 cm at waist, nothing at hem", 1,
     "line misses the piece", "edge to edge"),
    ("a slash through a dart", "spread front, along (line from (28 cm right from a) down 60 cm), 2 cm at waist, nothing at hem",
     1, "runs through the dart", "Close the dart first"),
    ("spread till it folds over itself", "spread back, 4 lines from waist to hem, 100 cm at waist, nothing at hem", 1,
     "fold over itself", "Spread it by less"),
    ("spread beyond the room", "spread back, 3 lines from waist to hem, 300 cm at waist, nothing at hem", 1,
     "cannot open by 300 cm", "more lines"),
    ("spread along no edge", "spread back, 3 lines from waist to him, 8 cm at waist, nothing at hem", 36,
     "no edge “him”", "“hem”"),
    ("one end unsaid", "spread back, 3 lines from waist to hem, 8 cm at waist", 1, "at each end", "nothing at waist"),
    ("too few amounts", "spread back, 3 lines from waist to hem, 8 cm and 2 cm at waist, nothing at hem", 41,
     "3 lines and 2 amounts", "one for each line"),
    ("no lines at all", "spread back, 0 lines from waist to hem, 8 cm at waist, nothing at hem", 14,
     "1 to 60 lines", "3 lines"),
    ("a spread of a negative amount", "spread back, 1 line from waist to hem, -2 cm at waist, nothing at hem", 40,
     "cannot be negative", "overlap"),
    ("lapped by more than there is", "overlap back, 3 lines from waist to hem, 20 cm at waist, nothing at hem", 1,
     "no longer meet", "Take out less"),
    # pleats
    ("a pleat deeper than its paper", "pleat back along (line from (5 cm right from a) down 60 cm), box pleat, depth 8 cm", 1,
     "narrower than the pleat is deep", "shallower"),
    ("a pleat of no depth", "pleat back along (line from q down 60 cm), knife pleat, depth 0 cm", 1,
     "deeper than 0", "depth 3 cm"),
    ("a pleat along a curve", "pleat back along (curve a leaving right, c), knife pleat, depth 2 cm", 1,
     "needs a straight line", "straight lines"),
    ("a pleat folded along itself", "pleat back along (line from q down 60 cm), knife pleat, depth 2 cm, fold to down", 69,
     "along its own line", "a side of it"),
    ("a pleat free at no edge", "pleat back along (line from q down 60 cm), knife pleat, depth 2 cm, free at hme", 77,
     "no edge “hme”", "“hem”"),
    ("a pleat free beside it", "pleat back along (line from q down 60 cm), knife pleat, depth 2 cm, free at side", 1,
     "does not reach the edge “side”", "It runs from “"),
    ("a tuck wider than its edge", "dart tuck_1 on back.waist, middle at halfway, intake 90 cm, length 6 cm, as pleat", 1,
     "wider than the room on “waist”", "Move its middle"),
    ("pleats folded to no edge", "spread back, 2 lines from waist to hem, nothing at waist, 2 cm at hem, as pleats, fold to nowhere", 1,
     "folded to “nowhere”", "Its edges"),
    # wedges and lengths
    ("a wedge to a point inside", "fold out back, 3 cm at m, nothing at p", 1, "off the outline", "on the edge"),
    ("a wedge at a corner", "fold out back, 3 cm at a, nothing at c", 1, "does not fit on the edge", "away from the corner"),
    ("a wedge wider than long", "fold out back, 40 cm at m, nothing at (30 cm right from m)", 1,
     "wider than it is long", "farther away"),
    ("lengthened beside the piece", "lengthen back at (line from off down 10 cm) by 3 cm", 1, "misses the piece", "edge to edge"),
    ("lengthened through a dart", "lengthen front at (line from m right 40 cm) by 3 cm", 1, "runs through the dart", "Close the dart"),
    ("shortened by more than there is", "shorten back at (line from m right 50 cm) by 31 cm", 1, "too small", "Take out less"),
    # tape
    ("taped over a dart", "tape back.side to front.side as both", 1, "has a dart or pleat on “side”", "Close it before"),
    ("taped at unequal edges", "tape back.hem to front.centre as both", 1, "60 cm long", "same length"),
    ("taped to itself", "tape back.side to back.centre as both", 19, "taped to itself", "unfold"),
    ("mirrored over an edge with a dart", "unfold front on side", 1, "not straight", "redraw the edge straight"),
    ("mirrored over no edge", "unfold back on hems", 16, "no edge “hems”", "“hem”"),
    # traced
    ("a facing over a dart", "trace facing from front, 6 cm from side", 1, "a dart on “side”", "Close it before"),
    ("a facing wider than the piece", "trace facing from front, 100 cm from waist", 1,
     "No facing 100 cm wide fits", "narrower than the piece"),
    ("a facing of edges apart", "trace facing from back, 6 cm from waist and hem", 1, "do not follow each other", "waist, side, hem"),
    ("a facing from no edge", "trace facing from back, 6 cm from neck", 35, "no edge “neck”", "waist, side"),
    # truing
    ("trued at different ends", "true front.waist and back.hem across front.side and back.side", 1,
     "different ends of the seam", "when the seam is closed"),
    ("trued across the wrong pieces", "true front.hem and back.hem across front.side and front.centre", 36,
     "same two pieces", "front and one of back"),
    ("squared to an edge beside", "square front.waist to hem", 1, "do not meet", "share a corner"),
    ("levelled at an edge beside", "level front.waist and back.waist at hem", 1, "do not meet", "“hem” meets"),
    ("redrawn over a dart", "redraw front.side straight", 1, "redrawing would remove", "before the dart is made"),
    ("redrawn to nothing", "redraw back.hem along (line a to b)", 1, "nothing would be left", "where the edge lies now"),
    ("a hem shaped beside its ends", "shape back.hem, 3 cm up at waist", 1, "does not meet the edge “hem”", "“side” and “centre”"),
    ("a hem higher than the side", "shape back.hem, 80 cm up at side", 1, "only 60 cm long", "by less"),
    ("an edge extended inwards", "extend back.centre by -2 cm", 23, "more than 0", "cut the piece"),
    # seams
    ("a seam of no edge", "sew front.sid to back.side", 5, "no edge “sid”", "“side”"),
    ("a seam of no piece", "sew front.side to yoke.side", 19, "no piece “yoke”", "front, back"),
    ("an edge sewn to itself", "sew front.side to front.side", 19, "in this seam twice", "another one"),
    ("a seam that starts nowhere", "sew front.side to back.side, starting at neck", 42, "lies at an edge “neck”", "waist and hem"),
    ("a range turned round", "sew front.side to back.side, ease 3 cm to 1 cm", 1, "smaller end of the range", ""),
]  # fmt: skip


def drafted(line: str = ""):
    style = style_from((FRONT + PAPER + line + "\n```\n").encode(), "sample", "styles/sample.md")
    return draft_style(style, Client("one", "clients/one.md", "One", "woman", Units(Unit.CM)), None)


BEFORE = drafted()


def test_the_paper_itself_is_sound():
    assert [str(f) for f in BEFORE.findings] == []
    assert len({row[0] for row in TABLE}) == len(TABLE) > 60


@pytest.mark.parametrize(
    ("line", "column", "message", "hint"), [r[1:] for r in TABLE], ids=[r[0].replace(" ", "-") for r in TABLE]
)
def test_told_where_it_stands_and_what_would_help(line, column, message, hint):
    made = drafted(line)
    assert len(made.findings) == 1, [str(f) for f in made.findings]
    finding = made.findings[0]
    assert finding.is_error
    assert str(finding.place) == f"styles/sample.md:{LINE}:{column}"
    assert message.casefold() in finding.message.casefold()
    assert hint.casefold() in finding.hint.casefold()
    assert finding.source == line
    # The paper as it stood before is still there, to be drawn.
    assert made.pieces == BEFORE.pieces
    papers = [[i.shape for i in d.items if i.kind == "piece" and i.gone is None] for d in (made, BEFORE)]
    assert papers[0] == papers[1]


def test_what_hangs_on_a_failed_operation_is_not_told_again():
    made = drafted(
        "cut front along (line off to (10 cm down from off)) into top, low\n"
        "redraw low.hem straight\nclose top.side_dart, pivoting on p, opening waist at q\nsew low.side to back.side"
    )
    assert [f.place.line for f in made.findings] == [LINE]


def test_a_dart_that_did_not_come_about_is_not_missed_twice():
    made = drafted(
        "close front.side_dart, pivoting on a, opening waist at q named new\n"
        "cut front through new and (halfway along front.hem) into middle, side"
    )
    assert [f.place.line for f in made.findings] == [LINE]


def test_lines_after_a_failed_one_work_on_the_paper_as_it_was():
    made = drafted(
        "spread back, along (line from off down 10 cm), 8 cm at waist, nothing at hem\nlengthen back at (line from m right 40 cm) by 3 cm"
    )
    assert len(made.findings) == 1
    assert made.pieces["back"].edge("side").path.length == pytest.approx(630)
