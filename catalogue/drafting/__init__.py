"""Drafting: a style file and a client file become a draft, step by step."""

from catalogue.drafting.drafter import draft_style, suits
from catalogue.drafting.model import Check, Draft, Finished, Item, Seam, Step, Working

__all__ = ["Check", "Draft", "Finished", "Item", "Seam", "Step", "Working", "draft_style", "suits"]
