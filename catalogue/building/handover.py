"""One client's copy: a catalogue to hand over, with that client's drafts and nothing of any other client.

The other clients' files are left out before anything is made, so that what they hold can't find a way in: the
copy is, byte for byte, what a studio gives that has this client alone.
"""

from __future__ import annotations

import os
import re
from collections.abc import Collection, Iterable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from catalogue.building.folder import LOCK, STAGING
from catalogue.building.manifest import NAME as MANIFEST
from catalogue.building.manifest import Manifest, parts_in
from catalogue.building.names_sought import names_in
from catalogue.building.readers import Readers
from catalogue.building.reading import read_clients
from catalogue.building.studio import (
    CLIENTS,
    OLD_SIZES,
    OWN,
    RESERVED,
    STYLES,
    Files,
    Studio,
    UnknownName,
    called,
    choose,
    kept_for,
    unknown_styles,
)
from catalogue.findings import BLOCK_FAILS, Finding, Place, Severity
from catalogue.people.orders import CODE as ORDERS
from catalogue.sorting import in_order

if TYPE_CHECKING:
    from catalogue.people import Client
    from catalogue.studio.style import Style

_OF_THE_SYSTEM = frozenset({".ds_store", "thumbs.db", "desktop.ini"})


def files_for(name: str, files: Files, readers: Readers) -> tuple[Files, str, tuple[str, ...]]:
    """The files of a studio without those of all clients but the one called `name`; that client's slug; others' names.

    Tables of sizes are left out too: they are the studio's own, and what is drafted for a client needs none.

    Raises UnknownName when there is none or when two of them may be meant.
    """
    read = read_clients(files, readers)
    # A file's whole name can mean that file alone, whatever others are called.
    found = [each for each in read if name in (each[0].name, each[1].file)]
    found = found or [each for each in read if called(name, each[1])]
    if len(found) > 1:
        meant = " or ".join(f"“{client.file}”" for _, client in found)
        raise UnknownName(f"“{name}” could be {meant}. Give the file name of the one you mean.")
    if not found:
        choose((name,), (client for _, client in read), "client")
    path, client = found[0]

    def stays(file: str) -> bool:
        return (
            not file.startswith((f"{CLIENTS}/", f"{OLD_SIZES}/"))
            or file in (client.file, OWN)
            or kept_for(file) == path.stem
        )

    kept = replace(
        files,
        clients=(path,),
        sizes=(),
        digests={file: digest for file, digest in files.digests.items() if stays(file)},
        findings=tuple(f for f in files.findings if f.place is None or stays(f.place.file)),
    )
    others = {each.name for _, each in read if each is not client} - {client.name}
    return kept, client.slug, tuple(sorted(others))


def _words(text: str) -> frozenset[str]:
    """The words of three letters or more, a possessive's s left out, whatever their case."""
    return frozenset(re.findall(r"[^\W\d_]{3,}", text.casefold()))


def named_after_others(
    studio: Studio, others: Collection[str], found: Iterable[Finding] = ()
) -> tuple[Finding, ...]:
    """A warning for each style of a copy, and each block they are cut from, whose title has a word of another's name.

    A block is shown in what is cut from it, whomever it was drafted for first.

    Args:
        others: names of the other clients.
        found: whole names that were found, with the rows they stand in; a title among these is not reported again.
    """
    rows = [(each.place.file, each.source) for each in found if each.place]
    own = frozenset(word for client in studio.clients for word in _words(client.name))
    words = frozenset(word for name in others for word in _words(name)) - own
    shown = {style.slug: style for each in studio.styles for style in (each, *each.chain)}
    return tuple(
        Finding(
            "names-another",
            f"the copy shows the title “{style.title}”, which may name another client: “{word}”",
            Place(style.file, 1),
            "Give it a title that names no one, before the copy is handed over.",
            Severity.WARNING,
        )
        for style in shown.values()
        if not any(file == style.file and style.title in row for file, row in rows)
        for word in sorted(_words(style.title) & words)[:1]
    )


def narrowed(studio: Studio, drafted: Collection[str], names: Iterable[str]) -> Studio:
    """A studio of one client with those styles alone that are `drafted` for the client, or of them just `names`.

    A style made for someone else may bear that name in its title. Raises UnknownName.
    """
    asked = choose(names, studio.styles, "style")
    styles = tuple(
        style for style in studio.styles if (not asked or style.slug in asked) and style.slug in drafted
    )
    if asked and len(styles) < len(asked):
        left = ", ".join(in_order(asked - {style.slug for style in styles}))
        raise UnknownName(
            f"Not for this client: {left}. To draft a style for a client all the same, list it under “garments” in "
            "the client's file."
        )
    known = {style.file for style in styles}
    left_out = frozenset(style.slug for style in studio.styles) - {style.slug for style in styles}
    styles = tuple(
        replace(style, findings=tuple(_without_names(f, left_out) for f in style.findings))
        for style in styles
    )
    told = tuple(
        f
        for f in (*studio.files.findings, *studio.findings)
        if f.place is None or not f.place.file.startswith(f"{STYLES}/") or f.place.file in known
    )
    # Which name comes nearest is told anew: that of a style made for someone else must not be.
    told = tuple(f for f in told if f.code not in ("unknown-style", RESERVED))
    told += unknown_styles(studio.clients, styles, studio.files)
    files = replace(studio.files, findings=())
    clients = tuple(_without_orders(client, styles) for client in studio.clients)
    told = tuple(f for f in told if not f.code.startswith(ORDERS))
    studio = replace(studio, clients=clients, by_client={c.slug: c for c in clients}, cloths={})
    return replace(studio, files=files, styles=styles, findings=told, by_style={s.slug: s for s in styles})


def _without_orders(client: Client, styles: Collection[Style]) -> Client:
    """The client without what is the workroom's: orders, and what is wrong with them.

    Of an order that has other options than the client's usual draft, style and options stay: the copy holds the
    pattern that was ordered, and says beside the usual one that there is another.
    """
    kept = tuple(f for f in client.findings if not f.code.startswith(ORDERS))
    if not client.orders and kept == client.findings:
        return client
    from catalogue.people.client import Order
    from catalogue.workroom.own_drafts import AS_ORDERED, own_drafts

    own = [order for style in styles for order in own_drafts(client, style)]
    orders = tuple(
        Order(
            f"as-ordered-{number}",
            AS_ORDERED,
            order.style,
            order.place,
            order.style_place,
            choices=order.choices,
            as_cut=order.as_cut,
        )
        for number, order in enumerate(own, 1)
    )
    return replace(client, orders=orders, findings=kept, is_copy=True)


def _without_names(finding: Finding, left_out: Collection[str]) -> Finding:
    """What is wrong with what a style is cut from, without a hint that names a style left out of the copy."""
    of_blocks = finding.code in ("no-such-block", BLOCK_FAILS)
    if of_blocks and any(f"“{slug}”" in finding.hint for slug in left_out):
        return replace(finding, hint="")
    return finding


def findings_on(
    output: Path, copy: Manifest, files: Files, others: Collection[str], studio: Studio | None = None
) -> tuple[Finding, ...]:
    """What there is to say of a copy before it is handed over.

    Args:
        files: the studio's, without those of other clients; `others` are the names of these.
        studio: the same, read, where it was.
    """
    ours = [written.path for unit in copy.units.values() for written in unit.files]
    found = names_in(output, ours, files, sorted(others))
    named = named_after_others(studio, others, found) if studio else ()
    return (*named, *strange_files(output, ours), *found)


def strange_files(output: Path, ours: Iterable[str]) -> tuple[Finding, ...]:
    """A warning of what lies in the folder of a copy that no build wrote: it would be handed over as well."""
    known = {*ours, *parts_in(output), MANIFEST, LOCK}
    found = []
    for base, below, names in os.walk(output):
        below[:] = sorted(b for b in below if not b.startswith(STAGING))
        place = Path(base).relative_to(output)
        links = [b for b in below if (Path(base) / b).is_symlink()]
        paths = ((place / name).as_posix() for name in (*sorted(names), *links))
        found += [p for p in paths if p not in known and Path(p).name.lower() not in _OF_THE_SYSTEM]
    if not found:
        return ()
    shown = ", ".join(f"“{path}”" for path in found[:5]) + (
        f" and {len(found) - 5} more" if found[5:] else ""
    )
    message = f"the folder of this copy holds files that this program did not write: {shown}"
    hint = "They would be handed over with the copy; move them away if they are not meant for the client."
    return (Finding("strange-file", message, None, hint, Severity.WARNING),)
