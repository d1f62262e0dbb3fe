"""Drafting: `draft_style` works a style out for a client, step by step, and gives a `Draft`."""

from catalogue.drafting.drafter import Extent, draft_style
from catalogue.drafting.model import BlockUsed, Check, Draft, Finished, Item, Seam, Step, Working

__all__ = [
    "BlockUsed",
    "Check",
    "Draft",
    "Extent",
    "Finished",
    "Item",
    "Seam",
    "Step",
    "Working",
    "draft_style",
]
