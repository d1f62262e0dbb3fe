"""A style with other options than its own, drawn at random from the offered ranges."""

from __future__ import annotations

import random
from dataclasses import replace

from catalogue.studio.style import Choice, Style

STEPS = 8
"""Parts into which a range is divided: few, so that a style's formulas are read once and not for each body."""


def options_drawn(style: Style, seed: int, number: int) -> Style:
    """The style as person `number` might order it: each option in words, and each amount anywhere in its range.

    What is drawn is taken as the style's own default, so that an end of a range may be a formula.
    """
    chance = random.Random(f"{seed} {number} {style.slug}")
    return replace(style, choices=tuple(_drawn(choice, chance) for choice in style.choices))


def _drawn(choice: Choice, chance: random.Random) -> Choice:
    if choice.options:
        return replace(choice, default=chance.choice(choice.options))
    if not choice.lowest:
        return choice
    part = chance.randrange(STEPS + 1)
    return replace(
        choice, default=f"({choice.lowest}) + ((({choice.highest}) - ({choice.lowest})) * {part} / {STEPS})"
    )
