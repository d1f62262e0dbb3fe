"""Every entry of the language, in the order in which the handbook shows them."""

from __future__ import annotations

from catalogue.handbook import blocks, conditions, lines, names, numbers, operations, pieces, points, seams
from catalogue.handbook.entry import GROUPS, Entry

_ROOMS = (names, numbers, points, lines, conditions, pieces, operations, seams, blocks)


def entries() -> tuple[Entry, ...]:
    """The entries by group, within a group in their written order."""
    listed = [entry for room in _ROOMS for entry in room.ENTRIES]
    return tuple(sorted(listed, key=lambda entry: GROUPS.index(entry.group)))
