"""What a draft's page shows, in the client's words and units, before any template lays it out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from catalogue.drafting import Draft, suits
from catalogue.people import REGISTER, Client
from catalogue.site.body import body_definitions, tape_figure
from catalogue.site.drafted import Drafted, failures
from catalogue.site.markdown import in_words, plain
from catalogue.studio.style import Style

CAUTIONS = (
    "Measure the printed square before you cut paper or cloth. If it is off in either direction, print again at "
    "100 %, without fitting to the page.",
    "Blades, shears and needles cut people as easily as cloth: close or cap them when you put them down, cut away "
    "from your hand, and count the pins back into the box.",
    "Irons, steam and hot presses burn. Try heat on a scrap of the same cloth first, stand the iron safely, and "
    "switch it off when you leave the table.",
    "Try the fit in a cheap cloth before you cut a good one: the figures are only as good as the measurements.",
)
CHILD_CAUTIONS = (
    "Children's wear: no cords, ribbons or drawstrings at the neck or hood, and none elsewhere that can catch. "
    "Sew buttons and other small parts so that a child cannot pull or bite them off.",
    "Children's nightwear and loose clothes can catch fire: choose the cloth by the rules for flammability where "
    "the child lives. Local rules for children's clothing come before anything said here.",
)
CHILDREN = frozenset({"girl", "girls", "boy", "boys", "child", "children", "baby", "babies", "toddlers"})


@dataclass(frozen=True, slots=True)
class Download:
    """A file beside a draft's page: its name, what it is, pages (0 when it has none), and a remark."""

    file: str
    what: str
    pages: int = 0
    about: str = ""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a draft comes to: `kind` is "holds", "warns", "fails" or "lacks"; `failing` names what fails."""

    kind: str
    sign: str
    words: str
    more: str = ""
    failing: tuple[str, ...] = ()


def draft_view(told: Drafted, style: Style, client: Client, root: str) -> dict[str, Any]:
    """Everything the template of a draft's page asks for.

    Args:
        told: what the draft says; its findings with those of the client's file among them.
        root: leads from the page to the site's root.
    """
    steps = told.told()
    view: dict[str, Any] = {
        "style": style,
        "client": client,
        "client_file": client.file,
        "verdict": verdict_of(told, style, client),
        "broken": any(f.is_error for f in told.findings),
        "missing": [measurement(key) for key in told.missing],
        "body": body_definitions() if told.missing else "",
        "findings": told.findings,
        "choices": told.choices,
        "cut_list": told.cut_list,
        "edges": told.edges,
        "intro": told.intro,
        "figures": told.figures,
        "steps": steps,
        "checks": told.checks,
        "seams": told.seams,
        "asked_in": {s.key: s.number for s in steps if s.unmet},
        "finished": told.finished,
        "notes": told.notes,
        "fitting": plain(client.notes, root) if client.notes.strip() else "",
        "cautions": cautions(style, client),
    }
    view["contents"] = [(id, words) for id, words, there in _parts(view) if there]
    return view


def verdict_of(told: Drafted, style: Style, client: Client) -> Verdict:
    """The plain verdict: what fails, or that all holds."""
    errors = [f for f in told.findings if f.is_error]
    if told.missing:
        count = len(told.missing)
        names = ", ".join(measurement(key)["name"] for key in told.missing)
        if not suits(style, client):
            words = f"Not drafted: the style is meant for {and_words(style.audience)}"
            more = f"It will be drafted for {client.name} once the client file orders it and gives {names}."
            return Verdict("lacks", "○", words, more)
        words = (
            f"Not drafted yet: {'a measurement is' if count == 1 else f'{count} measurements are'} missing"
        )
        return Verdict("lacks", "○", words, f"{client.name} needs {names}.")
    if errors:
        done = told.drawn
        more = f"The paper is shown as it was after step {done}." if done else "Nothing could be drawn."
        return Verdict(
            "fails", "✗", "The draft could not be finished", more, tuple(f.message for f in errors)
        )
    failing = told.failing
    total = len(told.checks) + len(told.seams) + len(told.finished)
    if failing:
        words = f"{_count(len(failing), 'check')} of {total} {'fails' if len(failing) == 1 else 'fail'}"
        return Verdict("fails", "✗", words, "Do not cut until this is put right.", failing)
    warnings = [f for f in told.findings if not f.is_error]
    seams = "Every seam matches." if told.seams else ""
    held = f"All {total} checks pass" if total > 1 else "The one check passes" if total else "Drafted"
    if not total:
        seams = "The style has no checks of its own."
    if warnings:
        note = f"Read the {_count(len(warnings), 'warning')} below."
        return Verdict("warns", "!", held, f"{seams} {note}".strip())
    return Verdict("holds", "✓", held, seams)


def summary(draft: Draft) -> dict[str, Any]:
    """What other pages show of a draft, as plain values.

    `state` is "ready", "failing", "waiting" (a measurement is missing) or "wrong" (a mistake in a file).
    """
    if draft.missing:
        state = "waiting"
    elif not draft.style.ok or any(f.is_error for f in draft.findings):
        state = "wrong"
    else:
        state = "failing" if failures(draft) else "ready"
    return {
        "state": state,
        "client": draft.client.name,
        "missing": list(draft.missing),
        "picture": bool(draft.pieces),
        "pieces": len(draft.pieces),
        "choices": dict(draft.choices),
    }


def measurement(key: str) -> dict[str, Any]:
    """A measurement as pages show it; one that the register doesn't know keeps its name in words."""
    known = REGISTER.get(key)
    if known is None:
        return {"id": key, "name": in_words(key), "how": "", "aliases": (), "tape": ""}
    tape = tape_figure(known.key, known.name, known.how)
    return {"id": known.key, "name": known.name, "how": known.how, "aliases": known.aliases, "tape": tape}


def cautions(style: Style, client: Client) -> tuple[str, ...]:
    """What to take care of: at every table, and for children's wear."""
    audience = {a.casefold() for a in style.audience}
    for_child = client.kind in CHILDREN or bool(audience and audience <= CHILDREN)
    return CAUTIONS + (CHILD_CAUTIONS if for_child else ())


def and_words(words: Sequence[str]) -> str:
    """ "women", "women and girls", "women, girls and boys"."""
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def _count(count: int, what: str) -> str:
    return f"{count} {what}" + ("" if count == 1 else "s")


def _parts(view: Mapping[str, Any]) -> Sequence[tuple[str, str, Any]]:
    style = view["style"]
    return (
        ("missing", "Missing measurements", view["missing"]),
        ("findings", "Mistakes" if view["broken"] else "Warnings", view["findings"]),
        ("pattern", "Pattern", view["cut_list"]),
        ("about", "About", view["intro"]),
        ("steps", "Drafting", view["steps"]),
        ("checks", "Checks", view["checks"]),
        ("seams", "Seams", view["seams"]),
        ("finished", "Finished measurements", view["finished"]),
        ("edges", "Pieces and edges", view["edges"]),
        ("cloth", "Cloth and notions", style.cloth or style.notions),
        ("making", "Cutting and sewing", view["notes"]),
        ("fitting", "Fitting notes", view["fitting"]),
        ("cautions", "Safety", view["cautions"]),
    )
