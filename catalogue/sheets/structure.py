"""What a reading programme is told about each page: headings, paragraphs, and drawings with a text in their stead.

Written as ISO 32000-1, 14.7 and 14.8 ask: marked content on the page, and a tree of elements that refer to it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from catalogue.sheets.objects import Document, Name, Raw, Ref, text_string

# Kinds of group on a page canvas, and the element each becomes. Everything else on a page is an artefact.
TAGS = {
    "title": "H1",
    "facts": "P",
    "instructions": "P",
    "cut-list": "P",
    "cautions": "P",
    "map": "Figure",
    "sheet": "Figure",
}


class Marked(NamedTuple):
    """A marked part of a page: its tag and, for figures, the words in its stead."""

    tag: str
    words: str


def write_structure(document: Document, pages: Sequence[tuple[Ref, Sequence[Marked]]]) -> dict[str, Any]:
    """Add the tree of elements; returns what the catalogue says of it.

    `pages` holds, for each page in order, the page and its marked parts by their number on it. A page's place in
    this list is its key in the tree of parents (`StructParents`).
    """
    root, whole = document.reserve(), document.reserve()
    children: list[Ref] = []
    numbers: list[Any] = []
    for index, (page, parts) in enumerate(pages):
        on_page = []
        for number, part in enumerate(parts):
            alt = f" /Alt {text_string(part.words)}" if part.tag == "Figure" else ""
            element = f"<</Type /StructElem /S /{part.tag} /P {whole} /Pg {page} /K {number}{alt}>>"
            on_page.append(document.add(Raw(element)))
        if on_page:
            numbers += [index, on_page]
            children += on_page
    document.put(whole, {"Type": Name("StructElem"), "S": Name("Document"), "P": root, "K": children})
    document.put(
        root,
        {
            "Type": Name("StructTreeRoot"),
            "K": [whole],
            "ParentTree": {"Nums": numbers},
            "ParentTreeNextKey": len(pages),
        },
    )
    return {"StructTreeRoot": root, "MarkInfo": {"Marked": True}}
