"""The page of a draft: what the draft says of itself, beside the style and the client as they are now."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar, NamedTuple

from markupsafe import Markup

from catalogue.days import day_words
from catalogue.drawing.labels import cloth_words
from catalogue.findings import Finding
from catalogue.people import Client
from catalogue.people.client import Order
from catalogue.people.used import used_by_day
from catalogue.site.body import body_definitions
from catalogue.site.forms import is_offered
from catalogue.site.meanings import FAILING, UNALTERED, WAITING, WARNED, WRONG
from catalogue.site.measuring import MeasurementView, measurement_view
from catalogue.site.other_options import other_options
from catalogue.site.page import Page, fitting_notes, for_whom, root_from
from catalogue.site.paths import (
    PICTURE,
    adding_path,
    client_path,
    draft_path,
    options_path,
    ordered_path,
    style_path,
)
from catalogue.site.records import DraftView
from catalogue.site.summaries import Download, DraftSummary, State
from catalogue.studio.style import Style
from catalogue.studio.suiting import suits
from catalogue.workroom.own_drafts import called, how_it_differs, notice_for, own_drafts

USUAL_PAPERS = ("a4", "letter")
"""Papers of ordinary printers: ISO 216, and ASME Y14.1 in North America."""
CHILDREN = frozenset({"girl", "girls", "boy", "boys", "child", "children", "baby", "babies", "toddlers"})


@dataclass(frozen=True, slots=True)
class DraftVerdict:
    """What a draft comes to: `kind` is "holds", "warns", "fails" or "lacks"; `failing` names what fails.

    `meaning` says what that is and what to do; "" where all holds.
    """

    kind: str
    sign: str
    words: str
    more: str = ""
    failing: tuple[str, ...] = ()
    meaning: str = ""


class OtherOrder(NamedTuple):
    """An order that the usual draft is not for: what it is, how it differs, and the path of its own draft's page.

    `named` says whether it is shown by its name, as it is outside a client's copy.
    """

    called: str
    named: bool
    differs: str
    path: str


class DraftOrder(NamedTuple):
    """The order that a draft is made for.

    Attributes:
        called: as the page names it; `name` is the order's own, "" in a client's copy.
        notice: how it differs from the usual draft.
        workroom: path of its place in the workroom, "" where there is none; `ticket` that of its job ticket.
        usual: path of the page of the usual draft; `compared` that of the comparison with it, "" where there is none.
    """

    slug: str
    name: str
    called: str
    notice: str
    workroom: str
    ticket: str
    usual: str
    compared: str


class UsedView(NamedTuple):
    """Measurements of one day that the draft was made from, each with its key, name and figure.

    `day` is in words and `on` as in 2026-11-27, both "" where the day is not known.
    """

    day: str
    on: str
    values: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class DraftPage(Page):
    """The page of a draft.

    Attributes:
        broken: whether there is an error, so that the draft stops early.
        findings: the draft's own, those of the style, and the warnings of the client's file.
        missing: measurements that the draft waits for; `body` defines what their drawings point at.
        used: the measurements that it was drafted from.
        fitting: the client's fitting notes.
        for_child: whether cautions for children's wear belong to it.
        lays: how the pieces are laid, a picture a cloth; `piece_files` are files of one piece each, and
            `downloads` all others.
        drawing, garment: names of the pictures beside the page; "" where there is none.
        abouts: what each choice is, by its name.
        other_paper: the name of the usual paper that no print beside the page is on; "" where both are there.
        options_path: of the page that compares it with the same under other options, "" where there are none;
            `other_options` are what they are called. adding_path: of the form that adds some, "" where it does not
            offer this style.
        order: what it is drafted for, None for the usual draft; other_orders: those that the usual draft is not for.
        cloth: those of the style that its pieces are cut from, by use.
        block_paths: paths of the pages of its blocks, by slug, of those that have one.
    """

    template: ClassVar = "draft.html"
    here: ClassVar = "styles"
    draft: DraftView
    style: Style
    client: Client
    verdict: DraftVerdict
    broken: bool
    findings: tuple[Finding, ...]
    missing: tuple[MeasurementView, ...]
    used: tuple[UsedView, ...]
    body: Markup
    fitting: str
    for_child: bool
    downloads: tuple[Download, ...]
    lays: tuple[Download, ...]
    piece_files: tuple[Download, ...]
    drawing: str
    garment: str
    style_path: str
    client_path: str
    block_paths: Mapping[str, str]
    abouts: Mapping[str, str]
    other_paper: str
    options_path: str
    other_options: Sequence[str]
    adding_path: str
    order: DraftOrder | None
    other_orders: Sequence[OtherOrder]
    cloth: Sequence[tuple[str, str]]


@dataclass(frozen=True, slots=True)
class OrderedDraftPage(DraftPage):
    """The page of an order's own draft, which is reached from the workroom; a client's copy has none."""

    here: ClassVar = "workroom"


def draft_page(
    view: DraftView,
    style: Style,
    client: Client,
    downloads: Sequence[Download] = (),
    remarks: Sequence[Finding] = (),
    styles: Collection[str] = (),
    order: DraftOrder | None = None,
) -> DraftPage:
    """The page at styles/<style>/<client>/index.html, or that of an order's own draft.

    Args:
        downloads: the files beside it.
        remarks: warnings of the client's file, which the draft knows nothing of.
        styles: slugs of those that have pages.
        order: that the draft is made for; None for the usual draft.
    """
    path = ordered_path(client.slug, order.slug) if order else draft_path(style.slug, client.slug)
    count = len(style.findings) if remarks else 0
    findings = (*view.findings[:count], *remarks, *view.findings[count:])
    shown = bool(view.pieces) and not view.missing
    others = () if order else other_options(client, style)
    compared = order.compared if order else options_path(style.slug, client.slug) if others else ""
    page = OrderedDraftPage if order and order.workroom else DraftPage
    return page(
        path=path,
        draft=view,
        style=style,
        client=client,
        verdict=_verdict(view, findings, style, client),
        broken=any(f.is_error for f in findings),
        findings=findings,
        used=_used(style, client) if shown else (),
        missing=tuple(measurement_view(key, style.register) for key in view.missing),
        body=body_definitions() if view.missing else Markup(""),
        fitting=fitting_notes(client, root_from(path)),
        for_child=_is_for_child(style, client),
        downloads=tuple(d for d in downloads if d.kind not in ("lay", "piece")),
        lays=tuple(d for d in downloads if d.kind == "lay"),
        piece_files=tuple(d for d in downloads if d.kind == "piece"),
        drawing="draft.svg" if shown else "",
        garment=PICTURE if shown else "",
        style_path=style_path(style.slug),
        client_path=client_path(client.slug),
        abouts={c.name: c.about for c in style.choices},
        other_paper="" if order and client.is_copy else _other_paper(downloads),
        options_path=compared if view.pieces else "",
        other_options=["as usual"] if order else [other.words for other in others],
        adding_path=adding_path(client.slug) if is_offered(style, client) else "",
        order=order,
        other_orders=() if order else other_orders(client, style),
        cloth=_cloth(view, style),
        block_paths={b.slug: style_path(b.slug) for b in view.blocks if b.slug in styles},
    )


def _cloth(view: DraftView, style: Style) -> tuple[tuple[str, str], ...]:
    """The cloths of a style that the draft has pieces of, by use; all of them where it has no pieces."""
    taken = {row.cloth for row in view.cut_list}
    return tuple((use, what) for use, what in style.cloth if not taken or cloth_words(use) in taken)


def _other_paper(downloads: Sequence[Download]) -> str:
    """The first usual paper that the draft is not printed on; "" where there is none, or no print at all."""
    prints = {d.file for d in downloads if d.kind == "print"}
    others = [paper for paper in USUAL_PAPERS if f"draft-{paper}.pdf" not in prints]
    return others[0] if prints and others else ""


def other_orders(client: Client, style: Style) -> list[OtherOrder]:
    """The orders of a style that have a draft of their own."""
    return [
        OtherOrder(
            called(o), bool(o.name), how_it_differs(client, o, style), ordered_path(client.slug, o.slug)
        )
        for o in own_drafts(client, style)
    ]


def order_shown(client: Client, order: Order, style: Style) -> DraftOrder:
    """What the page of an order's own draft says of the order; `client` is the client as usual."""
    others = other_options(client, style) if suits(style, client) else ()
    is_compared = any(other.key == f"order-{order.slug}" for other in others)
    workroom = "" if client.is_copy else f"workroom/{client.slug}/"
    return DraftOrder(
        order.slug,
        order.name,
        called(order),
        notice_for(client, order, style),
        f"{workroom}index.html#{order.slug}" if workroom else "",
        f"{workroom}{order.slug}/ticket.pdf" if workroom else "",
        draft_path(style.slug, client.slug) if suits(style, client) else "",
        options_path(style.slug, client.slug) if is_compared else "",
    )


def _used(style: Style, client: Client) -> tuple[UsedView, ...]:
    return tuple(
        UsedView(
            day_words(each.date, client.units.dates) if each.date else "",
            each.date.isoformat() if each.date else "",
            tuple((_key_of(name, client), name, figure) for name, figure in each.values),
        )
        for each in used_by_day(client, frozenset(style.uses))
    )


def _key_of(name: str, client: Client) -> str:
    found = client.register.find(name)
    return found.key if found else ""


def draft_summary(
    view: DraftView, style: Style, client: Client, downloads: Sequence[Download] = ()
) -> DraftSummary:
    """What other pages show of the draft."""
    state: State = "failing" if view.failing else "ready"
    if view.missing:
        state = "waiting"
    elif not style.ok or any(f.is_error for f in view.findings):
        state = "wrong"
    warned = bool(view.findings or view.unaltered)
    return DraftSummary(
        state, client.name, view.missing, bool(view.pieces), tuple(downloads), warned, view.alterations
    )


def _verdict(view: DraftView, findings: Sequence[Finding], style: Style, client: Client) -> DraftVerdict:
    """The plain verdict: what fails, or that all holds."""
    errors = tuple(f.message for f in findings if f.is_error)
    if view.missing:
        count = len(view.missing)
        names = ", ".join(map(style.register.name_of, view.missing))
        if not suits(style, client):
            words = f"Not drafted: the style is meant for {for_whom(style)}"
            more = f"It will be drafted for {client.name} once the client file orders it and gives {names}."
            return DraftVerdict("lacks", "○", words, more)
        words = (
            f"Not drafted yet: {'a measurement is' if count == 1 else f'{count} measurements are'} missing"
        )
        return DraftVerdict("lacks", "○", words, f"{client.name} needs {names}.", meaning=WAITING.text)
    if errors:
        done = view.drawn
        more = f"The paper is shown as it was after step {done}." if done else "Nothing could be drawn."
        return DraftVerdict("fails", "✗", "The draft could not be finished", more, errors, WRONG.text)
    failing = view.failing
    total = len(view.checks) + len(view.seams) + len(view.finished)
    if failing:
        words = f"{_count(len(failing), 'check')} of {total} {'fails' if len(failing) == 1 else 'fail'}"
        return DraftVerdict("fails", "✗", words, "Do not cut until this is put right.", failing, FAILING.text)
    seams = "Every seam matches." if view.seams else ""
    passed = f"all {total} checks pass" if total > 1 else "the one check passes"
    held = f"Fit to cut in calico: {passed}" if total else "Drafted"
    if not total:
        seams = "The style has no checks of its own."
    if view.unaltered:
        lines = tuple(dict.fromkeys(view.unaltered))
        words = "Unaltered: a line of a fitting" if len(lines) == 1 else "Unaltered: lines of fittings"
        more = "This is the draft without what could not be carried out. The reasons are among the warnings below."
        return DraftVerdict("warns", "!", f"{words} could not be carried out", more, lines, UNALTERED.text)
    if findings:
        several = f"{len(findings)} warnings" if len(findings) > 1 else "warning"
        note = f"Read the {several} below."
        return DraftVerdict("warns", "!", held, f"{seams} {note}".strip(), meaning=WARNED.text)
    return DraftVerdict("holds", "✓", held, seams)


def _count(count: int, what: str) -> str:
    return f"{count} {what}" + ("" if count == 1 else "s")


def _is_for_child(style: Style, client: Client) -> bool:
    audience = {a.casefold() for a in style.audience}
    return client.kind in CHILDREN or bool(audience and audience <= CHILDREN)
