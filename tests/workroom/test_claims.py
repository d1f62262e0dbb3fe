"""Orders that count on one length of cloth."""

from __future__ import annotations

from catalogue.workroom.claims import Claim, left_short


def claim(order: str, due: str, needs: float, *at_hand: float, cloth: str = "Tweed") -> Claim:
    return Claim(order, due, cloth, needs, at_hand)


def short(*claims: Claim) -> list[tuple[str, tuple[str, ...]]]:
    return [(each.claim.order, each.others) for each in left_short(claims)]


def test_of_two_orders_for_one_remnant_the_later_one_goes_short() -> None:
    later, earlier = claim("skirt", "2026-05-01", 700, 1150), claim("waistcoat", "2026-04-01", 800, 1150)
    assert short(later, earlier) == [("skirt", ("waistcoat",))]
    # Without a day it comes last; another cloth has a remnant of its own.
    assert short(claim("skirt", "", 700, 1150), earlier) == [("skirt", ("waistcoat",))]
    assert short(claim("skirt", "", 700, 1150, cloth="Linen"), earlier) == []


def test_what_is_left_of_a_length_serves_the_next() -> None:
    assert short(claim("a", "1", 700, 1500), claim("b", "2", 800, 1500)) == []
    # Of two lengths each order takes the shortest that is enough.
    assert short(claim("a", "1", 700, 3300, 1150), claim("b", "2", 3000, 3300, 1150)) == []
    assert short(*(claim(str(n), str(n), 1000, 3300, 1150) for n in range(5))) == [
        ("4", ("0", "1", "2", "3"))
    ]


def test_a_length_that_was_never_enough_is_bought_and_claims_nothing() -> None:
    assert short(claim("coat", "1", 2500, 1150), claim("skirt", "2", 700, 1150)) == []
    assert short() == []
