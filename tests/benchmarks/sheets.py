"""How long drawings and sheets take, how large they are, and how many pages they need.

    python -m tests.benchmarks.sheets [--json FILE]

Medians of warm runs, in processor time, so that other work on the machine counts little. The floor is what a general
PDF library (reportlab) needs to draw the sheet alone on one page by its own calls; every file needs a font object of
its own, or its bytes would depend on the files made before. The floor with a font used again is told too.
"""

from __future__ import annotations

import argparse
import io
import json
import statistics
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any

from catalogue.drawing.bounds import Recorder
from catalogue.drawing.linestyles import STYLES
from catalogue.drawing.overview import draft_svg
from catalogue.geometry import Cubic
from catalogue.sheets.fonts import font_folder
from catalogue.sheets.packing import pack
from catalogue.sheets.paper import PAPERS
from catalogue.sheets.sheet import SheetSettings, sheet_pdf
from catalogue.sheets.tiles import tile_grid
from tests.drawing.pieces import bodice_back, bodice_front, collar, draft, skirt_front, sleeve, tab
from tests.sheets.every_print import drafts
from tests.sheets.slabs import slab

SETTINGS = SheetSettings(day=date(2026, 3, 5), studio="Thread and Chalk")
RUNS = 15


def median_ms(work: Callable[[], Any], runs: int = RUNS) -> float:
    work()
    times = []
    for _ in range(runs):
        start = time.process_time()
        work()
        times.append((time.process_time() - start) * 1000)
    return round(statistics.median(times), 2)


def one_page(sample: Any, *, new_font: bool = True) -> bytes:
    """The sheet drawn with the library's own calls on one large page."""
    from reportlab.pdfbase import pdfmetrics, ttfonts
    from reportlab.pdfgen.canvas import Canvas

    from catalogue.drawing.labels import label_lines, letters_of
    from catalogue.drawing.paint import paint_piece

    pieces = list(sample.pieces.values())
    letters = letters_of(pieces)
    recorder = Recorder()
    for piece in pieces:
        paint_piece(recorder, piece, label=label_lines(piece, letters[piece.name], "T", "C"))
    if new_font or "floor" not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(ttfonts.TTFont("floor", str(font_folder() / "sans.ttf")))
    out = io.BytesIO()
    font: Any = "floor"  # a name, though the library's types say a number
    canvas = Canvas(out, pagesize=(3000, 4000), invariant=1, pageCompression=1, initialFontName=font)
    k = 72 / 25.4
    for args, _ in recorder.of("stroke"):
        path, kind = args
        style = STYLES[kind]  # type: ignore[index]
        canvas.setLineWidth(style.width * k)
        canvas.setDash([d * k for d in style.dash])
        drawn = canvas.beginPath()
        drawn.moveTo(path.start[0] * k, -path.start[1] * k)  # type: ignore[attr-defined]
        for s in path.segments:  # type: ignore[attr-defined]
            if isinstance(s, Cubic):
                drawn.curveTo(*(v * k for p in (s.c1, s.c2, s.end) for v in (p[0], -p[1])))
            else:
                drawn.lineTo(s.end[0] * k, -s.end[1] * k)
        canvas.drawPath(drawn)
    for args, named in recorder.of("text"):
        at, words, size = args
        canvas.saveState()
        canvas.translate(at[0] * k, -at[1] * k)  # type: ignore[index]
        canvas.rotate(-float(named["angle"]))  # type: ignore[arg-type]
        canvas.setFont("floor", float(size) * k)  # type: ignore[arg-type]
        canvas.drawCentredString(0, 0, str(words))
        canvas.restoreState()
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def font_bytes(data: bytes) -> int:
    """What the embedded fonts take in the file, compressed."""
    import zlib

    import pypdf

    found = {}
    for page in pypdf.PdfReader(io.BytesIO(data)).pages:
        resources: Any = page["/Resources"]
        for name, font in resources["/Font"].items():
            part = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"]["/FontFile2"]
            found[name] = len(zlib.compress(part.get_object().get_data()))
    return sum(found.values())


def report() -> dict[str, Any]:
    garment = draft()
    larger = draft(*(p() for p in (bodice_front, bodice_back, sleeve, collar, tab, skirt_front)),
                   *(replace(skirt_front(290 + i, 700), name=f"panel_{i}") for i in range(3)))  # fmt: skip
    wardrobe = draft(*larger.pieces.values(),
                     *(replace(skirt_front(300 + i, 720), name=f"gore_{i}") for i in range(6)))  # fmt: skip
    plain = draft(*(slab(f"panel {i}", 560, 790) for i in range(5)))
    found: dict[str, Any] = {"svg_ms": median_ms(lambda: draft_svg(garment))}
    for name, sample, settings in (
        ("garment", garment, SETTINGS),
        ("larger", larger, SETTINGS),
        ("wardrobe", wardrobe, SETTINGS),
        ("plain", plain, replace(SETTINGS, may_turn=False)),
    ):
        paper = PAPERS["a4"]
        result = sheet_pdf(sample, paper, settings)
        whole = median_ms(partial(sheet_pdf, sample, PAPERS["a4"], settings))
        outlines = [p.outline for p in sample.pieces.values()]
        packing = median_ms(partial(pack, outlines, tile_grid(PAPERS["a4"]), may_turn=settings.may_turn))
        floor = median_ms(partial(one_page, sample))
        again = median_ms(partial(one_page, sample, new_font=False))
        fonts = font_bytes(result.data)
        found[name] = {
            "tiles": len(result.tiles),
            "lower_bound": result.lower_bound,
            "pdf_ms": whole,
            "of_which_packing_ms": packing,
            "ms_per_tile": round(whole / len(result.tiles), 2),
            "one_page_by_the_library_ms": floor,
            "times_one_page": round(whole / floor, 2),
            "times_one_page_without_packing": round((whole - packing) / floor, 2),
            "one_page_with_a_font_used_again_ms": again,
            "times_that": round(whole / again, 2),
            "kb": round(len(result.data) / 1024, 1),
            "kb_before_fonts": round((len(result.data) - fonts) / 1024, 1),
        }
    found["pages_on_each_paper"] = {
        name: f"{len(r.tiles)} (bound {r.lower_bound})"
        for name, paper in PAPERS.items()
        if (r := sheet_pdf(garment, paper, SETTINGS))
    }
    found["pages_of_the_whole_demo"] = {
        name: demo_pages(name) for name in ("a4", "a3", "letter", "legal", "tabloid")
    }
    return found


def demo_pages(paper: str) -> str:
    """Pages of all styles for all clients against the bound of their areas, which no laying could reach."""
    results = [sheet_pdf(d, PAPERS[paper], SETTINGS) for d in drafts()]
    pages, bound = sum(len(r.tiles) for r in results), sum(r.lower_bound for r in results)
    return f"{pages} (bound {bound}, {pages / bound:.2f} times)"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--json", type=Path, help="write the figures to this file too")
    arguments = parser.parse_args()
    figures = report()
    print(json.dumps(figures, indent=2))
    if arguments.json:
        arguments.json.write_text(json.dumps(figures, indent=2) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
