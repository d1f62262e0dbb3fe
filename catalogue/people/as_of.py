"""A client as the file had them on an earlier day."""

from __future__ import annotations

import datetime
from dataclasses import replace

from catalogue.people.client import Client
from catalogue.people.sides import newest_of, sides_of


def as_of(client: Client, day: datetime.date) -> Client:
    """The client with what had been measured, chosen, fitted and decided by a day."""
    sets = tuple(s for s in client.sets if s.date is None or s.date <= day)
    measurements = newest_of(sets, client.register)
    weights = [s.weight_kg for s in sets if s.weight_kg is not None]
    return replace(
        client.as_chosen_on(day),
        sets=sets,
        measurements=measurements,
        sides=sides_of(sets, measurements),
        weight_kg=weights[-1] if weights else None,
        fittings=tuple(
            replace(f, decided="", decided_on=None) if f.decided_on is not None and f.decided_on > day else f
            for f in client.fittings
            if f.date <= day
        ),
        corrections=tuple(c for c in client.corrections if c.date <= day),
    )
