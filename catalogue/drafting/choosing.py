"""Choices: what the client's file takes, or the style's default, within the range that the style allows."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import NamedTuple

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import evaluate, kind_of
from catalogue.drafting.messages import Broken
from catalogue.findings import Finding, Place, Trouble, did_you_mean, nearest
from catalogue.language.parser import parse_formula
from catalogue.language.values import Quantity, Value, Word
from catalogue.lengths import LengthError, parse_length
from catalogue.people import Client
from catalogue.people.more_or_less import more_or_less
from catalogue.studio.style import Choice, Style

NOTHING: Mapping[str, Value] = {}


class LengthRange(NamedTuple):
    """What a choice may measure for somebody, and what it does by default, mm."""

    lowest: float
    highest: float
    default: float


def length_ranges(style: Style, client: Client, desk: Desk) -> dict[str, LengthRange]:
    """The range of each choice that is a length, worked out for a client; choice name -> range.

    A choice whose range depends on a measurement that the client lacks is left out, and so is one without a range.

    Args:
        desk: an empty one of this style and client.
    """
    take_choices(style, client, desk)
    found = {}
    for choice in style.choices:
        limits, default = (None, None) if choice.options else (_limits(choice, desk), _default(choice, desk))
        if limits and isinstance(default, Quantity) and all(q.is_length for q in (*limits, default)):
            found[choice.name] = LengthRange(limits[0].value, limits[1].value, default.value)
    return found


ALIKE = 0.75
"""Likeness (0 to 1) for which a name, or a word of it, is taken to be meant for a choice's."""


def _choice_meant(name: str, known: Collection[str]) -> str:
    """A hint for a choice that a style does not have: the one meant by its name or a word of it, or all there are."""
    by_word = {word: each for each in sorted(known) for word in each.split()} | {each: each for each in known}
    if alike := nearest(name, by_word, least=ALIKE):
        among = [each for each in sorted(known) if alike[0] in (each, *each.split())]
        if len(among) == 1:
            return f"Did you mean “{among[0]}”?"
    hint = did_you_mean(name, known)
    likeliest = nearest(name, known)
    if hint and not (likeliest and hint == f"Did you mean “{likeliest[0]}”?"):
        return hint  # another name of the trade, or letters that look the same
    return f"Its choices: {', '.join(sorted(known))}." if known else ""


def take_choices(
    style: Style,
    client: Client,
    desk: Desk,
    settled: Mapping[str, Value] = NOTHING,
    refused: dict[str, Finding] | None = None,
) -> dict[str, str]:
    """Give every choice of the style its value on the desk, and what it receives; choice name -> value as shown.

    A choice that can't be taken falls back to the default, with a finding at its place in the client's file.

    Args:
        settled: for a block, what the style that is cut from it states, by the names of choices, and gives, by the
            keys of what it receives. It counts before what the client's file has.
        refused: takes what is wrong with these, by the same names.
    """
    taken = client.choices.get(style.slug, {})
    wanted = {" ".join(name.replace("_", " ").split()): chosen for name, chosen in taken.items()}
    known = {c.name for c in style.choices}
    for name, chosen in wanted.items():
        if name not in known:
            desk.messages.findings.append(
                Finding(
                    "unknown-choice",
                    f"“{style.title}” has no choice “{name}”.",
                    chosen.key_place,
                    _choice_meant(name, known),
                )
            )
    shown: dict[str, str] = {}
    for choice in style.choices:
        if choice.options:
            desk.names.options[choice.key] = choice.options
        default = _default(choice, desk)
        value = default
        own = wanted.get(choice.name)
        if choice.name in settled:
            value = _settled(choice, choice.name, settled, default, desk, refused)
        elif own is not None:
            try:
                value = _chosen(choice, own.text, own.place, default, desk)
            except Trouble as trouble:
                desk.messages.findings.extend(trouble.findings)
        if value is None:
            desk.names.broken.add(choice.key)
            continue
        desk.names.values[choice.key] = value
        desk.names.given_at[choice.key] = choice.place
        shown[choice.name] = desk.show(value)
    for each in style.receives:
        if each.options:
            desk.names.options[each.key] = each.options
        is_given = each.key in settled
        default = _usual(each, desk) if is_given else _default(each, desk)
        value = (
            _settled(each, each.key, settled, default, desk, refused, positive=True) if is_given else default
        )
        if value is None:
            desk.names.broken.add(each.key)
            continue
        desk.names.values[each.key] = value
        desk.names.given_at[each.key] = each.place
    return shown


def _usual(choice: Choice, desk: Desk) -> Value | None:
    """The default of what is given; None where it is made of measurements that a client lacks and need not have."""
    try:
        return Word(choice.default) if choice.options else _worked_out(choice, choice.default, desk)
    except (Trouble, Broken):
        return None


def _settled(
    choice: Choice,
    name: str,
    settled: Mapping[str, Value],
    default: Value | None,
    desk: Desk,
    refused: dict[str, Finding] | None,
    *,
    positive: bool = False,
) -> Value | None:
    """What a style settles for a choice of its block, or gives it; the default, where that can't be.

    Args:
        positive: without a range, refuse what is negative where the default is not.
    """
    try:
        if positive:
            _refuse_negative(choice, settled[name], default, desk)
        return _fitting(choice, settled[name], choice.place, default, desk)
    except Trouble as trouble:
        if refused is not None:
            refused[name] = trouble.findings[0]
        return default


def _fitting(choice: Choice, value: Value, place: Place, default: Value | None, desk: Desk) -> Value:
    """A value that was worked out, if it is of the right kind and within the range. Raises Trouble."""
    if choice.options:
        if not isinstance(value, Word) or value.text not in choice.options:
            shown = value.text if isinstance(value, Word) else desk.show(value)
            raise Trouble(_no_such_word(choice, shown, place))
        return value
    kinds = (value, default) if default is not None else (value, value)
    if kind_of(kinds[0]) != kind_of(kinds[1]) or not isinstance(value, Quantity):
        raise Trouble(
            Finding(
                "wrong-kind",
                f"“{choice.name}” needs a value of another kind than {kind_of(value)}.",
                place,
                f"The default is {choice.default}.",
            )
        )
    _refuse_outside(choice, value, place, default, desk)
    return value


def _refuse_negative(choice: Choice, value: Value, default: Value | None, desk: Desk) -> None:
    """Raise Trouble for a negative length where the part has no range and its default is not negative."""
    if choice.lowest or not isinstance(value, Quantity) or not value.is_length or value.value >= 0:
        return
    if isinstance(default, Quantity) and default.value < 0:
        return
    raise Trouble(
        Finding(
            "out-of-range",
            f"{desk.show(value)} is negative, which “{choice.name}” can't be.",
            choice.place,
            f"Its default is {choice.default}. Work out the length so that it is never negative, or give "
            f"“{choice.name}” a range in the part's file.",
        )
    )


def _no_such_word(choice: Choice, text: str, place: Place) -> Finding:
    return Finding(
        "unknown-word",
        f"“{text}” is not one of the words of “{choice.name}”: {', '.join(choice.options)}.",
        place,
        did_you_mean(text, choice.options),
    )


def _worked_out(choice: Choice, text: str, desk: Desk) -> Value:
    """The value of the default, or of an end of the range. Raises Broken, and Trouble where it is no formula."""
    return evaluate(choice.trees.get(text) or parse_formula(text, choice.place), desk)


def _formula(choice: Choice, text: str, desk: Desk) -> Value | None:
    try:
        return _worked_out(choice, text, desk)
    except Broken:
        return None
    except Trouble as trouble:
        desk.messages.findings.extend(trouble.findings)
        return None


def _default(choice: Choice, desk: Desk) -> Value | None:
    if choice.options:
        return Word(choice.default)
    return _within(choice, _formula(choice, choice.default, desk), desk)


def _limits(choice: Choice, desk: Desk) -> tuple[Quantity, Quantity] | None:
    if not choice.lowest:
        return None
    low, high = _formula(choice, choice.lowest, desk), _formula(choice, choice.highest, desk)
    return (low, high) if isinstance(low, Quantity) and isinstance(high, Quantity) else None


def _within(choice: Choice, value: Value | None, desk: Desk) -> Value | None:
    """A default that is a formula is kept within the range; it is right for most and never wild."""
    limits = _limits(choice, desk)
    if limits is None or not isinstance(value, Quantity):
        return value
    return Quantity(min(max(value.value, limits[0].value), limits[1].value), value.power, value.angle)


def _chosen(choice: Choice, text: str, place: Place, default: Value | None, desk: Desk) -> Value:
    text = " ".join(text.split())
    more = more_or_less(text)
    if more is not None and more.sign == 0 and text not in choice.options and default is not None:
        return default
    if choice.options:
        if text not in choice.options:
            raise Trouble(_no_such_word(choice, text, place))
        return Word(text)
    if isinstance(default, Quantity) and default.is_length:
        value: Value = _length(choice, text, place, default, desk)
    else:
        try:
            value = evaluate(parse_formula(text, place), desk)
        except Broken:
            raise Trouble(Finding("not-a-value", f"“{text}” cannot be worked out.", place)) from None
        if type(value) is not type(default):
            raise Trouble(
                Finding(
                    "wrong-kind",
                    f"“{text}” is not the kind of value that “{choice.name}” needs.",
                    place,
                    f"The default is {choice.default}.",
                )
            )
    _refuse_outside(choice, value, place, default, desk)
    return value


def _length(choice: Choice, text: str, place: Place, default: Quantity, desk: Desk) -> Quantity:
    """A length as a client's file writes it, or so much more or less than the default. Raises Trouble."""
    more = more_or_less(text)
    try:
        if more is None:
            return Quantity(parse_length(text, desk.messages.units.primary, negative=True, taped=True), 1)
        amount = parse_length(more.amount, desk.messages.units.primary, taped=True)
    except LengthError as error:
        raise Trouble(
            Finding("not-a-length", f"{error.message} ({choice.name})", place, error.hint)
        ) from None
    changed = Quantity(default.value + more.sign * amount, default.power, default.angle)
    if more.is_bare and default.value:
        # “+5 cm” where 5 cm is a length that may be taken too: nobody can tell which is meant.
        limits = _limits(choice, desk)
        fits = [limits is None or limits[0].value <= v <= limits[1].value for v in (amount, changed.value)]
        if all(fits):
            raise Trouble(
                Finding(
                    "two-readings",
                    f"“{text}” can be read two ways ({choice.name})",
                    place,
                    f"Write {desk.show(Quantity(amount, 1))}, or {desk.show(changed)} for that much more than usual.",
                )
            )
    return changed


def _refuse_outside(choice: Choice, value: Value, place: Place, default: Value | None, desk: Desk) -> None:
    """Raise Trouble for a value outside the range that the style allows."""
    limits = _limits(choice, desk)
    if (
        limits
        and isinstance(value, Quantity)
        and not limits[0].value - 0.5 <= value.value <= limits[1].value + 0.5
    ):
        raise Trouble(
            Finding(
                "out-of-range",
                f"{desk.show(value)} is outside the range of “{choice.name}”: {desk.show(limits[0])} to "
                f"{desk.show(limits[1])}.",
                place,
                f"Write what lies within it. Until then the drawing shows the default, "
                f"{desk.show(default) if default is not None else choice.default}, and nothing is printed.",
            )
        )
