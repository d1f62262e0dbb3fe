"""Paper that prints true: pieces arranged on pages, as a PDF.

The names below are loaded when first used, so that importing the package costs nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from catalogue.sheets.nest import nested_pdf
    from catalogue.sheets.paper import PAPERS, Paper, paper_named
    from catalogue.sheets.sheet import SheetResult, SheetSettings, sheet_pdf

__all__ = ["PAPERS", "Paper", "SheetResult", "SheetSettings", "nested_pdf", "paper_named", "sheet_pdf"]


def __getattr__(name: str) -> Any:
    from importlib import import_module

    if name in ("PAPERS", "Paper", "paper_named"):
        return getattr(import_module("catalogue.sheets.paper"), name)
    if name == "nested_pdf":
        return import_module("catalogue.sheets.nest").nested_pdf
    if name in ("SheetResult", "SheetSettings", "sheet_pdf"):
        return getattr(import_module("catalogue.sheets.sheet"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
