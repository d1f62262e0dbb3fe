"""What a draft's page shows, in the client's words and units, before any template lays it out."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from catalogue.drafting import Draft, Working, suits
from catalogue.drawing.labels import cloth_words, count_words, letters_of
from catalogue.lengths import show_length
from catalogue.pattern import Piece
from catalogue.pattern.measure import sewn_length
from catalogue.people import REGISTER
from catalogue.site.body import body_definitions, tape_figure
from catalogue.site.figures import Figures, StepFigure, step_figures
from catalogue.site.markdown import in_words, plain
from catalogue.site.seam_figure import seam_figure
from catalogue.site.story import Story

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


@dataclass(frozen=True, slots=True)
class StepView:
    """One step as the page shows it; `key` is unique on the page, `number` None for prose between steps.

    `unmet` holds the seams asked for in this step that do not meet: in words, and drawn.
    """

    key: str
    number: int | None
    heading: str
    section: str
    prose: Markup
    figure: StepFigure | None
    caption: Markup
    workings: tuple[Working, ...]
    operations: tuple[str, ...]
    source: str
    unmet: tuple[tuple[str, Markup], ...] = ()


def draft_view(draft: Draft, story: Story, root: str) -> dict[str, Any]:
    """Everything the template of a draft's page asks for."""

    def show(mm: float) -> str:
        return show_length(mm, draft.client.units)

    verdict = verdict_of(draft)
    figures = step_figures(draft, show)
    pieces = list(draft.pieces.values())
    letters = letters_of(pieces)
    steps = _steps(draft, story, figures, root, show)
    view: dict[str, Any] = {
        "style": draft.style,
        "client": draft.client,
        "client_file": draft.client.file,
        "verdict": verdict,
        "broken": any(f.is_error for f in draft.findings),
        "missing": [measurement(key) for key in draft.missing],
        "body": body_definitions() if draft.missing else "",
        "findings": draft.findings,
        "choices": list(draft.choices.items()),
        "cut_list": [
            {
                "letter": letters[p.name],
                "title": p.title,
                "cut": count_words(p.cut),
                "cloth": cloth_words(p.cut.cloth),
            }
            for p in pieces
        ],
        "edges": [_edges(letters[p.name], p, show) for p in pieces],
        "intro": _joined(story, draft.spoken, root) if story.opening else "",
        "figures": figures,
        "steps": steps,
        "checks": draft.checks,
        "seams": _seams(draft, show),
        "asked_in": {s.key: s.number for s in steps if s.unmet},
        "finished": _finished(draft, show),
        "notes": [
            {"heading": t.heading, "prose": story.html(t, draft.spoken, root)}
            for t in story.closing
            if t.heading or t.prose
        ],
        "fitting": plain(draft.client.notes, root) if draft.client.notes.strip() else "",
        "cautions": cautions(draft),
    }
    view["contents"] = [(id, words) for id, words, there in _parts(view) if there]
    return view


def verdict_of(draft: Draft) -> Verdict:
    """The plain verdict: what fails, or that all holds."""
    errors = [f for f in draft.findings if f.is_error]
    if draft.missing:
        count = len(draft.missing)
        names = ", ".join(measurement(key)["name"] for key in draft.missing)
        if not suits(draft.style, draft.client):
            words = f"Not drafted: the style is meant for {and_words(draft.style.audience)}"
            more = f"It is drafted for {draft.client.name} once the client file orders it and has {names}."
            return Verdict("lacks", "○", words, more)
        words = (
            f"Not drafted yet: {'a measurement is' if count == 1 else f'{count} measurements are'} missing"
        )
        return Verdict("lacks", "○", words, f"{draft.client.name} needs {names}.")
    if errors:
        done = len(draft.steps)
        more = f"The paper is shown as it stood after step {done}." if done else "Nothing could be drawn."
        return Verdict(
            "fails", "✗", "The draft could not be finished", more, tuple(f.message for f in errors)
        )
    failing = failures(draft)
    total = len(draft.checks) + len(draft.seams) + len(draft.finished)
    if failing:
        words = f"{_count(len(failing), 'check')} of {total} {'fails' if len(failing) == 1 else 'fail'}"
        return Verdict("fails", "✗", words, "Do not cut before this is put right.", tuple(failing))
    warnings = [f for f in draft.findings if not f.is_error]
    seams = "Every seam meets its partner." if draft.seams else ""
    held = f"All {total} checks hold" if total > 1 else "The one check holds" if total else "Drafted"
    if not total:
        seams = "The style states no checks of its own."
    if warnings:
        note = f"{_count(len(warnings), 'note')} below {'is' if len(warnings) == 1 else 'are'} worth a look."
        return Verdict("warns", "!", held, f"{seams} {note}".strip())
    return Verdict("holds", "✓", held, seams)


def failures(draft: Draft) -> list[str]:
    """Everything that doesn't hold, one sentence each."""
    found = [f"{c.text}: {c.detail}" if c.detail else c.text for c in draft.checks if not c.ok]
    names = _edge_names(draft)
    found += [
        f"{names(s.first)} and {names(s.second)} do not meet" + (f": {s.detail}" if s.detail else "")
        for s in draft.seams
        if not s.ok
    ]
    found += [
        f"{in_words(f.name)}" + (f": {f.detail}" if f.detail else "") for f in draft.finished if not f.ok
    ]
    return found


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


def cautions(draft: Draft) -> tuple[str, ...]:
    """What to take care of: at every table, and for children's wear."""
    audience = {a.casefold() for a in draft.style.audience}
    for_child = draft.client.kind in CHILDREN or bool(audience and audience <= CHILDREN)
    return CAUTIONS + (CHILD_CAUTIONS if for_child else ())


def _steps(
    draft: Draft, story: Story, figures: Figures, root: str, show: Callable[[float], str]
) -> list[StepView]:
    drafted = {s.number: s for s in draft.steps}
    unmet = _unmet(draft, show)
    views = []
    for n, told in enumerate(story.steps):
        step = drafted.get(told.number) if told.number is not None else None
        if told.number is not None and step is None:
            continue  # the draft stopped before it
        figure = figures.steps.get(told.number) if told.number is not None else None
        if figure is not None and not figure.svg:
            figure = None
        heading = (step.heading if step else told.heading) or told.heading
        views.append(
            StepView(
                key=f"{told.number}" if told.number is not None else f"aside-{n}",
                number=told.number,
                heading=heading or (f"Step {told.number}" if told.number is not None else ""),
                section=told.group if told.group != heading else "",
                prose=story.html(told, draft.spoken, root),
                figure=figure,
                caption=_caption(figure) if figure else Markup(""),
                workings=step.workings if step else (),
                operations=step.operations if step else (),
                source=told.source.strip("\n"),
                unmet=tuple(unmet.get(told.number or 0, ())),
            )
        )
    return views


def _unmet(draft: Draft, show: Callable[[float], str]) -> dict[int, list[tuple[str, Markup]]]:
    """Seams that do not meet by the step that asks for them: in words, and drawn."""
    names = _edge_names(draft)
    found: dict[int, list[tuple[str, Markup]]] = {}
    for n, seam in enumerate(s for s in draft.seams if not s.ok):
        asking = [s.number for s in draft.steps if s.place.line <= seam.place.line]
        drawn = seam_figure(draft, seam, show, f"unmet-{n + 1}")
        if asking and drawn:
            words = f"{names(seam.first)} and {names(seam.second)} do not meet"
            found.setdefault(asking[-1], []).append((f"{words}: {seam.detail}", drawn))
    return found


def _caption(figure: StepFigure) -> Markup:
    """The new lines with their lengths, each length kept in one piece, and what is newly marked."""
    one = Markup('{} <span class="whole">{}</span>')
    lines = Markup(", ").join(one.format(name, length) for name, length in figure.lines)
    said = [Markup("New lines: {}.").format(lines)] if lines else []
    if figure.marks:
        said.append(Markup("Newly marked on {}.").format("; ".join(figure.marks)))
    return Markup(" ").join(said)


def _seams(draft: Draft, show: Callable[[float], str]) -> list[dict[str, Any]]:
    names = _edge_names(draft)
    rows = []
    for s in draft.seams:
        first, second = show(s.first_length), show(s.second_length)
        # The two lengths have columns of their own.
        detail = s.detail.removeprefix(f"{first} and {second}").lstrip(",; ") if s.ok else s.detail
        rows.append(
            {
                "first": names(s.first),
                "second": names(s.second),
                "first_length": first,
                "second_length": second,
                "first_mm": s.first_length,
                "second_mm": s.second_length,
                "ease": show(s.ease) if abs(s.ease) >= 0.5 else "none",
                "ok": s.ok,
                "detail": detail,
            }
        )
    return rows


def _finished(draft: Draft, show: Callable[[float], str]) -> list[dict[str, Any]]:
    return [
        {
            "name": f.name,
            "garment": show(f.garment),
            "body": show(f.body) if f.body is not None else "",
            "ease": show(f.garment - f.body) if f.body is not None else "",
            "ok": f.ok,
            "detail": f.detail,
        }
        for f in draft.finished
    ]


def _edges(letter: str, piece: Piece, show: Callable[[float], str]) -> dict[str, Any]:
    """A piece's edges: the length on paper, and the length sewn where darts take some of it."""
    edges = []
    for edge in piece.edges:
        mm, sewn = edge.path.length, sewn_length(piece, edge.name)
        sewn_text = show(sewn) if abs(mm - sewn) >= 0.5 else ""
        edges.append({"name": edge.name, "length": show(mm), "mm": mm, "sewn": sewn_text, "fold": edge.fold})
    return {"letter": letter, "name": piece.name, "title": piece.title, "edges": edges}


def _edge_names(draft: Draft) -> Callable[[str], str]:
    """Says "back.side" as "Bodice back, side"; edges joined by "and" one by one."""

    def one(edge: str) -> str:
        piece, _, rest = edge.partition(".")
        known = draft.pieces.get(piece)
        return f"{known.title}, {in_words(rest)}" if known and rest else in_words(edge)

    return lambda edges: " and ".join(one(edge) for edge in edges.split(" and "))


def _joined(story: Story, spoken: Mapping[int, str], root: str) -> Markup:
    out = []
    for n, told in enumerate(story.opening):
        if told.heading and n:
            out.append(Markup("<h3>{}</h3>").format(told.heading))
        out.append(story.html(told, spoken, root))
    return Markup("").join(out)


def and_words(words: Sequence[str]) -> str:
    """ "women", "women and girls", "women, girls and boys"."""
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def _count(count: int, what: str) -> str:
    return f"{count} {what}" + ("" if count == 1 else "s")


def _parts(view: Mapping[str, Any]) -> Sequence[tuple[str, str, Any]]:
    style = view["style"]
    return (
        ("missing", "What is missing", view["missing"]),
        ("findings", "What went wrong" if view["broken"] else "Worth a look", view["findings"]),
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
        ("cautions", "With care", view["cautions"]),
    )
