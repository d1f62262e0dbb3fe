"""Search data as a script file, since a page opened from disk may not fetch anything."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from catalogue.between_runs import kept
from catalogue.people import Client, Register
from catalogue.site.measured import kinds_for, needed
from catalogue.studio.style import Style
from catalogue.trade_names import other_names

Entry = tuple[str, str, str, str]
"""A page that search finds: title, path from the site's root, what it is, more words to find it by."""


def _words(style: Style) -> str:
    """What a style is found by besides its title: what it says, and what others call what it names."""
    about = " ".join((style.title, style.garment, *style.audience, *style.tags))

    def words() -> str:
        said = " ".join((style.summary, *(h.heading for h in style.sections if h.level <= 2)))
        return " ".join((said, *other_names(about)))

    # Asked of every style whenever anything changed; other names are looked for among hundreds.
    return kept("search", (style.digest, about), words) if style.digest else words()


def search_script(
    styles: Sequence[Style],
    clients: Sequence[Client],
    summaries: Mapping[tuple[str, str], Mapping[str, Any]],
    register: Register,
    chapters: Iterable[Entry] = (),
) -> str:
    """A script that sets `catalogueData`.

    Which style is ready for which client is given by numbers: `need` and `have` list measurements by their place in
    `names`, and of each group in `either` one is enough; only pairs whose draft fails, is wrong or has warnings are
    named, in `states`. So it stays small for many clients.
    """
    warned = {(s.slug, c.slug) for c in clients if c.findings for s in styles if c.findings_for(s.uses)}
    keys = sorted({n for s in styles for n in needed(s)})
    place = {key: n for n, key in enumerate(keys)}
    data = {
        "names": [register.name_of(key) for key in keys],
        "styles": [
            {
                "slug": s.slug,
                "title": s.title,
                "garment": s.garment,
                "kinds": kinds_for(s),
                "audience": list(s.audience),
                "cloth": [what for _, what in s.cloth],
                "tags": list(s.tags),
                "words": _words(s),
                "need": [place[key] for key in needed(s)],
                "either": [[place[key] for key in group] for group in s.alternatives],
            }
            for s in styles
        ],
        "clients": [
            {
                "slug": c.slug,
                "name": c.name,
                "kind": c.kind,
                "ordered": list(c.garments),
                "have": [place[key] for key in keys if key in c.measurements],
            }
            for c in clients
        ],
        "states": {
            f"{style}/{client}": "warned" if summary["state"] == "ready" else summary["state"]
            for (style, client), summary in sorted(summaries.items())
            if summary.get("state") in ("failing", "wrong")
            or (summary.get("state") == "ready" and (summary.get("warned") or (style, client) in warned))
        },
        "pages": [
            *[
                [
                    m.name,
                    f"measuring/index.html#{m.key}",
                    "measurement",
                    " ".join((*m.aliases, *other_names(m.name))),
                ]
                for m in register.values()
            ],
            *[
                [*entry[:3], " ".join((entry[3], *other_names(f"{entry[0]} {entry[3]}")))]
                for entry in chapters
            ],
        ],
    }
    text = json.dumps(data, ensure_ascii=True, separators=(",", ":"))
    return f"window.catalogueData={text};\n"
