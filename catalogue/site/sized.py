"""What a style's page shows of the style in standard sizes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from catalogue.sheets.paper import paper_named
from catalogue.site.draft_view import Download


def in_sizes(summary: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The tables of sizes that a style is printed in, their sheets as downloads."""
    tables = []
    for table in summary.get("tables", ()):
        downloads = [
            Download(
                f"sizes/{file}", f"Print on {paper_named(paper).title}", pages, "true scale, all sizes nested"
            )
            for file, pages, paper in table["downloads"]
        ]
        tables.append({**table, "downloads": downloads})
    return tables
