"""The studio's cloths: `clients/cloths.md`, read once and checked."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path

from catalogue.cloth.cloths import DIRECTIONS, Cloth, Cloths, Direction
from catalogue.cloth.words import YARD
from catalogue.findings import Place, Severity, Trouble, did_you_mean
from catalogue.frontmatter import Front, FrontEntry, decode, read_bytes, split
from catalogue.lengths import LengthError, Unit, Units, parse_length
from catalogue.money import TOO_HIGH, MoneyError, doubted, parse_amount
from catalogue.people.front import FrontReader
from catalogue.slugs import slugify
from catalogue.studio.doubted_words import NARROWEST, WIDEST

FILE = "clients/cloths.md"
"""Where a studio describes its cloths."""
MOST_CLOTHS = 1_000
MOST_SHRINKAGE = 0.25
"""No cloth that is sold for clothes loses more than this (common practice, no source)."""
SHORTEST_REPEAT, LONGEST_REPEAT = 3.0, 2_000.0
SHORTEST_STOCK = 150.0
"""mm at hand that anything can be cut from (own judgement)."""
LEAST_USABLE = 0.8
"""Share of a cloth's width that selvedges leave at the least (own judgement)."""
IN_INCHES = (350.0, 630.0)
"""mm: between these, centimetres are taken for inches as a rule. Bolts are 36 to 62 inches wide (common practice)."""
WIDEST_BOLT = 3_300.0
"""mm that cloth by the metre is wide (common practice, no source)."""
IN_CENTIMETRES = (80.0, 130.0)
"""Inches that a bolt is hardly ever wide, and centimetres that it often is (common practice)."""
_PILE = re.compile(
    r"\b(velvet|velveteen|velour|corduroy|needlecord|plush|fleece|moleskin|mohair|fake fur|faux fur|brushed)\b",
    re.I,
)
"""Cloths whose nap looks darker one way than the other, which shows where pieces meet (common practice)."""
_PATTERNED = re.compile(r"\b(plaid|tartan|gingham|windowpane|checks?|checked|striped?|stripes)\b", re.I)
_SHRUNK = re.compile(
    r"\bpre-?shrunk|\bpre-?washed|\balready (?:washed|shrunk)|(?:washed|shrunk) already\b", re.I
)
_PARTS = (
    "width",
    "usable width",
    "price",
    "fibre",
    "weight",
    "direction",
    "repeat across",
    "repeat along",
    "first bar",
    "pattern",
    "shrinkage across",
    "shrinkage along",
    "stock",
    "about",
)
_DIRECTION_WORDS: dict[str, Direction] = {
    "both ways": "either way",
    "either": "either way",
    "any": "either way",
    "nap": "one way",
    "one-way": "one way",
    "pile up": "nap up",
    "pile down": "nap down",
}
_EVEN = {"even": True, "balanced": True, "uneven": False, "unbalanced": False}
_PRICE = re.compile(
    r"(?P<amount>.+?)\s*(?:(?:/|\ba\b|\bper\b|\bthe\b|\beach\b)\s*|(?<=\d)\s*|(?<=\s))"
    r"(?P<unit>m|metres?|meters?|yds?|yards?)\.?",
    re.IGNORECASE,
)
_PERCENT = re.compile(r"(\d{1,2}(?:[.,]\d+)?)\s*(%|per cent|percent)")
_HINT = "Write the cloth's name, and width: 140 cm indented below it."


def read_cloths(root: Path, defaults: Units | None = None) -> Cloths:
    """The cloths of the studio in the folder `root`; none when it has no file of them.

    Never raises for what the file holds. `defaults` are the studio's units, for a file that says none.
    """
    path = root / FILE
    if not path.is_file():
        return Cloths()
    try:
        front = split(decode(read_bytes(path, FILE), FILE), FILE)
        return _ClothReader(front, defaults or Units()).cloths()
    except Trouble as trouble:
        return Cloths(findings=trouble.findings)


class _ClothReader(FrontReader):
    """Reads a file of cloths that has been taken apart."""

    keys = ("title", "units", "cloths")
    what = "file of cloths"
    measurements_belong = "in a client file"

    def __init__(self, front: Front, defaults: Units) -> None:
        super().__init__(front, defaults)
        self.unit = Unit.CM

    def cloths(self) -> Cloths:
        self.unknown_keys()
        self.unit = self.units().primary
        group = self.front.mapping.get("cloths")
        found: dict[str, Cloth] = {}
        if group is None or group.mapping is None:
            place = group.place if group else Place(self.front.file)
            self.add("no-cloths", "no cloths are described here", place, f"Write cloths:. {_HINT}")
            return Cloths(findings=tuple(self.findings))
        if len(group.mapping) > MOST_CLOTHS:
            self.add("too-many", f"a studio describes at most {MOST_CLOTHS} cloths", group.key_place)
        for name, entry in list(group.mapping.items())[:MOST_CLOTHS]:
            slug = slugify(name)
            if slug in found:
                line = found[slug].place.line
                message = f"“{name}” is already described on line {line}"
                self.add("twice", message, entry.key_place, "Give one of the two another name.")
            elif cloth := self.cloth(" ".join(name.split())[:80], slug, entry):
                found[slug] = cloth
        self.doubt_prices(found, group.mapping)
        broken = frozenset(map(slugify, group.mapping)) - found.keys()
        return Cloths(found, tuple(self.findings), broken)

    def cloth(self, name: str, slug: str, entry: FrontEntry) -> Cloth | None:
        """One cloth; None without a width that can be meant. What else is wrong has a default in its place."""
        if entry.mapping is None:
            self.not_a_group(name, entry, _HINT)
            return None
        parts = entry.mapping
        for part, value in parts.items():
            if part not in _PARTS:
                hint = did_you_mean(part, _PARTS) or f"Known: {', '.join(_PARTS)}."
                self.add("unknown-key", f"“{part}” is not known of a cloth", value.key_place, hint)
        # Without a width there is no cloth; what else is wrong is reported all the same.
        stated = self.width("width", parts, entry.key_place)
        width = stated if stated is not None else WIDEST
        usable = self.width("usable width", parts, None) if "usable width" in parts else width
        if usable is not None and usable > width + 0.5:
            place = parts["usable width"].place
            self.add(
                "usable-width", "the usable width is more than the width", place, "Leave it out or mend one."
            )
            usable = width
        elif stated is not None and usable is not None and usable < LEAST_USABLE * width:
            narrow = parts["usable width"]
            message = f"the usable width, {narrow.text}, is much less than the width"
            hint = "Was it measured on folded cloth? Measure from selvedge to selvedge, opened out."
            self.add("usable-width", message, narrow.place, hint, Severity.WARNING)
        if stated is not None:
            self.doubt_unit(width, parts)
            self.doubt_what_is_left_out(name, parts, entry.key_place)
        across, along = (
            self.repeat(f"repeat {way}", parts, most)
            for way, most in (("across", usable or width), ("along", LONGEST_REPEAT))
        )
        price, price_for = self.price(parts)
        cloth = Cloth(
            name,
            slug,
            entry.key_place,
            width,
            usable or width,
            price,
            price_for,
            self.words("fibre", parts),
            self.words("weight", parts),
            self.direction(parts),
            across,
            along,
            self.first_bar(parts, across),
            self.is_even(parts, across or along),
            self.share("shrinkage across", parts),
            self.share("shrinkage along", parts),
            self.stock(parts),
            self.words("about", parts),
        )
        return cloth if stated is not None else None

    def mm(self, part: str, entry: FrontEntry) -> float | None:
        """mm of a part that is written as a length; None with a finding when it is none."""
        try:
            return parse_length(entry.text or "", self.unit)
        except LengthError as error:
            self.add("not-a-length", f"{part}: {error.message}", entry.place_at(error.offset), error.hint)
            return None

    def width(self, part: str, parts: Mapping[str, FrontEntry], missing: Place | None) -> float | None:
        entry = parts.get(part)
        if entry is None or entry.text is None or entry.text == "":
            place = entry.place if entry else missing
            if place:
                self.add("no-width", f"the {part} is missing", place, "Write width: 140 cm.")
            return None
        mm = self.mm(part, entry)
        if mm is None:
            return None
        if not NARROWEST <= mm <= WIDEST:
            metres = mm * 100 if NARROWEST <= mm * 100 <= WIDEST else mm * 10
            meant = f"Did you mean {metres / 10:.0f} cm? Write {part}: {metres / 10:.0f} cm."
            hint = meant if NARROWEST <= metres <= WIDEST else "Write it as in 140 cm or 55 in."
            unit = "" if entry.text[-1:].isalpha() else f" {self.unit.value}"
            message = f"a {part} of {entry.text}{unit} is out of range"
            self.add("width-out-of-range", f"{message}: 20 cm to 4 m is expected", entry.place, hint)
            return None
        return mm

    def doubt_unit(self, width: float, parts: Mapping[str, FrontEntry]) -> None:
        """Note a width in centimetres that looks like one in inches, and the other way."""
        entry = parts["width"]
        number = re.match(r"\s*[\d.,]+", entry.text or "")
        is_bare = (entry.text or "").strip()[-1:].isdigit()
        is_meant = "usable width" in parts and not is_bare  # Both may have been typed in the other unit.
        if width > WIDEST_BOLT and number:
            hint = f"Did you mean {number[0].strip()} cm?"
        elif IN_INCHES[0] <= width <= IN_INCHES[1] and not is_meant and number:
            typed = number[0].strip()
            hint = f"Did you mean {typed} in? If it is as narrow as that, {_meant(entry, self.unit)}."
        elif (
            number
            and self.unit is Unit.IN
            and is_bare
            and IN_CENTIMETRES[0] <= width / Unit.IN.mm <= IN_CENTIMETRES[1]
        ):
            typed = number[0].strip()
            hint = f"Did you mean {typed} cm? If it is as wide as that, {_meant(entry, self.unit)}."
        else:
            return
        unit = "" if (entry.text or "")[-1:].isalpha() else f" {self.unit.value}"
        message = f"a width of {entry.text}{unit} is unusual for cloth"
        self.add("unusual-width", message, entry.place, hint, Severity.WARNING)

    def doubt_what_is_left_out(self, name: str, parts: Mapping[str, FrontEntry], place: Place) -> None:
        """Note what the words of a cloth tell and its lines do not, where it would be cut wrong without."""
        words = f"{name}; {self.text_of('fibre', parts)}"
        if (found := _PILE.search(words)) and "direction" not in parts:
            message = (
                f"“{name}” is {found[0].casefold()} and has no direction, so pieces may lie either way up"
            )
            hint = "Write direction: nap up or nap down if it has a nap, and either way if it has none."
            self.add("no-direction", message, place, hint, Severity.WARNING)
        repeats = parts.keys() & {"repeat across", "repeat along", "pattern"}
        if (found := _PATTERNED.search(words)) and not repeats:
            message = f"“{name}” has no repeat, so nothing is matched at its seams"
            hint = "Measure from one bar to the next like it: repeat across: 9.6 cm; or write repeat across: none."
            self.add("no-repeat", message, place, hint, Severity.WARNING)
        shrinks = next((p for p in ("shrinkage along", "shrinkage across") if p in parts), None)
        about = f"{words}; {self.text_of('about', parts)}"
        if (
            shrinks
            and (found := _SHRUNK.search(about))
            and self.text_of(shrinks, parts) not in ("0", "0 %", "none")
        ):
            message = f"this cloth is said to be {found[0].casefold()}, and is to shrink {self.text_of(shrinks, parts)}"
            hint = "What lies ready washed does not shrink again: leave out the shrinkage, or the word."
            self.add("shrinks-twice", message, parts[shrinks].place, hint, Severity.WARNING)

    @staticmethod
    def text_of(part: str, parts: Mapping[str, FrontEntry]) -> str:
        entry = parts.get(part)
        return " ".join((entry.text or "").split())[:300] if entry else ""

    def repeat(self, part: str, parts: Mapping[str, FrontEntry], most: float) -> float:
        entry = parts.get(part)
        if entry is None or entry.text in ("", "none", "no"):
            return 0.0
        mm = self.mm(part, entry)
        if mm is None or mm == 0.0:
            return 0.0
        if mm < SHORTEST_REPEAT:
            message = f"a {part} of {entry.text} is too small to be matched"
            self.add(
                "repeat-too-small", message, entry.place, "Is the unit right? Leave out what need not meet."
            )
            return 0.0
        if mm > most:
            what = "wider than the cloth" if part.endswith("across") else "longer than 2 m"
            self.add(
                "repeat-too-large",
                f"the {part} is {what}",
                entry.place,
                "Measure from one bar to the next like it.",
            )
            return 0.0
        return mm

    def first_bar(self, parts: Mapping[str, FrontEntry], repeat: float) -> float:
        entry = parts.get("first bar")
        if entry is None:
            return 0.0
        mm = self.mm("first bar", entry) or 0.0
        if not repeat:
            hint = "Write repeat across: and the width of the repeat too."
            self.add("no-repeat", "a first bar is given without a repeat across", entry.key_place, hint)
            return 0.0
        return mm % repeat

    def is_even(self, parts: Mapping[str, FrontEntry], repeat: float) -> bool:
        entry = parts.get("pattern")
        if entry is None:
            if repeat:
                hint = (
                    "Write pattern: even or pattern: uneven. Fold the main bar in half: do both sides meet?"
                )
                message = "it is not said whether the pattern is even, so it is taken to be uneven"
                place = next(parts[p].key_place for p in ("repeat along", "repeat across") if p in parts)
                self.add("no-pattern", message, place, hint, Severity.WARNING)
            return not repeat
        word = " ".join((entry.text or "").split()).casefold()
        if word not in _EVEN:
            self.add(
                "unknown-word", f"“{word}” is not known after pattern:", entry.place, "Write even or uneven."
            )
            return False
        return _EVEN[word]

    def direction(self, parts: Mapping[str, FrontEntry]) -> Direction:
        entry = parts.get("direction")
        if entry is None or entry.text == "":
            return "either way"
        word = " ".join((entry.text or "").split()).casefold()
        word = _DIRECTION_WORDS.get(word, word)
        if word not in DIRECTIONS:
            hint = (
                did_you_mean(word, DIRECTIONS) or f"Write {', '.join(DIRECTIONS[:-1])} or {DIRECTIONS[-1]}."
            )
            self.add(
                "unknown-direction", f"“{word}” is not a direction of cloth known here", entry.place, hint
            )
            return "one way"  # What is safe for every cloth.
        return word

    def share(self, part: str, parts: Mapping[str, FrontEntry]) -> float:
        entry = parts.get(part)
        if entry is None or entry.text in ("", "none", "0"):
            return 0.0
        found = _PERCENT.fullmatch(" ".join((entry.text or "").split()))
        if not found:
            self.add("not-a-share", f"the {part} must be a percentage", entry.place, "Write it as in 3 %.")
            return 0.0
        share = float(found[1].replace(",", ".")) / 100
        if share > MOST_SHRINKAGE:
            self.add(
                "share-out-of-range",
                f"a {part} of {entry.text} is out of range",
                entry.place,
                "Write 0 % to 25 %.",
            )
            return 0.0
        return share

    def price(self, parts: Mapping[str, FrontEntry]) -> tuple[Decimal | None, float]:
        entry = parts.get("price")
        usual = 1000.0 if self.unit.is_metric else YARD
        if entry is None or entry.text == "":
            return None, usual
        text = " ".join((entry.text or "").split())
        found = _PRICE.fullmatch(text)
        try:
            amount = parse_amount(found["amount"] if found else text)
        except MoneyError as error:
            self.add(
                "not-a-price", f"price: {error.message}", entry.place, error.hint or "Write 24.50 a metre."
            )
            return None, usual
        return amount, usual if not found else YARD if found["unit"].casefold().startswith("y") else 1000.0

    def doubt_prices(self, cloths: Mapping[str, Cloth], entries: Mapping[str, FrontEntry]) -> None:
        """Note a price that lacks its decimal point, beside those of the other cloths."""
        for name, entry in entries.items():
            cloth, parts = cloths.get(slugify(name)), entry.mapping or {}
            if cloth is None or cloth.price is None or "price" not in parts:
                continue
            others = [
                other.price * Decimal(repr(cloth.price_for)) / Decimal(repr(other.price_for))
                for other in cloths.values()
                if other is not cloth and other.price is not None
            ]
            if meant := doubted(cloth.price, others):
                message = f"a price of {cloth.price} is over {TOO_HIGH} times that of most cloths here"
                hint = f"Did you mean {meant}? Then write its decimal point."
                self.add("high-price", message, parts["price"].place, hint, Severity.WARNING)

    def stock(self, parts: Mapping[str, FrontEntry]) -> tuple[float, ...]:
        """Lengths at hand: one, a list, or several with commas between."""
        entry = parts.get("stock")
        if entry is None or entry.text in ("", "none", "0"):
            return ()
        if entry.mapping is not None:
            hint = "Write the lengths with commas between: 2.40 m, 1.15 m."
            self.add("not-a-length", "“stock” must be lengths, not a group of names", entry.place, hint)
            return ()
        texts = (
            [(item.text or "", item.place) for item in entry.entries]
            if entry.entries is not None
            else [
                (m.group().strip(), entry.place_at(m.start()))
                for m in re.finditer(r"(?:[^,;]|(?<=\d),(?=\d))+", entry.text or "")
                if m.group().strip()
            ]
        )
        found = []
        for text, place in texts:
            try:
                mm = parse_length(text)
                if mm == 0:
                    continue  # It is used up.
                found.append(mm)
                if mm < SHORTEST_STOCK:
                    number = re.match(r"[\d.,]*", text)
                    hint = f"Did you mean {number[0]} m?" if number and number[0] else "Is the unit right?"
                    message = f"a length of {text} at hand is too short to cut from"
                    self.add("short-stock", message, place, hint, Severity.WARNING)
            except LengthError as error:
                self.add(
                    "not-a-length",
                    f"stock: {error.message}",
                    place,
                    f"Write {text} m or {text} yd."
                    if re.fullmatch(r"[\d.,]+", text)
                    else error.hint or "Write 2.40 m or 1 3/4 yd.",
                )
        return tuple(sorted(found, reverse=True))

    def words(self, part: str, parts: Mapping[str, FrontEntry]) -> str:
        entry = parts.get(part)
        if entry is None:
            return ""
        if entry.text is None:
            self.add("not-a-text", f"“{part}” must be a text, not {entry.kind}", entry.place)
            return ""
        return " ".join(entry.text.split())[:300]


def _meant(entry: FrontEntry, unit: Unit) -> str:
    """How to write a width so that its unit is not asked about."""
    text = (entry.text or "").strip()
    return f"write {f'{text} {unit.value}' if text[-1:].isdigit() else text} and its usable width"
