"""What a form of the preview asks to have kept: client files, and nothing else, are written into the studio.

A file is never overwritten by one that does not know it: a new client's name must be free, and lines are added only to
the file that the page was made from. What was there before stays beside it, under a name that ends in .bak.
"""

from __future__ import annotations

import contextlib
import datetime
import hashlib
import itertools
import json
import os
import re
import stat
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from catalogue.findings import Trouble
from catalogue.slugs import slugify

if TYPE_CHECKING:
    from catalogue.frontmatter import Front
    from catalogue.people import Client

LARGEST = 200_000
"""Bytes of what may be sent."""
MOST_LINES = 400
_NAME = re.compile(r"[\w][\w .'’-]{0,70}\.md")
_TAKEN = ("measurements.md", "cloths.md", "sizes.md", "lays.md")
"""Files in clients/ that are no client's, and names whose folders hold something else than kept garments."""
_UNSEEN = "\u200c\u200d\u200e\u200f\xa0\u202f"
"""Joiners, marks and blanks without a shape that Persian, Hindi, Arabic and French are written with."""
_WINDOWS = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?", re.IGNORECASE)


class NotKept(Exception):
    """Nothing was written; the text is a sentence for the reader, `status` what HTTP calls it."""

    def __init__(self, message: str, status: int = 400) -> None:
        super().__init__(message)
        self.status = status


@dataclass(frozen=True, slots=True)
class Kept:
    """The file that was written, and the one that holds what was there before ("" for a new file); from the root.

    `doubt` says what a build will not carry out of it, "" where there is nothing.
    """

    file: str
    before: str = ""
    doubt: str = ""


def receive(studio: Path, sent: bytes, now: Callable[[], datetime.datetime] = datetime.datetime.now) -> Kept:
    """Write what a form sent, a JSON object.

    `{"file": "ada.md", "text": "..."}` is a new client file. `{"file": "ada.md", "digest": SHA-256 of the file that
    the page knows, "under": ["measured", "2026-11-27"], "lines": ["waist girth: 70"]}` adds lines to one.

    Raises:
        NotKept: it is something else, or the file is another by now, or the disk did not take it.
    """
    if len(sent) > LARGEST:
        raise NotKept("This is too long for a client file.", 413)
    try:
        asked = json.loads(sent)
    except (ValueError, RecursionError):
        raise NotKept("What was sent can't be read.") from None
    if not isinstance(asked, dict) or not isinstance(asked.get("file"), str):
        raise NotKept("What was sent can't be read.")
    name = _file_name(asked["file"])
    folder = _clients_of(studio)
    try:
        if isinstance(asked.get("text"), str):
            return _new(folder, name, asked["text"])
        return _added(folder, name, asked, now())
    except OSError as error:
        raise NotKept(f"“clients/{name}” can't be written: {error.strerror}.", 500) from error


def _file_name(name: str) -> str:
    """The name of a client file; NotKept for anything that is none."""
    name = unicodedata.normalize("NFC", name)
    plain = _NAME.fullmatch(name) and not _WINDOWS.fullmatch(name) and ".." not in name
    if not plain or name.casefold() in _TAKEN or len(name.encode()) > 120:
        raise NotKept(
            f"“{name[:80]}” can't be the name of a client file. Use letters, figures, blanks and hyphens."
        )
    return name


def _clients_of(studio: Path) -> Path:
    """The folder of client files; a link in its place is not followed."""
    folder = studio / "clients"
    try:
        found = os.lstat(folder)
    except OSError:
        raise NotKept("The studio has no folder “clients” now.", 409) from None
    if not stat.S_ISDIR(found.st_mode):
        raise NotKept("“clients” is not a plain folder, so nothing is written into it.", 409)
    return folder


def _new(folder: Path, name: str, text: str) -> Kept:
    data = _bytes(text)
    taken = {unicodedata.normalize("NFC", other.name).casefold() for other in folder.iterdir()}
    if name.casefold() in taken:
        raise NotKept(f"There is a file “clients/{name}” already. Choose another name.", 409)
    _must_be_readable(text, name)
    _create(folder / name, data)
    return Kept(f"clients/{name}")


def _added(folder: Path, name: str, asked: dict[str, Any], now: datetime.datetime) -> Kept:
    from catalogue.frontmatter import decode, split
    from catalogue.people.adding import with_lines

    path, lines = asked.get("under"), asked.get("lines")
    if not _texts(path, 3) or not _texts(lines, MOST_LINES) or not isinstance(asked.get("digest"), str):
        raise NotKept("What was sent can't be read.")
    assert isinstance(path, list) and isinstance(lines, list)
    before = _read(folder / name)
    if before is None:
        raise NotKept(f"“clients/{name}” is not there any more.", 409)
    if hashlib.sha256(before).hexdigest() != asked["digest"]:
        raise NotKept(
            f"“clients/{name}” was changed after this page was made. Open the page again, then add to it.",
            409,
        )
    try:
        old = decode(before, f"clients/{name}")
        if path[0] == "orders" and _has_order(split(old, name), path[-1]):
            # Lines of the one would take the place of the other's: its price, its days.
            raise NotKept(
                f"There is an order “{path[-1]}” of this client already. Give the new one another name.", 409
            )
        text = with_lines(old, path, lines, f"clients/{name}")
    except Trouble as trouble:
        raise NotKept("\n".join(str(f) for f in trouble.findings), 409) from None
    _must_be_readable(text, name)
    doubt = _not_understood(folder.parent, name, old, text) if path[0] == "fittings" else ""
    if b"\r\n" in before:
        text = text.replace("\n", "\r\n")
    # Who may not read the file may not read its copies either.
    try:
        mode = stat.S_IMODE(os.lstat(folder / name).st_mode) & 0o666
    except FileNotFoundError:
        raise NotKept(f"“clients/{name}” is not there any more.", 409) from None
    passing = folder / f".{name}.part"
    with contextlib.suppress(FileNotFoundError):
        passing.unlink()
    _create(passing, _bytes(text), mode)
    kept = _kept_before(folder, f"{name} {now:%Y-%m-%d %H.%M.%S}", before, mode)
    # Nothing that takes time comes between this look and the change: an editor may save at any moment.
    if _read(folder / name) != before:
        passing.unlink()
        (folder / kept).unlink()
        raise NotKept(f"“clients/{name}” was changed just now. Open the page again, then add to it.", 409)
    passing.replace(folder / name)
    return Kept(f"clients/{name}", f"clients/{kept}", doubt)


def _kept_before(folder: Path, name: str, data: bytes, mode: int) -> str:
    """The name under which what was there before is kept; a second one of a second has a number."""
    for number in itertools.count(1):
        kept = f"{name} {number}.bak" if number > 1 else f"{name}.bak"
        with contextlib.suppress(FileExistsError):
            _create(folder / kept, data, mode)
            break
    return kept


def _has_order(front: Front, name: str) -> bool:
    """Whether a client file has an order of this name, whatever its case and signs."""
    entry = front.mapping.get("orders")
    return entry is not None and slugify(name) in map(slugify, entry.mapping or ())


def _must_be_readable(text: str, name: str) -> None:
    """NotKept where what a form sent would make a client file that can't be read: all that it held would be gone."""
    from catalogue.frontmatter import split

    try:
        split(text, f"clients/{name}")
    except Trouble as trouble:
        told = "\n".join(str(f) for f in trouble.findings[:3])
        raise NotKept(
            f"With this the file could not be read any more, so nothing was written.\n{told}"
        ) from None


def _not_understood(studio: Path, name: str, old: str, text: str) -> str:
    """What is wrong with the first change noted now that a build will not understand; "" where it understands all."""
    from catalogue.studio.alterations import known_alterations, read_alterations
    from catalogue.studio.fitting_words import NotUnderstood, understand

    try:
        before, now = (_client(each, name) for each in (old, text))
    except Trouble:  # The build tells what.
        return ""
    written = {(line.date, line.garment, line.text) for line in before.fittings}
    own = studio / "styles" / "alterations"
    known = known_alterations(read_alterations(own, studio) if own.is_dir() else ())
    for line in now.fittings:
        if (line.date, line.garment, line.text) in written:
            continue
        try:
            understand(line.text, now.units.primary, known)
        except NotUnderstood as error:
            return f"{error.message[:1].upper()}{error.message[1:]}. {error.hint}".strip()
    return ""


def _client(text: str, name: str) -> Client:
    from catalogue.frontmatter import split
    from catalogue.lengths import Units
    from catalogue.people.reading import ClientReader

    stem = name.removesuffix(".md")
    return ClientReader(split(text, f"clients/{name}"), slugify(stem), stem, "", Units()).client()


def _texts(given: object, most: int) -> bool:
    """Whether it is a list of one-line texts, one at least."""
    if not isinstance(given, list) or not 1 <= len(given) <= most:
        return False
    return all(isinstance(t, str) and t.strip() and len(t) < 1000 and _is_of_one_line(t) for t in given)


def _is_of_one_line(text: str) -> bool:
    return all(c.isprintable() or c in _UNSEEN for c in text)


def _bytes(text: str) -> bytes:
    try:
        return text.encode()
    except UnicodeEncodeError:
        raise NotKept("There are characters in this that can't be kept.") from None


def _read(path: Path) -> bytes | None:
    """A plain file's contents; None when there is none. Links are not followed."""
    try:
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0))
    except OSError:
        return None
    with os.fdopen(handle, "rb") as file:
        return file.read(LARGEST * 10) if stat.S_ISREG(os.fstat(handle).st_mode) else None


def _create(path: Path, data: bytes, mode: int = 0o644) -> None:
    """Write a file that must not be there yet, whole or not at all."""
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), mode)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
    except OSError:
        path.unlink(missing_ok=True)
        raise
