"""The desk of a draft in the making; each part of it is in a module of its own. What leaves the room is a `Draft`."""

from __future__ import annotations

from collections.abc import Mapping
from copy import copy
from dataclasses import dataclass
from typing import Any, TypeVar

from catalogue.drafting.asked import Requests
from catalogue.drafting.blocks import Blocks
from catalogue.drafting.budget import Budget
from catalogue.drafting.messages import Messages
from catalogue.drafting.names import Names
from catalogue.drafting.table import DraftingTable
from catalogue.drafting.trace import Trace
from catalogue.findings import Place, Trouble
from catalogue.language.values import Value
from catalogue.lengths import Units
from catalogue.people import Register

Held = TypeVar("Held", Messages, Budget, Trace, DraftingTable, Names, Requests, Blocks)


@dataclass(slots=True)
class Desk:
    """What the words of the language work on: nothing else holds state while a draft is made.

    Attributes:
        taken: whether the `when` just done held, for an `otherwise` after it; None when there was none.
    """

    messages: Messages
    budget: Budget
    trace: Trace
    table: DraftingTable
    names: Names
    asked: Requests
    blocks: Blocks
    taken: bool | None = None

    @staticmethod
    def empty(
        units: Units, measurements: Mapping[str, float], known: Mapping[str, str], register: Register
    ) -> Desk:
        """A desk with nothing on it.

        Args:
            measurements: name -> mm, of the client.
            known: name -> plain name, of every measurement there is, as the style may write it.
            register: the measurements themselves.
        """
        messages, trace = Messages(units), Trace()
        budget = Budget(messages)
        table = DraftingTable(messages, budget, trace)
        return Desk(
            messages,
            budget,
            trace,
            table,
            Names(messages, table, trace, measurements, known, register),
            Requests(),
            Blocks(messages, budget),
        )

    def twin(self) -> Desk:
        """A desk on which all lies as on this one, and on which work may go on another way."""
        messages, trace = _apart(self.messages), _apart(self.trace)
        budget = _apart(self.budget, messages=messages)
        table = _apart(self.table, messages=messages, budget=budget, trace=trace)
        names = _apart(self.names, messages=messages, table=table, trace=trace)
        blocks = _apart(self.blocks, messages=messages, budget=budget)
        return Desk(messages, budget, trace, table, names, _apart(self.asked), blocks, self.taken)

    # What nearly every word needs.

    def trouble(self, code: str, message: str, place: Place, hint: str = "") -> Trouble:
        """An exception to raise for something wrong at `place`."""
        return self.messages.trouble(code, message, place, hint)

    def show_length(self, mm: float) -> str:
        return self.messages.show_length(mm)

    def show(self, value: Value) -> str:
        """A value as the page writes it, in the client's units."""
        return self.messages.show(value)


def _apart(part: Held, **others: Any) -> Held:
    """A part of the desk with lists of its own, beside the `others` of the new desk."""
    made = copy(part)
    for name in part.__slots__:
        value = getattr(part, name)
        if isinstance(value, dict | list | set):
            setattr(made, name, value.copy())
    for name, other in others.items():
        setattr(made, name, other)
    return made
