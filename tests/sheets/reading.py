"""Reading our own files back: path geometry from PDF operators and SVG attributes, pages as pictures."""

from __future__ import annotations

import io
import os
import re
import shutil
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import pytest

DPI = 300
PIXELS = DPI / 25.4  # per mm
Segment = tuple[tuple[float, float], ...]  # two points for a line, four for a curve


class Stroke(NamedTuple):
    """A path that was stroked or filled: its segments in page units, the line width, the operator, its layers."""

    segments: list[Segment]
    width: float
    dash: tuple[float, ...]
    operator: str
    layers: tuple[str, ...] = ()


def segment_length(segment: Segment) -> float:
    """Length by summing 4,000 chords: independent of the code under test."""
    points = np.array(segment)
    if len(points) == 2:
        return float(np.hypot(*(points[1] - points[0])))
    t = np.linspace(0.0, 1.0, 4001)[:, None]
    a, b, c, d = points
    curve = (1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * b + 3 * t**2 * (1 - t) * c + t**3 * d
    return float(np.hypot(*np.diff(curve, axis=0).T).sum())


def length(segments: list[Segment]) -> float:
    return sum(segment_length(s) for s in segments)


def pdf_strokes(content: bytes) -> Iterator[Stroke]:
    """Every painted path of a content stream, transformed by its `cm` operators."""
    from pypdf.generic import ContentStream, DecodedStreamObject

    stream = DecodedStreamObject()
    stream.set_data(content)
    matrix = np.eye(3)
    stack: list[Any] = []
    marks: list[str] = []
    width, dash = 1.0, ()
    points: list[Segment] = []
    here = (0.0, 0.0)

    def at(x: Any, y: Any) -> tuple[float, float]:
        p = np.array([float(x), float(y), 1.0]) @ matrix
        return float(p[0]), float(p[1])

    for operands, operator in ContentStream(stream, None).operations:
        name = operator.decode()
        if name == "q":
            stack.append((matrix, width, dash))
        elif name == "Q":
            matrix, width, dash = stack.pop()
        elif name in ("BDC", "BMC"):
            marks.append(str(operands[1])[1:] if operands[0] == "/OC" else "")
        elif name == "EMC":
            marks.pop()
        elif name == "cm":
            a, b, c, d, e, f = (float(v) for v in operands)
            matrix = np.array([[a, b, 0], [c, d, 0], [e, f, 1]]) @ matrix
        elif name == "w":
            width = float(operands[0])
        elif name == "d":
            dash = tuple(float(v) for v in operands[0])
        elif name == "m":
            here = at(*operands)
        elif name == "l":
            there = at(*operands)
            points.append((here, there))
            here = there
        elif name == "c":
            a, b, c = at(*operands[:2]), at(*operands[2:4]), at(*operands[4:])
            points.append((here, a, b, c))
            here = c
        elif name in ("S", "s", "f", "B", "n"):
            if points:
                yield Stroke(points, width, dash, name, tuple(m for m in marks if m))
            points = []


def svg_path(data: str) -> list[Segment]:
    """Segments of a path of absolute M, L, C and Z."""
    found: list[Segment] = []
    here = start = (0.0, 0.0)
    for letter, numbers in re.findall(r"([MLCZ])([^MLCZ]*)", data):
        values = [float(v) for v in re.findall(r"-?[\d.]+", numbers)]
        pairs = list(zip(values[::2], values[1::2], strict=True))
        if letter == "M":
            here = start = pairs[0]
        elif letter == "L":
            found.append((here, pairs[0]))
            here = pairs[0]
        elif letter == "C":
            found.append((here, *pairs))
            here = pairs[2]
        elif here != start:
            found.append((here, start))
    return found


def form_content(data: bytes) -> bytes:
    """The operators of the sheet that all pages share."""
    import pypdf

    page = pypdf.PdfReader(io.BytesIO(data)).pages[-1]
    return bytes(page["/Resources"]["/XObject"]["/sheet"].get_object().get_data())


def one_page_of(data: bytes) -> bytes:
    """The sheet that a file's pages show parts of, on one page of its own size (put there by pypdf)."""
    return parts_of_sheet(data, None)


def parts_of_sheet(data: bytes, boxes: Sequence[tuple[float, float, float, float]] | None) -> bytes:
    """Parts of the sheet (left, top, right, bottom in mm) on pages of their own, or all of it on one."""
    import pypdf
    from pypdf.generic import DecodedStreamObject, NameObject

    writer = pypdf.PdfWriter()
    writer.append(io.BytesIO(data), import_outline=False)
    resources = writer.pages[-1]["/Resources"]
    old = len(writer.pages)
    _, _, wide, tall = (float(v) for v in resources["/XObject"]["/sheet"]["/BBox"])  # type: ignore[index]
    k = 72 / 25.4
    for left, top, right, low in boxes or [(0.0, 0.0, wide, tall)]:
        page = writer.add_blank_page((right - left) * k, (low - top) * k)
        page[NameObject("/Resources")] = resources
        content = DecodedStreamObject()
        content.set_data(f"{k:.6f} 0 0 {k:.6f} {-left * k:.4f} {(low - tall) * k:.4f} cm /sheet Do".encode())
        page[NameObject("/Contents")] = writer._add_object(content)
    for _ in range(old):
        writer.remove_page(0)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


@lru_cache(maxsize=4)
def pages_by_pdfium(data: bytes, top_mm: float | None = None) -> tuple[np.ndarray, ...]:
    """Every page in grey at 300 dpi, or so much of each from the top.

    Drawn by a matrix: the library's simpler call stretches a page to a whole number of pixels.
    """
    import pypdfium2
    from pypdfium2 import raw

    pages = []
    scale = DPI / 72
    for page in pypdfium2.PdfDocument(data):
        wide, tall = (round(side * scale) for side in page.get_size())
        if top_mm is not None:
            tall = min(tall, round(top_mm * PIXELS))
        bitmap = pypdfium2.PdfBitmap.new_native(wide, tall, raw.FPDFBitmap_Gray)
        bitmap.fill_rect((255, 255, 255, 255), 0, 0, wide, tall)
        raw.FPDF_RenderPageBitmapWithMatrix(
            bitmap,
            page,
            raw.FS_MATRIX(scale, 0, 0, scale, 0, 0),
            raw.FS_RECTF(0, 0, wide, tall),
            raw.FPDF_GRAYSCALE,
        )
        pages.append(np.squeeze(bitmap.to_numpy()).copy())
    return tuple(pages)


@lru_cache(maxsize=2)
def pages_by_poppler(data: bytes, top_mm: float | None = None) -> tuple[np.ndarray, ...]:
    """The same by another program, which CI must have."""
    from PIL import Image

    Image.MAX_IMAGE_PIXELS = None

    program = shutil.which("pdftoppm")
    if program is None:
        if os.environ.get("CI") == "true":
            pytest.fail("pdftoppm is missing: install poppler-utils")
        pytest.skip("pdftoppm is not installed; install poppler-utils for the second opinion")
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "sheet.pdf"
        file.write_bytes(data)
        part = (
            [] if top_mm is None else ["-H", str(round(top_mm * PIXELS)), "-x", "0", "-y", "0", "-W", "99999"]
        )
        subprocess.run([program, "-r", str(DPI), "-gray", *part, str(file), f"{folder}/p"], check=True)
        return tuple(np.asarray(Image.open(p)) for p in sorted(Path(folder).glob("p*.pgm")))


RENDERERS = {"pdfium": pages_by_pdfium, "poppler": pages_by_poppler}


class Seen(NamedTuple):
    """A square in a picture, in pixels: middles of its lines."""

    left: float
    top: float
    right: float
    bottom: float


def _bars(dark: np.ndarray, shortest: int, longest: int) -> list[tuple[float, int, int]]:
    """Horizontal lines: (middle row, first column, last column), thick lines counted once."""
    lines: list[list[tuple[int, int, int]]] = []
    for row in np.flatnonzero(dark.sum(axis=1) >= shortest):
        padded = np.concatenate(([0], dark[row].astype(np.int8), [0]))
        change = np.diff(padded)
        starts, ends = np.flatnonzero(change == 1), np.flatnonzero(change == -1)
        for start, end in zip(starts, ends, strict=True):
            if shortest <= end - start <= longest:
                for line in lines:
                    last = line[-1]
                    if row - last[0] == 1 and abs(last[1] - start) <= 2 and abs(last[2] - end) <= 2:
                        line.append((int(row), int(start), int(end)))
                        break
                else:
                    lines.append([(int(row), int(start), int(end))])
    return [
        ((line[0][0] + line[-1][0] + 1) / 2, min(r[1] for r in line), max(r[2] for r in line))
        for line in lines
    ]


def squares(picture: np.ndarray, side_mm: float) -> list[Seen]:
    """Squares of about the given side (within 3 %), found by their four lines."""
    dark = picture < 110
    low, high = int(side_mm * 0.97 * PIXELS), int(side_mm * 1.03 * PIXELS)
    across, down = _bars(dark, low, high), _bars(dark.T, low, high)
    found = []
    for i, (top, left, right) in enumerate(across):
        for bottom, left2, right2 in across[i + 1 :]:
            if abs(left - left2) > 2 or abs(right - right2) > 2 or not low <= bottom - top <= high:
                continue
            sides = sorted(
                x
                for x, first, last in down
                if abs(first - top) < 6 and abs(last - bottom) < 6 and left - 6 < x < right + 6
            )
            if len(sides) == 2:
                found.append(Seen(sides[0], top, sides[1], bottom))
    return found
