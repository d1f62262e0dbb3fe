"""Choices: what the client's file takes, or the style's default, within the range that the style allows."""

from __future__ import annotations

from functools import lru_cache

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import evaluate
from catalogue.drafting.messages import Broken
from catalogue.findings import Finding, Place, Trouble, did_you_mean
from catalogue.language.parser import parse_formula
from catalogue.language.values import Quantity, Value, Word
from catalogue.lengths import LengthError, parse_length
from catalogue.people import Client
from catalogue.studio.style import Choice, Style


def take_choices(style: Style, client: Client, desk: Desk) -> dict[str, str]:
    """Give every choice of the style its value on the desk; choice name -> value as shown.

    A choice that can't be taken falls back to the default, with a finding at its place in the client's file.
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
                    did_you_mean(name, known)
                    or (f"Its choices: {', '.join(sorted(known))}." if known else ""),
                )
            )
    shown: dict[str, str] = {}
    for choice in style.choices:
        if choice.options:
            desk.names.options[choice.key] = choice.options
        default = _default(choice, desk)
        value = default
        own = wanted.get(choice.name)
        if own is not None:
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
    return shown


_parsed = lru_cache(maxsize=1024)(parse_formula)
"""The style's own formulas are read once, not for each client."""


def _formula(text: str, place: Place, desk: Desk) -> Value | None:
    try:
        return evaluate(_parsed(text, place), desk)
    except Broken:
        return None
    except Trouble as trouble:
        desk.messages.findings.extend(trouble.findings)
        return None


def _default(choice: Choice, desk: Desk) -> Value | None:
    if choice.options:
        return Word(choice.default)
    return _within(choice, _formula(choice.default, choice.place, desk), desk)


def _limits(choice: Choice, desk: Desk) -> tuple[Quantity, Quantity] | None:
    if not choice.lowest:
        return None
    low, high = _formula(choice.lowest, choice.place, desk), _formula(choice.highest, choice.place, desk)
    return (low, high) if isinstance(low, Quantity) and isinstance(high, Quantity) else None


def _within(choice: Choice, value: Value | None, desk: Desk) -> Value | None:
    """A default that is a formula is kept within the range; it is right for most and never wild."""
    limits = _limits(choice, desk)
    if limits is None or not isinstance(value, Quantity):
        return value
    return Quantity(min(max(value.value, limits[0].value), limits[1].value), value.power, value.angle)


def _chosen(choice: Choice, text: str, place: Place, default: Value | None, desk: Desk) -> Value:
    text = " ".join(text.split())
    if choice.options:
        if text not in choice.options:
            raise Trouble(
                Finding(
                    "unknown-word",
                    f"“{text}” is not one of the words of “{choice.name}”: {', '.join(choice.options)}.",
                    place,
                    did_you_mean(text, choice.options),
                )
            )
        return Word(text)
    if isinstance(default, Quantity) and default.is_length:
        try:
            value: Value = Quantity(
                parse_length(text, desk.messages.units.primary, negative=True, taped=True), 1
            )
        except LengthError as error:
            raise Trouble(
                Finding("not-a-length", f"{error.message} ({choice.name})", place, error.hint)
            ) from None
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
    return value
