"""Fonts in one PDF file: only the glyphs used, each with the characters it stands for.

Codes are given out per document, in the order of first use, so a file's bytes never depend on files made before.
Glyphs that stand for several characters, and letters that a script reorders, get a code per meaning: what a reader
copies from the page is what went in.
"""

from __future__ import annotations

from typing import Any

from catalogue.sheets.fonts import Face
from catalogue.sheets.shaping import Shaped, Strip, shape


class FontBook:
    """All fonts of one document. `missing` gathers (text, characters) that no font could show, in order."""

    def __init__(self, document: Any) -> None:
        self._document = document
        self._fonts: dict[str, _Embedded] = {}
        self._written: dict[tuple[int, float], tuple[Shaped, str]] = {}
        self.missing: dict[str, str] = {}

    def line(self, text: str, *, bold: bool = False) -> Shaped:
        """Shape `text`, noting what is missing."""
        shaped = shape(text, bold=bold)
        if shaped.missing:
            self.missing[text] = shaped.missing
        return shaped

    def operators(self, shaped: Shaped, size: float) -> str:
        """PDF text operators that show a line from the current text position; `size` in text space units."""
        key = (id(shaped), size)
        known = self._written.get(key)
        if known is not None:
            return known[1]
        parts = []
        for strip in shaped.strips:
            font = self._fonts.get(strip.face.name)
            if font is None:
                font = self._fonts[strip.face.name] = _Embedded(strip.face, f"T{len(self._fonts) + 1}")
                self._document.delayedFonts.append(font)
            parts.append(f"/{font.name} {size:.4g} Tf {font.show(strip, size)}")
        operators = " ".join(parts)
        self._written[key] = (shaped, operators)  # the line is kept, so that its id stays its own
        return operators


class _Embedded:
    """One face in one document; reportlab calls `addObjects` when it writes the file."""

    def __init__(self, used: Face, name: str) -> None:
        self.face = used
        self.name = name
        self._codes: dict[tuple[int, str], int] = {}

    def show(self, strip: Strip, size: float) -> str:
        """A TJ operator (with rises where marks are lifted) for a strip of glyphs."""
        scale = 1000 / self.face.units
        codes = self._codes
        out: list[str] = []
        run: list[str] = []
        hexes: list[str] = []
        rise = 0
        shift = 0.0  # thousandths still to be moved left before the next glyph
        for glyph in strip.glyphs:
            if glyph.dy != rise:
                if hexes:
                    run.append(f"<{''.join(hexes)}>")
                    hexes = []
                if run:
                    out.append(f"[{''.join(run)}]TJ")
                    run = []
                rise = glyph.dy
                out.append(f"{rise / self.face.units * size:.4g} Ts")
            shift -= glyph.dx * scale
            if abs(shift) >= 0.5:
                if hexes:
                    run.append(f"<{''.join(hexes)}>")
                    hexes = []
                run.append(f"{shift:.0f}")
            code = codes.setdefault((glyph.id, glyph.text), len(codes) + 1)
            hexes.append(f"{code:04X}")
            shift = (glyph.width - glyph.advance + glyph.dx) * scale
        if hexes:
            run.append(f"<{''.join(hexes)}>")
        if abs(shift) >= 0.5:
            run.append(f"{shift:.0f}")
        if run:
            out.append(f"[{''.join(run)}]TJ")
        if rise:
            out.append("0 Ts")
        return " ".join(out)

    def addObjects(self, document: Any) -> None:
        """Write font file, widths, code tables and descriptor."""
        from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFString

        data, renumbered = self._subset()
        base = f"{_tag(data)}+{_POSTSCRIPT[self.face.name]}"
        scale = 1000 / self.face.units
        pairs = list(self._codes)
        widths = [round(self.face.advance(glyph) * scale) for glyph, _ in pairs]
        glyphs = b"".join(renumbered[g].to_bytes(2, "big") for g, _ in [(0, ""), *pairs])
        extents = self.face.hb_font.get_font_extents("ltr")
        head = self.face.hb_face.reference_table("head").data
        box = [round(int.from_bytes(head[i : i + 2], "big", signed=True) * scale) for i in (36, 38, 40, 42)]

        def refer(thing: Any, part: str) -> Any:
            return document.Reference(thing, f"{self.name}{part}")

        descriptor = PDFDictionary(
            {
                "Type": PDFName("FontDescriptor"),
                "FontName": PDFName(base),
                "Flags": 4,
                "FontBBox": PDFArray(box),
                "ItalicAngle": 0,
                "Ascent": round(extents.ascender * scale),
                "Descent": round(extents.descender * scale),
                "CapHeight": 714,
                "StemV": 140 if self.face.name.endswith("bold") else 90,
                "FontFile2": refer(_stream(data, {"Length1": len(data)}), "file"),
            }
        )
        descendant = PDFDictionary(
            {
                "Type": PDFName("Font"),
                "Subtype": PDFName("CIDFontType2"),
                "BaseFont": PDFName(base),
                "CIDSystemInfo": PDFDictionary(
                    {"Registry": PDFString("Adobe"), "Ordering": PDFString("Identity"), "Supplement": 0}
                ),
                "FontDescriptor": refer(descriptor, "descriptor"),
                "DW": 1000,
                "W": PDFArray([1, PDFArray(widths)]),
                "CIDToGIDMap": refer(_stream(glyphs), "glyphs"),
            }
        )
        font = PDFDictionary(
            {
                "Type": PDFName("Font"),
                "Subtype": PDFName("Type0"),
                "BaseFont": PDFName(base),
                "Encoding": PDFName("Identity-H"),
                "DescendantFonts": PDFArray([refer(descendant, "cid")]),
                "ToUnicode": refer(_stream(_to_unicode(text for _, text in pairs)), "unicode"),
            }
        )
        document.idToObject["BasicFonts"].dict[self.name] = refer(font, "")

    def _subset(self) -> tuple[bytes, dict[int, int]]:
        import uharfbuzz as hb

        wanted = hb.SubsetInput()
        wanted.glyph_set.update({glyph for glyph, _ in self._codes})
        wanted.flags = hb.SubsetFlags.NO_HINTING | hb.SubsetFlags.NOTDEF_OUTLINE
        for table in (b"GSUB", b"GPOS", b"GDEF", b"cmap", b"name", b"OS/2", b"post", b"kern"):
            wanted.drop_table_tag_set.add(int.from_bytes(table, "big"))
        plan = hb.SubsetPlan(self.face.hb_face, wanted)
        return bytes(plan.execute().blob.data), dict(plan.old_to_new_glyph_mapping)


_POSTSCRIPT = {
    "sans": "NotoSans-Regular",
    "sans-bold": "NotoSans-Bold",
    "arabic": "NotoSansArabic-Regular",
    "devanagari": "NotoSansDevanagari-Regular",
    "hebrew": "NotoSansHebrew-Regular",
    "han": "NotoSansSC-Regular",
}


def _tag(data: bytes) -> str:
    """The six capitals that mark a subset, made from its content."""
    import hashlib

    digest = hashlib.sha256(data).digest()
    return "".join(chr(65 + b % 26) for b in digest[:6])


def _stream(content: bytes, extra: dict[str, Any] | None = None) -> Any:
    from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFStream, PDFZCompress

    return PDFStream(dictionary=PDFDictionary(dict(extra or {})), content=content, filters=[PDFZCompress])


def _to_unicode(texts: Any) -> bytes:
    """A ToUnicode table: code 1, 2, ... to UTF-16."""
    lines = [f"<{i:04X}> <{t.encode('utf-16-be').hex().upper()}>" for i, t in enumerate(texts, 1)]
    blocks = []
    for i in range(0, len(lines), 100):
        part = lines[i : i + 100]
        blocks.append(f"{len(part)} beginbfchar\n" + "\n".join(part) + "\nendbfchar")
    return (
        "/CIDInit /ProcSet findresource begin 12 dict begin begincmap\n"
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
        "/CMapName /Adobe-Identity-UCS def /CMapType 2 def\n"
        "1 begincodespacerange <0000> <FFFF> endcodespacerange\n"
        + "\n".join(blocks)
        + "\nendcmap CMapName currentdict /CMap defineresource pop end end\n"
    ).encode()
