"""What is wrong with a client's draft is told in the client's units."""

import pytest

from catalogue.drafting import draft_style
from catalogue.lengths import Unit, Units, held, with_lengths
from catalogue.people import Client
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings

HEAD = "---\ntitle: T\n---\n\n# Drafting\n\n```draft\n"
SQUARE = """\
a = start
b = 20 cm right from a
c = 30 cm down from b
d = 30 cm down from a
m = 1 in right from a

piece front "Front", cut 1
  outline top: a to b
          side: b to c
          hem: c to d
          fold: d to a
"""


@pytest.mark.parametrize(
    ("line", "metric", "inches"),
    [
        (
            "dart front.top, middle at m, intake 10.4 cm, length 8 cm",
            "it takes 10.4 cm, and its middle lies 2.5 cm along an edge of 20 cm",
            "it takes 4 1/8 in, and its middle lies 1 in along an edge of 7 7/8 in",
        ),
        (
            "e = 50 cm along front.top from a",
            "from there it is 20 cm long",
            "from there it is 7 7/8 in long",
        ),
        ("tape front.top to front.side as both", "", ""),
    ],
)
def test_a_length_in_a_message_is_the_clients(line: str, metric: str, inches: str) -> None:
    style = style_from(f"{HEAD}{SQUARE}{line}\n```\n".encode(), "t", "styles/t.md")
    for units, says in ((Units(Unit.CM), metric), (Units(Unit.IN), inches)):
        messages = [
            f.message for f in draft_style(style, Client("c", "c.md", "C", units=units), Settings()).findings
        ]
        assert messages and any(says in message for message in messages), messages


def test_a_held_length_is_put_in_words_once_the_units_are_known() -> None:
    text = f"it is {held(25.4)} long, and {held(-12.7)} off"
    assert with_lengths(text, Units(Unit.IN)) == "it is 1 in long, and −1/2 in off"
    assert with_lengths(text, Units(Unit.MM)) == "it is 25 mm long, and −13 mm off"
    assert with_lengths("nothing held", Units()) == "nothing held"
