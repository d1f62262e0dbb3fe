"""One table of line kinds: every kind tells itself apart without colour."""

from __future__ import annotations

from itertools import combinations

from catalogue.drawing.canvas import LineKind
from catalogue.drawing.linestyles import STYLES

# ISO 128-2: line widths step by the square root of two, 0.13 to 2 mm (from memory).
ISO_WIDTHS = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0)


def test_every_kind_has_a_style_from_the_series_of_widths() -> None:
    assert set(STYLES) == set(LineKind)
    assert all(style.width in ISO_WIDTHS for style in STYLES.values())


def test_the_cutting_line_is_at_least_twice_as_wide_as_narrow_lines() -> None:
    cut = STYLES[LineKind.CUT]
    assert not cut.dash
    assert cut.width >= 2 * STYLES[LineKind.GRAIN].width


def test_lines_that_meet_on_a_piece_differ_in_width_or_pattern() -> None:
    on_a_piece = [LineKind.CUT, LineKind.SEAM, LineKind.FOLD, LineKind.GRAIN, LineKind.DART, LineKind.PLEAT,
                  LineKind.GUIDE]  # fmt: skip
    for a, b in combinations(on_a_piece, 2):
        assert (STYLES[a].width, STYLES[a].dash) != (STYLES[b].width, STYLES[b].dash), (a, b)


def test_patterns_are_those_of_the_standard() -> None:
    # ISO 128-2: dashes 12 d, gaps 3 d, long dashes 24 d, dots 0.5 d (from memory).
    dash, gap = STYLES[LineKind.SEAM].dash
    assert abs(dash / gap - 4) < 1e-9
    long_dash, gap, dot, gap_again = STYLES[LineKind.FOLD].dash
    assert abs(long_dash / gap - 8) < 1e-9
    assert abs(gap / dot - 6) < 1e-9
    assert gap == gap_again
