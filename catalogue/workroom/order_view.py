"""An order with all that the workroom shows of it: its draft, its lays, its costs, what is missing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from catalogue.cloth.cloth_lay import ClothLay, How, MetPoint
from catalogue.cloth.cloths import Cloth
from catalogue.cloth.forms import forms_of
from catalogue.cloth.laying import Filler, fill_quickly, lay_cloth
from catalogue.cloth.matching import SewnEdges, matching_of
from catalogue.cloth.words import bolt_words, length_to_buy, shop_length, width_words
from catalogue.drafting import Draft
from catalogue.drawing.labels import cloth_words
from catalogue.lengths import show_length
from catalogue.people import Client
from catalogue.people.as_of import as_of
from catalogue.people.client import Chosen, Order
from catalogue.slugs import slugify
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style
from catalogue.workroom.costs import ClothCost, OrderCosts, costs_of
from catalogue.workroom.kept_garments import KeptGarment
from catalogue.workroom.notions import notion_costs
from catalogue.workroom.stages import next_step, stage_of


@dataclass(frozen=True, slots=True)
class OrderLay:
    """A cloth of an order and its lay.

    Attributes:
        to_buy: mm to ask for over the counter, rounded up as shops sell; 0 without a lay.
        shown: the same in words, with the width.
        from_stock: mm of the length at hand that suffices; None where none does.
        remarks: what the cutter must know: what is too wide and what to do, how it was spread, shrinkage.
    """

    use: str
    cloth: Cloth
    lay: ClothLay | None
    to_buy: float = 0.0
    shown: str = ""
    from_stock: float | None = None
    remarks: tuple[str, ...] = ()

    @property
    def file(self) -> str:
        """What names of files about it begin with."""
        return f"lay-{slugify(self.use)}"


@dataclass(frozen=True, slots=True)
class OrderView:
    """An order as the workroom sees it; `missing` are short sentences, `unsettled` those on cloth to be chosen."""

    client: Client
    order: Order
    style: Style
    draft: Draft
    lays: tuple[OrderLay, ...]
    costs: OrderCosts
    stage: str
    next_step: str
    missing: tuple[str, ...]
    unsettled: tuple[str, ...] = ()


def with_choices(client: Client, order: Order, kept: Sequence[KeptGarment] = ()) -> Client:
    """The client with the choices of this order before their own for the style.

    An order that makes a garment again as it was cut takes the client as of that day, with what was chosen then.
    """
    cut = cut_before(order, kept)
    if order.as_cut is not None:
        client = as_of(client, order.as_cut)
    then = (
        {}
        if cut is None
        else {n: Chosen(text, order.place, order.place) for n, text in cut.told.choices.items()}
    )
    if not order.choices and not then:
        return client
    return client.with_choices(order.style, {**then, **order.choices})


def cut_before(order: Order, kept: Sequence[KeptGarment]) -> KeptGarment | None:
    """The kept garment that an order makes again; None where it makes none, or none was kept on that day."""
    if order.as_cut is None:
        return None
    return next((k for k in kept if (k.told.style, k.told.date) == (order.style, order.as_cut)), None)


def order_view(
    client: Client,
    order: Order,
    draft: Draft,
    cloths: Mapping[str, Cloth],
    settings: Settings,
    filler: Filler = fill_quickly,
) -> OrderView:
    """An order worked out; `filler` places the pieces on the cloth."""
    lays = tuple(order_lays(order, draft, cloths, filler))
    bought = [
        ClothCost(f"{each.cloth.name}", each.shown, each.to_buy, each.cloth.price, each.cloth.price_for)
        for each in lays
        if each.lay is not None
    ]
    planned = settings.prices.hours_for(order.style, draft.style.garment)
    notions, unpriced = notion_costs(draft, settings.prices, (what for what, _ in order.extras))
    costs = costs_of(order, planned, bought, settings.prices, notions, unpriced)
    missing = tuple(_missing(client, order, draft, lays, cloths))
    step = next_step(order, [each.date for each in client.sets if each.date is not None])
    unsettled = tuple(_unsettled(order, draft, lays, cloths))
    return OrderView(
        client, order, draft.style, draft, lays, costs, stage_of(order), step, missing, unsettled
    )


def order_lays(order: Order, draft: Draft, cloths: Mapping[str, Cloth], filler: Filler) -> list[OrderLay]:
    """A lay for each cloth that the order names and the draft uses."""
    found = []
    units = draft.client.units
    seams = [SewnEdges(s.first, s.second, s.matches) for s in draft.seams]
    whole = bool(draft.pieces) and not draft.missing and not any(f.is_error for f in draft.findings)
    for use, name, _ in order.cloths:
        cloth = cloths.get(slugify(name))
        pieces = [p for p in draft.pieces.values() if p.cut.cloth == use.replace(" ", "_")]
        if cloth is None or not pieces or not whole:
            continue
        forms = forms_of(pieces, draft.cut_lines)
        remarks = []
        try:
            lay = lay_cloth(
                cloth,
                use,
                forms,
                how=_how(order.lay),
                matching=matching_of(pieces, seams),
                filler=filler,
            )
        except ValueError as refused:
            remarks.append(str(refused))
            lay = lay_cloth(cloth, use, forms, matching=matching_of(pieces, seams), filler=filler)
        if lay is None:
            found.append(OrderLay(use, cloth, None, remarks=("The pieces take 60 m or more.",)))
            continue
        to_buy = shop_length(lay.bought, units)
        titles = {piece.name: piece.title for piece in pieces}
        for wide in lay.too_wide:
            remarks.append(
                f"{titles[wide.name]} is {show_length(wide.across, units)} across and the cloth "
                f"{show_length(wide.width, units)} between the selvedges: join breadths, or take a wider cloth."
            )
        if cloth.shrinks_along:
            remarks.append(
                f"{cloth.shrinks_along * 100:g} % is added to the length for shrinking: wash or steam the whole "
                "length before it is laid."
            )
        if lay.met:
            remarks.append(matched_words(lay.met, titles))
        remarks += [f"Not to be cut by: {problem}." for problem in lay.problems]
        found.append(
            OrderLay(
                use,
                cloth,
                lay,
                to_buy,
                f"{length_to_buy(lay.bought, units)}, {width_words(cloth.width, units)} wide",
                cloth.stock_for(lay.bought),
                tuple(remarks),
            )
        )
    return found


def matched_words(met: Sequence[MetPoint], titles: Mapping[str, str]) -> str:
    """Which points lie at one place of the cloth's pattern, as a sentence."""
    by_kind: dict[str, list[str]] = {}
    for point in met:
        named = [titles[name] for name in (point.first, point.second) if name in titles]
        by_kind.setdefault(point.what, []).append(" to ".join(named))
    parts = [f"{what} ({', '.join(names)})" for what, names in by_kind.items()]
    return f"Matched: {'; '.join(parts)}."


def _how(word: str) -> How | None:
    ways: dict[str, How] = {"single": "single", "lengthwise": "lengthwise", "crosswise": "crosswise"}
    return ways.get(word)


def _unsettled(
    order: Order, draft: Draft, lays: tuple[OrderLay, ...], cloths: Mapping[str, Cloth]
) -> list[str]:
    """What is to be decided on its cloth, before there is anything to buy."""
    if "cut" in order.stages or not order.is_open:
        return []
    found: list[str] = []
    named = {use.replace(" ", "_"): name for use, name, _ in order.cloths}
    uses = dict.fromkeys(piece.cut.cloth for piece in draft.pieces.values())
    found += [f"cloth: {cloth_words(use)} is not chosen" for use in uses if use not in named]
    if uses:
        known = ", ".join(cloth_words(use) for use in uses)
        found += [
            f"cloth: nothing is cut from “{use.replace('_', ' ')}”; the style has {known}"
            for use in named
            if use not in uses
        ]
    found += [f"cloth: “{n}” is not in clients/cloths.md" for n in named.values() if slugify(n) not in cloths]
    titles = {piece.name: piece.title for piece in draft.pieces.values()}
    wide = {w.name: each for each in lays if each.lay for w in each.lay.too_wide}
    found += [f"cloth: {each.cloth.name} is too narrow for {titles[name]}" for name, each in wide.items()]
    return found


def _missing(
    client: Client, order: Order, draft: Draft, lays: tuple[OrderLay, ...], cloths: Mapping[str, Cloth]
) -> list[str]:
    found = [f"measurement: {draft.style.register.name_of(key)}" for key in draft.missing]
    if any(f.is_error for f in draft.findings):
        found.append("a draft without a mistake")
    if order.due is None:
        found.append("a day it is due")
    cut = "cut" in order.stages
    if not cut:
        found += _unsettled(order, draft, lays, cloths)
        for each in lays:
            if each.lay and each.cloth.stock and each.from_stock is None:
                have = bolt_words(each.cloth.stock[0], client.units)
                found.append(f"cloth: {each.cloth.name}, {each.shown}; the longest piece at hand is {have}")
    if cut and "fitted" not in order.stages and "delivered" not in order.stages:
        found.append("a fitting")
    return found
