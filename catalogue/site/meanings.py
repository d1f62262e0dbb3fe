"""What a verdict that is not green means, and what to do: in the words of someone who has never seen a draft."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from catalogue.site.measured import StyleState


class Meaning(NamedTuple):
    """A verdict as pages show it, and what it means."""

    verdict: str
    text: str


WARNED = Meaning(
    "Ready, with warnings to read",
    "The pattern is whole and every check passes, but something is unusual or had to be guessed. Read each warning. "
    "Where it doubts a measurement, take that one again; if the figure is right, cut a toile in a cheap cloth first.",
)
FAILING = Meaning(
    "A check fails",
    "The pattern is drawn, but something in it is not as it must be: two edges that are sewn together differ, or the "
    "garment comes out too tight. Do not cut. Most often one measurement was taken or typed wrongly: measure again "
    "what the sentence names. If the figures are right, try another option, or ask whoever wrote the style.",
)
WAITING = Meaning(
    "Missing measurements",
    "The style needs measurements that are not in the client’s file, and nothing is guessed. Take them as the draft’s "
    "page shows, add them with the button on the client’s page, and build again.",
)
WRONG = Meaning(
    "Mistake in a file",
    "A line of a style or client file can’t be understood, so nothing is printed that might be cut by mistake. The "
    "page names the file and the line and says what to write. Put it right, save, and build again.",
)
UNALTERED = Meaning(
    "A line of a fitting could not be carried out",
    "The pattern is right as far as it goes, but without what was written down at that fitting. Cut from it only if "
    "you make the change on the paper by hand; the reason is among the warnings.",
)
_OF_STATES = {"failing": FAILING, "waiting": WAITING, "wrong": WRONG}


def meanings_of(states: Iterable[StyleState]) -> tuple[Meaning, ...]:
    """What those of the states mean that are not simply ready, each once, the worst first."""
    found = {
        WARNED if s.state == "ready" else _OF_STATES[s.state]
        for s in states
        if s.state != "ready" or s.warned
    }
    return tuple(m for m in (WRONG, FAILING, WAITING, WARNED) if m in found)
