"""The files of a draft for other machines, by the kinds a studio asks for."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from catalogue.drawing.dxf import block_names, draft_dxf
from catalogue.drawing.labels import drill_key, drill_words, letters_of
from catalogue.drawing.parts import parts_of
from catalogue.drawing.piece_svg import piece_svg
from catalogue.slugs import slugify

if TYPE_CHECKING:
    from catalogue.drafting.model import Draft

DXF_FILE = "draft.dxf"
FOLDER = "exchange"


class ExchangeFile(NamedTuple):
    """A file by its name beside the page, what it is, a remark, and whether it holds one piece alone."""

    name: str
    what: str
    about: str
    data: bytes
    one_piece: bool = False


def exchange_files(draft: Draft, kinds: Sequence[str], *, day: str = "") -> list[ExchangeFile]:
    """The files of a draft: `kinds` holds "dxf" (all pieces in one file) and "svg" (a file for each piece)."""
    pieces = list(draft.pieces.values())
    parts = [parts_of(piece, draft.cut_lines.get(piece.name)) for piece in pieces]
    found = []
    if "dxf" in kinds and pieces:
        title, client = draft.style.title, draft.client.name
        data = draft_dxf(pieces, draft.cut_lines, style=title, client=client, day=day, known=parts)
        found.append(ExchangeFile(DXF_FILE, "The pieces as DXF", "in mm, for other pattern programs", data))
    if "svg" in kinds:
        letters = letters_of(pieces)
        blocks = block_names([p.name for p in pieces])
        for piece, its in zip(pieces, parts, strict=True):
            title = f"{letters[piece.name]} {piece.title} · {draft.style.title} · {draft.client.name}"
            text = piece_svg(piece, draft.cut_lines.get(piece.name), title=title, parts=its)
            name = f"{FOLDER}/{slugify(blocks[piece.name].lower())}.svg"
            what = f"Piece {letters[piece.name]}, {piece.title}"
            about = "lines alone, for a plotter or cutter"
            if drill_key([piece], draft.client.units):
                about += f", {drill_words(draft.client.units)} of each dart"
            found.append(ExchangeFile(name, what, about, text.encode(), True))
    return found
