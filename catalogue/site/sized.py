"""What a style's page shows of the style in standard sizes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from catalogue.people import SizeTable
from catalogue.sheets.paper import paper_named
from catalogue.site.draft_view import Download
from catalogue.site.markdown import plain


def in_sizes(summary: Mapping[str, Any], tables: Sequence[SizeTable], root: str) -> list[dict[str, Any]]:
    """The tables of sizes that a style is printed in: their sheets as downloads, and what their files say besides.

    Args:
        summary: of the sheets, as they were made.
        root: the way from the page to the top of the site.
    """
    by_file = {table.file: table for table in tables}
    shown = []
    for made in summary.get("tables", ()):
        table = by_file[made["file"]]
        downloads = [
            Download(
                f"sizes/{file}", f"Print on {paper_named(paper).title}", pages, "true scale, all sizes nested"
            )
            for file, pages, paper in made["downloads"]
        ]
        notes = plain(table.notes, root) if table.notes.strip() else ""
        shown.append(
            {**made, "downloads": downloads, "notes": notes, "lang": table.lang, "findings": table.findings}
        )
    return shown
