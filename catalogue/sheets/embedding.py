"""Fonts in one PDF file: only the glyphs used, each with the characters it stands for.

Codes are given out per document, in the order of first use, so a file's bytes never depend on files made before.
Glyphs that stand for several characters, and letters that a script reorders, get a code per meaning: what a reader
copies from the page is what went in.
"""

from __future__ import annotations

from collections.abc import Iterable

from catalogue.sheets.fonts import Face
from catalogue.sheets.objects import Document, Name, Ref
from catalogue.sheets.shaping import Meant, Shaped, Strip, shape


class FontBook:
    """All fonts of one document. `missing` gathers (text, characters) that no font could show, in order."""

    def __init__(self) -> None:
        self._fonts: dict[str, _Embedded] = {}
        self._typeset: dict[tuple[str, float, bool], tuple[float, str]] = {}
        self.missing: dict[str, str] = {}

    def line(self, text: str, *, bold: bool = False) -> Shaped:
        """Shape `text`, noting what is missing."""
        shaped = shape(text, bold=bold)
        if shaped.missing:
            self.missing[text] = shaped.missing
        return shaped

    def typeset(self, text: str, size: float, *, bold: bool = False) -> tuple[float, str]:
        """A line of text: its width in ems, and the PDF operators that show it; `size` in text space units."""
        known = self._typeset.get((text, size, bold))
        if known is None:
            shaped = self.line(text, bold=bold)
            known = self._typeset[text, size, bold] = shaped.width, self._operators(shaped, size)
        return known

    def _operators(self, shaped: Shaped, size: float) -> str:
        """What shows a line from the current text position."""
        parts = []
        for strip in shaped.strips:
            font = self._fonts.get(strip.face.name)
            if font is None:
                font = self._fonts[strip.face.name] = _Embedded(strip.face, f"T{len(self._fonts) + 1}")
            parts.append(f"/{font.name} {size:.4g} Tf {font.show(strip, size)}")
        return " ".join(parts)

    def write(self, document: Document) -> dict[str, Ref]:
        """Add the fonts to the document; returns them by the names used in operators."""
        return {font.name: font.write(document) for font in self._fonts.values()}


class _Embedded:
    """One face in one document."""

    def __init__(self, used: Face, name: str) -> None:
        self.face = used
        self.name = name
        self._codes: dict[Meant, str] = {}  # in hexadecimal

    def show(self, strip: Strip, size: float) -> str:
        """TJ operators (with rises where marks are lifted) for a strip of glyphs."""
        codes = self._codes
        out: list[str] = []
        lifted = 0
        for rise, parts in strip.moves:
            if rise != lifted:
                out.append(f"{rise / self.face.units * size:.4g} Ts")
                lifted = rise
            shown = []
            for part in parts:
                if isinstance(part, float):
                    shown.append(f"{part:.0f}")
                    continue
                for meant in part:
                    if meant not in codes:
                        codes[meant] = f"{len(codes) + 1:04X}"
                shown.append(f"<{''.join([codes[meant] for meant in part])}>")
            out.append(f"[{''.join(shown)}]TJ")
        if lifted:
            out.append("0 Ts")
        return " ".join(out)

    def write(self, document: Document) -> Ref:
        """Font file, widths, code tables and descriptor."""
        data, renumbered = self._subset()
        base = Name(f"{_tag(data)}+{_POSTSCRIPT[self.face.name]}")
        scale = 1000 / self.face.units
        pairs = list(self._codes)
        widths = [round(self.face.advance(glyph) * scale) for glyph, _ in pairs]
        glyphs = b"".join(renumbered[g].to_bytes(2, "big") for g, _ in [(0, ""), *pairs])
        extents = self.face.hb_font.get_font_extents("ltr")
        head = self.face.hb_face.reference_table("head").data
        box = [round(int.from_bytes(head[i : i + 2], "big", signed=True) * scale) for i in (36, 38, 40, 42)]
        descriptor = document.add(
            {
                "Type": Name("FontDescriptor"),
                "FontName": base,
                "Flags": 4,
                "FontBBox": box,
                "ItalicAngle": 0,
                "Ascent": round(extents.ascender * scale),
                "Descent": round(extents.descender * scale),
                "CapHeight": 714,
                "StemV": 140 if self.face.name.endswith("bold") else 90,
                "FontFile2": document.stream(data, {"Length1": len(data)}),
            }
        )
        descendant = document.add(
            {
                "Type": Name("Font"),
                "Subtype": Name("CIDFontType2"),
                "BaseFont": base,
                "CIDSystemInfo": {"Registry": "Adobe", "Ordering": "Identity", "Supplement": 0},
                "FontDescriptor": descriptor,
                "DW": 1000,
                "W": [1, widths],
                "CIDToGIDMap": document.stream(glyphs),
            }
        )
        return document.add(
            {
                "Type": Name("Font"),
                "Subtype": Name("Type0"),
                "BaseFont": base,
                "Encoding": Name("Identity-H"),
                "DescendantFonts": [descendant],
                "ToUnicode": document.stream(_to_unicode(text for _, text in pairs)),
            }
        )

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


def _to_unicode(texts: Iterable[str]) -> bytes:
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
