"""The workroom's pages: every order by the day it is due, and the orders of one client with lays and costs."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from decimal import Decimal
from typing import Any, ClassVar

from catalogue.days import day_words
from catalogue.drawing.labels import cloth_words, letters_of
from catalogue.money import Currency
from catalogue.people import Client
from catalogue.site.kept_pages import CutGarment, cut_garments
from catalogue.site.page import Page
from catalogue.site.paths import client_path, draft_path, ordered_path
from catalogue.site.summaries import from_plain
from catalogue.sorting import sort_key
from catalogue.workroom.kept_garments import Differing, KeptGarment, differing
from catalogue.workroom.lay_drawing import lay_svg
from catalogue.workroom.lay_prints import plot_pdf, table_pdf
from catalogue.workroom.order_view import OrderView, cut_before
from catalogue.workroom.own_drafts import differs, has_own_draft, how_it_differs
from catalogue.workroom.ticket import ticket_pdf


@dataclass(frozen=True, slots=True)
class ToBuy:
    """A length of cloth that an order needs: its name, how much, and whether it is at hand.

    `needs` is how much in mm, and `lengths` are those of that cloth at hand.
    """

    cloth: str
    shown: str
    at_hand: bool
    needs: float = 0.0
    lengths: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class OrderRow:
    """An order in the list: plain values, for it is kept between builds.

    Attributes:
        path: of its place on the client's page in the workroom; `pattern` of the page that it is printed from, and
            `own` says why that is a draft of its own, "" where it is the client's usual one.
        due: as it is sorted ("2026-04-01"), "" when no day is set; `due_words` is for people.
        is_open: whether anything is left to do.
        file, line: where it is written.
    """

    client: str
    name: str
    style: str
    path: str
    pattern: str
    own: str
    due: str
    due_words: str
    stage: str
    next_step: str
    missing: tuple[str, ...]
    to_buy: tuple[ToBuy, ...]
    unsettled: tuple[str, ...]
    is_open: bool
    to_pay: str
    file: str = ""
    line: int = 1


@dataclass(frozen=True, slots=True)
class BuyingWeek:
    """What is to be bought for the garments due in a week, with the orders it is for."""

    title: str
    items: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class WorkroomPage(Page):
    """Every order; `weeks` are those with cloth to buy."""

    template: ClassVar = "workroom.html"
    here: ClassVar = "workroom"
    rows: Sequence[OrderRow]
    done: Sequence[OrderRow]
    weeks: Sequence[BuyingWeek]


@dataclass(frozen=True, slots=True)
class OrderShown:
    """One order on its client's page.

    Attributes:
        pattern: path of the page that its pattern is printed from, "" where there is none any more.
        difference: how it differs from the client's usual draft, "" where it does not.
        cut: garments kept as they were cut for it.
        again: the one that it makes again, and `differing` the edges that are not as they were then.
    """

    view: OrderView
    id: str
    pattern: str
    difference: str
    dates: Sequence[tuple[str, str]]
    lays: Sequence[Mapping[str, Any]]
    costs: Sequence[tuple[str, str, str]]
    sums: Sequence[tuple[str, str]]
    hours: str
    cut: Sequence[CutGarment] = ()
    again: CutGarment | None = None
    differing: Sequence[Differing] = ()


@dataclass(frozen=True, slots=True)
class OrdersPage(Page):
    """The orders of a client, the newest first."""

    template: ClassVar = "orders.html"
    here: ClassVar = "workroom"
    client: Client
    client_page: str
    orders: Sequence[OrderShown]


def row_of(view: OrderView, currency: Currency) -> dict[str, Any]:
    """The order as plain values for the workroom's list."""
    order = view.order
    to_buy = tuple(
        ToBuy(each.cloth.name, each.shown, each.from_stock is not None, each.lay.bought, each.cloth.stock)
        for each in view.lays
        if each.lay is not None and not each.lay.too_wide
    )
    row = OrderRow(
        view.client.name,
        order.name,
        view.style.title,
        f"workroom/{view.client.slug}/index.html#{order.slug}",
        _pattern(view),
        _own(view),
        order.due.isoformat() if order.due else "",
        day_words(order.due, view.client.units.dates) if order.due else "",
        view.stage,
        view.next_step,
        view.missing if order.is_open else (),
        to_buy if "cut" not in order.stages and order.is_open else (),
        view.unsettled,
        order.is_open,
        currency.shown(view.costs.to_pay) if view.costs.to_pay else "",
        order.place.file,
        order.place.line,
    )
    return asdict(row)


def order_rows(rows: Iterable[Mapping[str, Any]]) -> Iterator[OrderRow]:
    """What `row_of` gave, as rows again."""
    return (from_plain(row, OrderRow) for row in rows)


def _pattern(view: OrderView) -> str:
    """Path of the page that an order's pattern is printed from; "" where there is none any more."""
    client, order, style = view.client, view.order, view.style
    if has_own_draft(client, order, style):
        return ordered_path(client.slug, order.slug)
    # The usual draft is nothing to print for an order that was not for it.
    return "" if differs(client, order, style) else draft_path(order.style, client.slug)


def _own(view: OrderView) -> str:
    if not differs(view.client, view.order, view.style):
        return ""
    return "made again as cut" if view.order.as_cut is not None else "with options of its own"


def workroom_page(rows: Sequence[Mapping[str, Any]], dates: str = "") -> WorkroomPage:
    """The page at workroom/index.html. What is due first comes first, so what is late leads the list."""
    every = sorted(order_rows(rows), key=lambda r: (r.due or "9999", sort_key(r.client), sort_key(r.name)))
    return WorkroomPage(
        path="workroom/index.html",
        rows=[row for row in every if row.is_open],
        done=[row for row in reversed(every) if not row.is_open],
        weeks=_weeks(every, dates),
    )


def _weeks(rows: Sequence[OrderRow], dates: str) -> list[BuyingWeek]:
    found: dict[str, list[tuple[str, str, str]]] = {}
    for row in rows:
        for item in row.to_buy:
            if not item.at_hand:
                day = datetime.date.fromisoformat(row.due) if row.due else None
                monday = day - datetime.timedelta(days=day.weekday()) if day else None
                title = f"For the week of {day_words(monday, dates)}" if monday else "No day is set"
                found.setdefault(title, []).append((item.cloth, item.shown, f"{row.client}, {row.name}"))
    return [
        BuyingWeek(title, tuple(sorted(items, key=lambda item: [sort_key(word) for word in item])))
        for title, items in found.items()
    ]


def orders_page(
    client: Client, views: Sequence[OrderView], currency: Currency, kept: Sequence[KeptGarment] = ()
) -> OrdersPage:
    """The page at workroom/<client>/index.html; `views` are the client's orders whose style there is."""
    shown = [_shown(view, currency, kept) for view in reversed(views)]
    return OrdersPage(f"workroom/{client.slug}/index.html", client, client_path(client.slug), shown)


def _shown(view: OrderView, currency: Currency, kept: Sequence[KeptGarment]) -> OrderShown:
    order, costs = view.order, view.costs
    slug, styles = view.client.slug, {view.style.slug}
    own = [each for each in kept if each.told.style == order.style and each.told.order == order.name]
    again = cut_before(order, kept)

    def money(amount: Decimal | None) -> str:
        return currency.shown(amount) if amount is not None else "not known"

    dates = [("ordered", order.ordered), ("due", order.due), *order.stages.items()]
    sums = [("Estimate", money(costs.estimate))]
    if costs.agreed is not None:
        sums.append(("Agreed price", money(costs.agreed)))
        if costs.estimate is not None:
            sums.append(("Agreed price less estimate", money(costs.agreed - costs.estimate)))
    if costs.deposit is not None:
        sums.append(("Deposit", money(costs.deposit)))
    sums.append(("Left to pay", money(costs.to_pay)))
    planned = f"{currency.number(costs.hours_planned)} h planned" if costs.hours_planned is not None else ""
    spent = f"{currency.number(costs.hours_spent)} h spent" if costs.hours_spent is not None else ""
    return OrderShown(
        view,
        order.slug,
        _pattern(view),
        how_it_differs(view.client, order, view.style) if differs(view.client, order, view.style) else "",
        [(what, day_words(day, view.client.units.dates)) for what, day in dates if day],
        [
            {
                "title": f"{_capital(cloth_words(each.use))}: {each.cloth.name}",
                "shown": each.shown,
                "file": f"{order.slug}/{each.file}",
                "made": each.lay is not None and bool(each.lay.flat),
                "used": f"{each.lay.used:.0%}" if each.lay is not None else "",
                "met": len(each.lay.met) if each.lay is not None else 0,
                "stock": each.from_stock is not None,
                "remarks": each.remarks,
            }
            for each in view.lays
        ],
        [(line.what, line.detail, money(line.amount)) for line in costs.lines],
        sums,
        ", ".join(filter(None, (planned, spent))),
        cut_garments(slug, own, styles, styles),
        cut_garments(slug, [again], styles, styles)[0] if again else None,
        differing(again.told.outlines, view.draft) if again else (),
    )


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def order_files(view: OrderView, studio: str, language: str) -> dict[str, bytes]:
    """The papers of an order by name: its ticket, and of each cloth the lay as a picture, for the table and to plot."""
    files = {"ticket.pdf": ticket_pdf(view, studio, language)}
    letters = letters_of(list(view.draft.pieces.values()))
    for each in view.lays:
        if each.lay is not None and each.lay.flat:
            title = f"Lay of {each.cloth.name} for {view.style.title}"
            files[f"{each.file}.svg"] = lay_svg(each.lay, letters, title, each.shown).encode()
            files[f"{each.file}.pdf"] = table_pdf(view, each, letters, studio, language)
            files[f"{each.file}-true-size.pdf"] = plot_pdf(view, each, letters, studio, language)
    return files
