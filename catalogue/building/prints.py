"""Prints that a command writes where it is told: one draft's, or a nest of several; no other file is written over."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from catalogue.building.common import Common
from catalogue.building.disk import CannotWrite
from catalogue.building.outputs import OutputFile, sheets, wrong
from catalogue.building.readers import StudioReaders
from catalogue.building.reading import read_studio
from catalogue.building.studio import UnknownName, choose, find_files
from catalogue.findings import Finding, did_you_mean
from catalogue.slugs import slugify

if TYPE_CHECKING:
    from catalogue.people import Client
    from catalogue.studio.style import Style


class Printed(NamedTuple):
    """The files written, each with its pages, none where the draft is not whole; and what is wrong with the draft."""

    files: tuple[tuple[Path, int], ...]
    findings: tuple[Finding, ...]


def print_draft(
    root: Path,
    style_name: str,
    client_name: str,
    papers: Sequence[str] = (),
    out: Path | None = None,
    options: str = "",
) -> Printed:
    """Draft a style for a client and print it on each paper; the catalogue is left as it is.

    Args:
        papers: names; the studio's own when empty.
        options: an order of the client's, or a set under `compare:`, whose options count; "" for the usual draft.
        out: the file, or a folder for several; the current folder when None.

    Raises NotAStudio, UnknownName and CannotWrite.
    """
    studio = read_studio(find_files(root), StudioReaders(), papers=papers)
    style = next(s for s in studio.styles if s.slug in choose((style_name,), studio.styles, "style"))
    client = next(c for c in studio.clients if c.slug in choose((client_name,), studio.clients, "client"))
    common = Common(studio)
    drafted, which = _with_options(common, style, client, options) if options else (client, "")
    draft = common.draft(style, drafted)
    told = list(wrong(draft))
    if draft.missing:
        names = ", ".join(map(style.register.name_of, draft.missing))
        told.append(Finding("not-printed", f"{client.name} needs {names} for this style."))
    if draft.missing or not draft.pieces or any(f.is_error for f in draft.findings):
        return Printed((), tuple(told))
    made = list(sheets(studio.settings, draft))
    files = [each for each in made if isinstance(each, OutputFile)]
    written = []
    for each in files:
        # draft-letter.pdf beside a page is straight-skirt-ada-letter.pdf among other files.
        name = f"{style.slug}-{client.slug}{which}-{each.name.removeprefix('draft-')}"
        path = print_path(out, name, len(files))
        write_print(path, each.data, "print")
        written.append((path, each.download.pages if each.download else 0))
    return Printed(tuple(written), (*told, *(each for each in made if isinstance(each, Finding))))


def _with_options(common: Common, style: Style, client: Client, name: str) -> tuple[Client, str]:
    """The client with the options of an order or of a set, and what the name of the print's file says of it."""
    orders = {order.slug: order for order in client.orders if order.style == style.slug}
    sets = {each.slug: each for each in client.compared.get(style.slug, ())}
    slug = slugify(name)
    if slug in orders:
        return common.ordered(style, client, orders[slug]), f"-{slug}"
    if slug in sets:
        chosen = ", ".join(f"{choice} {each.text}" for choice, each in sets[slug].choices.items())
        called = f"“{sets[slug].name}”"
        return (
            replace(
                client.with_choices(style.slug, sets[slug].choices),
                for_order=called,
                notices=(f"Pattern with the options {called}: {chosen}.",),
            ),
            f"-{slug}",
        )
    known = [name for name in (*(o.name for o in orders.values()), *(s.name for s in sets.values())) if name]
    hint = did_you_mean(name, known) or (
        f"There are: {', '.join(known)}." if known else "There are none yet."
    )
    raise UnknownName(
        f"{client.name} has no order of “{style.title}”, and no set of options, “{name}”. {hint}"
    )


def print_path(out: Path | None, name: str, count: int) -> Path:
    """Where a print called `name` goes: `out` itself where it is a PDF and there is one print, or in that folder."""
    if out is None:
        return Path(name)
    if out.suffix.casefold() == ".pdf" and count == 1 and not out.is_dir():
        return out
    return out / name


def write_print(path: Path, data: bytes, what: str) -> None:
    """Write a print as a whole. Raises CannotWrite; `what` it is called there."""
    if not _may_be_replaced(path):
        raise CannotWrite(
            f"“{path}” is not a {what} that this program wrote, so it is left. Choose another with --out."
        )
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_name(path.name + ".part")
        part.write_bytes(data)
        part.replace(path)
    except OSError as error:
        raise CannotWrite(f"“{path}” can't be written: {error.strerror or error}.") from error


def _may_be_replaced(path: Path) -> bool:
    """Whether there is nothing at `path`, or a print of ours that nobody wrote notes into."""
    if not os.path.lexists(path):
        return True
    try:
        data = path.read_bytes() if path.is_file() and not path.is_symlink() else b""
    except OSError:
        return False
    from catalogue.sheets.pdf import MAKER

    is_ours = data.startswith(b"%PDF-") and f"<pdf:Producer>{MAKER}</pdf:Producer>".encode() in data
    # Who writes notes into a print adds to the file, behind its end.
    return is_ours and data.count(b"%%EOF") == 1
