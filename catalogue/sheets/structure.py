"""What a reading programme is told about each page: headings, paragraphs, and drawings with a text in their stead.

Written as ISO 32000-1, 14.7 and 14.8 ask: marked content on the page, and a tree of elements that refer to it.
"""

from __future__ import annotations

from typing import Any, NamedTuple

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


def write_structure(document: Any, pages: list[list[Marked]]) -> None:
    """Add the tree of elements to a reportlab document whose pages are all made.

    `pages` holds, for each page in order, its marked parts by their number on the page.
    """
    from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFObjectReference, PDFString

    root, whole = PDFObjectReference("StructRoot"), PDFObjectReference("StructDocument")
    children: list[Any] = []
    numbers: list[Any] = []
    for index, parts in enumerate(pages):
        page_name = f"Page{index + 1}"
        on_page = []
        for number, part in enumerate(parts):
            element = {
                "Type": PDFName("StructElem"),
                "S": PDFName(part.tag),
                "P": whole,
                "Pg": PDFObjectReference(page_name),
                "K": number,
            }
            if part.tag == "Figure":
                element["Alt"] = PDFString(part.words)
            on_page.append(document.Reference(PDFDictionary(element), f"Struct{index}.{number}"))
        if on_page:
            page = document.idToObject[page_name]
            page.__NoDefault__ = [*page.__NoDefault__, "StructParents"]
            page.StructParents = index
            numbers += [index, PDFArray(on_page)]
            children += on_page
    document.Reference(
        PDFDictionary(
            {
                "Type": PDFName("StructElem"),
                "S": PDFName("Document"),
                "P": root,
                "K": PDFArray(children),
            }
        ),
        "StructDocument",
    )
    tree = PDFDictionary(
        {
            "Type": PDFName("StructTreeRoot"),
            "K": PDFArray([whole]),
            "ParentTree": PDFDictionary({"Nums": PDFArray(numbers)}),
            "ParentTreeNextKey": len(pages),
        }
    )
    document.Catalog.StructTreeRoot = document.Reference(tree, "StructRoot")
    document.Catalog.MarkInfo = PDFDictionary({"Marked": "true"})
