"""Lengths and numbers in decimals, where as a tape shows them they would not be exact enough."""

from __future__ import annotations

import math
from dataclasses import replace

from catalogue.lengths import MINUS, Unit, Units, show_length, show_number, taped

_EXACT = 1e-7
"""mm by which a length may differ from what a tape shows and still be that."""
_NUMBER = 3
"""Decimals of a plain number as `show_number` writes it."""


def rounded_length(mm: float, units: Units, places: int) -> float:
    """The length in mm that `exact_length` shows in the primary unit; with 0 places what a tape shows."""
    on_tape = taped(mm, units)
    if places == 0 or abs(on_tape - mm) < _EXACT:
        return on_tape
    unit = units.primary
    return round(mm / unit.mm, _decimals(unit, places)) * unit.mm


def exact_length(mm: float, units: Units, places: int) -> str:
    """As `show_length` where a tape shows the length exactly, else in decimals of the unit: `2.667 in`, `6.773 cm`.

    Args:
        places: how many decimals beyond those of a tape there are at most; not 0.
    """
    shown = _exact(mm, units, places)
    if units.both:
        other = replace(units, primary=Unit.IN if units.primary.is_metric else Unit.CM, both=False)
        shown += f" ({_exact(mm, other, places)})"
    return shown


def _exact(mm: float, units: Units, places: int) -> str:
    unit = units.primary
    if not math.isfinite(mm) or abs(rounded_length(mm, units, 0) - mm) < _EXACT:
        return show_length(mm, replace(units, both=False))
    return f"{_decimal(mm / unit.mm, _decimals(unit, places))} {unit.value}"


def exact_number(value: float, places: int) -> str:
    """As `show_number`, with so many decimals more."""
    return _decimal(value, _NUMBER + places) if math.isfinite(value) else show_number(value)


def rounded_number(value: float, places: int) -> float:
    """The number that `exact_number` shows."""
    return round(value, _NUMBER + places)


def _decimals(unit: Unit, places: int) -> int:
    """Decimals of a length: one more than of a millimetre where the unit is larger; two for inches at least."""
    return places + {Unit.MM: 0, Unit.CM: 1, Unit.IN: 1}[unit]


def _decimal(value: float, decimals: int) -> str:
    shown = f"{abs(value):.{decimals}f}".rstrip("0").rstrip(".")
    return f"{MINUS if value < 0 and shown != '0' else ''}{shown}"
