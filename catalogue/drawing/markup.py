"""SVG as text: numbers, path data, words and ids as they stand in a file."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable

from catalogue.geometry import Box, Cubic, Path, Point

_NOWHERE = Point(0.0, 0.0)


def formatted(value: float) -> str:
    """A number to at most three decimals, no trailing noughts, never "-0"."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def tenths(value: float) -> str:
    """A coordinate to a tenth, for drawings on a page, as short as it can be written."""
    text = f"{value:.1f}"
    text = text[:-2] if text.endswith(".0") else text
    return "0" if text == "-0" else text


def pair(point: Point) -> str:
    """Both coordinates of a point, to a tenth."""
    return f"{tenths(point[0])} {tenths(point[1])}"


def view_box(box: Box, n: Callable[[float], str] = tenths) -> str:
    """The value of `viewBox` that shows a box; `n` writes a number."""
    return f"{n(box.left)} {n(box.top)} {n(box.width)} {n(box.height)}"


def page_path_data(path: Path, *, closed: bool = False) -> str:
    """The `d` of a path as `path_data` writes it with `tenths`, for drawings on a page, which hold thousands."""
    x, y = path.start
    parts = [f"M{x:.1f} {y:.1f}"]
    for s in path.segments:
        x, y = s.end
        if isinstance(s, Cubic):
            (ax, ay), (bx, b_y) = s.c1, s.c2
            parts.append(f"C{ax:.1f} {ay:.1f} {bx:.1f} {b_y:.1f} {x:.1f} {y:.1f}")
        else:
            parts.append(f"L{x:.1f} {y:.1f}")
    if closed:
        parts.append("Z")
    # Every number has one decimal, so that these are whole ones.
    return "".join(parts).replace("-0.0", "0").replace(".0", "")


def path_data(path: Path, *, closed: bool = False, by: Point = _NOWHERE) -> str:
    """The `d` of a path, absolute, with true curves; moved `by`."""
    n = formatted
    dx, dy = by
    x, y = path.start
    parts = [f"M{n(x + dx)} {n(y + dy)}"]
    for s in path.segments:
        x, y = s.end
        if isinstance(s, Cubic):
            (ax, ay), (bx, b_y) = s.c1, s.c2
            parts.append(f"C{n(ax + dx)} {n(ay + dy)} {n(bx + dx)} {n(b_y + dy)} {n(x + dx)} {n(y + dy)}")
        else:
            parts.append(f"L{n(x + dx)} {n(y + dy)}")
    if closed:
        parts.append("Z")
    return "".join(parts)


def escaped(words: str) -> str:
    """Words as they stand between two tags, without the control characters that XML forbids."""
    if not words.isprintable():
        words = "".join(c if c >= " " and c not in "\ufffe\uffff" else " " for c in words)
    return words.replace("&", "&amp;").replace(">", "&gt;").replace("<", "&lt;")


def quoted(words: str) -> str:
    """Words as they stand in an attribute, between double quotes."""
    return escaped(words).replace('"', "&quot;")


def safe_id(name: str) -> str:
    """A name made fit for an XML id: letters of any script, digits and hyphens, starting with a letter."""
    text = re.sub(r"[^\w]+", "-", unicodedata.normalize("NFC", name)).strip("-")
    return text if text and text[0].isalpha() else f"n-{text}"


def titled(title: str, words: str, name: str) -> tuple[str, str]:
    """What a screen reader says of a drawing: the opening attributes of its <svg>, and its first children.

    `name` is fit for an id and unique on the page.
    """
    attributes = f'role="img" aria-labelledby="{name}-t {name}-d"'
    inner = f'<title id="{name}-t">{escaped(title)}</title><desc id="{name}-d">{escaped(words)}</desc>'
    return attributes, inner
