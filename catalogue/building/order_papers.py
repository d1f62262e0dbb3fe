"""The commands on orders: a good lay of their cloths, and a pack of all their papers for a copy shop."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from catalogue.building.common import Common
from catalogue.building.disk import CannotWrite
from catalogue.building.outputs import day_of
from catalogue.building.readers import StudioReaders
from catalogue.building.reading import read_studio
from catalogue.building.studio import UnknownName, called, find_files
from catalogue.building.units.orders import kept_file, order_views
from catalogue.findings import did_you_mean
from catalogue.slugs import slugify
from catalogue.sorting import in_order

if TYPE_CHECKING:
    from catalogue.people import Client
    from catalogue.people.client import Order
    from catalogue.workroom.order_view import OrderView
    from catalogue.workroom.pack import PackPart


_CREATOR = re.compile(rb"/Creator \(pattern(?:-|\\055)catalogue\)")


class LaidCloth(NamedTuple):
    """A cloth of an order that was laid well: mm before and after."""

    client: str
    order: str
    cloth: str
    before: float
    after: float


def chosen_orders(common: Common, names: Sequence[str], *, open_only: bool) -> list[tuple[Client, Order]]:
    """The orders that are meant: a client's by the client's name, one by its own, as "client/order" where need be.

    Raises UnknownName.
    """
    every = [(client, order) for client in common.studio.clients for order in client.orders]
    wanted = [pair for pair in every if pair[1].is_open or not open_only]
    if not names:
        return wanted
    found: list[tuple[Client, Order]] = []
    for name in names:
        whose, _, which = name.rpartition("/")
        slug = slugify(which or name)
        meant = [
            (client, order)
            for client, order in every
            if order.slug == slug and (not whose or called(whose, client))
        ]
        of_client = [pair for pair in wanted if called(name, pair[0])]
        if len(meant) > 1 and not of_client:
            shown = " or ".join(f"{client.slug}/{order.slug}" for client, order in meant)
            raise UnknownName(f"“{name}” could be {shown}. Write one of them.")
        if not meant and not of_client:
            known = [*(order.slug for _, order in every), *(client.slug for client, _ in every)]
            hint = (
                did_you_mean(name, known) or f"It has: {', '.join(in_order(set(known))[:12]) or 'none yet'}."
            )
            raise UnknownName(f"This studio has no client with orders, and no order, called “{name}”. {hint}")
        found += meant or of_client
    return list({(client.slug, order.slug): (client, order) for client, order in found}.values())


def _common(root: Path) -> Common:
    return Common(read_studio(find_files(root), StudioReaders()))


def lay_well(root: Path, names: Sequence[str]) -> list[LaidCloth]:
    """Search for good lays of the orders and keep them in the studio, a file a client; the next build shows them.

    Raises NotAStudio, UnknownName and CannotWrite.
    """
    from catalogue.cloth.solver import fill_well
    from catalogue.cloth.strip import FilledStrip
    from catalogue.workroom.kept_lays import as_text, keeping, read_kept
    from catalogue.workroom.order_view import order_lays

    common = _common(root)
    studio = common.studio
    by_client: dict[str, list[tuple[Client, Order]]] = {}
    for client, order in chosen_orders(common, names, open_only=True):
        by_client.setdefault(client.slug, []).append((client, order))
    laid = []
    for slug, orders in by_client.items():
        path = root / kept_file(slug)
        before = {(v.order.slug, each.use): each for v in order_views(common, slug) for each in v.lays}
        fresh: dict[str, FilledStrip] = {}
        filler = keeping(fill_well, fresh)
        for client, order in orders:
            style = studio.by_style.get(order.style)
            if style is not None:
                draft = common.draft(style, common.ordered(style, client, order))
                order_lays(order, draft, studio.cloths, filler)
        _write(path, as_text({**read_kept(path), **fresh}).encode())
        wanted = {order.slug for _, order in orders}
        for view in order_views(common, slug):
            for each in view.lays if view.order.slug in wanted else ():
                old = before[view.order.slug, each.use].lay
                if each.lay is not None and old is not None:
                    name = each.cloth.name
                    laid.append(
                        LaidCloth(view.client.name, view.order.name, name, old.length, each.lay.length)
                    )
    return laid


def pack(
    root: Path,
    name: str,
    out: Path | None = None,
    papers: Sequence[str] = (),
    tell: Callable[[str], None] = lambda _: None,
) -> tuple[Path, int]:
    """Write all papers of an order, or of a client's open orders, as one PDF; returns where, and its pages.

    `tell` is given a sentence for each order whose pattern is not in it.

    Raises NotAStudio, UnknownName and CannotWrite.
    """
    from catalogue.sheets import SheetSettings, paper_named, sheet_pdf
    from catalogue.sheets.paper import Margins
    from catalogue.workroom.pack import PackPart, joined_pdf

    common = _common(root)
    settings = common.studio.settings
    orders = chosen_orders(common, (name,), open_only=True)
    if not orders:
        raise UnknownName(f"Nothing is open for “{name}”. Name the order itself to pack one that is paid.")
    wanted = {(client.slug, order.slug) for client, order in orders}
    found = {
        (slug, view.order.slug): view
        for slug in dict.fromkeys(client.slug for client, _ in orders)
        for view in order_views(common, slug)
        if (slug, view.order.slug) in wanted
    }
    views = list(found.values())
    lost = [order for client, order in orders if (client.slug, order.slug) not in found]
    if not views:
        raise UnknownName(
            f"“{lost[0].name}” can't be packed: its style can't be read. See “catalogue check”."
        )
    for order in lost:
        tell(f"“{order.name}” is not in this pack: its style can't be read. See “catalogue check”.")
    parts = []
    for view in views:
        parts += _papers(view, settings.name, settings.language)
        if not view.draft.pieces or view.draft.missing or any(f.is_error for f in view.draft.findings):
            tell(
                f"“{view.order.name}” has no pattern in this pack: its draft is not whole. See “catalogue check”."
            )
            continue
        sheet_settings = SheetSettings(
            day_of(settings, view.draft), settings.name, language=settings.language, grid=settings.grid
        )
        for paper_name in papers or settings.papers:
            paper = paper_named(paper_name)
            if settings.margin is not None:
                paper = paper._replace(margins=Margins(*[settings.margin] * 4))
            printed = sheet_pdf(view.draft, paper, sheet_settings)
            parts.append(PackPart(view.order.name, f"Pattern on {paper.title}", printed.data))
    client, order = orders[0]
    file = f"{client.slug}-{order.slug}.pdf" if len(orders) == 1 else f"{client.slug}-orders.pdf"
    is_folder = out and (out.is_dir() or not (out.suffix or os.path.lexists(out)))
    path = out / file if out and is_folder else out or Path(file)
    if not _is_a_pack(path):
        raise CannotWrite(
            f"“{path}” is not a pack that this program wrote, so it is left. Choose another with --out."
        )
    data, pages = joined_pdf(parts, f"{client.name}: {', '.join(o.name for _, o in orders)}", settings.name)
    _write(path, data)
    return path, pages


def _papers(view: OrderView, studio: str, language: str) -> list[PackPart]:
    """The ticket, the lays and the sewing notes of an order."""
    from catalogue.drawing.labels import letters_of
    from catalogue.workroom.lay_prints import table_pdf
    from catalogue.workroom.pack import PackPart
    from catalogue.workroom.ticket import notes_pdf, ticket_pdf

    name = view.order.name
    parts = [PackPart(name, "Job ticket", ticket_pdf(view, studio, language))]
    letters = letters_of(list(view.draft.pieces.values()))
    for each in view.lays:
        if each.lay is not None and each.lay.flat:
            data = table_pdf(view, each, letters, studio, language)
            parts.append(PackPart(name, f"Lay: {each.cloth.name}", data))
    return [*parts, PackPart(name, "Sewing notes", notes_pdf(view, studio, language))]


def _is_a_pack(path: Path) -> bool:
    """Whether a file may be written over: there is none, or a pack of ours that nobody wrote notes into."""
    try:
        data = path.read_bytes() if path.is_file() else b""
    except OSError:
        return False
    # Who writes notes into a PDF adds to the file, behind its end.
    ours = data.startswith(b"%PDF-") and _CREATOR.search(data) is not None and data.count(b"%%EOF") == 1
    return ours or not os.path.lexists(path)


def _write(path: Path, data: bytes) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        passing = path.with_name(f"{path.name}.part")
        passing.write_bytes(data)
        passing.replace(path)
    except OSError as error:
        raise CannotWrite(f"“{path}” cannot be written: {error.strerror or type(error).__name__}.") from None
