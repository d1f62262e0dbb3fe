"""Short words about styles and clients for lists and cards."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from catalogue.people.client import Client
from catalogue.site.draft_view import and_words, measurement
from catalogue.site.measured import State, needed
from catalogue.site.paths import style_path
from catalogue.site.story import Story
from catalogue.studio.style import Style

_ALONE = {
    "ready": "Ready",
    "failing": "A check fails",
    "waiting": "Waits for measurements",
    "wrong": "There is a mistake in a file",
}
"""How a style stands for the only client that it is meant for."""


def card(style: Style, states: Sequence[State]) -> dict[str, Any]:
    ready = [s for s in states if s.state == "ready"]
    picture = next((s.picture for s in states if s.can_be_made and s.picture), "")
    if style.picture:
        picture = f"pictures/{style.picture}"
    kind = " · ".join(
        w for w in (style.garment, f"for {and_words(style.audience)}" if style.audience else "") if w
    )
    if not style.ok:
        readiness = "There is a mistake in its file."
    elif not states:
        readiness = ""
    else:
        readiness = (
            f"Ready for {len(ready)} of {len(states)} clients"
            if len(states) > 1
            else _ALONE.get(states[0].state, _ALONE["waiting"])
        )
    return {
        "slug": style.slug,
        "path": style_path(style.slug),
        "title": style.title,
        "kind": kind[:1].upper() + kind[1:],
        "summary": style.summary,
        "tags": style.tags,
        "picture": picture,
        "picture_words": f"Drawing of {style.title}",
        "readiness": readiness,
    }


def values(values: Iterable[str]) -> list[str]:
    return sorted({v for v in values if v}, key=str.casefold)


def wanted(style: Style, clients: Sequence[Client]) -> list[dict[str, Any]]:
    """The measurements a style uses, with those of which one is enough instead, and with who lacks them."""
    missing = {c.slug: style.missing_from(c.measurements) for c in clients}
    instead = {key: [measurement(k)["name"] for k in g if k != key] for g in style.alternatives for key in g}
    return [
        measurement(key)
        | {
            "lacking": few([c.name for c in clients if key in missing[c.slug]]),
            "instead": instead.get(key, ()),
        }
        for key in needed(style)
    ]


def few(names: Sequence[str], most: int = 4) -> str:
    """Who lacks a measurement, a long list cut short; "" for no one."""
    if not names:
        return ""
    shown = ", ".join(names[:most]) + (f" and {len(names) - most} more" if len(names) > most else "")
    return f"missing for {shown}"


def outline(tale: Story) -> list[str]:
    headings = [t.heading for t in (*tale.steps, *tale.closing) if t.heading]
    return list(dict.fromkeys(headings))
