"""Client files as they were read before, kept between runs.

Each is sealed with the contents of its own file: who has the cache alone can read nothing of a client.
"""

from __future__ import annotations

import hashlib
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from catalogue.between_runs import keep, recalled
from catalogue.findings import Trouble
from catalogue.frontmatter import read_bytes

if TYPE_CHECKING:
    from catalogue.building.studio import Document
    from catalogue.lengths import Units
    from catalogue.people import Client, Register

KEPT = "client"


class _Read(NamedTuple):
    """A client, and the day on which the file was read: on an earlier one, a date in it may be still to come."""

    client: Client
    day: date


def client_at(path: Path, root: Path, units: Units, today: date, register: Register) -> Client:
    """The client in a file, as `read_client` gives it, read only where it was not kept."""
    from catalogue.people import Client, read_client

    try:
        data = read_bytes(path)
    except Trouble:
        return read_client(path, root, units, today, register)  # It tells why it can't be read.
    file = path.relative_to(root).as_posix()
    secret = hashlib.sha256(
        repr((file, units, register.own)).encode("utf-8", "surrogatepass") + data
    ).hexdigest()
    found = recalled(KEPT, (secret,), secret)
    if isinstance(found, _Read) and isinstance(found.client, Client) and found.day <= today:
        return found.client
    client = read_client(path, root, units, today, register)
    # It may have been written to meanwhile.
    if client.digest == hashlib.sha256(data).hexdigest() and not waits_for_a_day(client):
        keep(KEPT, (secret,), _Read(client, today), secret)
    return client


def waits_for_a_day(each: Document) -> bool:
    """Whether a file says something else on a later day, though nothing in it is changed: its date has then come."""
    from catalogue.people.fitting_reading import DATE_TO_COME

    return any(finding.code.endswith(DATE_TO_COME) for finding in each.findings)
