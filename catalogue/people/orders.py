"""Orders in a client's file: one garment each, with its cloths, its dates and its price."""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping
from decimal import Decimal

from catalogue.findings import Place, Severity, did_you_mean
from catalogue.frontmatter import FrontEntry
from catalogue.money import MoneyError, parse_amount
from catalogue.people.client import Chosen, Order
from catalogue.people.front import FrontReader
from catalogue.slugs import slugify

STAGES = ("measured", "drafted", "toile", "fitted", "cut", "sewn", "finished", "delivered", "paid")
"""What happens to a garment, in order. A toile is not made of every garment; payment may come at any time."""
CODE = "order-"
"""How the codes of findings on orders begin: they stop no draft, and are nothing for a client's own copy."""
MOST_ORDERS = 500
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_HOURS = re.compile(r"(\d{1,3}(?:[.,]\d{1,2})?)\s*(?:h|hours?)?")
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
    *STAGES,
)
_WAYS = ("single", "lengthwise", "crosswise")
_HINT = "Write the order's name, and style:, ordered: and due: indented below it."
_DATE_HINT = "Write year-month-day, for example 2026-03-14."


class OrderReader:
    """Reads the orders of a client file that `reader` is reading; what is wrong is noted there."""

    def __init__(self, reader: FrontReader) -> None:
        self.reader = reader

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
                found[order.slug] = order
        return tuple(sorted(found.values(), key=lambda o: (o.ordered or datetime.date.max, o.slug)))

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
                what = (
                    "a stage or a part of an order"
                    if _DATE.fullmatch(value.text or "")
                    else "a part of an order"
                )
                self.add("unknown-key", f"“{part}” is not {what} known here", value.key_place, hint)
        style, style_place = self.text("style", parts)
        if not style:
            self.add(
                "no-style",
                f"the order “{name}” names no style",
                entry.key_place,
                "Write style: straight-skirt.",
            )
            return None
        ordered, due = self.date("ordered", parts), self.date("due", parts)
        if ordered and due and due < ordered:
            message = f"the order “{name}” is due before it was ordered"
            self.add("dates", message, parts["due"].place, "Check both dates.")
        stages = {stage: day for stage in STAGES if (day := self.date(stage, parts))}
        self.check_stages(stages, ordered, parts)
        lay = self.text("lay", parts)[0].casefold()
        if lay and lay not in _WAYS:
            self.add(
                "lay",
                f"“{lay}” is not a way to spread cloth",
                parts["lay"].place,
                f"Write {', '.join(_WAYS)}.",
            )
            lay = ""
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
            price=self.amount("price", parts),
            deposit=self.amount("deposit", parts),
            extras=tuple(self.extras(parts)),
            hours=self.hours("hours", parts),
            planned_hours=self.hours("planned hours", parts),
            note=self.text("note", parts)[0],
            stages=stages,
        )

    def text(self, part: str, parts: Mapping[str, FrontEntry]) -> tuple[str, Place]:
        entry = parts.get(part)
        if entry is None:
            return "", Place(self.reader.front.file)
        if entry.text is None:
            self.add("not-a-text", f"“{part}” must be a text, not {entry.kind}", entry.place)
            return "", entry.place
        return " ".join(entry.text.split())[:400], entry.place

    def date(self, part: str, parts: Mapping[str, FrontEntry]) -> datetime.date | None:
        text, place = self.text(part, parts)
        if not text or text.casefold() in ("no", "none", "not yet"):
            return None
        try:
            if _DATE.fullmatch(text):
                return datetime.date.fromisoformat(text)
            self.add("date", f"{part}: “{text[:30]}” is not a date", place, _DATE_HINT)
        except ValueError:
            self.add("date", f"{part}: there is no day {text}", place, _DATE_HINT)
        return None

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
                    f"“{stage}” ({day.isoformat()}) is dated before “{before[0]}” ({before[1].isoformat()})"
                )
                self.add("dates", message, parts[stage].place, "Check both dates.")
            else:
                before = stage, day

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
            (" ".join(use.split()), " ".join(value.text.split()), value.place)
            for use, value in entry.mapping.items()
            if value.text
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
        return {
            " ".join(name.split()): Chosen(" ".join(value.text.split()), value.place, value.key_place)
            for name, value in entry.mapping.items()
            if value.text
        }

    def amount(self, part: str, parts: Mapping[str, FrontEntry]) -> Decimal | None:
        text, place = self.text(part, parts)
        if not text or text.casefold() == "none":
            return None
        try:
            return parse_amount(text)
        except MoneyError as error:
            self.add("money", f"{part}: {error.message}", place, error.hint or "Write an amount such as 240.")
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
        return Decimal(found[1].replace(",", "."))
