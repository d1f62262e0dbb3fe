"""The studio's accent, made readable on every ground of the pages.

Contrast after WCAG 2.2, "relative luminance" and "contrast ratio"; 4.5 to 1 is asked of text (1.4.3).
"""

from __future__ import annotations

import colorsys

LIGHT_GROUND, DARK_GROUND = "#ebe3d2", "#2d2924"
"""The tinted panels of the style sheet: of all grounds that carry the accent, the nearest to it in light and dark."""
LEAST = 4.5
INK, WHITE = "#1b1916", "#ffffff"


def luminance(colour: str) -> float:
    """Relative luminance of "#rrggbb", 0 to 1."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def legible(colour: str, ground: str) -> str:
    """The colour, made darker or lighter only as far as it takes to be read on the ground."""
    red, green, blue = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    hue, lightness, saturation = colorsys.rgb_to_hls(red, green, blue)
    step = -0.01 if luminance(ground) > 0.18 else 0.01
    found = colour
    while contrast(found, ground) < LEAST and 0.0 <= lightness <= 1.0:
        lightness += step
        found = _hex(colorsys.hls_to_rgb(hue, min(max(lightness, 0.0), 1.0), saturation))
    return found


def accent_sheet(accent: str) -> str:
    """A style sheet with the accent for light and dark, and the ink to write on it."""
    light, dark = legible(accent, LIGHT_GROUND), legible(accent, DARK_GROUND)
    return (
        f":root {{ --accent: {light}; --accent-on: {_ink_on(light)}; "
        f"--accent-dark: {dark}; --accent-dark-on: {_ink_on(dark)}; }}\n"
    )


def _ink_on(colour: str) -> str:
    return max((WHITE, INK), key=lambda ink: contrast(ink, colour))


def _hex(parts: tuple[float, float, float]) -> str:
    return "#" + "".join(f"{round(min(max(p, 0.0), 1.0) * 255):02x}" for p in parts)
