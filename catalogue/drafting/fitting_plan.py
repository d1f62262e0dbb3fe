"""What the fittings of a client ask of one draft: each line understood, in the trade's order, with what is wrong.

Which lines concern a draft: those of the garment itself, and what belongs to the body, where it was seen on a block
that the style is cut from, or on another garment cut from that block.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from catalogue.days import day_shown
from catalogue.findings import Finding, Place, Severity
from catalogue.lengths import Unit, Units, show_length
from catalogue.people import Client
from catalogue.people.fittings import FittingLine, FreeCorrection
from catalogue.studio.alterations import TURNS, Alteration, known_alterations
from catalogue.studio.fitting_words import NotUnderstood, Side, understand
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style
from catalogue.studio.suiting import family_of, lines_for

SAME = 2.0
"""mm within which a measurement taken again counts as the same: what two people read off one tape differs by more."""

READ = 0.5
"""mm by which an amount may be above its limit, so that an inch (25.4 mm) passes where 25 mm do."""

NOT_ALTERED = "not-altered"
"""Code of the finding on a line of a fitting that was not carried out."""


@dataclass(frozen=True, slots=True)
class Correction:
    """A line of a fitting, understood.

    Attributes:
        line: as it was written.
        amount: mm.
        stays: it stays with the garment it was seen on.
        family: slugs of the styles whose drafts it may be carried out on, for the style that is drafted.
        out_of_turn: it was written after a line of the same fitting that is carried out after it.
    """

    line: FittingLine
    alteration: Alteration
    amount: float
    side: Side
    stays: bool
    family: frozenset[str]
    out_of_turn: bool = False

    @property
    def key(self) -> tuple[object, ...]:
        """What tells it apart from others: a draft depends on nothing else of it."""
        return (
            self.line.date,
            self.line.garment,
            self.line.text,
            self.line.seen,
            self.line.place,
            self.alteration.slug,
            self.alteration.digest,
            self.amount,
            self.side,
            self.stays,
            self.out_of_turn,
        )

    def on(self, side: str) -> bool:
        """Whether it is made on a side of the body: "left" or "right"; "both" is asked where both are alike."""
        return self.side in ("both", side)


@dataclass(frozen=True, slots=True)
class Plan:
    """What the fittings ask of one draft.

    Attributes:
        corrections: in the order in which they are carried out.
        free: drafting lines of the client's own for this garment.
        findings: what was not understood or can't be done, as warnings: the draft is made without it.
    """

    corrections: tuple[Correction, ...] = ()
    free: tuple[FreeCorrection, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def is_sided(self) -> bool:
        return any(c.side != "both" for c in self.corrections)

    def of_side(self, side: str) -> Plan:
        return replace(self, corrections=tuple(c for c in self.corrections if c.on(side)))


NO_FITTINGS = Plan()


def fitting_plan(style: Style, client: Client, settings: Settings | None) -> Plan:
    """The fittings of a client as they concern a style."""
    slugs = {style.slug, *(block.slug for block in style.chain)}
    free = tuple(each for each in client.corrections if each.garment in slugs)
    lines = lines_for(style, client.fittings)
    if not lines:
        return Plan((), free)
    known = known_alterations(settings.alterations if settings is not None else ())
    findings: list[Finding] = []
    found = []
    for line in lines:
        correction = _understood(line, style, client, known, findings)
        if correction is not None:
            found.append(correction)
    found = list(_once(found, findings))
    found = list(_not_undone(found, client.units, findings))
    found = list(_within_limits(found, client.units, findings))
    return Plan(tuple(_in_turn(found)), free, tuple(findings))


def not_altered(line: FittingLine, message: str, place: Place | None = None, hint: str = "") -> Finding:
    """That a line was not carried out, and why."""
    return Finding(
        NOT_ALTERED,
        f"Not altered: {message} (fitting of {line.day}).",
        place or line.place,
        hint,
        Severity.WARNING,
        source=line.source,
    )


def _understood(
    line: FittingLine,
    style: Style,
    client: Client,
    known: Mapping[str, Alteration],
    findings: list[Finding],
) -> Correction | None:
    try:
        alteration, amount, side, only = understand(line.text, client.units.primary, known)
    except NotUnderstood as error:
        place = replace(line.place, column=line.place.column + error.offset)
        # A line about another garment is reported on that garment's page.
        if line.garment == style.slug or error.near == "" or known[error.near].on_the_body:
            findings.append(not_altered(line, error.message, place, error.hint))
        return None
    stays = only or not (alteration.on_the_body or _is_cut_into(line.garment, style))
    if stays and line.garment not in (style.slug, *(block.slug for block in style.chain)):
        return None
    if line.decided == "dropped":
        return None
    if side != "both" and not alteration.one_sided:
        findings.append(
            not_altered(
                line,
                f"“{alteration.title}” lies on the middle of the body, so it has no {side} side",
                hint=f"Leave out “{side}”.",
            )
        )
        return None
    newer = None if line.decided == "kept" else _measured_again(alteration, line, style, client)
    if line.decided == "kept" and line.decided_on is not None:
        newer = _measured_again(alteration, line, style, client, line.decided_on)
    if newer is not None:
        key, day = newer
        name, on = style.register.name_of(key), day_shown(day, line.dates)
        findings.append(
            not_altered(
                line,
                f"the {name} was measured again on {on}, and “{alteration.title}” may be in it already",
                hint=f"Look at the body, then end the line with “, kept {on}” or with “, dropped {on}”.",
            )
        )
        return None
    # What stays with the garment is made on its block's paper all the same, for this garment alone, so that what the
    # style draws after it follows.
    _doubt_little(line, alteration, amount, client.units, findings)
    family = (
        frozenset({line.garment}) if stays and line.garment != style.slug else family_of(line.garment, style)
    )
    return Correction(line, alteration, amount, side, stays, family)


def _is_cut_into(garment: str, style: Style) -> bool:
    """Whether a garment is a block: others are cut from it."""
    return any(block.slug == garment and block.is_a_block for block in (style, *style.chain))


def _measured_again(
    alteration: Alteration,
    line: FittingLine,
    style: Style,
    client: Client,
    since: datetime.date | None = None,
) -> tuple[str, datetime.date] | None:
    """A measurement that a later set holds otherwise than it was at the fitting, and the day of that set."""
    since = since or line.date
    used = set(style.uses)
    for key in alteration.measured_by:
        if key not in used:
            continue
        before = None
        for one in client.sets:
            value = one.values.get(key)
            if value is None:
                continue
            if one.date is None or one.date <= since:
                before = value.mm
            elif before is None or abs(value.mm - before) > SAME:
                return key, one.date
    return None


def _once(found: Sequence[Correction], findings: list[Finding]) -> Iterator[Correction]:
    """Each change of a day once: a line copied twice, or one fault seen on two garments or noted whole and by sides.

    What is for both sides counts before the same for one side.
    """
    done: dict[tuple[object, ...], list[Correction]] = {}
    for each in sorted(found, key=lambda one: one.side != "both"):
        alike = done.setdefault((each.line.date, each.alteration.slug, each.amount), [])
        first = next((one for one in alike if _is_in(each, one)), None)
        if first is None:
            alike.append(each)
            continue
        text, number = each.line.text, first.line.place.line
        message, hint = f"“{text}” is the change of line {number} once more", "Take one of the two out"
        if first.line.garment != each.line.garment:
            message = (
                f"“{text}” was seen on two garments on one day and is carried out once, as on line {number}"
            )
        elif first.side != each.side:
            message = f"“{text}” is in line {number} already, which is for both sides"
            hint = "Take one of the two out, or write for each side how much"
        findings.append(not_altered(each.line, message, hint=f"{hint}; if both are meant, write their sum."))
    kept = {id(one) for alike in done.values() for one in alike}
    return (each for each in found if id(each) in kept)


def _is_in(one: Correction, other: Correction) -> bool:
    """Whether a change is that of another line, which has the same day, alteration and amount."""
    if other.side not in ("both", one.side):
        return False
    return one.line.garment == other.line.garment or not (one.stays or other.stays)


def _undo(one: Correction, other: Correction) -> bool:
    slugs = one.alteration.slug, other.alteration.slug
    return (slugs[1] in one.alteration.undone_by or slugs[0] in other.alteration.undone_by) and (
        one.side == other.side or "both" in (one.side, other.side)
    )


def _not_undone(found: Sequence[Correction], units: Units, findings: list[Finding]) -> Iterator[Correction]:
    """Those that no other line of the same fitting takes back; the others are reported."""
    for one in found:
        against = [
            other
            for other in found
            if other is not one
            and (other.line.date, other.line.garment) == (one.line.date, one.line.garment)
            and _undo(one, other)
        ]
        if not against:
            yield one
            continue
        other = against[0]
        findings.append(
            not_altered(
                one.line,
                f"“{one.line.text}” and “{other.line.text}” undo each other",
                hint=f"Write the difference alone: {show_length(abs(one.amount - other.amount), units)}.",
            )
        )


def _within_limits(
    found: Sequence[Correction], units: Units, findings: list[Finding]
) -> Iterator[Correction]:
    """Those that stay within the limit of their alteration, alone and with what was altered so before."""
    taken: dict[tuple[str, str], float] = {}
    for each in found:
        sides = ("left", "right") if each.side == "both" else (each.side,)
        total = max(taken.get((each.alteration.slug, side), 0.0) for side in sides) + each.amount
        limit = each.alteration.limit
        if total > limit + READ:
            with_others = total > each.amount + 1e-6
            amount = show_length(total if with_others else each.amount, units)
            findings.append(
                not_altered(
                    each.line,
                    f"{amount} {'in all ' if with_others else ''}is more than “{each.alteration.title}” allows, "
                    f"{show_length(limit, units)}",
                    hint=_meant_units(each, units)
                    or "Beyond that, draft again: take the measurements once more.",
                )
            )
            continue
        for side in sides:
            taken[each.alteration.slug, side] = taken.get((each.alteration.slug, side), 0.0) + each.amount
        yield each


def _doubt_little(
    line: FittingLine, alteration: Alteration, amount: float, units: Units, findings: list[Finding]
) -> None:
    """Note an amount that is so little beside what is usual that its unit may be wrong. It is carried out."""
    low, high = alteration.usual
    if amount >= low / 2:
        return
    single = Units(units.primary, units.fraction)
    message = (
        f"“{line.text}” is little: {show_length(low, single)} to {show_length(high, single)} is usual "
        f"(fitting of {line.date.isoformat()})."
    )
    hint = "It is carried out as written. Is the unit right?"
    larger = [unit for unit in (Unit.CM, Unit.IN) if unit.mm > units.primary.mm]
    for unit in larger:
        meant = understand(line.text, unit, {alteration.slug: alteration}).amount
        if amount < meant <= high:
            hint = f"A number alone is in {_UNIT_NAMES[units.primary]} here. If you meant another unit, write it."
    findings.append(Finding("little", message, line.place, hint, Severity.WARNING, source=line.source))


def _meant_units(each: Correction, units: Units) -> str:
    """What a bare number may have been meant as, where that would be within the limit; "" where it has a unit."""
    for unit in (Unit.MM, Unit.CM):
        try:
            other = understand(each.line.text, unit, {each.alteration.slug: each.alteration})
        except NotUnderstood:
            return ""
        if other.amount < each.amount and other.amount <= each.alteration.limit:
            shown = show_length(
                other.amount * each.alteration.edges if "in all" in each.line.text else other.amount,
                Units(unit),
            )
            return f"A number alone is in {_UNIT_NAMES[units.primary]} here. If you meant {shown}, write the unit."
    return ""


_UNIT_NAMES = {Unit.MM: "millimetres", Unit.CM: "centimetres", Unit.IN: "inches"}


def _in_turn(found: Sequence[Correction]) -> Iterator[Correction]:
    """Fitting by fitting, each in the trade's order; what was written before something that comes first is marked."""
    for n, each in sorted(
        enumerate(found), key=lambda pair: (pair[1].line.date, TURNS.index(pair[1].alteration.turn), pair[0])
    ):
        turn = TURNS.index(each.alteration.turn)
        overtaken = any(
            TURNS.index(other.alteration.turn) > turn
            and other.line.date == each.line.date
            and other.line.garment == each.line.garment
            for other in found[:n]
        )
        yield replace(each, out_of_turn=overtaken)
