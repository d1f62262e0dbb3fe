"""A lay on paper: a sheet for the cutting table with dimensions, and the lay at true size for a plotter."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil

from catalogue.drawing.canvas import LineKind
from catalogue.drawing.linestyles import STYLES, LineStyle
from catalogue.geometry import Box, Path, Point
from catalogue.lengths import Units, show_length
from catalogue.sheets.ink import PdfCanvas
from catalogue.sheets.pdf import PdfFile
from catalogue.sheets.wrapping import wrap
from catalogue.workroom.lay_drawing import draw_lay, drawn_box, numbered
from catalogue.workroom.order_view import OrderLay, OrderView

LONGEST_PAGE = 5_000.0
"""mm: no page of a PDF is longer than 14 400 units (ISO 32000-1, annex C.2)."""
WIDE, TALL, MARGIN = 297.0, 210.0, 12.0
HOW = {
    "single": "single layer, wrong side up",
    "lengthwise": "folded lengthwise, right sides together, selvedges together; the fold is at the top",
    "crosswise": "folded across, right sides together; the fold is on the left",
}


def table_pdf(
    view: OrderView, each: OrderLay, letters: Mapping[str, str], studio: str, language: str
) -> bytes:
    """The sheet for the cutting table: the lay to scale, and where each cut lies, in the client's units."""
    lay, units = each.lay, view.client.units
    assert lay is not None
    file = _file(f"Lay: {each.cloth.name}", view, studio, language)
    page = file.page()
    _head(page, f"{each.cloth.name}: lay of the {each.use} cloth", f"{view.client.name}: {view.style.title}")
    lines = [
        f"Buy {each.shown}. Laid length {show_length(lay.length, units)}, "
        f"{show_length(lay.width, units)} between the selvedges; {lay.used:.0%} used.",
        *(
            f"From {show_length(s.start, units)}: {words}, {show_length(s.length, units)} long."
            for s, words in zip(lay.sections, spread_words(each), strict=True)
        ),
        *each.remarks,
        *([f"All pieces lie the same way up ({_why_one_way(each)})."] if each.cloth.is_one_way else []),
        *([_bar_words(each, units)] if each.cloth.is_matched else []),
    ]
    y = 27.0
    for line in (part for words in lines for part in wrap(words, 3.4, WIDE - 2 * MARGIN)):
        page.text(Point(MARGIN, y), line, 3.4)
        y += 4.6
    box = drawn_box(lay)
    room = Box(MARGIN, y + 2, WIDE - MARGIN, TALL - MARGIN)
    scale = min(room.width / box.width, room.height / box.height, 0.2)
    place_lay(file, page, each, letters, scale, Point(room.left, room.top))
    file.add_page(page, WIDE, TALL, "1")
    _table(file, view, each, letters)
    return file.getvalue()


def spread_words(each: OrderLay) -> list[str]:
    """How each section of a lay is spread; pile lies outwards, for pile on pile creeps (common practice, no source)."""
    sections = each.lay.sections if each.lay is not None else ()
    has_pile = each.cloth.direction in ("nap up", "nap down")
    words = [HOW[section.how] for section in sections]
    return [
        w.replace("right sides together", "wrong sides together, the pile outside") if has_pile else w
        for w in words
    ]


def _why_one_way(each: OrderLay) -> str:
    return "uneven pattern" if each.cloth.direction == "either way" else each.cloth.direction


def _bar_words(each: OrderLay, units: Units) -> str:
    cloth = each.cloth
    parts = []
    if cloth.repeat_along:
        parts.append(
            f"the cloth begins at a main bar; one follows every {show_length(cloth.repeat_along, units)}"
        )
    if cloth.repeat_across:
        parts.append(
            f"the first main bar lies {show_length(cloth.first_bar, units)} from the selvedge, "
            f"one follows every {show_length(cloth.repeat_across, units)}"
        )
    return (
        f"Pattern (before shrinking): {'; '.join(parts)}. Match on the seam lines, and look before each cut."
    )


def _table(file: PdfFile, view: OrderView, each: OrderLay, letters: Mapping[str, str]) -> None:
    lay, units = each.lay, view.client.units
    assert lay is not None
    cuts, rows = numbered(lay), 36
    titles = {piece.name: piece.title for piece in view.draft.pieces.values()}
    for number in range(ceil(len(cuts) / rows)):
        page = file.page()
        _head(page, f"{each.cloth.name}: where each cut lies", f"{view.client.name}: {view.style.title}")
        heads = ("No.", "Piece", "Cut through", "From selvedge or fold", "From the section's beginning")
        columns = (MARGIN, MARGIN + 14, MARGIN + 120, MARGIN + 170, MARGIN + 222)
        for x, words in zip(columns, heads, strict=True):
            page.text(Point(x, 30), words, 3.4, kind="strong")
        for row, cut in enumerate(cuts[number * rows : (number + 1) * rows]):
            y = 35.5 + row * 4.7
            layers = (
                "on the fold" if cut.cut.on_fold else "both layers" if cut.cut.layers == 2 else "one layer"
            )
            told = (
                str(cut.number),
                f"{letters.get(cut.cut.name, '')} {titles.get(cut.cut.name, cut.cut.name)}",
                layers,
                show_length(cut.from_edge, units),
                show_length(cut.from_end, units),
            )
            for x, text in zip(columns, told, strict=True):
                page.text(Point(x, y), text, 3.4)
        file.add_page(page, WIDE, TALL, str(number + 2))


def plot_pdf(
    view: OrderView, each: OrderLay, letters: Mapping[str, str], studio: str, language: str
) -> bytes:
    """The lay at true size, as the cloth is spread, for a plotter; one page for each 5 m."""
    lay = each.lay
    assert lay is not None
    file = _file(f"Lay at true size: {each.cloth.name}", view, studio, language)
    box = drawn_box(lay)
    form = file.canvas()
    draw_lay(form, lay, letters, 30.0)
    form.stroke(
        Path.polyline([Point(10, 10), Point(110, 10), Point(110, 110), Point(10, 110), Point(10, 10)]),
        LineKind.FRAME,
    )
    form.text(Point(14, 20), "10 cm each way: measure before you cut", 4.0)
    file.add_form("lay", form, box.width, box.height)
    for number in range(max(ceil(box.width / LONGEST_PAGE), 1)):
        left = number * LONGEST_PAGE
        shown = Box(left, 0.0, min(left + LONGEST_PAGE, box.width), box.height)
        page = file.page()
        file.place(page, "lay", box.height, shown, Point(0.0, 0.0))
        file.add_page(page, shown.width, shown.height, str(number + 1))
    return file.getvalue()


def _file(title: str, view: OrderView, studio: str, language: str) -> PdfFile:
    about = f"{view.style.title} for {view.client.name}"
    return PdfFile(title=title, subject=about, author=studio, day=view.order.ordered, language=language)


def _head(page: PdfCanvas, title: str, about: str) -> None:
    page.open_group("title", kind="title", title=title)
    page.text(Point(MARGIN, 16), title, 6.0, kind="strong")
    page.close_group()
    page.text(Point(MARGIN, 21.5), about, 3.6, kind="quiet")


def place_lay(
    file: PdfFile, page: PdfCanvas, each: OrderLay, letters: Mapping[str, str], scale: float, at: Point
) -> None:
    """Draw a lay on a page, smaller than life; lines and letters keep their size on paper."""
    assert each.lay is not None
    form = file.canvas()
    form.styles = {
        kind: LineStyle(style.width / 2 / scale, tuple(d / scale for d in style.dash), style.tone)
        for kind, style in STYLES.items()
    }
    draw_lay(form, each.lay, letters, 3.2 / scale)
    page.literal(f"q {scale:.5f} 0 0 {scale:.5f} {at.x:.3f} {at.y:.3f} cm\n{form.content()}\nQ")
