"""Orders in a client's file: one garment each, with its cloths, its dates and its price."""

from __future__ import annotations

import datetime
import re
from collections.abc import Collection, Iterable, Mapping
from decimal import Decimal

from catalogue.days import WRITTEN, day_shown, if_turned_round, looks_like_a_day, not_a_day, read_day
from catalogue.findings import Place, Severity, did_you_mean
from catalogue.frontmatter import FrontEntry
from catalogue.money import MoneyError, parse_amount
from catalogue.people.client import Chosen, Order
from catalogue.people.fitting_reading import DATE_TO_COME
from catalogue.people.front import FrontReader, choice_name
from catalogue.slugs import slugify
from catalogue.sorting import sort_key

STAGES = ("measured", "drafted", "toile", "fitted", "cut", "sewn", "finished", "delivered", "paid")
"""What happens to a garment, in order. A toile is not made of every garment; payment may come at any time."""
CODE = "order-"
"""How the codes of findings on orders begin: they stop no draft, and are nothing for a client's own copy."""
MOST_ORDERS = 500
MOST_YEARS = 3.0
"""Between two days of one order (own judgement)."""
MOST_HOURS, MOST_TIMES_PLANNED = 200, 5
"""Hours of one garment, and how many times those that were planned (own judgement: a suit by hand takes some 60)."""
_HOURS = re.compile(r"(\d{1,3}(?:[.,]\d{1,2})?)\s*(?:h|hours?)?")
_SHARE = re.compile(r"(\d{1,3}(?:[.,]\d{1,2})?)\s*(?:%|per\s?cent)(?:\s.*)?")
_EXTRA = re.compile(r"(?P<what>.*?\D)\s+(?P<amount>\S*\d\S*)")
_PARTS = (
    "style",
    "ordered",
    "due",
    "cloth",
    "choices",
    "lay",
    "price",
    "deposit",
    "extras",
    "hours",
    "planned hours",
    "note",
    "as cut",
    *STAGES,
)
_WAYS = ("single", "lengthwise", "crosswise")
_HINT = "Write the order's name, and style:, ordered: and due: indented below it."


class OrderReader:
    """Reads the orders of a client file that `reader` is reading; what is wrong is noted there."""

    def __init__(
        self,
        reader: FrontReader,
        today: datetime.date | None = None,
        taken: Collection[datetime.date] = (),
    ) -> None:
        """`taken` are the days of the client's sets of measurements."""
        self.reader, self.today, self.taken = reader, today, taken
        self.first = reader.defaults.dates

    def shown(self, day: datetime.date) -> str:
        return day_shown(day, self.first)

    def orders(self) -> tuple[Order, ...]:
        """The orders that name a style, by the day they were ordered; what is wrong with one stops no other."""
        entry = self.reader.front.mapping.get("orders")
        if entry is None or entry.text == "":
            return ()
        if entry.mapping is None:
            self.add(
                "not-a-group", f"“orders” must be names with values, not {entry.kind}", entry.place, _HINT
            )
            return ()
        found: dict[str, Order] = {}
        for name, one in list(entry.mapping.items())[:MOST_ORDERS]:
            order = self.order(" ".join(name.split())[:80], one)
            if order and order.slug in found:
                message = f"there is an order “{found[order.slug].name}” already"
                self.add("same-name", message, one.key_place, "Give one of the two another name.")
            elif order:
                self.check_copy(order, found.values())
                found[order.slug] = order
        return tuple(sorted(found.values(), key=lambda o: (o.ordered or datetime.date.max, sort_key(o.name))))

    def check_copy(self, order: Order, others: Iterable[Order]) -> None:
        """Note an order that is the same as another but for its name: cloth would be bought twice."""

        def told(one: Order) -> tuple[object, ...]:
            cloths = tuple((use, name) for use, name, _ in one.cloths)
            return one.style, one.ordered, one.due, cloths, {k: c.text for k, c in one.choices.items()}

        same = next((other for other in others if told(other) == told(order)), None)
        if same is not None:
            message = (
                f"“{order.name}” is the same as “{same.name}”: one style, the same days, cloth and choices"
            )
            self.add("twice", message, order.place, "Take one out, if it was copied.", Severity.WARNING)

    def add(
        self, code: str, message: str, place: Place, hint: str = "", severity: Severity = Severity.ERROR
    ) -> None:
        # About no measurement: so it stops no draft.
        self.reader.add(f"{CODE}{code}", message, place, hint, severity, about=())

    def order(self, name: str, entry: FrontEntry) -> Order | None:
        if entry.mapping is None:
            self.add(
                "not-a-group", f"“{name}” must be names with values, not {entry.kind}", entry.place, _HINT
            )
            return None
        parts = entry.mapping
        for part, value in parts.items():
            if part not in _PARTS:
                hint = did_you_mean(part, _PARTS) or f"Known: {', '.join(_PARTS)}."
                if part.casefold() in ("stage", "stages", "status"):
                    hint = f"Write each stage that is done with its day, as in cut: 2026-03-14 ({', '.join(STAGES)})."
                what = (
                    "a stage or a part of an order"
                    if looks_like_a_day(value.text or "")
                    else "a part of an order"
                )
                self.add("unknown-key", f"“{part}” is not {what} known here", value.key_place, hint)
        style, style_place = self.text("style", parts)
        if not style:
            self.add(
                "no-style",
                f"the order “{name}” names no style",
                entry.key_place,
                "Write style: and the name of the style's file, without .md.",
            )
            return None
        ordered, due = self.date("ordered", parts, past=True), self.date("due", parts)
        if ordered and due and due < ordered:
            message = f"the order “{name}” is due before it was ordered"
            turned = if_turned_round(due, ordered.__le__, self.first, ordered) or if_turned_round(
                ordered, due.__ge__, self.first, due
            )
            self.add("dates", message, parts["due"].place, turned or "Check both dates.")
        stages = {stage: day for stage in STAGES if (day := self.date(stage, parts, past=True))}
        self.check_years({"ordered": ordered, "due": due, **stages}, parts)
        self.check_stages(stages, ordered, parts)
        self.check_measured(stages.get("measured"), parts)
        lay = self.text("lay", parts)[0].casefold()
        if lay and lay not in _WAYS:
            self.add(
                "lay",
                f"“{lay}” is not a way to spread cloth",
                parts["lay"].place,
                f"Write {', '.join(_WAYS)}.",
            )
            lay = ""
        price = self.amount("price", parts)
        deposit = self.amount("deposit", parts, price)
        if price is not None and deposit is not None and deposit > price:
            message = "the deposit is more than the price"
            self.add("money", message, parts["deposit"].place, "Check both.", Severity.WARNING)
        hours, planned = self.hours("hours", parts), self.hours("planned hours", parts)
        if hours and planned and hours <= MOST_HOURS and hours > MOST_TIMES_PLANNED * planned:
            message = f"hours: {hours} is over {MOST_TIMES_PLANNED} times the {planned} that were planned"
            hint = "Is a decimal point missing?"
            self.add("many-hours", message, parts["hours"].place, hint, Severity.WARNING)
        return Order(
            slug=slugify(name),
            name=name,
            style=slugify(style),
            place=entry.key_place,
            style_place=style_place,
            ordered=ordered,
            due=due,
            cloths=tuple(self.cloths(parts)),
            choices=self.choices(parts),
            lay=lay,
            price=price,
            deposit=deposit,
            extras=tuple(self.extras(parts)),
            hours=hours,
            planned_hours=planned,
            note=self.text("note", parts)[0],
            stages=stages,
            as_cut=self.date("as cut", parts, past=True),
            price_place=parts["price"].place if price is not None else None,
        )

    def text(self, part: str, parts: Mapping[str, FrontEntry]) -> tuple[str, Place]:
        entry = parts.get(part)
        if entry is None:
            return "", Place(self.reader.front.file)
        if entry.text is None:
            self.add("not-a-text", f"“{part}” must be a text, not {entry.kind}", entry.place)
            return "", entry.place
        return " ".join(entry.text.split())[:400], entry.place

    def date(self, part: str, parts: Mapping[str, FrontEntry], *, past: bool = False) -> datetime.date | None:
        """The day of a part; with `past` it is one on which something was done, so that none to come counts."""
        text, place = self.text(part, parts)
        if not text or text.casefold() in ("no", "none", "not yet"):
            return None
        day = read_day(text, self.first)
        if day is None:
            message, hint = not_a_day(text, self.first)
            self.add("date", f"{part}: {message}", place, hint)
            return None
        if past and self.today is not None and day > self.today:
            message = f"{part}: {text} is in the future, so it does not count yet"
            turned = if_turned_round(day, self.today.__ge__, self.first)
            hint = turned or f"Write the day on which it was {part.removeprefix('as ')}."
            self.add(DATE_TO_COME, message, place, hint)
            return None
        return day

    def check_years(self, days: Mapping[str, datetime.date | None], parts: Mapping[str, FrontEntry]) -> None:
        """Note a day that lies years before or after the others: its year is mistyped."""
        given = {part: day for part, day in days.items() if day}
        middle = sorted(given.values())[len(given) // 2] if len(given) > 2 else None
        beside = middle or given.get("ordered")
        for part, day in given.items():
            years = abs((day - beside).days) / 365.25 if beside else 0.0
            if years > MOST_YEARS:
                message = (
                    f"“{part}” ({self.shown(day)}) is {years:.0f} years from the other days of this order"
                )
                self.add("year", message, parts[part].place, "Check the year.", Severity.WARNING)

    def check_stages(
        self,
        stages: Mapping[str, datetime.date],
        ordered: datetime.date | None,
        parts: Mapping[str, FrontEntry],
    ) -> None:
        """Note stages that are dated before an earlier one; payment may come at any time."""
        before: tuple[str, datetime.date] | None = ("ordered", ordered) if ordered else None
        for stage, day in stages.items():
            if stage in ("paid", "measured"):
                continue
            if before and day < before[1]:
                message = (
                    f"“{stage}” ({self.shown(day)}) is dated before “{before[0]}” ({self.shown(before[1])})"
                )
                turned = if_turned_round(day, before[1].__le__, self.first, before[1]) or if_turned_round(
                    before[1], day.__ge__, self.first, day
                )
                self.add("dates", message, parts[stage].place, turned or "Check both dates.")
            else:
                before = stage, day
        measured, cut = stages.get("measured"), stages.get("cut")
        if measured and cut and cut < measured:
            message = f"“measured” ({self.shown(measured)}) is dated after “cut” ({self.shown(cut)})"
            hint = "Check both dates: what was measured later is not in the cloth."
            self.add("dates", message, parts["measured"].place, hint, Severity.WARNING)

    def check_measured(self, day: datetime.date | None, parts: Mapping[str, FrontEntry]) -> None:
        """Note a day of measuring on which nothing was measured; a client may have one set without a day."""
        if day is None or not self.taken or day in self.taken:
            return
        nearest = min(self.taken, key=lambda other: (abs((other - day).days), other))
        hint = if_turned_round(day, self.taken.__contains__, self.first) or (
            f"The nearest are of {self.shown(nearest)}: write that day, or what was measured under measured: and "
            f"{self.shown(day)}."
        )
        message = f"measured: the client has no measurements of {self.shown(day)}"
        self.add("not-measured", message, parts["measured"].place, hint, Severity.WARNING)

    def cloths(self, parts: Mapping[str, FrontEntry]) -> list[tuple[str, str, Place]]:
        """(use, name of the cloth, place): one text is the main cloth."""
        entry = parts.get("cloth")
        if entry is None or entry.text == "":
            return []
        if entry.text is not None:
            return [("main", " ".join(entry.text.split()), entry.place)]
        if entry.mapping is None:
            hint = "Write cloth: and the cloth's name, or main:, lining: ... indented below it."
            self.add("not-a-group", "“cloth” must be a name, or a name for each use", entry.place, hint)
            return []
        return [
            (" ".join(use.split()), text, value.place)
            for use, value in entry.mapping.items()
            if (text := self.text(use, entry.mapping)[0])
        ]

    def choices(self, parts: Mapping[str, FrontEntry]) -> dict[str, Chosen]:
        entry = parts.get("choices")
        if entry is None or entry.text == "":
            return {}
        if entry.mapping is None:
            hint = "Write each choice on a line of its own, as in length: 60 cm."
            self.add(
                "not-a-group", f"“choices” must be names with values, not {entry.kind}", entry.place, hint
            )
            return {}
        found: dict[str, Chosen] = {}
        for name, value in entry.mapping.items():
            text, place = self.text(name, entry.mapping)
            if text and (known := choice_name(name)) in found:
                line = found[known].key_place.line
                message = f"“{name}” is already chosen on line {line}"
                self.add("twice", message, value.key_place, "Keep one of the two.")
            elif text:
                found[known] = Chosen(text, place, value.key_place)
        return found

    def amount(self, part: str, parts: Mapping[str, FrontEntry], of: Decimal | None = None) -> Decimal | None:
        """The amount of a part; `of` is what a share of it would be a share of."""
        text, place = self.text(part, parts)
        if not text or text.casefold() == "none":
            return None
        try:
            return parse_amount(text)
        except MoneyError as error:
            hint = error.hint or "Write an amount such as 240."
            if re.search(WRITTEN, text):
                hint = "Write the amount alone; the day it was paid may stand under note:."
            elif (share := _SHARE.fullmatch(text)) and of is not None:
                worked = Decimal(share[1].replace(",", ".")) * of / 100
                hint = f"Write the amount: {share[1]} % of {of} is {worked.quantize(Decimal('0.01'))}."
            self.add("money", f"{part}: {error.message}", place, hint)
            return None

    def extras(self, parts: Mapping[str, FrontEntry]) -> list[tuple[str, Decimal]]:
        """What is charged besides: "covered buttons 6.50; delivery 4"."""
        entry = parts.get("extras")
        if entry is None or not entry.text:
            return []
        found = []
        for part in re.finditer(r"[^;]+", entry.text):
            text = " ".join(part.group().split())
            if not text:
                continue
            read = _EXTRA.fullmatch(text)
            try:
                if read is None:
                    raise MoneyError(f"“{text[:40]}” has no amount at its end")
                found.append((read["what"], parse_amount(read["amount"])))
            except MoneyError as error:
                hint = "Write what it is and its price, as in covered buttons 6.50; delivery 4."
                self.add("money", f"extras: {error.message}", entry.place_at(part.start()), hint)
        return found

    def hours(self, part: str, parts: Mapping[str, FrontEntry]) -> Decimal | None:
        text, place = self.text(part, parts)
        if not text:
            return None
        found = _HOURS.fullmatch(text)
        if not found:
            self.add("hours", f"{part}: “{text[:30]}” is not a number of hours", place, "Write it as in 7.5.")
            return None
        hours = Decimal(found[1].replace(",", "."))
        if hours > MOST_HOURS:
            message = f"{part}: {text[:30]} is more than any garment takes"
            hint = "Is a decimal point missing? Hours are those of this garment alone."
            self.add("many-hours", message, place, hint, Severity.WARNING)
        return hours
