"""What pages are shown with: style sheets, script, fonts with their licences, and the little mark."""

from __future__ import annotations

from catalogue.site.palette import accent_sheet
from catalogue.site.templates import Templates

STYLE_SHEETS = ("catalogue.css", "print.css")
SCRIPTS = ("catalogue.js", "browsing.js", "comparing.js", "draft.js", "figures.js", "choosing.js", "forms.js")


def assets(templates: Templates, accent: str) -> dict[str, bytes]:
    """Files by path from the site's root; `accent` is the studio's colour."""
    files = {f"assets/{name}": _found(templates, name) for name in (*STYLE_SHEETS, *SCRIPTS, "mark.svg")}
    files["assets/studio.css"] = accent_sheet(accent).encode()
    for folder in reversed(templates.folders):
        for font in sorted((folder / "fonts").glob("*.woff2")):
            files[f"assets/fonts/{font.name}"] = font.read_bytes()
        for licence in sorted((folder / "fonts").glob("*-LICENCE.txt")):
            files[f"assets/fonts/{licence.name}"] = licence.read_bytes()
    return files


def _found(templates: Templates, name: str) -> bytes:
    path = templates.find(name)
    if path is None:
        raise FileNotFoundError(f"site_template/{name}")
    return path.read_bytes()
