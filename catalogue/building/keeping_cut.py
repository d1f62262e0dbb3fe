"""The command that keeps a garment as it was cut: from names to a folder of plain files under the client."""

from __future__ import annotations

import datetime
import shutil
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from catalogue.building.common import Common
from catalogue.building.disk import CannotWrite
from catalogue.building.outputs import OutputFile, figures, sheets, wrong
from catalogue.building.readers import StudioReaders
from catalogue.building.reading import read_studio
from catalogue.building.studio import CLIENTS, UnknownName, choose, find_files
from catalogue.findings import Finding, did_you_mean

if TYPE_CHECKING:
    from catalogue.people import Client
    from catalogue.people.client import Order

_MOST = 99
"""Garments of one style kept for a client on one day."""


class KeptNow(NamedTuple):
    """Where a garment was kept (None where its draft is not whole), its files, and what is wrong with the draft."""

    folder: Path | None
    files: tuple[str, ...]
    findings: tuple[Finding, ...]


def keep(
    root: Path,
    style_name: str,
    client_name: str,
    day: datetime.date,
    order_name: str = "",
    papers: Sequence[str] = (),
) -> KeptNow:
    """Draft a style for a client once more and keep all that it comes from and all that it gives; nothing is replaced.

    Args:
        order_name: the order it was cut for; "" for the only open one of the style, if there is just one.
        papers: to keep prints on; the studio's own when empty.

    Raises NotAStudio, UnknownName and CannotWrite.
    """
    from catalogue.site.overlay import outlines
    from catalogue.workroom.kept_garments import OUTLINES, SHEET, as_cut_text, outlines_text

    studio = read_studio(find_files(root), StudioReaders(), papers=papers)
    style = next(s for s in studio.styles if s.slug in choose((style_name,), studio.styles, "style"))
    client = next(c for c in studio.clients if c.slug in choose((client_name,), studio.clients, "client"))
    order = _order(client, style.slug, order_name)
    common = Common(studio)
    draft = common.draft(style, common.ordered(style, client, order) if order else client)
    # What counts for the draft leaves out what the sheet tells besides: the register and the sets stay the client's.
    told = wrong(draft)
    if draft.missing or not draft.pieces or any(f.is_error for f in draft.findings):
        return KeptNow(None, (), told)
    made = [*sheets(studio.settings, draft), *figures(studio.settings, draft)]
    files = {each.name: each.data for each in made if isinstance(each, OutputFile)}
    told += tuple(each for each in made if isinstance(each, Finding))
    prints = [name for name in files if name.endswith(".pdf")]
    full = replace(draft, client=replace(draft.client, file=client.file))
    files[OUTLINES] = outlines_text(full, day, order, outlines(draft)).encode()
    files[SHEET] = as_cut_text(full, day, order, prints, [f.message for f in told]).encode()
    folder = _put(root / CLIENTS / Path(client.file).stem, f"{day.isoformat()} {style.slug}", files)
    return KeptNow(folder, tuple(files), told)


def _order(client: Client, style: str, name: str) -> Order | None:
    of_style = [order for order in client.orders if order.style == style]
    if not name:
        open_ones = [order for order in of_style if order.is_open]
        if len(open_ones) > 1:
            names = " or ".join(f"“{order.name}”" for order in open_ones)
            raise UnknownName(
                f"{client.name} has several open orders of this style. Say which with --order: {names}."
            )
        return open_ones[0] if open_ones else None
    found = [order for order in of_style if name.casefold() in (order.name.casefold(), order.slug)]
    if not found:
        known = [order.name for order in of_style]
        hint = did_you_mean(name, known) or (f"There are: {', '.join(known)}." if known else "There is none.")
        raise UnknownName(f"{client.name} has no order “{name}” of this style. {hint}")
    return found[0]


def _put(beside: Path, name: str, files: dict[str, bytes]) -> Path:
    """Write a folder as a whole under the first free name."""
    if beside.is_symlink():  # What is behind it is read by no build.
        raise CannotWrite(f"“{beside}” is a link, so nothing is kept there. Put a folder in its place.")
    passing = beside / f".{name}.part"
    try:
        shutil.rmtree(passing, ignore_errors=True)  # of a run that was broken off
        passing.mkdir(parents=True)
        for file, data in files.items():
            (passing / file).write_bytes(data)
        for number in range(1, _MOST + 1):
            folder = beside / (f"{name} {number}" if number > 1 else name)
            if not folder.exists():
                # A folder that is there by now is not empty, so it can't be taken the place of.
                passing.rename(folder)
                return folder
    except OSError as error:
        raise CannotWrite(f"“{beside / name}” can't be written: {error.strerror or error}.") from None
    finally:
        shutil.rmtree(passing, ignore_errors=True)
    raise CannotWrite(f"“{beside / name}” is there {_MOST} times already.")
