"""All papers of an order joined into one PDF for a copy shop, with bookmarks and page labels."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import NamedTuple


class PackPart(NamedTuple):
    """A PDF of the pack: of which order it is, what it is, and its bytes."""

    order: str
    title: str
    data: bytes


def joined_pdf(parts: Sequence[PackPart], title: str, author: str) -> tuple[bytes, int]:
    """The parts one after the other, and how many pages they have.

    Each order is a bookmark with its parts below it; the label of a page is the part's number and the page's own in it
    ("2-1"). Pages keep their sizes.
    """
    from pypdf import PdfReader, PdfWriter
    from pypdf.constants import PageLabelStyle
    from pypdf.generic import NameObject

    writer = PdfWriter()
    opened = None
    order = None
    for number, part in enumerate(parts, 1):
        start = len(writer.pages)
        writer.append(PdfReader(io.BytesIO(part.data)), import_outline=False)
        if part.order != order:
            opened, order = writer.add_outline_item(title=part.order, page_number=start), part.order
        writer.add_outline_item(title=part.title, page_number=start, parent=opened)
        writer.set_page_label(start, len(writer.pages) - 1, style=PageLabelStyle.DECIMAL, prefix=f"{number}-")
    writer.add_metadata({"/Title": title, "/Author": author, "/Creator": "pattern-catalogue"})
    writer.root_object[NameObject("/PageMode")] = NameObject("/UseOutlines")
    # True scale is lost if a viewer fits pages to the paper.
    writer.create_viewer_preferences()[NameObject("/PrintScaling")] = NameObject("/None")
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue(), len(writer.pages)
