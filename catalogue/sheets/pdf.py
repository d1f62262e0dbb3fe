"""One PDF file being made: forms that pages share, pages in order, layers, bookmarks and properties."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any, NamedTuple

from catalogue.drawing.markup import escaped, formatted
from catalogue.geometry import Box, Point
from catalogue.sheets.embedding import FontBook
from catalogue.sheets.ink import PdfCanvas, flipped
from catalogue.sheets.objects import Document, Name, Raw, Ref, date_string, number, text_string
from catalogue.sheets.structure import Marked, write_structure

POINTS = 72 / 25.4  # PDF units in one millimetre
MAKER = "pattern-catalogue"


class _Page(NamedTuple):
    ref: Ref
    height: float
    label: str
    marked: list[Marked]


class _Bookmark(NamedTuple):
    title: str
    level: int
    page: int
    shown: Box | None


class PdfFile:
    """A file being made.

    Args:
        title, subject, author: document properties.
        day: given as the day it was made; None leaves the date out.
    """

    def __init__(
        self, *, title: str, subject: str, author: str, day: date | None, language: str = "en-GB"
    ) -> None:
        self.fonts = FontBook()
        self._document = Document()
        self._about = {"Title": title, "Subject": subject, "Author": author}
        self._day = day
        self._language = language
        self._forms: dict[str, Ref] = {}
        self._layers: list[tuple[str, str]] = []  # title, heading in the viewer's list
        self._pages: list[_Page] = []
        self._bookmarks: list[_Bookmark] = []
        self._tree = self._document.reserve()
        # Two sets of resources serve the whole file; forms show no other forms.
        self._of_forms, self._of_pages = self._document.reserve(), self._document.reserve()

    def layer(self, title: str, heading: str = "") -> str:
        """A new layer (optional content group) that viewers can hide; returns its name for canvases.

        `heading` gathers layers in the viewer's list.
        """
        self._layers.append((title, heading))
        return f"L{len(self._layers)}"

    def canvas(self, layers: Mapping[str, str] | None = None) -> PdfCanvas:
        """A canvas for the content of a form; `layers` names the layer of each part of the drawing."""
        return PdfCanvas(self.fonts, layers=layers)

    def page(self) -> PdfCanvas:
        """A canvas for a page; its groups tell reading programmes what is what (see `structure`)."""
        return PdfCanvas(self.fonts, tagged=True)

    def add_form(self, name: str, content: PdfCanvas, width: float, height: float) -> None:
        """Keep content as a form of width x height mm, to be shown by any page with `place`."""
        about = {
            "Type": Name("XObject"),
            "Subtype": Name("Form"),
            "BBox": [0, 0, round(width, 3), round(height, 3)],
            "Resources": self._of_forms,
        }
        operators = f"{flipped(height)}\n{content.content()}"
        self._forms[name] = self._document.stream(operators.encode("latin-1"), about)

    def place(self, page: PdfCanvas, name: str, form_height: float, shown: Box, at: Point) -> None:
        """Show the part `shown` (mm, y down) of a form with its top left corner at `at` of the page, clipped."""
        x, y = at[0] - shown.left, at[1] - shown.top
        n = formatted
        box = f"{n(at[0])} {n(at[1])} {n(shown.width)} {n(shown.height)} re W n"
        page.literal(f"q {box} 1 0 0 -1 {n(x)} {n(y + form_height)} cm /{name} Do Q")

    def add_page(self, content: PdfCanvas, width: float, height: float, label: str) -> int:
        """Add a page of width x height mm; `label` is its name in a viewer's list of pages. Returns its index."""
        document, k = self._document, f"{POINTS:.6f}"
        index = len(self._pages)
        operators = f"{k} 0 0 -{k} 0 {height * POINTS:.4f} cm\n{content.content()}"
        drawn = document.stream(operators.encode("latin-1"))
        parents = f" /StructParents {index}" if content.marked else ""
        page = document.add(
            Raw(
                f"<</Type /Page /Parent {self._tree} /MediaBox [0 0 {number(width * POINTS)} "
                f"{number(height * POINTS)}] /Contents {drawn} /Resources {self._of_pages}{parents}>>"
            )
        )
        self._pages.append(_Page(page, height, label, content.marked))
        return index

    def bookmark(self, title: str, page: int, *, level: int = 0, shown: Box | None = None) -> None:
        """An entry in the outline: to a page by its index, or to a part of it (mm, y down)."""
        self._bookmarks.append(_Bookmark(title, level, page, shown))

    def getvalue(self) -> bytes:
        document = self._document
        root: dict[str, Any] = {
            "Type": Name("Catalog"),
            "Pages": self._tree,
            "PageLabels": {"Nums": [x for i, p in enumerate(self._pages) for x in (i, {"P": p.label})]},
            "Lang": self._language,
            "ViewerPreferences": {"DisplayDocTitle": True, "PrintScaling": Name("None")},
            "Metadata": document.stream(
                self._metadata().encode(), {"Type": Name("Metadata"), "Subtype": Name("XML")}, plain=True
            ),
        }
        root |= write_structure(document, [(p.ref, p.marked) for p in self._pages])
        if self._bookmarks:
            root |= {"Outlines": self._outline(), "PageMode": Name("UseOutlines")}
        shared: dict[str, Any] = {"Font": self.fonts.write(document)}
        if self._layers:
            layers = [document.add({"Type": Name("OCG"), "Name": title}) for title, _ in self._layers]
            root["OCProperties"] = self._optional(layers)
            shared["Properties"] = {f"L{i}": ref for i, ref in enumerate(layers, 1)}
        document.put(self._of_forms, shared)
        document.put(self._of_pages, {**shared, "XObject": self._forms})
        pages = [p.ref for p in self._pages]
        document.put(self._tree, {"Type": Name("Pages"), "Kids": pages, "Count": len(pages)})
        about = {**self._about, "Creator": MAKER, "Producer": MAKER}
        if self._day:
            about["CreationDate"] = about["ModDate"] = date_string(self._day)
        return document.tobytes(document.add(root), document.add(about))

    def _optional(self, layers: list[Ref]) -> dict[str, Any]:
        order: list[Any] = []
        for (_, heading), ref in zip(self._layers, layers, strict=True):
            if not heading:
                order.append(ref)
            elif order and isinstance(order[-1], list) and order[-1][0] == heading:
                order[-1].append(ref)
            else:
                order.append([heading, ref])
        return {"OCGs": layers, "D": {"Name": "Layers", "BaseState": Name("ON"), "Order": order}}

    def _outline(self) -> Ref:
        """The tree of bookmarks; entries below the first level start closed."""
        document = self._document
        root = document.reserve()
        refs = [document.reserve() for _ in self._bookmarks]
        children: dict[Ref, list[int]] = {root: []}
        parents: list[Ref] = []
        open_: list[Ref] = [root]
        for i, entry in enumerate(self._bookmarks):
            del open_[entry.level + 1 :]
            parents.append(open_[-1])
            children.setdefault(open_[-1], []).append(i)
            open_.append(refs[i])
        for siblings in children.values():
            for before, i, after in zip([None, *siblings], siblings, [*siblings[1:], None], strict=False):
                entry = self._bookmarks[i]
                told = f"<</Title {text_string(entry.title)} /Parent {parents[i]} /Dest {self._destination(entry)}"
                if before is not None:
                    told += f" /Prev {refs[before]}"
                if after is not None:
                    told += f" /Next {refs[after]}"
                below = children.get(refs[i])
                if below:
                    told += f" /First {refs[below[0]]} /Last {refs[below[-1]]} /Count {-len(below)}"
                document.put(refs[i], Raw(f"{told}>>"))
        top = children[root]
        return document.put(
            root, {"Type": Name("Outlines"), "First": refs[top[0]], "Last": refs[top[-1]], "Count": len(top)}
        )

    def _destination(self, bookmark: _Bookmark) -> str:
        page = self._pages[bookmark.page]
        if bookmark.shown is None:
            return f"[{page.ref} /Fit]"
        left, top, right, low = bookmark.shown
        corners = (left, page.height - low, right, page.height - top)
        return f"[{page.ref} /FitR {' '.join(number(round(v * POINTS, 1)) for v in corners)}]"

    def _metadata(self) -> str:
        """The properties once more as XMP (ISO 16684-1), for programmes that read only these."""
        title, author, about = (escaped(_printable(self._about[k])) for k in ("Title", "Author", "Subject"))
        day = f"<xmp:CreateDate>{self._day:%Y-%m-%d}T00:00:00Z</xmp:CreateDate>" if self._day else ""
        return (
            '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>\n'
            '<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
            '<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" '
            'xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/">'
            f'<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>'
            f"<dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>"
            f'<dc:description><rdf:Alt><rdf:li xml:lang="x-default">{about}</rdf:li></rdf:Alt></dc:description>'
            f"<xmp:CreatorTool>{MAKER}</xmp:CreatorTool><pdf:Producer>{MAKER}</pdf:Producer>{day}"
            "</rdf:Description></rdf:RDF></x:xmpmeta>\n"
            '<?xpacket end="w"?>'
        )


def _printable(words: str) -> str:
    """Words without the signs XML has no place for."""
    return "".join(c if c.isprintable() else " " for c in words)
