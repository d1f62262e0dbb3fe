"""What a choice changes: a style drafted at the ends of each choice for a person of a standard size, side by side."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from markupsafe import escape

from catalogue.drafting import Draft
from catalogue.drafting.ways import draft_ways
from catalogue.drawing.arrange import arrange
from catalogue.drawing.flat import Flat, flat
from catalogue.drawing.markup import tenths
from catalogue.drawing.page_svg import elements, piece_strokes
from catalogue.drawing.piece_lines import Look
from catalogue.drawing.view import STYLE, view_svg
from catalogue.geometry import Box, union
from catalogue.geometry.arrays import coordinates
from catalogue.lengths import show_length
from catalogue.pattern import Piece
from catalogue.site.neutral import standard_person
from catalogue.site.words import in_words
from catalogue.slugs import slugify
from catalogue.studio.settings import Settings
from catalogue.studio.style import Choice, Style

MOST_WORDS = 4
"""Options of a choice of words that are drawn."""
SEEN = 6.0
"""mm that an outline must change for the change to be seen in a drawing of the whole garment."""
_TEXT = (
    "text{font:34px 'Workroom Sans','Noto Sans','Segoe UI','Helvetica Neue',Arial,sans-serif;fill:#241f19}"
    ".soft{fill:#5c5346;font-size:28px}.face{fill:none;stroke:none}.head{fill:#231f1a;stroke:none}"
    "@media(prefers-color-scheme:dark){text{fill:#ece4d5}.soft{fill:#b9ad9a}.head{fill:#ece5d8}}"
)
_LOOK = Look(scale=3.0, fold_marks=False, grain=False, signs=False)
_WIDE = 900.0  # px across a picture
_TALL = 330.0  # px of its drawings at most


@dataclass(frozen=True, slots=True)
class Variant:
    """The style with one choice taken differently; `text` is what was taken, as shown."""

    text: str
    draft: Draft


def choice_picture_path(style: str, choice: Choice) -> str:
    """Where the picture of a choice lies, from the site's root."""
    return f"styles/{style}/choices/{slugify(choice.name)}.svg"


def values_drawn(choice: Choice) -> tuple[str, ...]:
    """The values of a choice that are drawn, as the style file writes them."""
    if choice.options:
        return choice.options[:MOST_WORDS]
    return (choice.lowest, choice.highest) if choice.lowest and choice.highest else ()


def choice_pictures(style: Style, settings: Settings) -> dict[str, str]:
    """A picture for every choice with a range or options, by path."""
    pictured = [(choice, values_drawn(choice)) for choice in style.choices]
    # Each value is taken as the style's own default, so that an end may be a formula.
    ways = [
        tuple(replace(c, default=value) if c is choice else c for c in style.choices)
        for choice, values in pictured
        for value in values
    ]
    drafts = iter(draft_ways(style, standard_person(style), settings, ways))
    found = {}
    for choice, values in pictured:
        variants = [
            Variant(draft.choices.get(choice.name, in_words(value)), draft)
            for value, draft in zip(values, drafts, strict=False)
        ]
        if variants:
            found[choice_picture_path(style.slug, choice)] = _picture(style, choice, variants)
    return found


def _picture(style: Style, choice: Choice, variants: Sequence[Variant]) -> str:
    values = " and ".join(v.text for v in variants)
    title = f"{style.title}: {in_words(choice.name)} at {values}"
    return side_by_side(title, variants, _changes(variants))


def side_by_side(title: str, variants: Sequence[Variant], changes: Iterable[str] = ()) -> str:
    """A drawing of drafts beside each other, each with its text: the garments, or the pieces that differ.

    `changes` are lines of words below it.
    """
    drawings = _drawings(variants)
    words = list(changes)
    if not drawings:
        drafted = all(v.draft.pieces for v in variants)
        words.insert(
            0, "The drawing stays the same." if drafted else "Nothing could be drafted for a standard size."
        )
    column = _WIDE / len(variants)
    boxes = [box for _, box in drawings]
    wide = max((b.width for b in boxes), default=1.0)
    high = max((b.height for b in boxes), default=1.0)
    scale = min((column - 40) / wide, _TALL / high)
    bottom = high * scale + 44 if drawings else 0.0
    parts = []
    for n, (svg, box) in enumerate(drawings):
        x = column * (n + 0.5) - box.centre.x * scale
        parts.append(
            f'<g transform="translate({tenths(x)} {tenths(-box.top * scale)}) scale({scale:.4f})">{svg}</g>'
        )
        parts.append(
            f'<text x="{tenths(column * (n + 0.5))}" y="{tenths(bottom)}" text-anchor="middle">'
            f"{escape(variants[n].text)}</text>"
        )
    # A page that shows one value alone asks for the view of it: picture.svg#v1.
    views = "".join(
        f'<view id="v{n}" viewBox="{tenths(column * n)} -8 {tenths(column)} {tenths(bottom + 16)}"/>'
        for n in range(len(drawings))
    )
    for line in words:
        bottom += 40
        parts.append(f'<text class="soft" x="12" y="{tenths(bottom)}">{escape(line)}</text>')
    box_text = f"0 -8 {tenths(_WIDE)} {tenths(bottom + 24)}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box_text}" role="img"><title>{escape(title)}</title>'
        f"<desc>{escape(' '.join(words))}</desc><style>{STYLE}{_TEXT}</style>{views}{''.join(parts)}</svg>\n"
    )


def _drawings(variants: Sequence[Variant]) -> list[tuple[str, Box]]:
    """The garment for each value where the change shows on it, else the pieces that change."""
    if any(not v.draft.pieces for v in variants):
        return []
    flats = [flat(v.draft) if v.draft.style.flat else None for v in variants]
    whole = [f for f in flats if f is not None]
    if len(whole) == len(flats) and _differ(whole):
        return [_garment(f) for f in whole]
    names = [p for p in variants[0].draft.pieces if _piece_differs(p, variants)]
    return [_pieces([p for n, p in v.draft.pieces.items() if n in names]) for v in variants] if names else []


def _garment(made: Flat) -> tuple[str, Box]:
    front, back = Box.around(made.front.outline), Box.around(made.back.outline)
    apart = front.right - back.left + 0.12 * front.width
    box = front.union(Box(back.left + apart, back.top, back.right + apart, back.bottom))
    return f'{view_svg(made.front)}<g transform="translate({tenths(apart)} 0)">{view_svg(made.back)}</g>', box


def _pieces(pieces: Sequence[Piece]) -> tuple[str, Box]:
    laid = [p.moved() for p in arrange(pieces, gap=40.0, shape=1.3)]
    box = union(p.outline.bounds() for p in laid)
    return "".join(elements(piece_strokes(p, _LOOK)) for p in laid), box or Box(0, 0, 1, 1)


def _differ(flats: Sequence[Flat]) -> bool:
    from shapely import LineString

    first = flats[0]
    for other in flats[1:]:
        for a, b in ((first.front, other.front), (first.back, other.back)):
            edges = [LineString(coordinates([*view.outline, view.outline[0]])) for view in (a, b)]
            if edges[0].hausdorff_distance(edges[1]) > SEEN or len(a.strokes) != len(b.strokes):
                return True
    return False


def _piece_differs(name: str, variants: Sequence[Variant]) -> bool:
    shapes = [v.draft.pieces.get(name) for v in variants]
    known = [s.outline for s in shapes if s is not None]
    if len(known) < len(shapes):
        return True
    return any(abs(known[0].length - o.length) > 1.0 for o in known[1:]) or any(
        abs(a - b) > 1.0 for o in known[1:] for a, b in zip(known[0].bounds(), o.bounds(), strict=True)
    )


def _changes(variants: Sequence[Variant]) -> Iterator[str]:
    """What becomes of finished measurements, or else of the edges that change most; three lines at most."""
    units = variants[0].draft.client.units

    def show(values: Sequence[float]) -> str:
        return ", ".join(show_length(v, units) for v in values)

    tables = [{f.name: f.garment for f in v.draft.finished} for v in variants]
    finished = [(name, [t[name] for t in tables]) for name in tables[0] if all(name in t for t in tables)]
    changed = [(f"finished {in_words(n)}", vs) for n, vs in finished if max(vs) - min(vs) > 1.0]
    if not changed:
        edges = [
            {
                f"{p.title}, {in_words(e.name)}": e.path.length
                for p in v.draft.pieces.values()
                for e in p.edges
            }
            for v in variants
        ]
        rows = [(name, [t[name] for t in edges]) for name in edges[0] if all(name in t for t in edges)]
        changed = sorted(
            (r for r in rows if max(r[1]) - min(r[1]) > 1.0), key=lambda r: min(r[1]) - max(r[1])
        )
    for name, values in changed[:3]:
        yield f"{name[:1].upper()}{name[1:]}: {show(values)}"
