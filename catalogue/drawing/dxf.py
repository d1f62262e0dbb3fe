"""The pieces of a draft as a DXF file, for other pattern and cutting programs.

One block a piece, inserted once, in millimetres, y up as DXF has it. The layers are those of ASTM D6673 (2010, now
withdrawn), **from memory**: the standard's table could not be read; see `LAYERS`. The file is DXF of release 12, the
oldest common ground: it has no splines, so curves are polylines that stay within 0.01 mm of the true curve. It is
written here directly: a general library takes longer for it than for all else of a draft, and puts the hour and random
numbers in, while a file must have the same bytes every time.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence

from catalogue.drawing.labels import cloth_words, letters_of
from catalogue.drawing.parts import Parts, parts_of
from catalogue.geometry import Cubic, Path, Point
from catalogue.pattern import Piece

LAYERS: Mapping[str, str] = {
    "1": "piece boundary: the cutting line",
    "2": "turn points: corners of the boundary",
    "3": "curve points: where curves of the boundary join",
    "4": "notches",
    "6": "mirror line: the fold of the cloth",
    "7": "grain line",
    "8": "internal lines",
    "13": "drill holes",
    "14": "sew lines: the seam line",
    "15": "annotation text",
}
"""Layer -> what lies on it; all of these numbers are from memory."""

FLATNESS = 0.01
"""mm that a polyline may stray from its curve."""

_GAP = 50.0
_TEXT = 8.0
_LONGEST_NAME = 31  # of a block, in release 12


def draft_dxf(
    pieces: Sequence[Piece],
    cut_lines: Mapping[str, Path],
    *,
    style: str = "",
    client: str = "",
    day: str = "",
    known: Sequence[Parts] | None = None,
) -> bytes:
    """The file. Blocks are named after the pieces' own names, in plain capitals; their titles are in the text.

    Args:
        cut_lines: the cutting line of each piece, by name, where it has one.
        day: a date, as text; none is written when empty.
        known: the parts of each piece, where they have been worked out.
    """
    names = block_names([p.name for p in pieces])
    letters = letters_of(pieces)
    taken = known or [parts_of(p, cut_lines.get(p.name)) for p in pieces]
    out = [*_header(), *_tables(), "0\nSECTION\n2\nBLOCKS"]
    for piece, parts in zip(pieces, taken, strict=True):
        out += _block(names[piece.name], piece, parts, letters[piece.name])
    out += ["0\nENDSEC\n0\nSECTION\n2\nENTITIES"]
    said = (("Style Name", style), ("Client", client), ("Creation Date", day), ("Units", "METRIC"))
    for i, (what, words) in enumerate((w, t) for w, t in said if t):
        out.append(_text(f"{what}: {words}", Point(0.0, -_GAP - i * 2 * _TEXT), "15"))
    x = 0.0
    for piece, parts in zip(pieces, taken, strict=True):
        box = parts.cut.bounds()
        out.append(f"0\nINSERT\n8\n1\n2\n{names[piece.name]}\n{_at(Point(x - box.left, -box.bottom))}")
        x += box.width + _GAP
    out.append("0\nENDSEC\n0\nEOF\n")
    return "\n".join(out).encode("ascii")


def block_names(names: Sequence[str]) -> dict[str, str]:
    """Piece name -> block name: capitals, digits and low lines, at most 31, unique in the file."""
    found: dict[str, str] = {}
    for i, name in enumerate(names, 1):
        plain = unicodedata.normalize("NFKD", name.replace("đ", "d").replace("Đ", "D"))
        plain = re.sub(r"[^A-Z0-9]+", "_", plain.encode("ascii", "ignore").decode().upper())
        plain = plain[: _LONGEST_NAME - 4].strip("_") or f"PIECE_{i}"
        free = plain
        number = 2
        while free in found.values():
            free, number = f"{plain}_{number}", number + 1
        found[name] = free
    return found


def _header() -> list[str]:
    # $MEASUREMENT 1 is metric; the unit itself is said in the text, for release 12 has no word for it.
    return ["0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1009\n9\n$MEASUREMENT\n70\n1\n0\nENDSEC"]


def _tables() -> list[str]:
    out = ["0\nSECTION\n2\nTABLES"]
    out.append(
        "0\nTABLE\n2\nLTYPE\n70\n1\n0\nLTYPE\n2\nCONTINUOUS\n70\n0\n3\nSolid line\n72\n65\n73\n0\n40\n0.0\n0\nENDTAB"
    )
    out.append(f"0\nTABLE\n2\nLAYER\n70\n{len(LAYERS)}")
    out += [f"0\nLAYER\n2\n{layer}\n70\n0\n62\n7\n6\nCONTINUOUS" for layer in LAYERS]
    out.append("0\nENDTAB")
    out.append(
        "0\nTABLE\n2\nSTYLE\n70\n1\n0\nSTYLE\n2\nSTANDARD\n70\n0\n40\n0.0\n41\n1.0\n50\n0.0\n71\n0\n42\n8.0\n3\ntxt\n4\n\n"
        "0\nENDTAB\n0\nENDSEC"
    )
    return out


def _block(name: str, piece: Piece, parts: Parts, letter: str) -> Iterator[str]:
    yield f"0\nBLOCK\n8\n1\n2\n{name}\n70\n0\n10\n0.0\n20\n0.0\n30\n0.0\n3\n{name}"
    yield _polyline(parts.cut, "1", closed=True)
    yield _polyline(parts.seam, "14", closed=True)
    yield from _turns(parts.cut)
    for tick in parts.ticks:
        yield _point(tick.at_cut, "4")
        if tick.at_cut.distance(tick.at_seam) > 0.01:
            yield _line(tick.at_cut, tick.at_seam, "4")
    for path in parts.folds:
        yield _polyline(path, "6")
    if parts.grain:
        yield _line(parts.grain.start, parts.grain.end, "7")
    for _, path in parts.inner:
        yield _polyline(path, "8")
    for _, at in parts.drills:
        yield _point(at, "13")
    yield from _words(piece, parts, letter)
    yield "0\nENDBLK\n8\n1"


def _words(piece: Piece, parts: Parts, letter: str) -> Iterator[str]:
    """What the piece is, in the keyed lines that the standard asks for (their wording is from memory)."""
    box = parts.seam.bounds()
    at = Point(box.left + 0.3 * box.width, box.top + 0.4 * box.height)
    cut = piece.cut
    said = (
        f"Piece Name: {piece.title}",
        f"Letter: {letter}",
        f"Quantity: {cut.count}",
        f"Material: {cloth_words(cut.cloth)}",
        "Annotation: "
        + ("on the fold" if cut.on_fold else "in mirrored pairs" if cut.mirrored else "as it lies"),
    )
    for i, words in enumerate(said):
        yield _text(words, Point(at.x, at.y + i * 1.6 * _TEXT), "15")


def _turns(cut: Path) -> Iterator[str]:
    corners = {round(s, 3) for s in cut.corners()}
    segments = cut.segments
    for mark, segment, before in zip(cut.marks, segments, (segments[-1], *segments), strict=False):
        if round(mark, 3) in corners:
            yield _point(segment.start, "2")
        elif isinstance(segment, Cubic) or isinstance(before, Cubic):
            yield _point(segment.start, "3")


def _number(value: float) -> str:
    text = f"{value:.4f}".rstrip("0")
    text = text + "0" if text.endswith(".") else text
    return "0.0" if text == "-0.0" else text


def _at(at: Point) -> str:
    return f"10\n{_number(at[0])}\n20\n{_number(-at[1])}\n30\n0.0"


def _point(at: Point, layer: str) -> str:
    return f"0\nPOINT\n8\n{layer}\n{_at(at)}"


def _line(a: Point, b: Point, layer: str) -> str:
    return f"0\nLINE\n8\n{layer}\n{_at(a)}\n11\n{_number(b[0])}\n21\n{_number(-b[1])}\n31\n0.0"


def _polyline(path: Path, layer: str, *, closed: bool = False) -> str:
    points = path.flatten(FLATNESS)
    if closed and points[0].distance(points[-1]) < 1e-6:
        points.pop()
    head = f"0\nPOLYLINE\n8\n{layer}\n66\n1\n10\n0.0\n20\n0.0\n30\n0.0\n70\n{int(closed)}"
    tail = f"0\nSEQEND\n8\n{layer}"
    vertex = f"0\nVERTEX\n8\n{layer}\n10\n"
    return "\n".join([head, *(f"{vertex}{_number(x)}\n20\n{_number(-y)}\n30\n0.0" for x, y in points), tail])


def _text(words: str, at: Point, layer: str) -> str:
    return f"0\nTEXT\n8\n{layer}\n{_at(at)}\n40\n{_TEXT}\n1\n{_ascii(words)}"


def _ascii(words: str) -> str:
    r"""Words as a DXF text holds them: what is not ASCII as \U+ and four figures; what that can't hold is a "?"."""
    plain = "".join(c if c.isprintable() else " " for c in unicodedata.normalize("NFC", words))
    return "".join(c if " " <= c <= "~" else f"\\U+{ord(c):04X}" if ord(c) < 0x10000 else "?" for c in plain)
