"""The register of body measurements, and how a name written by a person is found in it."""

from __future__ import annotations

from catalogue.findings import nearest
from catalogue.people.girths import GIRTHS
from catalogue.people.measurements import Measurement, plain_name
from catalogue.people.spans import SPANS

REGISTER: dict[str, Measurement] = {m.key: m for m in (*GIRTHS, *SPANS)}
"""Every measurement by its key."""

_NAMES: dict[str, Measurement] = {
    plain_name(name): m for m in REGISTER.values() for name in (*m.aliases, m.name)
}


def lookup(name: str) -> Measurement | None:
    """The measurement called `name`: its name, key or alias.

    Case, blanks, hyphens and underscores don't matter.
    """
    return _NAMES.get(plain_name(name))


def suggest(name: str) -> str:
    """A hint naming the measurement that `name` most likely means, or ""."""
    wanted = plain_name(name)
    # Two letters changed over are the commonest slip, and as far off as two wrong ones by the usual measure.
    found = sorted(nearest(wanted, _NAMES, 5), key=lambda known: sorted(known) != sorted(wanted))
    if not found:
        return ""
    measurement = _NAMES[found[0]]
    if plain_name(measurement.name) == found[0]:
        return f"Did you mean “{measurement.name}”?"
    return f"Did you mean “{found[0]}” ({measurement.name})?"


def known_measurements() -> dict[str, str]:
    """Key to name of every measurement that is a length: what a formula may use."""
    return {m.key: m.name for m in REGISTER.values() if m.kind != "weight"}
