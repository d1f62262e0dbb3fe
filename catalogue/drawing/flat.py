"""The garment as a flat drawing, front and back, put together of the pieces a draft made, on an outline figure.

Where the pieces don't tell how they go together, there is no such drawing: `garment_svg` gives None, and
`why_no_flat` says which piece or seam it is for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from catalogue.drafting.model import Draft
from catalogue.drawing import dressing
from catalogue.drawing.aprons import apron_views
from catalogue.drawing.assembly import Half, half, outline_of
from catalogue.drawing.body_outline import BodyOutline, body_outline_for
from catalogue.drawing.capes import cape_views
from catalogue.drawing.dressing import HalfGarment, ViewSide
from catalogue.drawing.gores import gored
from catalogue.drawing.lapels import turned
from catalogue.drawing.legs import hanging_legs
from catalogue.drawing.markup import escaped, path_data
from catalogue.drawing.markup import formatted as number
from catalogue.drawing.pieces_worn import (
    BACK,
    FRONT,
    NotTogetherError,
    crotch_edge,
    is_sleeve,
    is_strip,
    titles_of,
    worn,
)
from catalogue.drawing.placing_on_body import (
    ARMHOLE,
    at_one_height,
    at_shoulder,
    at_waist,
    levelled,
    narrowed,
)
from catalogue.drawing.shoulder_straps import turned_over
from catalogue.drawing.sleeves import hang_angle, sleeve_form
from catalogue.drawing.view import STYLE, View, thinned, view_svg
from catalogue.drawing.view_halves import of_two_halves
from catalogue.geometry import Box, Point, signed_area

Views = tuple[View, View]
_SMALL = 0.06
"""Share of the cloth of a garment from which on a piece is missed in its drawing."""


@dataclass(frozen=True, slots=True)
class Flat:
    """Both views of a garment on a figure, x from the middle line of each, y from the figure's waist, mm.

    `arm` is how far the sleeves hang from upright, degrees; None without sleeves.
    """

    front: View
    back: View
    body: BodyOutline
    arm: float | None = None


def flat(draft: Draft) -> Flat | None:
    """Both views of a draft's garment; None when its pieces don't say how they go together."""
    try:
        return _put_together(draft)
    except NotTogetherError:
        return None


def why_no_flat(draft: Draft) -> str:
    """Why there is no drawing of the garment, as a part of a sentence; "" where there is one, or none is wanted."""
    if not draft.style.flat or not draft.pieces or draft.missing or any(f.is_error for f in draft.findings):
        return ""
    try:
        _put_together(draft)
    except NotTogetherError as reason:
        return str(reason)
    return ""


_lately: list[tuple[Draft, Flat | NotTogetherError]] = []
"""The draft whose garment was last put together: its page, its picture and its papers ask one after the other."""


def _put_together(draft: Draft) -> Flat:
    """Raises NotTogetherError."""
    if not _lately or _lately[0][0] is not draft:
        try:
            found: Flat | NotTogetherError = _views(draft)
        except NotTogetherError as reason:
            found = reason
        _lately[:] = [(draft, found)]
    made = _lately[0][1]
    if isinstance(made, NotTogetherError):
        raise made
    return made


def _views(draft: Draft) -> Flat:
    measured = {key: m.mm for key, m in draft.client.measurements.items()}
    body = body_outline_for(measured, draft.client.kind)
    girth = max(measured.get("hip_girth", 0.0), measured.get("waist_girth", 0.0))
    for name, drawn in (
        ("skirt", _skirt),
        ("cape", lambda each: cape_views(each, body)),
        ("apron", lambda each: apron_views(each, body, girth / 4)),
    ):
        whole = _of_each_half(draft, drawn)
        if whole is not None:
            for view in whole:
                _finish(view, name)
            return Flat(whole[0], whole[1], body)
    right = _hung(draft.halves[0] if draft.halves else draft, body)
    left = _hung(draft.halves[1], body) if draft.halves else right
    angle = None
    if right.form and left.form:
        angle = max(hang_angle(form, body.arm) for form in (right.form, left.form))
    # Women's clothes close right over left, men's left over right (common practice, no source).
    left_over_right = draft.client.kind in ("man", "boy")
    views = []
    for n, name in enumerate((FRONT, BACK)):
        view = View()
        # In front the wearer's right is on the left of the drawing, behind it is on the right.
        sides = [ViewSide(right, n, mirrored=n == 0), ViewSide(left, n, mirrored=n == 1)]
        sides.sort(key=lambda side: side.mirrored != left_over_right)  # the one that lies on top comes last
        if n == 0 and right.from_shoulder:
            dressing.inside(view, sides)
        if angle is not None:
            dressing.sleeves(view, sides, angle)
        dressing.body(view, sides)
        if n == 0 and right.legs:
            dressing.fly(view, sides[-1])
        if right.from_shoulder:
            dressing.draw_collar(view, sides)
            dressing.belt(view, sides)
        elif right.legs:
            dressing.straps(view, sides, body.on_shoulder)
        _finish(view, name)
        views.append(view)
    return Flat(views[0], views[1], body, angle)


def _finish(view: View, what: str) -> None:
    """Thin a view's lines, and draw the edge of it all; raises NotTogetherError when it falls apart."""
    view.thin()
    [view.outline] = thinned([outline_of(view.shapes, what)])


def _hung(draft: Draft, body: BodyOutline) -> HalfGarment:
    """Half the garment laid on the figure, front and back."""
    front, back = half(draft, FRONT), half(draft, BACK)
    sleeves = [p for p in worn(draft) if is_sleeve(p)]
    from_shoulder = bool(front.edges(*ARMHOLE) and back.edges(*ARMHOLE))
    if sleeves and not from_shoulder:
        raise NotTogetherError(
            f"{titles_of(sleeves)} needs an edge called “armhole” on the front and on the back"
        )
    _all_there(draft, (front, back))
    front, back = turned_over(front, back)
    roots = draft.pieces[front.root], draft.pieces[back.root]
    legs = all(crotch_edge(root) for root in roots)
    if legs:
        front, back = hanging_legs((front, back), roots, body)
    else:
        place = at_shoulder if from_shoulder else at_waist
        front, back = place(narrowed(front), body), place(narrowed(back), body)
    if from_shoulder:
        front, back = at_one_height(levelled(front, back), back)
    form = sleeve_form(draft, sleeves) if sleeves else None
    return HalfGarment(draft, turned(front), back, form, from_shoulder, legs)


def _all_there(draft: Draft, halves: tuple[Half, Half]) -> None:
    """Raises `NotTogetherError` when a piece of any size would be missing from the drawing."""
    placed = {patch.name for one in halves for patch in one.patches}
    rest = [p for p in worn(draft) if not is_sleeve(p) and not is_strip(p)]
    whole = sum(abs(signed_area(p.outline)) for p in rest)
    left = [p for p in rest if p.name not in placed and abs(signed_area(p.outline)) > _SMALL * whole]
    if left:
        raise NotTogetherError(
            f"no seam joins one edge of {titles_of(left)} to one edge of the front or the back"
        )


def garment_svg(draft: Draft, title: str = "") -> str | None:
    """A file with both views side by side; None when the pieces don't allow it.

    Args:
        title: what the picture shows, for screen readers.
    """
    if not draft.pieces or draft.missing:
        return None
    made = flat(draft)
    if made is None:
        return None
    lines = made.body.outlines(made.arm)
    whole = _box([*made.front.outline, *made.back.outline])
    people = _box([p for line in lines for p in line.flatten(2.0)])
    reach = max(-whole.left, whole.right, people.right)
    apart = 2 * reach + 0.12 * people.width
    # Enough of the figure to see where one is, but the garment fills the picture.
    from_shoulder = whole.top < made.body.y(187.0)
    top = min(people.top, whole.top) if from_shoulder else whole.top - 0.25 * whole.height - 90
    bottom = max(min(people.bottom, whole.bottom + 0.3 * whole.height + 60), whole.bottom)
    frame = Box(-reach, top, apart + reach, bottom).grown(0.025 * (bottom - top))
    body = "".join(f'<path class="body" d="{path_data(p)}"/>' for p in lines)
    body = f'<g mask="url(#fade)">{body}</g>'
    out = [_fade(frame, not from_shoulder, bottom < people.bottom)]
    out.append(f"<g><title>Front</title>{body}{view_svg(made.front)}</g>")
    out.append(
        f'<g transform="translate({number(apart)} 0)"><title>Back</title>{body}{view_svg(made.back)}</g>'
    )
    view = " ".join(number(v) for v in (frame.left, frame.top, frame.width, frame.height))
    name = escaped(title or f"{draft.style.title}, front and back")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" width="{number(frame.width)}" '
        f'height="{number(frame.height)}" role="img"><title>{name}</title><style>{STYLE}</style>'
        f"{''.join(out)}</svg>\n"
    )


def _fade(frame: Box, above: bool, below: bool) -> str:
    """A mask that lets the figure fade where the picture cuts it off."""
    stops = [
        (0.0, "#000" if above else "#fff"),
        (0.16, "#fff"),
        (0.84, "#fff"),
        (1.0, "#000" if below else "#fff"),
    ]
    shades = "".join(f'<stop offset="{at}" stop-color="{colour}"/>' for at, colour in stops)
    wide, high = number(4 * frame.width), number(frame.height)
    return (
        f'<defs><linearGradient id="shade" x2="0" y2="1">{shades}</linearGradient><mask id="fade" '
        f'maskUnits="userSpaceOnUse" x="{number(-2 * frame.width)}" y="{number(frame.top)}" width="{wide}" '
        f'height="{high}"><rect x="{number(-2 * frame.width)}" y="{number(frame.top)}" width="{wide}" '
        f'height="{high}" fill="url(#shade)"/></mask></defs>'
    )


def _box(points: Iterable[Point]) -> Box:
    return Box.around(list(points))


def _of_each_half(draft: Draft, drawn: Callable[[Draft], Views | None]) -> Views | None:
    """Both views as one draft gives them, or half of what each of two halves gives; None where either gives nothing."""
    if not draft.halves:
        return drawn(draft)
    right, left = (drawn(each) for each in draft.halves)
    if right is None or left is None:
        return right or left
    return of_two_halves(right[0], left[0], False), of_two_halves(right[1], left[1], True)


def _skirt(draft: Draft) -> Views | None:
    """Front and back of a skirt of gores or of parts of a circle; None for anything else."""
    skirt = gored(draft)
    if skirt is None:
        return None
    views = []
    for seams, pleats in zip((skirt.front, skirt.back), skirt.pleats, strict=True):
        view = View()
        for shape in skirt.shapes:
            view.shape(shape)
        for line in (*skirt.folds, *seams):
            view.line(line)
        for line in pleats:
            view.line(line, "dart")
        views.append(view)
    return views[0], views[1]
