"""How each kind of line is drawn, for every output.

Line types and the ratio of wide to narrow follow ISO 128-2 (types 01 continuous, 02 dashed, 04 long-dashed dotted,
07 dotted, 09 long-dashed double-short-dashed; line widths from the series 0.13, 0.18, 0.25, 0.35, 0.5, 0.7 mm; dash
12 d, gap 3 d, long dash 24 d, short dash 6 d, dot 0.5 d) - from memory. Every kind differs in width or pattern, so
that a sheet printed in black and white, or read without telling colours apart, says the same.
"""

from __future__ import annotations

from typing import NamedTuple

from catalogue.drawing.canvas import LineKind

WIDE = 0.7
MIDDLE = 0.5
NARROW = 0.35
THIN = 0.25
HAIR = 0.18


class LineStyle(NamedTuple):
    """Width in mm, dash pattern in mm (on, off, ...; empty for continuous), tone 0 black to 1 white."""

    width: float
    dash: tuple[float, ...] = ()
    tone: float = 0.0


def _dashed(d: float) -> tuple[float, ...]:
    return (12 * d, 3 * d)


def _chain_dotted(d: float) -> tuple[float, ...]:
    return (24 * d, 3 * d, 0.5 * d, 3 * d)


def _long_two_short(d: float) -> tuple[float, ...]:
    return (24 * d, 3 * d, 6 * d, 3 * d, 6 * d, 3 * d)


STYLES: dict[LineKind, LineStyle] = {
    LineKind.CUT: LineStyle(WIDE),
    LineKind.SEAM: LineStyle(MIDDLE, _dashed(NARROW)),
    LineKind.STITCH: LineStyle(MIDDLE, _dashed(NARROW)),
    LineKind.FOLD: LineStyle(MIDDLE, _chain_dotted(NARROW)),
    LineKind.GRAIN: LineStyle(NARROW),
    LineKind.DART: LineStyle(NARROW, _dashed(THIN)),
    LineKind.PLEAT: LineStyle(NARROW, _long_two_short(THIN)),
    LineKind.GUIDE: LineStyle(THIN, (), 0.35),
    LineKind.NOTCH: LineStyle(MIDDLE),
    LineKind.MARK: LineStyle(NARROW),
    LineKind.PLACEMENT: LineStyle(THIN, (1.0, 1.0), 0.45),
    LineKind.FRAME: LineStyle(HAIR, (), 0.45),
}


def _line(*parts: float) -> LineStyle:
    """A wide line whose dashes and gaps are given in line widths."""
    return LineStyle(WIDE, tuple(p * WIDE for p in parts))


# ISO 128-2's basic line types, with its lengths of dashes (12 d), long dashes (24 d), dots (0.5 d, here 1 d, so that
# a printer does not lose them) and gaps (3 d; 18 d in type 03) - from memory. Those easiest to tell apart come first;
# type 04 is left out, for it is the fold of the cloth.
OWN_LINES: tuple[LineStyle, ...] = (
    _line(),  # 01 continuous
    _line(12, 3),  # 02 dashed
    _line(1, 3),  # 07 dotted
    _line(24, 3, 6, 3),  # 08 long-dashed short-dashed
    _line(24, 3, 1, 3, 1, 3),  # 05 long-dashed double-dotted
    _line(12, 3, 1, 3),  # 10 dashed dotted
    _line(24, 3, 6, 3, 6, 3),  # 09 long-dashed double-short-dashed
    _line(12, 18),  # 03 dashed, spaced
    _line(12, 3, 1, 3, 1, 3),  # 12 dashed double-dotted
    _line(24, 3, 1, 3, 1, 3, 1, 3),  # 06 long-dashed triplicate-dotted
    _line(12, 3, 12, 3, 1, 3),  # 11 double-dashed dotted
    _line(12, 3, 12, 3, 1, 3, 1, 3),  # 13 double-dashed double-dotted
)
"""Lines for several clients or sizes on one sheet, each with a kind of its own."""
