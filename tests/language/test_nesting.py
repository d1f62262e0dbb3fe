"""Phrases inside phrases without brackets: every phrase in every place that takes its kind.

What is written without brackets is understood as with them, or refused with the lines that it may mean; never as
something else. The brackets themselves are the reference: a phrase in brackets has one meaning.
"""

from __future__ import annotations

from collections import Counter
from functools import cache

import pytest
from lark import Token, Tree
from lark.exceptions import UnexpectedInput

from catalogue.language import readings
from catalogue.language.parser import SEARCHED, _parsed, parse_block
from catalogue.language.readings import SeveralReadings

POINTS = (
    "midway P to Q",
    "midway P and Q",
    "3 cm down from P",
    "depth down from P",
    "depth / 2 down and 1 cm left from P",
    "half of depth down from P",
    "length of seam down from P",
    "4 cm up and 45 degrees left from P",
    "3 cm from P toward Q",
    "depth from P toward Q",
    "2 cm beyond P from Q",
    "5 cm along seam from P",
    "5 cm along seam from P toward Q",
    "1/3 of the way from P to Q",
    "a third of the way from P to Q",
    "1/3 of the way from P to Q along seam",
    "2/5 of P to Q",
    "halfway along seam",
    "below P on level Q",
    "left of P in line with Q",
    "below P on seam",
    "below P on seam, nearest Q",
    "where seam crosses edge",
    "where line P to Q crosses edge",
    "where seam crosses line P to Q",
    "where seam crosses edge, highest",
    "where seam crosses edge, nearest Q",
    "square from P to seam",
    "4 cm square off seam at P, down",
    "13 cm from P to touch seam",
    "13 cm from P to touch seam, lowest",
    "9 cm from P meeting 10 cm from Q, highest",
    "mirror of P over seam",
    "P turned 12 degrees about Q",
    "P moved 2 cm up",
    "midway P to Q moved 2 cm up",
    "start of seam",
    "corner of front.side and hem",
    "point 15",
    "front.tip",
)
LINES = (
    "line P to Q",
    "connect P to Q",
    "line P to Q to R",
    "line from P right 20 cm",
    "line from P to Q",
    "curve P, Q",
    "curve P leaving down, Q arriving right",
    "arc about P from Q to R",
    "arc about P from Q turning 90 degrees",
    "circle about P radius 4 cm",
    "part of seam from P to Q",
    "parallel to seam, 2 cm up",
    "seam moved 2 cm down",
    "seam turned 12 degrees about P",
    "mirror of seam over edge",
)
QUANTITIES = (
    "half of x",
    "half of half of x",
    "a third of x",
    "quarter of x",
    "2/5 of x",
    "15% of x",
    "length of seam",
    "length of line P to Q",
    "length of curve P, Q",
    "distance P to Q",
    "distance midway P to Q to R",
    "smaller of x and y",
    "larger of half of x and y",
    "rounded x to 1 cm",
    "square root of x",
    "angle of seam",
    "intake of front.dart",
    "either bust_girth or chest_girth",
)
POINT_SLOTS = (
    "a = 3 cm down from ◦",
    "a = 3 cm from ◦ toward B",
    "a = 3 cm from A toward ◦",
    "a = 3 cm beyond ◦ from B",
    "a = 3 cm beyond A from ◦",
    "a = 3 cm along L from ◦",
    "a = 3 cm along L from A toward ◦",
    "a = 1/3 of the way from ◦ to B",
    "a = 1/3 of the way from A to ◦",
    "a = 1/3 of the way from A to ◦ along L",
    "a = 2/5 of ◦ to B",
    "a = 2/5 of A to ◦",
    "a = midway ◦ to B",
    "a = midway A to ◦",
    "a = midway A and ◦",
    "a = below ◦ on level B",
    "a = below A on level ◦",
    "a = left of A in line with ◦",
    "a = below ◦ on L",
    "a = where L crosses M, nearest ◦",
    "a = square from ◦ to L",
    "a = 4 cm square off L at ◦, down",
    "a = 13 cm from ◦ to touch L",
    "a = 9 cm from ◦ meeting 10 cm from B, highest",
    "a = 9 cm from A meeting 10 cm from ◦, highest",
    "a = mirror of ◦ over L",
    "a = ◦ turned 12 degrees about B",
    "a = A turned 12 degrees about ◦",
    "a = ◦ moved 2 cm up",
    "a = line ◦ to B",
    "a = line A to ◦",
    "a = line A to ◦ to C",
    "a = line from ◦ right 20 cm",
    "a = line from ◦ to B",
    "a = line from A to ◦",
    "a = curve ◦, B",
    "a = curve A, ◦, C",
    "a = curve A, ◦ arriving right",
    "a = curve A leaving toward ◦, B",
    "a = arc about ◦ from A to B",
    "a = arc about C from ◦ to B",
    "a = arc about C from A to ◦",
    "a = arc about ◦ from A turning 90 degrees",
    "a = circle about ◦ radius 4 cm",
    "a = part of L from ◦ to B",
    "a = part of L from A to ◦",
    "a = distance ◦ to B",
    "a = distance A to ◦",
    "a = distance A to ◦ + 1 cm",
    "check ◦ level with B",
    "check A above ◦",
    "dart front.waist, middle at ◦, intake 2 cm, length 9 cm",
    "dart front.waist, intake 2 cm, length 9 cm, middle at ◦",
    "cut front from ◦ to B into one, two",
    "cut front from A to ◦ into one, two",
    "close front.bust, pivoting on ◦, opening shoulder at A",
    "close front.bust, pivoting on A, opening shoulder at ◦",
    "fold out front, 1 cm at ◦, nothing at B",
    "fold out front, 1 cm at A, nothing at ◦",
    "shift front, 1 cm down at ◦, nothing at B",
    "shift front, 1 cm down at A, nothing at ◦",
    "shift front, from ◦ to B",
    "shift front, from A to ◦",
    "shift front, 5 degrees about ◦ from A to B",
    "shift front, 5 degrees about C from ◦ to B",
    "shift front, 5 degrees about C from A to ◦",
    "shift notch front.side at ◦, 1 cm toward B",
    "shift notch front.side at A, 1 cm toward ◦",
    "widen front over ◦ by 1 cm, hinged at B, opening at C and D",
    "widen front over A by 1 cm, hinged at ◦, opening at C and D",
    "widen front over A by 1 cm, hinged at B, opening at ◦ and D",
    "widen front over A by 1 cm, hinged at B, opening at C and ◦",
    "notch front.side at ◦",
    "mark ◦ button on front",
    "draw line ◦ to B on front",
)
LINE_SLOTS = (
    "a = length of ◦",
    "a = length of ◦ + 3 cm",
    "a = angle of ◦",
    "a = 3 cm along ◦ from A",
    "a = halfway along ◦",
    "a = 1/3 of the way from A to B along ◦",
    "a = below A on ◦",
    "a = where ◦ crosses M",
    "a = where L crosses ◦",
    "a = where L crosses ◦, highest",
    "a = square from A to ◦",
    "a = 4 cm square off ◦ at A, down",
    "a = 13 cm from A to touch ◦",
    "a = mirror of A over ◦",
    "a = start of ◦",
    "a = midway end of ◦ to B",
    "a = ◦ moved 2 cm up",
    "a = part of ◦ from A to B",
    "a = parallel to ◦, 2 cm up",
    "a = L then ◦",
    "a = curve A leaving along ◦, B",
    "a = curve A leaving square to ◦, B",
    "cut front along ◦ into one, two",
    "draw ◦ as stitch line on front",
    "spread front, along ◦ and M, 2 cm at hem, nothing at waist",
    "lengthen front at ◦ by 2 cm",
    "redraw front.side along ◦",
    "grain of front along ◦",
    "mark 5 buttons along ◦ from A to B on front",
)
QUANTITY_SLOTS = (
    "a = ◦ + 1 cm",
    "spread front, 3 lines from waist to hem, nothing at waist, as far as ◦ at hem",
    "a = x + ◦",
    "a = ◦ / 2",
    "a = 2 * ◦",
    "a = half of ◦",
    "a = 2/5 of ◦",
    "a = smaller of ◦ and y",
    "a = smaller of x and ◦",
    "a = rounded ◦ to 1 cm",
    "a = rounded x to ◦",
    "a = square root of ◦",
    "a = ◦ down from A",
    "a = 2 cm down and ◦ right from A",
    "a = ◦ from A toward B",
    "a = line from A right ◦",
    "a = circle about A radius ◦",
    "a = by ◦: up to 90 cm 2 cm, above 3 cm",
    "a = by x: up to 90 cm ◦, above 3 cm",
    "find a between ◦ and 9 cm so that x = y",
    "find a between 2 cm and 9 cm so that ◦ = y",
    "check ◦ = y within 2 mm",
    "check x is at least ◦",
    "allow ◦, hem 4 cm",
    "dart front.waist, intake ◦, length 9 cm, middle at A",
)

PLACES = [
    *((slot, phrase) for slot in POINT_SLOTS for phrase in POINTS),
    *((slot, phrase) for slot in LINE_SLOTS for phrase in LINES),
    *((slot, phrase) for slot in QUANTITY_SLOTS for phrase in QUANTITIES),
]


@cache
def tree(line: str) -> Tree[Token]:
    found = _parsed(line, "statement")
    return found.children[0] if found.data == SEARCHED else found


def outcome(slot: str, phrase: str) -> str:
    """`read`, `refused` with the brackets shown, `not read`, or `misread`."""
    intended = tree(slot.replace("◦", f"({phrase})"))
    try:
        return "read" if tree(slot.replace("◦", phrase)) == intended else "misread"
    except SeveralReadings as ways:
        return "refused" if intended in [tree(line) for line in ways.lines] else "misread"
    except UnexpectedInput:
        return "not read"


@cache
def outcomes() -> dict[tuple[str, str], str]:
    return {place: outcome(*place) for place in PLACES}


MOVED_AS_A_WHOLE = {
    ("a = midway A to ◦", "P moved 2 cm up"),
    ("a = midway A to ◦", "P turned 12 degrees about Q"),
    ("a = midway A to ◦", "midway P to Q moved 2 cm up"),
    ("a = midway A and ◦", "P moved 2 cm up"),
    ("a = midway A and ◦", "P turned 12 degrees about Q"),
    ("a = midway A and ◦", "midway P to Q moved 2 cm up"),
    ("a = halfway along ◦", "seam moved 2 cm down"),
    ("a = halfway along ◦", "seam turned 12 degrees about P"),
    ("a = start of ◦", "seam moved 2 cm down"),
    ("a = start of ◦", "seam turned 12 degrees about P"),
}
"""After midway A to B, halfway along L and start of L, moved and turned move that point: the handbook says so. (The
middle and the start of a line that is moved are the same points.)"""

TOLD_BY_KIND = {
    ("a = distance A to ◦", "depth down from P"),
    ("a = distance A to ◦", "depth / 2 down and 1 cm left from P"),
    ("a = distance A to ◦", "depth from P toward Q"),
}
"""A distance may itself be so much down from a point; which is meant shows when the name is known to be a length."""


def test_every_phrase_is_read_as_meant_or_refused_with_its_brackets():
    assert len(PLACES) > 3000
    wrong = {place: told for place, told in outcomes().items() if told not in ("read", "refused")}
    assert set(wrong) == MOVED_AS_A_WHOLE | TOLD_BY_KIND
    assert set(wrong.values()) == {"misread"}


def test_most_places_take_every_phrase_without_brackets():
    count = Counter(outcomes().values())
    assert count["read"] >= 0.93 * len(PLACES)


def only_finding(block: str):
    nodes, findings = parse_block(block, "styles/a.md", 10)
    assert len(findings) == 1 and not nodes
    return findings[0]


@pytest.mark.parametrize(
    ("line", "readings"),
    [
        (
            "a = length of circle about C radius 5 cm + 3 cm",
            "a = length of (circle about C radius 5 cm) + 3 cm or: "
            "a = length of (circle about C radius 5 cm + 3 cm)",
        ),
        (
            "a = line A to end of line B to C to D",
            "a = line A to end of (line B to C) to D or: a = line A to end of (line B to C to D)",
        ),
        (
            "a = curve A, B, C moved 2 cm up",
            "a = (curve A, B, C) moved 2 cm up or: a = curve A, B, (C moved 2 cm up)",
        ),
        (
            "a = where l crosses line B to where m crosses n, highest",
            "a = where l crosses line B to (where m crosses n, highest) or: "
            "a = where l crosses (line B to where m crosses n), highest",
        ),
        (
            "a = 2 cm along l from 3 cm along m from A toward B",
            "a = 2 cm along l from (3 cm along m from A) toward B or: "
            "a = 2 cm along l from (3 cm along m from A toward B)",
        ),
    ],
)
def test_a_line_that_can_be_read_in_two_ways_is_shown_in_both(line, readings):
    finding = only_finding(line)
    assert finding.code == "several-readings"
    assert finding.message == "This line can be read in 2 ways."
    assert finding.hint == f"Put brackets in: {readings}"
    assert finding.source == line


def test_places_are_those_of_the_line_as_it_is_written():
    ((line,), findings) = parse_block("a = midway A to depth\n  down from B", "styles/a.md", 10)
    assert not findings
    down = next(node for node in line.walk() if node.word == "placed")
    assert (down.place.line, down.place.column, down.text) == (10, 17, "depth\n  down from B")
    b = next(node for node in line.walk() if node.word == "name" and node.text == "B")
    assert (b.place.line, b.place.column) == (11, 13)
    assert line.text == "a = midway A to depth\n  down from B"


@pytest.mark.parametrize(("times", "least", "most"), [(10, 50, readings.MOST_TRIED), (40, 0, 0)])
def test_a_hopeless_line_is_given_up_after_so_many_trials(monkeypatch, times, least, most):
    tried = []

    def counted(text, start, lark):
        tried.append(text)
        return tree_or_none(text, start, lark)

    tree_or_none = readings.tree_or_none
    monkeypatch.setattr(readings, "tree_or_none", counted)
    assert only_finding("a = " + "midway a to half of x from " * times + "(").code == "not-understood"
    assert least <= len(tried) <= most
