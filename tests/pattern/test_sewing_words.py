"""`sew` as a style says it: what the page is told, in the client's units, and what the record keeps."""

from __future__ import annotations

import json

import pytest

from catalogue.drafting.drafter import draft_style
from catalogue.drafting.record import draft_record
from catalogue.lengths import Unit, Units
from catalogue.people import Client
from catalogue.studio.reading import style_from


def two(
    front: str = "", back: str = "", drop: str = "0 cm", *, after: str = "sew front.side to back.side"
) -> str:
    """A front and a back, 60 cm long at the side; the back's hem drops by `drop` to the side."""
    return f"""a = start
b = 20 cm right from a
c = 60 cm down from b
d = 60 cm down from a
e = {drop} down from c
piece front, cut 1 on fold
  outline waist: a to b
          side: b to c
          hem: c to d
          centre: d to a, fold
{front}
new paper "Back"
piece back, cut 1 on fold
  outline waist: a to b
          side: b to e
          hem: e to d
          centre: d to a, fold
{back}
{after}"""


def drafted(block: str, unit: Unit = Unit.CM):
    style = style_from(
        f"---\ntitle: Sample\n---\n\n# Draft\n\n```draft\n{block}\n```\n".encode(), "s", "styles/s.md"
    )
    return draft_style(style, Client("one", "clients/one.md", "One", "woman", Units(unit)), None)


def seam(made):
    assert [str(f) for f in made.findings] == []
    (found,) = made.seams
    return found


NOTCH = "  notch side at (20 cm down from b)"


def test_lengths_that_agree():
    found = seam(drafted(two(NOTCH, NOTCH)))
    assert found.ok
    assert found.detail == "60 cm and 60 cm"
    assert [m.miss for m in found.matches] == pytest.approx([0])


def test_lengths_that_differ_are_told_with_both_numbers():
    found = seam(drafted(two(drop="4 mm")))
    assert not found.ok
    assert found.detail == "60 cm and 60.4 cm: 0.4 cm apart"


@pytest.mark.parametrize("within, ok", [("3 mm", False), ("5 mm", True)])
def test_the_tolerance_can_be_said(within, ok):
    assert seam(drafted(two(drop="4 mm", after=f"sew front.side to back.side, within {within}"))).ok is ok


def test_a_notch_that_misses_fails_the_seam():
    made = drafted(two(NOTCH, "  notch side at (20.5 cm down from b)"))
    found = seam(made)
    assert not found.ok and not made.ok
    assert found.detail == "60 cm and 60 cm; notches 20 cm and 20.5 cm along miss each other by 0.5 cm"
    (match,) = found.matches
    # What is needed to mark both edges in the drawing.
    assert (match.first.edge, match.second.edge) == ("front.side", "back.side")
    assert match.first.point.distance(match.second.point) == pytest.approx(5)


def test_in_the_clients_inches():
    found = seam(drafted(two(NOTCH, "  notch side at (20.5 cm down from b)"), Unit.IN))
    assert found.detail.endswith("notches 7 7/8 in and 8 1/16 in along miss each other by 3/16 in")


def test_a_notch_without_partner_is_told():
    found = seam(drafted(two(NOTCH)))
    assert found.ok
    assert found.detail == "60 cm and 60 cm; a notch 20 cm along front side has no partner"


def test_ease_is_told_by_sections():
    made = drafted(
        two(
            NOTCH,
            "  notch side at (20.5 cm down from b)",
            "1 cm",
            after="sew back.side to front.side, ease 0 cm to 2 cm",
        )
    )
    found = seam(made)
    assert found.ok
    assert found.detail == (
        "61 cm and 60 cm, ease 1 cm; ease by sections: 0.5 cm to the notch on front side, 0.5 cm to the end"
    )


def test_ease_on_the_wrong_side_of_a_notch_fails():
    made = drafted(
        two(
            NOTCH,
            "  notch side at (18 cm down from b)",
            "1 cm",
            after="sew back.side to front.side, ease 0 cm to 2 cm",
        )
    )
    found = seam(made)
    assert not found.ok
    assert "from the start to the notch on front side: 18 cm and 20 cm" in found.detail


def test_smooth_is_asked_for_and_judged():
    """The back's hem falls 4 cm on 20 cm to the side, which is 11.3 degrees, and the front's runs level."""
    asked = "sew front.side to back.side, within 5 cm, smooth"
    found = seam(drafted(two(drop="4 cm", after=asked)))
    assert not found.ok
    assert "the hem bends by 11.3° across the seam, expected at most 5°" in found.detail
    assert seam(drafted(two(drop="4 cm", after=f"{asked} within 12 degrees"))).ok


def test_a_kink_at_the_hem_is_warned_of_unless_the_style_says_how_much():
    told = "sew front.side to back.side, within 12 cm"
    made = drafted(two(drop="10 cm", after=told))
    (finding,) = made.findings
    assert not finding.is_error
    assert finding.code == "seam-bend"
    assert "The hem bends by 26.6°" in finding.message
    assert "true front.hem and back.hem across front.side and back.side" in finding.hint
    assert made.ok
    assert drafted(two(drop="10 cm", after=f"{told}, smooth within 30 degrees")).findings == ()


def test_trued_as_the_hint_says_the_kink_is_gone():
    made = drafted(
        two(
            drop="10 cm",
            after="true front.hem and back.hem across front.side and back.side\n"
            "sew front.side to back.side, within 12 cm, smooth within 0.1 degrees",
        )
    )
    assert seam(made).ok


def test_where_both_sides_start():
    """Notches 20 cm from the waist and 20 cm from the hem meet when the walk starts there."""
    made = drafted(
        two(
            NOTCH,
            "  notch side at (20 cm up from e)",
            after="sew front.side to back.side, starting at waist and hem",
        )
    )
    assert seam(made).ok
    assert seam(made).matches[0].miss == pytest.approx(0)


def test_the_record_keeps_what_was_walked():
    made = drafted(two(NOTCH, "  notch side at (20.5 cm down from b)"))
    record = json.loads(json.dumps(draft_record(made)))
    (entry,) = record["seams"]
    assert entry["edges"] == ["front.side", "back.side"]
    assert entry["notches"] == [
        {
            "first": {"edge": "front.side", "along": 200.0, "count": 1, "at": [200.0, 200.0]},
            "second": {"edge": "back.side", "along": 205.0, "count": 1, "at": [200.0, 205.0]},
            "miss": -5.0,
            "ok": False,
        }
    ]
    assert [s["lengths"] for s in entry["sections"]] == [[200.0, 205.0], [400.0, 395.0]]
    assert {"edges": ["front.hem", "back.hem"], "degrees": 0.0} in entry["bends"]
