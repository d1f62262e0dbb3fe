"""The fitting sheet: one page of A4 to take to a fitting, to draw and write on."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

from catalogue.days import day_shown, day_words
from catalogue.drafting import Draft
from catalogue.drafting.possible_alterations import possible_alterations
from catalogue.drawing.body_outline import body_outline_for
from catalogue.drawing.canvas import LineKind
from catalogue.drawing.fitting_signs import draw_sign
from catalogue.geometry import Box, Path, Point, Transform, union
from catalogue.language.wording import in_words
from catalogue.lengths import show_length
from catalogue.sheets.ink import PdfCanvas
from catalogue.sheets.pdf import PdfFile
from catalogue.studio.alterations import Alteration
from catalogue.workroom.columns import GAP, LINE, MARGIN, SIZE, TALL, WIDE, Flow, wrapped

FIGURES = Box(MARGIN + 1.0, 33.0, WIDE - MARGIN, 141.0)
"""Where the body is drawn."""
ROW = 4.7
"""mm from a line to write on to the next."""
SIGNS, SIGN, MOST_SIGNS = 29.0, 17.0, 9
"""mm that the signs take at the foot, mm across one of them, and how many there are at most."""
_AMOUNT, _SIDE = 13.0, 14.0
_OWN_ROWS = 2


def fitting_sheet_pdf(
    draft: Draft,
    studio: str = "",
    language: str = "",
    own: Sequence[Alteration] = (),
    ease: Sequence[str] = (),
    day: datetime.date | None = None,
) -> bytes:
    """The sheet as a PDF. Its bytes depend on the draft and the settings alone.

    Args:
        own: the studio's own alterations.
        ease: where the garment is tight or loose, in sentences.
        day: the date of the draft.
    """
    about = f"{draft.style.title} for {draft.client.name}"
    file = PdfFile(title=f"Fitting sheet: {about}", subject=about, author=studio, day=day, language=language)
    page = file.page()
    page.open_group("title", kind="title", title=about)
    for words in wrapped(f"Fitting: {about}", 5.6, WIDE - 2 * MARGIN, True)[:1]:
        page.text(Point(MARGIN, 17.0), words, 5.6, kind="strong")
    page.close_group()
    drafted = f"Draft of {day_words(day, draft.client.units.dates)}. " if day else ""
    page.text(Point(MARGIN, 23.0), f"{drafted}{studio}", SIZE)
    to_fill_in = (
        "Day ____________",
        "Fitted by ________________",
        "Cloth of the toile ______________________",
    )
    page.text(Point(MARGIN, 29.5), "   ".join(to_fill_in), SIZE)
    _bodies(page, draft)
    top = FIGURES.bottom + 1.0
    half = (WIDE - 2 * MARGIN - GAP) / 2
    usual = possible_alterations(draft, own)
    shown = _signs_shown(usual)
    bottom = TALL - MARGIN - (SIGNS if shown else 0.0)
    left = Box(MARGIN, top, MARGIN + half, bottom)
    right = Flow(page, Box(MARGIN + half + GAP, top, WIDE - MARGIN, bottom - LINE))
    _alterations(page, left, usual, draft)
    _signs(page, shown, bottom)
    _finished(right, draft)
    _last_time(right, draft)
    if ease:
        right.head("Ease")
        right.lines(ease)
    if not right.full:
        right.head("Seen on the body")
        for y in range(int(right.y + 8.0), int(right.room.bottom), 8):
            page.stroke(Path.line(Point(right.room.left, y), Point(right.room.right, y)), LineKind.MARK)
    file.add_page(page, WIDE, TALL, "1")
    return file.getvalue()


def _bodies(page: PdfCanvas, draft: Draft) -> None:
    """The body from the front, the back and the side, of the client's own measurements, to draw on."""
    measured = {key: m.mm for key, m in draft.client.measurements.items()}
    body = body_outline_for(measured, draft.client.kind)
    middle = [Path.line(Point(0.0, body.y(124.0)), Point(0.0, body.y(281.0)))]
    standing = body.outlines()
    views = (
        ("Front (the body’s right is on the left)", standing),
        ("Back", [*standing, *middle]),
        ("Side", body.from_the_side()),
    )
    boxes = [box for _, paths in views if (box := union(path.bounds() for path in paths))]
    scale = min(
        (FIGURES.height - 5.0) / max(box.height for box in boxes),
        FIGURES.width / 3 / max(box.width for box in boxes),
    )
    for n, ((title, paths), box) in enumerate(zip(views, boxes, strict=True)):
        x = FIGURES.left + (n + 0.5) * FIGURES.width / 3
        by = Transform.scaling(scale, scale).then(
            Transform.translation(
                Point(x - scale * (box.left + box.right) / 2, FIGURES.top + 4.0 - scale * box.top)
            )
        )
        page.text(Point(x, FIGURES.top + 2.0), title, SIZE, anchor="middle")
        for path in paths:
            page.stroke(path.transformed(by), LineKind.GUIDE)


def _alterations(page: PdfCanvas, room: Box, usual: Sequence[Alteration], draft: Draft) -> None:
    """Rows to fill in, as many as there is room for, and some without a name."""
    flow = Flow(page, room)
    flow.head("Alterations usual for this garment")
    y = flow.y + 3.0
    amount, side = room.right - _SIDE - _AMOUNT, room.right - _SIDE
    page.text(Point(amount, y), "amount", 2.4)
    page.text(Point(side, y), "side", 2.4)
    rows = _rows(usual, draft)
    fits = max(int((room.bottom - y) / ROW) - _OWN_ROWS, 0)
    if len(rows) > fits:
        rows = [*rows[: fits - 1], ("others: see the handbook’s chapter on fitting", True)]
    for words, one_sided in [*rows, *[("", True)] * _OWN_ROWS]:
        y += ROW
        size = 2.5
        if words:
            lines = wrapped(words, size, room.width - _SIDE - _AMOUNT - 1.0)
            # Where the usual amounts have no room, half of them would mislead.
            page.text(
                Point(room.left, y - 1.0), lines[0] if len(lines) == 1 else words.partition(":")[0], size
            )
        else:
            page.stroke(Path.line(Point(room.left, y), Point(amount - 2.0, y)), LineKind.MARK)
        page.stroke(Path.line(Point(amount, y), Point(side - 2.0, y)), LineKind.MARK)
        page.text(Point(side, y - 1.0), "L    R    both" if one_sided else "both", 2.6)


def _signs_shown(usual: Sequence[Alteration]) -> list[Alteration]:
    """The alterations whose signs are drawn: of two that undo each other one, and lengths only if there is room."""
    found: list[Alteration] = []
    for each in sorted(usual, key=lambda a: a.turn == "length"):
        if each.drawing is not None and not any(other.slug in each.undone_by for other in found):
            found.append(each)
    return found[:MOST_SIGNS]


def _signs(page: PdfCanvas, shown: Sequence[Alteration], top: float) -> None:
    """The signs of these alterations in a row across the sheet, each with its title below."""
    if not shown:
        return
    wide = (WIDE - 2 * MARGIN) / MOST_SIGNS
    page.text(Point(MARGIN, top + 3.0), "Signs on the body", SIZE, kind="strong")
    for n, each in enumerate(shown):
        assert each.drawing is not None
        x = MARGIN + n * wide
        draw_sign(page, each.drawing, Point(x + (wide - SIGN) / 2, top + 4.5), SIGN)
        for row, words in enumerate(wrapped(each.title, 2.2, wide - 0.6)[:2]):
            page.text(Point(x + wide / 2, top + 4.5 + SIGN + 3.0 + 2.6 * row), words, 2.2, anchor="middle")


def _rows(usual: Sequence[Alteration], draft: Draft) -> list[tuple[str, bool]]:
    """What each row says, and whether it may be of one side; an alteration and its opposite share a row."""
    units, rows, told = draft.client.units, [], set[str]()
    for each in usual:
        if each.slug in told:
            continue
        other = next((o for o in usual if o.slug in each.undone_by and o.slug not in told), None)
        told |= {each.slug, *((other.slug,) if other else ())}
        title = both_titles(each.title, other.title) if other else each.title
        limits = (show_length(mm, units) for mm in each.usual)
        rows.append((f"{title}: {' to '.join(limits)}", each.one_sided or bool(other and other.one_sided)))
    return rows


def both_titles(first: str, second: str) -> str:
    """Two titles in one, what they share given once: "Sleeve lengthened / shortened", "Full / small bust"."""
    one, two = first.split(), second.lower().split()
    lead: list[str] = []
    while len(one) > 1 and len(two) > 1 and one[0].lower() == two[0]:
        lead.append(one.pop(0))
        two.pop(0)
    if len(one) > 1 and len(two) > 1 and one[-1].lower() == two[-1]:
        one.pop()
    return " ".join([*lead, *one, "/", *two])


def _finished(flow: Flow, draft: Draft) -> None:
    """What the garment measures, with room for what the toile measures on the body."""
    if not draft.finished:
        return
    flow.head("Finished: on paper, and on the toile")
    for each in draft.finished:
        body = f" (body {show_length(each.body, draft.client.units)})" if each.body is not None else ""
        flow.line(f"{in_words(each.name)}: {show_length(each.garment, draft.client.units)}{body}  ________")


def _last_time(flow: Flow, draft: Draft) -> None:
    """What was changed at earlier fittings and is in this draft; what was not carried out."""
    if not draft.fittings and not draft.unaltered:
        return
    flow.head("From earlier fittings")
    newest = max((f.date for f in draft.fittings), default=None)
    for done in sorted(draft.fittings, key=lambda f: f.date, reverse=True):
        last = " (last fitting)" if done.date == newest else ""
        words = done.text if done.alteration != "correction" else done.title
        flow.line(f"{day_shown(done.date, draft.client.units.dates)}{last}: {' '.join(words.split())}")
    flow.lines(f"not carried out: {words}" for words in dict.fromkeys(draft.unaltered))
