"""Two measurements of one set that may have changed places: nothing before tells, so other people's bodies must.

How much larger one of the two is as a rule follows from what else was measured. Typed the wrong way round, the figures
lie on the far side of nought; how many times better they fit when put back is what counts.

The lines are our own least-squares fits to the 7th Size Korea survey of 2015 (Korean Agency for Technology and
Standards; 3,224 women and 3,196 men of 15 to 69 years). `surely` of each is set so that at most 4 in 1,000 are asked in
vain: of bodies drawn from that survey's moments, of 1,104 women of the US Army survey of 1988 (NATICK/TR-89/044), of
993 of that of 2012 (NATICK/TR-15/007) and of bodies spread as wide as a nation's. Of women whose bust and hip are 4 cm
apart and were exchanged, this many in 100 are asked: with chest and thigh 84 to 87, with under-bust and thigh 83 to 91,
with waist, thigh and upper arm 38 to 61, with one girth of the trunk alone 4 to 56. Of exchanged widths 94 of women's
and 60 of men's. There is no line for a man's chest and hip, which are as often one way round as the other.
The form for a new client reads the difference back where it is too common to ask about.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

LEAST = 20.0
"""mm between two figures that are worth a question, unless an exchange says less."""


@dataclass(frozen=True, slots=True)
class Expected:
    """How much larger, mm, one measurement is than the other, as a rule.

    Attributes:
        constant, shares: mm, and the share of each other measurement that is added.
        spread: the standard deviation of bodies about it, mm.
        surely: the natural logarithm of how many times likelier the exchanged figures must be.
    """

    constant: float
    spread: float
    surely: float
    shares: Mapping[str, float] = field(default_factory=dict)

    def difference(self, values: Mapping[str, float]) -> float:
        """The difference expected of a body, mm."""
        return self.constant + sum(share * values[key] for key, share in self.shares.items())


@dataclass(frozen=True, slots=True)
class Exchange:
    """`larger` is as a rule the larger of two typed for each other; the first of `lines` that can be used counts."""

    larger: str
    smaller: str
    lines: tuple[Expected, ...]
    bodies: tuple[str, ...]
    least: float = LEAST


@dataclass(frozen=True, slots=True)
class Exchanged:
    """Two that may have changed places: `beside` what, and how much larger the one is as a rule, mm."""

    exchange: Exchange
    beside: tuple[str, ...]
    usual: float


def exchanged(values: Mapping[str, float], body: str) -> Iterator[Exchanged]:
    """The exchanges that `values` (key to mm) look like, for "woman", "man" or "child"."""
    for exchange in EXCHANGES:
        if body not in exchange.bodies or exchange.larger not in values or exchange.smaller not in values:
            continue
        line = next((each for each in exchange.lines if values.keys() >= each.shares.keys()), None)
        found = values[exchange.larger] - values[exchange.smaller]
        if line is None or found > -exchange.least:
            continue
        usual = line.difference(values)
        if usual > 0 and -2 * found * usual / line.spread**2 > line.surely:
            yield Exchanged(exchange, tuple(line.shares), usual)


def is_confirmed(exchange: Exchange, sets: Sequence[Mapping[str, float]]) -> bool:
    """Whether two sets have them the same unusual way round, so that it is the body and no slip."""
    pair = (exchange.larger, exchange.smaller)
    both = [one for one in sets if all(key in one for key in pair)]
    return sum(one[exchange.larger] < one[exchange.smaller] for one in both) > 1


EXCHANGES: tuple[Exchange, ...] = (
    Exchange(
        "hip_girth",
        "bust_girth",
        (
            Expected(391.0, 37.1, 4, {"chest_girth": -1.012, "thigh_girth": 0.994}),
            Expected(253.4, 35.3, 4, {"under_bust_girth": -0.846, "thigh_girth": 0.816}),
            Expected(80.9, 38.6, 8, {"waist_girth": -0.502, "thigh_girth": 0.903, "upper_arm_girth": -0.53}),
            Expected(483.0, 45.1, 5.5, {"under_bust_girth": -0.558}),
            Expected(543.7, 48.6, 5, {"chest_girth": -0.558}),
            Expected(354.6, 47.5, 8, {"waist_girth": -0.392}),
        ),
        ("woman",),
    ),
    Exchange("back_width", "chest_width", (Expected(44.9, 20.9, 2.5),), ("woman",), 10.0),
    Exchange("back_width", "chest_width", (Expected(40.6, 26.3, 4),), ("man",), 10.0),
    # Children's widths were measured by no survey that we know: own judgement, in proportion to a woman's.
    Exchange("back_width", "chest_width", (Expected(17.0, 10.0, 2.5),), ("child",), 7.0),
)
