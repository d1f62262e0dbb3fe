"""What is left of a draft, or of a style in sizes, for pages that show many: records that are kept as plain values.

They import nothing heavy, and nothing of the drafts themselves.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any, Literal, TypeVar

Made = TypeVar("Made")

DownloadKind = Literal["print", "fitting", "drawing", "exchange", "piece", "lay", "figures"]
"""What a file beside a draft is for: to print on paper; to take to a fitting; the whole pattern drawn; for other
programs; one piece alone; how the pieces are laid on a cloth; the figures. A page shows the lays with the cloth, and
single pieces folded away.
"""


State = Literal["ready", "failing", "waiting", "wrong"]


@dataclass(frozen=True, slots=True)
class Download:
    """A file beside a page: what it is, its name, its pages (0 when it has none), and a remark."""

    kind: DownloadKind
    title: str
    file: str
    pages: int = 0
    about: str = ""


@dataclass(frozen=True, slots=True)
class DraftSummary:
    """What other pages show of a draft.

    Attributes:
        state: "ready", "failing", "waiting" (a measurement is missing) or "wrong" (a mistake in a file).
        client: name of the client.
        missing: keys of the measurements it waits for.
        picture: whether there is one.
        downloads: files beside its page.
        warned: whether the draft has warnings.
        alterations: slugs of those that can be made on it at a fitting.
    """

    state: State
    client: str = ""
    missing: tuple[str, ...] = ()
    picture: bool = False
    downloads: tuple[Download, ...] = ()
    warned: bool = False
    alterations: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SizedTable:
    """A style in the sizes of one table.

    Attributes:
        name: of the table, and `file` that it is read from.
        broken: whether there is a mistake in that file.
        sizes: those the style is drafted in; `left_out` are the others.
        sources: of the table's figures.
        downloads: the sheets.
        heads: all sizes, over the columns of `rows`.
        rows: the name of a measurement, and what it is in each size.
    """

    name: str
    file: str
    broken: bool
    sizes: tuple[str, ...]
    left_out: tuple[str, ...]
    sources: tuple[str, ...]
    downloads: tuple[Download, ...]
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class SizedSummary:
    """A style in sizes: one record a table."""

    tables: tuple[SizedTable, ...] = ()


Summaries = Mapping[tuple[str, str], Mapping[str, Any]]
"""Plain values of a `DraftSummary` by (style slug, client slug), and of a `SizedSummary` by (style slug, "")."""


def as_plain(summary: DraftSummary | SizedSummary) -> dict[str, Any]:
    """The summary as texts, numbers, sequences and mappings, to be kept as JSON."""
    return asdict(summary)


def from_plain(values: Mapping[str, Any], kind: type[Made]) -> Made:
    """The summary that `as_plain` gave these values for; ValueError when it can't have."""
    import msgspec

    return msgspec.convert(values, kind)
