"""Every style of the demo, for every client it suits, on every paper, printed and looked at.

On its own it prints a report: python -m tests.sheets.every_print [--style NAME] [--client NAME] [--paper NAME]
"""

from __future__ import annotations

import argparse
import io
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterable, Iterator
from datetime import date
from math import ceil, floor
from pathlib import Path

import numpy as np
import pypdf

from catalogue.building.common import Common
from catalogue.building.readers import StudioReaders
from catalogue.building.reading import read_studio
from catalogue.building.studio import find_files
from catalogue.drafting.model import Draft
from catalogue.sheets import PAPERS, SheetSettings, sheet_pdf
from catalogue.sheets.sheet import SheetResult
from catalogue.sheets.tiles import Tile, TileGrid, tile_grid
from catalogue.studio.suiting import suits
from tests.sheets.reading import PIXELS, pages_by_pdfium, parts_of_sheet, squares

ROOT = Path(__file__).parents[2]
SETTINGS = SheetSettings(day=date(2026, 3, 5), studio="Quillbeck & Daughters")
SIDES = (100.0, 101.6)


def drafts(styles: Iterable[str] = (), clients: Iterable[str] = ()) -> Iterator[Draft]:
    """Every draft of the demo that has pieces and no error, of the styles and clients named or of all."""
    studio = read_studio(find_files(ROOT), StudioReaders())
    common = Common(studio)
    for style in studio.styles:
        for client in studio.clients:
            if (styles and style.slug not in styles) or (clients and client.slug not in clients):
                continue
            if suits(style, client):
                draft = common.draft(style, client)
                if draft.pieces and not draft.missing and not any(f.is_error for f in draft.findings):
                    yield draft


def troubles(draft: Draft, paper: str, *, pictures: bool = True) -> list[str]:
    """What is wrong with one print; empty when all is well."""
    result = sheet_pdf(draft, PAPERS[paper], SETTINGS)
    found = [f"finding: {f.message}" for f in result.findings if f.is_error]
    found += _structure(result, draft)
    if pictures:
        found += _squares(result)
        if len(result.tiles) > 1 and not PAPERS[paper].is_large:
            found += _pages_against_sheet(result, paper)
    return found


def _structure(result: SheetResult, draft: Draft) -> list[str]:
    found = []
    file = pypdf.PdfReader(io.BytesIO(result.data), strict=True)
    if len(file.pages) != result.pages:
        found.append(f"{len(file.pages)} pages, and {result.pages} are told")
    if not set(file.page_labels) >= set(result.tiles):
        found.append("pages are not labelled as told")
    if max(float(side) for page in file.pages for side in page.mediabox[2:]) > 14_400:
        found.append("a page longer than a PDF may have")
    words = " ".join(page.extract_text() for page in file.pages)
    found += [
        f"no word of {p.title}" for p in draft.pieces.values() if p.title not in " ".join(words.split())
    ]
    if shutil.which("qpdf"):
        with tempfile.NamedTemporaryFile(suffix=".pdf") as out:
            out.write(result.data)
            out.flush()
            checked = subprocess.run(["qpdf", "--check", out.name], capture_output=True, text=True)
        if checked.returncode:
            found.append(f"qpdf: {checked.stdout}{checked.stderr}")
    return found


def _squares(result: SheetResult) -> list[str]:
    """The squares of the first page, measured in its picture at 300 dpi."""
    page = pages_by_pdfium(result.data)[0]
    found = []
    for side in SIDES:
        seen = [s for s in squares(page, side) if abs(s.right - s.left - side * PIXELS) < 0.8 * PIXELS]
        true = [
            s
            for s in seen
            if abs(s.right - s.left - side * PIXELS) <= 1 and abs(s.bottom - s.top - side * PIXELS) <= 1
        ]
        if not true or len(true) < len(seen):
            found.append(f"squares of {side:g} mm: {len(seen)} seen, {len(true)} true")
    return found


def _pages_against_sheet(result: SheetResult, paper: str) -> list[str]:
    """Whether each page shows the part of the sheet that it should, whole and within a pixel."""
    pages = pages_by_pdfium(result.data)[1:]
    grid = grid_of(pages[0], paper)
    windows = [grid.window(tile_called(label)) for label in result.tiles]
    lost = 0
    for page, due in zip(pages, pages_by_pdfium(parts_of_sheet(result.data, windows)), strict=True):
        # A window begins between two pixels: it is held against those on either side.
        corners = [
            (left, top)
            for left in {floor(grid.window_left * PIXELS), ceil(grid.window_left * PIXELS)}
            for top in {floor(grid.window_top * PIXELS), ceil(grid.window_top * PIXELS)}
        ]
        lost += min(_lost(page[top:, left:], due) for left, top in corners)
    return [f"{lost} pixels of the sheet are not where they should be"] if lost else []


def _lost(page: np.ndarray, due: np.ndarray) -> int:
    """Pixels of ink that are due and have none of the page's beside them."""
    ink = page[: due.shape[0], : due.shape[1]] < 200
    near = np.zeros(ink.shape, bool)
    for x in (-1, 0, 1):
        for y in (-1, 0, 1):
            near |= np.roll(ink, (y, x), (0, 1))
    inner = (slice(2, -2), slice(2, -2))
    return int(((due < 80) & ~near)[inner].sum())


def grid_of(page: np.ndarray, paper: str) -> TileGrid:
    given = PAPERS[paper]
    return tile_grid(given.landscape() if page.shape[1] > page.shape[0] else given)


def tile_called(label: str) -> Tile:
    letters = label.rstrip("0123456789")
    column = 0
    for letter in letters:
        column = column * 26 + ord(letter) - 64
    return Tile(column - 1, int(label[len(letters) :]) - 1)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    for name in ("style", "client", "paper"):
        parser.add_argument(f"--{name}", nargs="+", default=[])
    given = parser.parse_args()
    count = wrong = 0
    for draft in drafts(given.style, given.client):
        for paper in given.paper or PAPERS:
            count += 1
            for trouble in troubles(draft, paper):
                wrong += 1
                print(f"{draft.style.slug} for {draft.client.slug} on {paper}: {trouble}")
    print(f"{count} prints, {wrong} troubles")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
