"""The job ticket: one garment on one or two sheets of A4, to hang beside the work."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from catalogue.cloth.words import bolt_words
from catalogue.days import day_words
from catalogue.drawing.canvas import LineKind
from catalogue.drawing.flat import flat
from catalogue.drawing.labels import cloth_words, count_words, letters_of
from catalogue.drawing.view import BUTTON, View
from catalogue.geometry import Box, Path, Point
from catalogue.lengths import show_length
from catalogue.people.orders import STAGES
from catalogue.sheets.cover import CAUTIONS, FOR_CHILDREN, is_for_child
from catalogue.sheets.ink import PdfCanvas
from catalogue.sheets.pdf import PdfFile
from catalogue.studio.body import fence_of
from catalogue.studio.prose import Prose
from catalogue.studio.sketches import Sketch, sketches_in
from catalogue.workroom.columns import GAP, LINE, MARGIN, TALL, WIDE, Flow
from catalogue.workroom.lay_drawing import drawn_box
from catalogue.workroom.lay_prints import place_lay, spread_words
from catalogue.workroom.notions import notion_words
from catalogue.workroom.order_view import OrderView

COLUMN = (WIDE - 2 * MARGIN - GAP) / 2
_LINES = {"edge": LineKind.CUT, "dart": LineKind.DART, "stitch": LineKind.STITCH}
_WORK = re.compile(r"\b(sewing|making|cutting|pressing)\b", re.IGNORECASE)
_ITEM = re.compile(r"\s*(?:\d{1,3}[.)]|[-*])\s+(.*)")
NEEDLES = (
    (("chiffon", "georgette"), "60/8"),
    (("silk", "batiste", "lawn"), "70/10"),
    (("denim", "duck", "drill"), "100/16"),
    (("wool", "corduroy", "velvet"), "90/14"),
    (("cotton", "linen", "viscose", "poplin"), "80/12"),
)
"""Machine needles by cloth (sweetbriarstudio, 2010)."""


def needle_for(words: str) -> str:
    """The machine needle for a cloth described so; "" when it is not known."""
    words = words.casefold()
    return next((needle for kinds, needle in NEEDLES if any(kind in words for kind in kinds)), "")


class WorkStep(NamedTuple):
    """An item of the chapters on cutting and sewing, and the sketches below it."""

    words: str
    sketches: tuple[Sketch, ...] = ()


def work_steps(view: OrderView) -> list[WorkStep]:
    """What is to be done, in the order of the style file: the items of its chapters on cutting and sewing."""
    steps: list[WorkStep] = []
    inside = False
    for section in view.style.sections:
        if section.level == 1:
            inside = bool(_WORK.search(section.heading))
        if inside:
            for part in section.parts:
                if isinstance(part, Prose):
                    steps += _items(part, view)
    return steps


def _items(prose: Prose, view: OrderView) -> list[WorkStep]:
    text = prose.filled(view.draft.rendered, view.draft.holding)
    sketches = {start: sketch for start, _, sketch in sketches_in(text)}
    found: list[str] = []
    below: dict[int, tuple[Sketch, ...]] = {}
    fence = ""
    for number, line in enumerate(text.split("\n")):
        mark = fence_of(line.lstrip(" "))
        if fence or mark.ticks:
            if number in sketches:
                below[len(found)] = (*below.get(len(found), ()), sketches[number])
            fence = ("" if mark.closes(fence) else fence) if fence else mark.ticks
        elif item := _ITEM.match(line):
            found.append(item[1])
        elif line.strip() and found and line[:1].isspace():
            found[-1] += f" {line.strip()}"
    words = [re.sub(r"[*_`]|\[([^\]]*)\]\([^)]*\)", r"\1", item).strip() for item in found]
    return [WorkStep(item, below.get(number, ())) for number, item in enumerate(words, 1)]


def _about(view: OrderView) -> str:
    return f"{view.style.title} for {view.client.name}"


def _file(kind: str, view: OrderView, studio: str, language: str) -> PdfFile:
    """A PDF without pages, named after what it is and the order."""
    return PdfFile(
        title=f"{kind}: {view.order.name}",
        subject=_about(view),
        author=studio,
        day=view.order.ordered,
        language=language,
    )


def ticket_pdf(view: OrderView, studio: str, language: str) -> bytes:
    """The ticket as a PDF. Its bytes depend on the order alone."""
    file = _file("Job ticket", view, studio, language)
    first = file.page()
    _front(file, first, view, studio)
    file.add_page(first, WIDE, TALL, "1")
    second = file.page()
    _back(second, view)
    file.add_page(second, WIDE, TALL, "2")
    return file.getvalue()


def notes_pdf(view: OrderView, studio: str, language: str) -> bytes:
    """The cutting and sewing steps in full, on as many pages as they need."""
    about = _about(view)
    file = _file("Sewing notes", view, studio, language)
    left: list[str | Sketch] = []
    for count, step in enumerate(work_steps(view), 1):
        left += (f"{count}. {step.words}", *step.sketches)
    number = 0
    while left or not number:
        number += 1
        page = file.page()
        room = Box(MARGIN, MARGIN, WIDE - MARGIN, TALL - MARGIN - 2 * LINE)
        flow = Flow(page, room, more="… more on the next page")
        flow.head(f"{about}: cutting and sewing" if number == 1 else about)
        flow.line(f"{view.order.name}, page {number}")
        while left:
            if isinstance(left[0], str):
                flow.line(left[0], size=4.0)
            else:
                flow.sketch(left[0])
            if flow.full:
                break
            left.pop(0)
        file.add_page(page, WIDE, TALL, str(number))
    return file.getvalue()


def _front(file: PdfFile, page: PdfCanvas, view: OrderView, studio: str) -> None:
    order, client, draft = view.order, view.client, view.draft
    page.open_group("title", kind="title", title=order.name)
    page.text(Point(MARGIN, 17), view.style.title, 7.0, kind="strong")
    page.close_group()
    page.text(Point(MARGIN, 23), f"{client.name} · order “{order.name}” · {studio}".strip(" ·"), 3.8)
    days = (("ordered", order.ordered), ("due", order.due))
    dates = ", ".join(f"{what} {day_words(day, client.units.dates)}" for what, day in days if day)
    page.text(Point(MARGIN, 28.5), dates[:1].upper() + dates[1:], 3.8, kind="strong")
    left = Flow(page, Box(MARGIN, 31.0, MARGIN + COLUMN, TALL - MARGIN))
    right = Flow(page, Box(MARGIN + COLUMN + GAP, 31.0, WIDE - MARGIN, TALL - MARGIN))
    left.y = _drawing(page, view, Box(MARGIN, 34.0, MARGIN + COLUMN, 104.0))
    left.head("Measurements")
    register = draft.style.register
    used = [key for key in draft.style.uses if key in client.measurements]
    left.lines(
        f"{register.name_of(key)}: {show_length(client.measurements[key].mm, client.units)}" for key in used
    )
    if draft.choices:
        left.head("Options")
        left.lines(f"{name}: {value}" for name, value in draft.choices.items())
    right.head("Stages")
    for stage in STAGES:
        day = order.stages.get(stage)
        right.line(
            f"{stage} {day_words(day, client.units.dates)}" if day else f"{stage}  ____________", box=not day
        )
    if view.missing:
        right.head("Missing")
        right.lines(view.missing, box=True)
    fittings = [line for line in client.fittings if line.garment == order.style]
    if fittings:
        right.head("Fittings to apply")
        right.lines((f"{day_words(line.date)}: {line.text}" for line in fittings), box=True)
    right.head("Cloth")
    letters = letters_of(list(draft.pieces.values()))
    for each in view.lays:
        stock = f", from the {bolt_words(each.from_stock, client.units)} at hand" if each.from_stock else ""
        right.line(f"{cloth_words(each.use)}: {each.cloth.name}, {each.shown}{stock}", strong=True)
        if each.lay is not None and each.lay.sections:
            spread = ", then ".join(spread_words(each))
            right.line(f"{spread[:1].upper() + spread[1:]}.")
        right.lines(each.remarks)
        if each.lay is not None and each.lay.flat and not right.full:
            box = drawn_box(each.lay)
            scale = min(COLUMN / box.width, 26.0 / box.height)
            if right.y + box.height * scale + 4 < right.room.bottom:
                place_lay(file, page, each, letters, scale, Point(right.room.left, right.y + 2))
                right.y += box.height * scale + 4
    named = {use for use, _, _ in order.cloths}
    named |= {use for use, _ in draft.style.cloth} - {piece.cut.cloth for piece in draft.pieces.values()}
    right.lines(f"{cloth_words(use)}: {words}" for use, words in draft.style.cloth if use not in named)
    right.head("Notions")
    right.lines(notion_words(draft), box=True)
    if order.note:
        right.head("Note")
        right.line(order.note)


def _back(page: PdfCanvas, view: OrderView) -> None:
    """The second sheet: what to cut, how to sew, what to mind."""
    draft = view.draft
    left = Flow(page, Box(MARGIN, MARGIN, MARGIN + COLUMN, TALL - MARGIN))
    right = Flow(page, Box(MARGIN + COLUMN + GAP, MARGIN, WIDE - MARGIN, TALL - MARGIN))
    letters = letters_of(list(draft.pieces.values()))
    left.head("To cut")
    left.lines(
        (
            f"{letters[p.name]} {p.title}: {count_words(p.cut)}, {cloth_words(p.cut.cloth)}"
            for p in draft.pieces.values()
        ),
        box=True,
    )
    left.head("Safety")
    left.lines(cautions(view))
    right.head("To cut and sew")
    right.lines((step.words for step in work_steps(view)), box=True)


def cautions(view: OrderView) -> Sequence[str]:
    """What can hurt someone or spoil the cloth of this garment."""
    found = [*CAUTIONS[:2]]
    for each in view.lays:
        cloth = each.cloth
        needle = needle_for(f"{cloth.fibre} {cloth.name}")
        if needle and each.use != "interfacing":
            found.append(
                f"{cloth.name}: machine needle {needle}, a new one; a blunt needle pulls threads and breaks."
            )
        if cloth.about:
            found.append(f"{cloth.name}: {cloth.about}.")
        if cloth.is_one_way:
            found.append(f"{cloth.name}: every piece the same way up; check before the first cut.")
        if cloth.is_matched:
            found.append(f"{cloth.name}: match on the seam lines; cut a pair one by one on a single layer.")
    if is_for_child(view.client.kind, view.style.audience):
        found += FOR_CHILDREN
    return found


def _drawing(page: PdfCanvas, view: OrderView, room: Box) -> float:
    """The garment, front and back, or nothing; returns where the rest begins."""
    drawing = flat(view.draft) if view.draft.pieces and not view.draft.missing and view.style.flat else None
    if drawing is None:
        return room.top
    views = (drawing.front, drawing.back)
    boxes = [_view_box(each) for each in views]
    scale = min(room.height / max(b.height for b in boxes), room.width / (sum(b.width for b in boxes) * 1.1))
    x = room.left
    for each, box in zip(views, boxes, strict=True):
        for kind, points, closed in [*each.strokes, ("edge", each.outline, True)]:
            at = [Point(x + (p[0] - box.left) * scale, room.top + (p[1] - box.top) * scale) for p in points]
            if len(at) > 2 and kind in ("cloth", "inside"):
                page.fill(Path.polyline([*at, at[0]]), "paper")  # It covers what lies behind it.
            elif len(at) > 1:
                page.stroke(Path.polyline(at), _LINES.get(kind, LineKind.GUIDE), closed=closed)
        for p in each.buttons:
            middle = Point(x + (p.x - box.left) * scale, room.top + (p.y - box.top) * scale)
            page.dot(middle, BUTTON * scale, filled=False, line=LineKind.GUIDE)
        x += box.width * scale * 1.1
    return room.top + max(b.height for b in boxes) * scale + 2


def _view_box(view: View) -> Box:
    points = [Point(*p) for _, line, _ in view.strokes for p in line] + [Point(*p) for p in view.outline]
    return Box.around(points)
