"""Garments as they were cut, kept in plain files of the studio: reading them, and the sheet that tells of one.

Each lies in a folder `clients/<stem of the client's file>/<date> <style>/`, a second one of a day with a number after
it. What is drafted, measured or chosen later changes nothing in it.
"""

from __future__ import annotations

import datetime
import re
import stat
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Literal, NamedTuple

import msgspec

from catalogue.days import day_shown
from catalogue.drafting import Draft
from catalogue.drawing.labels import cut_words
from catalogue.findings import Finding, Place, Severity
from catalogue.language.wording import in_words
from catalogue.lengths import show_length
from catalogue.people.client import Order

FORMAT = 1
SHEET, OUTLINES, FIGURES = "as-cut.md", "outlines.json", "draft.json"
LARGEST = 50_000_000
"""Bytes of a kept file: a larger one is not put into the catalogue."""

Words = Annotated[str, msgspec.Meta(max_length=400)]


class KeptPiece(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A piece as the page of comparison draws it: `path` is the `d` of an SVG path, `box` its bounds in mm, `edges` the
    words of each edge, its length in mm and that in words.
    """

    title: Words
    path: Annotated[str, msgspec.Meta(pattern=r"^[MLCZ0-9 .\-]*$")]
    box: tuple[float, float, float, float]
    edges: list[tuple[Words, float, Words]]


class KeptOutlines(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The pieces of a kept garment by name, and the units that their lengths are shown in."""

    units: tuple[Literal["in", "cm", "mm"], Annotated[int, msgspec.Meta(ge=1, le=64)]]
    pieces: dict[str, KeptPiece]


class KeptFile(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What `outlines.json` holds.

    `style` is a slug, `order` the name of an order, "" without one; `choices` are exact, as a client's file has them.
    """

    format: Literal[1]
    date: datetime.date
    style: Words
    title: Words
    client: Words
    order: Words
    cloth: list[Words]
    outlines: KeptOutlines
    choices: dict[Words, Words] = {}


@dataclass(frozen=True, slots=True)
class KeptGarment:
    """A garment as it was cut: `folder` below the studio, its `key` in the site, and its `files` by name."""

    folder: str
    key: str
    told: KeptFile
    files: tuple[str, ...]

    @property
    def prints(self) -> tuple[str, ...]:
        return tuple(file for file in self.files if file.endswith(".pdf"))


def kept_garments(
    root: Path, paths: Iterable[str], client: str
) -> tuple[tuple[KeptGarment, ...], tuple[Finding, ...]]:
    """The garments kept for a client, newest first, and a warning for each that can't be read or is someone else's.

    `paths` are those of their files, below `root`; `client` is the client's name.
    """
    folders: dict[str, list[str]] = {}
    for path in paths:
        folder, _, file = path.rpartition("/")
        folders.setdefault(folder, []).append(file)
    kept, findings = [], []
    for folder, files in folders.items():
        try:
            told = _read(root / folder / OUTLINES)
        except (OSError, ValueError, RecursionError) as error:
            why = getattr(error, "strerror", None) or str(error)
            message = f"this kept garment can't be shown: {why}"
            hint = "Put back the file that “catalogue keep” wrote, or take the folder away."
            findings.append(
                Finding("kept-spoilt", message, Place(f"{folder}/{OUTLINES}"), hint, Severity.WARNING)
            )
            continue
        if _in_one_form(told.client) != _in_one_form(client):
            # The other name is not told: a copy for this client would hold it.
            message = f"this garment was kept for another name than “{client}”, so it is not shown"
            hint = "Was it put into the wrong folder? If the client has a new name, write it after “client” here."
            findings.append(
                Finding("kept-for-another", message, Place(f"{folder}/{OUTLINES}"), hint, Severity.WARNING)
            )
            continue
        shown = (SHEET, FIGURES)
        names = sorted(f for f in files if f in shown or re.fullmatch(r"[a-z0-9.-]+\.pdf", f))
        small = tuple(f for f in names if (root / folder / f).stat().st_size <= LARGEST)
        kept.append(KeptGarment(folder, folder.rpartition("/")[2].replace(" ", "--"), told, small))
    kept.sort(key=lambda each: (each.told.date, each.folder), reverse=True)
    return tuple(kept), tuple(findings)


def _in_one_form(name: str) -> str:
    """A name without differences of case, blanks and the way its accents are written."""
    return " ".join(unicodedata.normalize("NFC", name).casefold().split())


def _read(path: Path) -> KeptFile:
    status = path.lstat()
    if not stat.S_ISREG(status.st_mode):
        raise ValueError("it is not a plain file")  # A link may lead to what never ends.
    if status.st_size > LARGEST:
        raise ValueError("the file is too large")
    return msgspec.json.decode(path.read_bytes(), type=KeptFile)


def outlines_text(draft: Draft, day: datetime.date, order: Order | None, outlines: Mapping[str, Any]) -> str:
    """The text of `outlines.json`."""
    told = {
        "format": FORMAT,
        "date": day.isoformat(),
        "style": draft.style.slug,
        "title": draft.style.title,
        "client": draft.client.name,
        "order": order.name if order else "",
        "cloth": _cloths(draft, order),
        "outlines": outlines,
        "choices": _exact_choices(draft),
    }
    return msgspec.json.format(msgspec.json.encode(told), indent=1).decode() + "\n"


def _exact_choices(draft: Draft) -> dict[str, str]:
    """Every choice of the draft as a client's file would have it, lengths in mm so that nothing is rounded."""
    lengths = {key: value for key, value in draft.values.items() if value.power == 1}
    return {
        name: f"{lengths[key].value:.3f} mm" if (key := name.replace(" ", "_")) in lengths else shown
        for name, shown in draft.choices.items()
    }


class Differing(NamedTuple):
    """An edge that is not as long as it was cut; lengths as the client reads them, "" where it was not there."""

    piece: str
    edge: str
    cut: str
    now: str


APART = 0.5
"""mm: an edge whose length differs by less is as it was cut."""


def differing(cut: KeptOutlines, draft: Draft) -> list[Differing]:
    """The edges of a draft that differ from a kept garment's."""
    then = {
        (name, edge[0]): (piece.title, edge[1], edge[2])
        for name, piece in cut.pieces.items()
        for edge in piece.edges
    }
    now = {
        (name, in_words(edge.name)): (
            piece.title,
            edge.path.length,
            show_length(edge.path.length, draft.client.units),
        )
        for name, piece in draft.pieces.items()
        for edge in piece.edges
    }
    found = []
    for key in dict.fromkeys((*then, *now)):
        old, new = then.get(key), now.get(key)
        if old is None or new is None or abs(old[1] - new[1]) > APART:
            title = (new or old or ("", 0.0, ""))[0]
            found.append(Differing(title, key[1], old[2] if old else "", new[2] if new else ""))
    return found


def _cloths(draft: Draft, order: Order | None) -> list[str]:
    """What it was cut from: the cloths of the order, or what the style asks for."""
    if order and order.cloths:
        return [f"{use}: {name}" for use, name, _ in order.cloths]
    taken = {piece.cut.cloth for piece in draft.pieces.values()}
    return [f"{use}: {what}" for use, what in draft.style.cloth if use in taken or not taken]


def as_cut_text(
    draft: Draft, day: datetime.date, order: Order | None, prints: Sequence[str], failing: Sequence[str]
) -> str:
    """The sheet `as-cut.md`: all that the garment was cut from, to be read in any editor.

    Args:
        failing: what was wrong with the draft, in sentences.
    """
    client, style = draft.client, draft.style

    def show(mm: float) -> str:
        return show_length(mm, client.units)

    def on(date: datetime.date) -> str:
        return day_shown(date, client.units.dates)

    rows = [f"# {style.title}, as cut for {client.name}", ""]
    rows += [f"Cut on {on(day)}. Style: {style.file}. Client: {client.file}."]
    if draft.style.chain:
        rows += [f"Cut from: {', '.join(block.title for block in draft.style.chain)}."]
    if order:
        rows += [f"Order: {order.name}."]
    cloths = _cloths(draft, order)
    rows += [f"Cloth: {'; '.join(cloths)}.", ""] if cloths else [""]
    rows += ["## Measurements used", ""]
    for key in client.register:
        taken = client.measurements.get(key) if key in style.uses else None
        if taken is not None:
            since = f", taken {on(taken.date)}" if taken.date else ""
            rows.append(f"- {client.register[key].name}: {show(taken.mm)}{since}")
    for side, own in client.sides.items():
        rows += [
            f"- {client.register[k].name} {side}: {show(m.mm)}" for k, m in own.items() if k in style.uses
        ]
    dates = {name: words for name, words, _ in choices_since(draft)}
    rows += _part(
        "Choices",
        [f"{in_words(name)}: {value}{dates.get(name, '')}" for name, value in draft.choices.items()],
    )
    fittings = [
        f"{on(f.date)}, {f.garment}: "
        + (f.text if f.alteration != "correction" else f"{f.title}: {' / '.join(f.text.splitlines())}")
        + (f" - seen: {f.seen}" if f.seen else "")
        for f in draft.fittings
    ]
    rows += _part("Fittings carried out", fittings)
    rows += _part("Not carried out", list(dict.fromkeys(draft.unaltered)))
    rows += _part("Pieces", [f"{piece.title}: {cut_words(piece.cut)}" for piece in draft.pieces.values()])
    finished = [
        f"{in_words(f.name)}: {show(f.garment)}" + (f", body {show(f.body)}" if f.body is not None else "")
        for f in draft.finished
    ]
    rows += _part("Finished measurements", finished)
    rows += _part("What was wrong with the draft", list(failing))
    files = [
        f"{FIGURES}: every figure in millimetres",
        f"{OUTLINES}: the outlines, to compare with later drafts",
    ]
    rows += _part("Beside this file", [*(f"{name}: the print" for name in prints), *files])
    return "\n".join([*rows, ""])


def choices_since(draft: Draft) -> list[tuple[str, str, tuple[str, ...]]]:
    """Of each choice of the draft that carries a date its name, ", since 2026-08-30", and what was chosen before."""
    written = {
        " ".join(name.replace("_", " ").split()): each
        for name, each in draft.client.choices.get(draft.style.slug, {}).items()
    }
    return [
        (
            name,
            f", since {day_shown(each.date, draft.client.units.dates)}",
            tuple(one.text for one in each.before),
        )
        for name in draft.choices
        if (each := written.get(name)) is not None and each.date is not None
    ]


def _part(title: str, lines: Sequence[str]) -> list[str]:
    return ["", f"## {title}", "", *(f"- {line}" for line in lines)] if lines else []
