"""What a draft says to its reader: findings with the line they are about, values in the client's units."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from catalogue.findings import Finding, Place, Severity, Trouble
from catalogue.geometry import Path
from catalogue.language.values import Quantity, Value, Word
from catalogue.lengths import Units, show_angle, show_length, show_number, with_lengths

LONGEST_MESSAGE = 400
"""Characters of a message, which may quote a long line of the style."""


class Broken(Exception):
    """What a line needs was on a line that failed; that line has been told of already."""


@dataclass(slots=True)
class Messages:
    """The findings so far, and how to write them: in the client's units, with the line of the style file."""

    units: Units
    source_line: Callable[[Place], str] = lambda place: ""
    findings: list[Finding] = field(default_factory=list)

    def trouble(self, code: str, message: str, place: Place, hint: str = "") -> Trouble:
        """An exception to raise for something wrong at `place`."""
        message, hint = with_lengths(message, self.units), with_lengths(hint, self.units)
        if len(message) > LONGEST_MESSAGE:
            message = f"{message[: LONGEST_MESSAGE // 2]} … {message[-LONGEST_MESSAGE // 2 :]}"
        return Trouble(Finding(code, message, place, hint, source=self.source_line(place)))

    def warn(self, code: str, message: str, place: Place, hint: str = "") -> None:
        message, hint = with_lengths(message, self.units), with_lengths(hint, self.units)
        self.findings.append(
            Finding(code, message, place, hint, Severity.WARNING, source=self.source_line(place))
        )

    def show_length(self, mm: float) -> str:
        return show_length(mm, self.units)

    def show(self, value: Value) -> str:
        """A value as the page writes it, in the client's units."""
        if isinstance(value, Word):
            return value.text
        if isinstance(value, Quantity):
            if value.angle:
                return show_angle(value.value)
            if value.is_length:
                return show_length(value.value, self.units)
            return show_number(value.value)
        if isinstance(value, Path):
            return show_length(value.length, self.units)
        return (
            f"{show_length(value.x, self.units)} right, {show_length(value.y, self.units)} down of the start"
        )
