"""Doubts about a draft as a whole: pieces of a size that no garment has."""

from __future__ import annotations

from catalogue.drafting.desk import Desk
from catalogue.findings import Finding, Place, Severity

LARGE, TOO_LARGE = 4_000.0, 10_000.0
"""mm each way: a court train is some 4 m long (common practice, no source), and nothing to wear is longer than 10 m."""


def doubt_sizes(desk: Desk, place: Place) -> list[str]:
    """A warning for each piece that is larger than clothes are, and an error for one that nobody can mean.

    The latter are taken off the table. Returns their names.
    """
    units = desk.messages.units
    taken_off = []
    for name, piece in list(desk.table.pieces.items()):
        box = piece.outline.bounds()
        longest = max(box.width, box.height)
        if longest <= LARGE:
            continue
        size = f"{box.width / 1000:.1f} × {box.height / 1000:.1f} m"
        if not units.primary.is_metric:
            size = f"{box.width / 304.8:.0f} × {box.height / 304.8:.0f} ft"
        if longest > TOO_LARGE:
            message = f"“{piece.title}” is {size}, larger than anything to wear, so nothing is printed."
            severity = Severity.ERROR
            del desk.table.pieces[name]  # to find room for its label alone would take minutes
            taken_off.append(name)
        else:
            message, severity = f"“{piece.title}” is {size}: is that meant?", Severity.WARNING
        hint = "Look at the workings for the first length that is too long; is a unit right, or a sign?"
        desk.messages.findings.append(Finding("piece-size", message, place, hint, severity))
    return taken_off
