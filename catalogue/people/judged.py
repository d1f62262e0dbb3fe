"""What is found of a client's figures."""

from __future__ import annotations

from typing import NamedTuple

from catalogue.findings import Finding


class Judged(NamedTuple):
    """A finding on figures, and the keys of the measurements that it is about."""

    finding: Finding
    about: tuple[str, ...]
