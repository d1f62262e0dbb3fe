"""Published tables of body measurements, in inches, by measurement key; figures alone, as facts."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple


class Published(NamedTuple):
    """A table: its name, where it is from, its sizes, and each measurement's row."""

    name: str
    source: str
    sizes: tuple[str, ...]
    rows: Mapping[str, tuple[float, ...]]


# Girths of Table 1 as far as the publisher's own page shows it; the waist is that of the straight figure. Upper chest
# is the chest girth here, chest/bust the bust girth.
ASTM_MISSES = Published(
    "ASTM D5585-11e1 misses",
    "ASTM D5585-11e1, Standard Tables of Body Measurements for Adult Female Misses Figure Type, table 1",
    ("00", "0", "2", "4", "6", "8", "10", "12", "14", "16", "18", "20"),
    {
        "head_girth": (21.25, 21.25, 21.5, 21.5, 21.75, 21.75, 22, 22, 22.25, 22.25, 22.5, 22.5),
        "neck_girth": (
            12.375, 12.625, 12.875, 13.125, 13.375, 13.625, 13.875, 14.25, 14.625, 15, 15.5, 16,
        ),
        "neck_base_girth": (
            13.25, 13.5, 13.75, 14, 14.25, 14.625, 14.875, 15.125, 15.5, 15.75, 16, 16.375,
        ),
        "shoulder_girth": (37.125, 37.75, 38.375, 39, 39.75, 40.5, 41.25, 42, 43, 44.25, 45.5, 46.875),
        "chest_girth": (31.75, 32.25, 33.25, 34.125, 35, 35.875, 36.75, 38, 39.25, 40.625, 42.25, 43.875),
        "bust_girth": (31.125, 31.75, 33, 34.125, 35.25, 36.25, 37.25, 38.75, 40.375, 42.125, 44, 46),
        "under_bust_girth": (25.75, 26.5, 27.25, 28, 29, 30, 31, 32.5, 34, 35.75, 37.625, 39.625),
        "waist_girth": (25.375, 26.125, 26.875, 27.625, 28.5, 29.5, 30.5, 32.25, 34, 36, 38.25, 40.5),
    },
)  # fmt: skip

_TRADE = (
    "US home-pattern trade sizes after 1967, as sewingscholar.blogspot.com has them from trade tables (28 Feb 2011); "
    "trade practice, a secondary source"
)
TRADE_MISSES = Published(
    "US trade, misses",
    _TRADE,
    ("6", "8", "10", "12", "14", "16", "18", "20"),
    {
        "bust_girth": (30.5, 31.5, 32.5, 34, 36, 38, 40, 42),
        "waist_girth": (23, 24, 25, 26.5, 28, 30, 32, 34),
        "hip_girth": (32.5, 33.5, 34.5, 36, 38, 40, 42, 44),
        "back_waist_length": (15.5, 15.75, 16, 16.25, 16.5, 16.75, 17, 17.25),
    },
)
IN_ORDER = {
    "bust_girth": (1, 1, 1.5, 2, 2, 2, 2),
    "waist_girth": (1, 1, 1.5, 1.5, 2, 2, 2),
    "hip_girth": (1, 1, 1.5, 2, 2, 2, 2),
    "back_waist_length": (0.25,) * 7,
}
"""Its steps from size to size."""

# The source heads the first column "36"; its figures and the row say 38.
TRADE_WOMEN = Published(
    "US trade, women's",
    _TRADE,
    ("38", "40", "42", "44", "46", "48", "50"),
    {
        "bust_girth": (42, 44, 46, 48, 50, 52, 54),
        "waist_girth": (35, 37, 39, 41.5, 44, 46.5, 49),
        "hip_girth": (44, 46, 48, 50, 52, 54, 56),
        "back_waist_length": (17.25, 17.36, 17.5, 17.63, 17.75, 17.88, 18),
    },
)
TRADE_PETITE = Published(
    "US trade, miss petite",
    _TRADE,
    ("6", "8", "10", "12", "14", "16"),
    {
        "bust_girth": (30.5, 31.5, 32.5, 34, 36, 38),
        "waist_girth": (23.5, 24.5, 25.5, 27, 28.5, 30.5),
        "hip_girth": (32.5, 33.5, 34.5, 36, 38, 40),
        "back_waist_length": (14.5, 14.75, 15, 15.25, 15.5, 15.75),
    },
)


def as_file(published: Published) -> str:
    """The table as a studio would write it down."""
    lines = [
        f'---\nname: "{published.name}"\nfor: woman\nunits: inches\nsources: ["{published.source}"]\n---\n',
        f"| size | {' | '.join(published.sizes)} |",
        f"|{'---|' * (len(published.sizes) + 1)}",
    ]
    for key, row in published.rows.items():
        lines.append(f"| {key.replace('_', ' ')} | {' | '.join(f'{v:g}' for v in row)} |")
    return "\n".join(lines) + "\n"
