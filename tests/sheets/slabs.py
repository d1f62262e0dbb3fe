"""Plain pieces to print, and what is read of the prints."""

from __future__ import annotations

import io
from datetime import date

import pypdf

from catalogue.drawing.labels import letters_of
from catalogue.geometry import Point
from catalogue.pattern import Edge, Piece
from catalogue.sheets.cover import CoverPiece
from catalogue.sheets.sheet import SheetSettings
from tests.drawing.pieces import line

SETTINGS = SheetSettings(day=date(2026, 3, 5), studio="Thread and Chalk")


def reader(data: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(data), strict=True)


def words_of(data: bytes, page: int) -> str:
    return " ".join(reader(data).pages[page].extract_text().split())


def slab(name: str, w: float, h: float) -> Piece:
    a, b, c, d = Point(0, 0), Point(w, 0), Point(w, h), Point(0, h)
    edges = (
        Edge("top", line(a, b)),
        Edge("right", line(b, c)),
        Edge("low", line(c, d)),
        Edge("left", line(d, a)),
    )
    return Piece(name, name.title(), edges)


def parts_of(pieces: list[Piece]) -> list[CoverPiece]:
    letters = letters_of(pieces)
    return [CoverPiece(p, letters[p.name], (p.outline,)) for p in pieces]
