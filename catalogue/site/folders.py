"""Where page templates lie: the program's own, and those of a studio."""

from __future__ import annotations

from pathlib import Path

TEMPLATE = "site_template"


def built_in_templates() -> Path:
    """The folder of the templates that come with the program, installed or in a checkout."""
    inside = Path(__file__).parents[1] / TEMPLATE
    return inside if inside.is_dir() else Path(__file__).parents[2] / TEMPLATE


def own_templates(studio: Path) -> Path | None:
    """The studio's own folder of templates; None when it has none. In a checkout the demo's are the program's."""
    own = studio / TEMPLATE
    return own if own.is_dir() and not own.samefile(built_in_templates()) else None
