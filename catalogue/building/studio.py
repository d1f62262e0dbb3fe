"""A studio folder as a build sees it: which files are there, and what was read from them."""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from catalogue.building import fingerprint
from catalogue.findings import Finding, Place, Severity, Trouble, did_you_mean, nearest
from catalogue.slugs import slugify
from catalogue.sorting import in_order
from catalogue.trade_names import trade_hint

if TYPE_CHECKING:
    from catalogue.cloth.cloths import Cloth
    from catalogue.people import Client, SizeTable
    from catalogue.studio.settings import Settings
    from catalogue.studio.style import Style

STYLES, CLIENTS, SIZES, TEMPLATE = "styles", "clients", "clients/sizes", "site_template"
ALTERATIONS = "alterations"
"""The folder below the styles where a studio keeps alterations of its own."""
OWN = "clients/measurements.md"
"""Where the studio describes its own measurements."""
CLOTHS = "clients/cloths.md"
"""Where it describes its cloths."""
OLD_SIZES = "sizes"
"""Where tables of sizes were kept before; they are read there too."""
FOLDERS = (STYLES, CLIENTS, OLD_SIZES, TEMPLATE)
"""The folders of a studio that hold what a catalogue may come from; none lies in another."""
_PASSING = ("~", ".swp", ".swx", ".tmp", ".bak", ".part", ".crdownload")
_OTHER_TEXTS = (".txt", ".text", ".markdown", ".mdown")
"""Ends of the names of plain texts that an editor named in its own way."""
_WORD_PROCESSORS = (".rtf", ".doc", ".docx", ".odt", ".pages")
"""Ends of the names of what a word processor saved; another name does not make plain text of it."""


_KEPT = re.compile(
    rf"{CLIENTS}/(?P<stem>[^/]+)/(?P<folder>\d{{4}}-\d\d-\d\d [a-z0-9]+(?:-[a-z0-9]+)*(?: [1-9]\d*)?)/[^/]+"
)
"""Files of a garment that was kept as it was cut."""

Document: TypeAlias = "Style | Client | SizeTable"
"""What is read from one file."""


class NotAStudio(Exception):
    """The folder is not a studio; the text is a sentence for the reader."""


class CannotRead(Exception):
    """A folder or file of the studio can't be listed or read; the text is a sentence for the reader.

    What can't be read is not the same as what isn't there: a catalogue made without it would lack its pages.
    """


class UnknownName(Exception):
    """A style or client was asked for that the studio doesn't have; the text is a sentence for the reader."""


@dataclass(frozen=True, slots=True)
class Files:
    """The files of a studio and their fingerprints.

    Attributes:
        root: the studio folder.
        styles, clients: paths of style and client files, in name order.
        digests: fingerprint of every file a catalogue may come from, by its path below the root.
        findings: files that can't be used.
        sizes: paths of the tables of sizes, in name order.
    """

    root: Path
    styles: tuple[Path, ...]
    clients: tuple[Path, ...]
    digests: Mapping[str, str]
    findings: tuple[Finding, ...] = ()
    sizes: tuple[Path, ...] = ()

    @property
    def fingerprint(self) -> str:
        """Changes with any file of the studio, with what is wrong with those not read, and with the program."""
        return fingerprint.of(self.digests, self.findings, fingerprint.of_the_tool())

    def under(self, folder: str) -> tuple[tuple[str, str], ...]:
        """Paths and fingerprints of the files below one of the studio's folders."""
        return tuple((p, d) for p, d in self.digests.items() if p.startswith(f"{folder}/"))


@dataclass(frozen=True, slots=True)
class Studio:
    """A studio, read.

    Attributes:
        styles, clients, sizes: those that can be told apart by their slugs, in the order of their names.
        cloths: those of the studio, by slug; a copy for one client has none.
        findings: what is wrong with the studio itself; styles, clients and tables of sizes carry their own.
    """

    root: Path
    settings: Settings
    styles: tuple[Style, ...]
    clients: tuple[Client, ...]
    files: Files
    findings: tuple[Finding, ...] = ()
    by_style: Mapping[str, Style] = field(default_factory=dict, compare=False)
    by_client: Mapping[str, Client] = field(default_factory=dict, compare=False)
    sizes: tuple[SizeTable, ...] = ()
    cloths: Mapping[str, Cloth] = field(default_factory=dict)

    def tables_for(self, style: Style) -> list[SizeTable]:
        """The tables of sizes whose files ask for this style."""
        return [table for table in self.sizes if style.slug in table.garments]

    def all_findings(self) -> Iterator[Finding]:
        """Everything found while reading, in the order of the files."""
        yield from self.files.findings
        yield from self.findings
        documents: tuple[Document, ...] = (*self.styles, *self.clients, *self.sizes)
        for each in documents:
            yield from each.findings


def find_files(root: Path) -> Files:
    """Look through a studio folder. Raises NotAStudio and CannotRead."""
    if not (root / STYLES).is_dir() or not (root / CLIENTS).is_dir():
        raise NotAStudio(_what_a_studio_is(root))
    findings: list[Finding] = []
    digests: dict[str, str] = {}
    unread: list[OSError] = []
    for folder in FOLDERS:
        for path in sorted(_walk(root / folder, unread)):
            name = path.relative_to(root).as_posix()
            if not _can_be_told(name):
                shown = "".join(c if _can_be_told(c) else "\ufffd" for c in name)
                message = "the name of this file has characters in it that cannot be shown, so it is not read"
                findings.append(Finding("file-name", message, Place(shown), "Give it a plain name."))
                continue
            if path.is_dir():
                message = "this folder is a link, so nothing in it is read"
                findings.append(
                    Finding("link-to-folder", message, Place(name), "Copy the folder into the studio.")
                )
                continue
            if leads_outside(path, root):
                message = "this link leads out of the studio folder, so it is not followed"
                findings.append(
                    Finding("link-outside", message, Place(name), "Copy the file into the studio.")
                )
                continue
            if not path.is_file():
                message = "this is not a plain file, so it is not read"
                findings.append(Finding("not-a-file", message, Place(name)))
                continue
            if missed := _missed(name, path):
                findings.append(Finding("not-read", missed, Place(name), _to_be_read(name), Severity.WARNING))
            try:
                digests[name] = fingerprint.of_file(path)
            except FileNotFoundError:
                continue  # An editor has just put another in its place, or taken it away.
            except OSError as error:
                unread.append(error)
    if unread:
        raise CannotRead(_unread(root, unread))
    documents = {
        folder: tuple(
            root / name
            for name in digests
            if name.rpartition("/")[0] == folder
            and name.lower().endswith(".md")
            and name not in (OWN, CLOTHS)
        )
        for folder in (STYLES, CLIENTS, SIZES, OLD_SIZES)
    }
    if documents[OLD_SIZES]:
        findings.append(_to_be_moved(root))
    tables = (*documents[SIZES], *documents[OLD_SIZES])
    return Files(root, documents[STYLES], documents[CLIENTS], digests, tuple(findings), tables)


def kept_for(path: str) -> str:
    """The stem of the client's file for whom a file was kept of a garment as it was cut; "" for all other files."""
    found = _KEPT.fullmatch(path)
    return found["stem"] if found else ""


def _to_be_moved(root: Path) -> Finding:
    """How to move tables of sizes to where they are looked for now."""
    message = f"tables of sizes belong in {SIZES}/; those in {OLD_SIZES}/ are still read"
    if (root / SIZES).is_dir():
        hint = f"Move the files in {OLD_SIZES}/ into {SIZES}/, then delete {OLD_SIZES}/."
    else:
        hint = f"Move the folder {OLD_SIZES}/ into {CLIENTS}/."
    return Finding("old-folder", message, Place(f"{OLD_SIZES}/"), hint, Severity.WARNING)


def _folder_of(name: str) -> str:
    """The folder of documents that a file lies in, or below; empty when it lies in none."""
    folders = (SIZES, STYLES, CLIENTS, OLD_SIZES)
    return next((folder for folder in folders if name.startswith(f"{folder}/")), "")


def _missed(name: str, path: Path) -> str:
    """Why a file that may well be meant as a style, a client or a table is none; empty for all others."""
    folder = _folder_of(name)
    if not folder:
        return ""
    rest = name.removeprefix(f"{folder}/")
    if folder == STYLES and rest.startswith(f"{ALTERATIONS}/") and rest.count("/") == 1:
        return ""
    if "/" not in rest:
        if rest.lower().endswith(_WORD_PROCESSORS):
            return "this file is not read, because a word processor saved it, not as plain text"
        if rest.lower().endswith(_OTHER_TEXTS) or (
            not rest.lower().endswith(".md") and _begins_like_one(path)
        ):
            return "this file is not read, because its name does not end in .md"
    if _KEPT.fullmatch(name):
        return ""
    if "/" in rest and rest.lower().endswith(".md"):
        return f"this file is not read, because it is in a folder below {folder}"
    return ""


def _begins_like_one(path: Path) -> bool:
    """Whether a file begins with a line of three dashes, as style and client files do."""
    try:
        with path.open("rb") as file:
            head = file.read(8)
    except OSError:
        return False
    return head.removeprefix(b"\xef\xbb\xbf").startswith((b"---\n", b"---\r"))


def _to_be_read(name: str) -> str:
    """What to do so that a file is read."""
    path = Path(name)
    ending = path.suffix.lower()
    stem = path.stem if ending in (*_OTHER_TEXTS, *_WORD_PROCESSORS) else path.name
    wanted = f"{_folder_of(name)}/{stem if stem.lower().endswith('.md') else f'{stem}.md'}"
    if ending in _WORD_PROCESSORS:
        return f"If it is meant to be read, open it there, choose “plain text”, and save it as {wanted}"
    return f"If it is meant to be read, rename or move it: {wanted}"


def _unread(root: Path, errors: list[OSError]) -> str:
    told = []
    for error in errors[:3]:
        path = Path(os.fsdecode(error.filename or root))
        name = path.relative_to(root).as_posix() if root in path.parents else path.as_posix()
        shown = "".join(c if _can_be_told(c) else "\ufffd" for c in name)
        told.append(f"“{shown}” can't be read: {error.strerror or type(error).__name__}")
    more = f" (and {len(errors) - 3} more)" if errors[3:] else ""
    return (
        f"{'; '.join(told)}{more}. Nothing was changed: without it, pages would be missing from the catalogue. Make it "
        "readable, or connect the drive it is on, and try again."
    )


def _walk(folder: Path, unread: list[OSError]) -> Iterator[Path]:
    """The files below a folder, and the links to folders, which are not followed."""

    def refused(error: OSError) -> None:
        if not isinstance(error, FileNotFoundError):
            unread.append(error)

    for base, below, files in os.walk(folder, onerror=refused, followlinks=False):
        below[:] = sorted(b for b in below if not b.startswith("."))
        yield from (Path(base) / name for name in below if (Path(base) / name).is_symlink())
        yield from (Path(base) / file for file in files if not is_passing(file))


def _can_be_told(name: str) -> bool:
    """Whether a file's name has no control characters or line ends in it, and is text at all."""
    return not any(unicodedata.category(c) in ("Cc", "Cs", "Zl", "Zp") for c in name)


def is_passing(name: str) -> bool:
    """Whether a file is an editor's or a system's own: a backup, a swap file, something half copied."""
    return (
        name.startswith((".", "#"))
        or name.endswith(_PASSING)
        or name == "4913"
        or name.lower() == "thumbs.db"
    )


def leads_outside(path: Path, root: Path) -> bool:
    """Whether `path`, its links followed, lies outside `root`."""
    real = os.path.realpath(path)
    return os.path.commonpath([real, os.path.realpath(root)]) != os.path.realpath(root)


def choose(
    asked: Iterable[str],
    known: Iterable[Document],
    what: str,
    beside: tuple[Iterable[Document], str] = ((), ""),
) -> frozenset[str]:
    """Slugs of what is meant by slug, title, name or file name: styles, clients, tables.

    Args:
        beside: what else the studio has, and what to say of a name that means one of it.

    Raises:
        UnknownName: a name means none of them.
    """
    known = list(known)
    chosen = set()
    for name in asked:
        meant = [each.slug for each in known if called(name, each)]
        if not meant:
            shown = [word for each in known for word in (each.slug, title_of(each)) if word]
            hint = did_you_mean(name, shown) or _listed(in_order(each.slug for each in known))
            if any(called(name, each) for each in beside[0]):
                hint = f"It is {beside[1]} {name}."
            raise UnknownName(f"This studio has no {what} “{name}”. {hint}")
        chosen.update(meant)
    return frozenset(chosen)


def called(name: str, each: Document) -> bool:
    """Whether a style or client goes by `name`: slug, title, name, or name of its file."""
    file = Path(each.file)
    return _folded(name) in map(_folded, (title_of(each), file.name, file.stem, each.slug))


def unknown_styles(
    clients: Iterable[Client | SizeTable], styles: Iterable[Style], files: Files
) -> tuple[Finding, ...]:
    """Errors of client files and tables of sizes that name a style the studio doesn't have, under garments or choices.

    Args:
        styles: those that may be spoken of when the nearest name is told; a file that can't be read is known too.
    """
    from catalogue.frontmatter import decode, read_bytes, split

    unread = [f.place.file for f in files.findings if f.place and f.is_error]
    refused = [file for file in unread if file.startswith(f"{STYLES}/")]
    known = {slugify(path.stem) for path in (*files.styles, *map(Path, refused))}
    names = {slugify(name): style.slug for style in styles for name in (style.title, style.slug)}
    findings = []
    for client in clients:
        places = [
            (slug, place)
            for group in (
                client.garment_places,
                client.choice_places,
                getattr(client, "fitting_places", {}),
                getattr(client, "compared_places", {}),
            )
            for slug, place in group.items()
            if slug not in known
        ]
        if not places:
            continue
        try:
            front = split(decode(read_bytes(files.root / client.file, client.file), client.file), client.file)
        except Trouble:  # It was changed meanwhile: the next build tells.
            continue
        for slug, place in places:
            near = nearest(slug, names)
            hint = trade_hint(slug, names, names)
            if not hint:
                hint = f"Did you mean “{names[near[0]]}”?" if near else _listed(in_order({*names.values()}))
            findings.append(front.finding("unknown-style", f"this studio has no style “{slug}”", place, hint))
    return tuple(findings)


def unknown_cloths(
    clients: Iterable[Client],
    cloths: Mapping[str, Cloth],
    files: Files,
    broken: frozenset[str] = frozenset(),
) -> tuple[Finding, ...]:
    """Errors of orders that name a cloth which the studio does not describe; `broken` ones are, with a mistake."""
    from catalogue.frontmatter import decode, read_bytes, split

    findings = []
    for client in clients:
        asked = [each for order in client.orders for each in order.cloths if slugify(each[1]) not in cloths]
        if not asked:
            continue
        try:
            front = split(decode(read_bytes(files.root / client.file, client.file), client.file), client.file)
        except Trouble:  # It was changed meanwhile: the next build tells.
            continue
        for _, name, place in asked:
            near = did_you_mean(name, [cloth.name for cloth in cloths.values()])
            if slugify(name) in broken:
                near = f"It is described in {CLOTHS}, with a mistake that is reported there."
            hint = near or f"Describe it in {CLOTHS}, or choose a cloth that is described there."
            findings.append(
                front.finding("order-unknown-cloth", f"this studio has no cloth “{name}”", place, hint)
            )
    return tuple(findings)


def of_one_name(clients: Iterable[Client], styles: Iterable[Style] = ()) -> Iterator[Finding]:
    """Warnings of files that bear the name or title of another: a page or a print would be taken for the other's."""
    first: dict[tuple[str, str], Document] = {}
    documents: tuple[Document, ...] = (*clients, *styles)
    for each in documents:
        name, is_style = title_of(each), hasattr(each, "title")
        code = "same-style-title" if is_style else "same-client-name"
        other = first.setdefault((code, " ".join(_folded(name).split())), each)
        if other is not each:
            words = f"has the title “{name}” too" if is_style else f"is of a client called {name} too"
            example = (
                "such as “with pleats”." if is_style else "such as a second name; or is one file a copy?"
            )
            hint = f"Add what tells them apart on pages and prints, {example}"
            yield Finding(code, f"“{other.file}” {words}", Place(each.file), hint, Severity.WARNING)


RESERVED = "reserved-for-nobody"
"""Code of the finding on a style that is reserved for someone the studio does not know."""


def unknown_clients(styles: Iterable[Style], clients: Iterable[Client]) -> Iterator[Finding]:
    """Warnings of style files that are reserved for someone who has no client file."""
    clients = list(clients)
    for style in styles:
        for name in style.reserved_for:
            if any(called(name, client) for client in clients):
                continue
            line = next((n for n, row in enumerate(style.lines, 1) if name in row), 1)
            source = style.source_line(line)
            place = Place(style.file, line, max(source.find(name), 0) + 1)
            hint = (
                did_you_mean(name, (client.name for client in clients))
                or "Write the name in the client file."
            )
            message = f"this style is reserved for “{name}”, and no client is called that"
            yield Finding(RESERVED, message, place, hint, Severity.WARNING, source)


def title_of(each: Document) -> str:
    """What a style is called, or the name of a client or a table."""
    return str(getattr(each, "title", "") or getattr(each, "name", ""))


def _folded(name: str) -> str:
    return unicodedata.normalize("NFC", name).casefold()


def _listed(slugs: list[str]) -> str:
    more = f" and {len(slugs) - 12} more" if len(slugs) > 12 else ""
    return f"It has: {', '.join(slugs[:12])}{more}." if slugs else "It has none yet."


def _what_a_studio_is(root: Path) -> str:
    lacking = [f"{name}/" for name in (STYLES, CLIENTS) if not (root / name).is_dir()]
    there = f"“{root}” has no {' and no '.join(lacking)}" if root.is_dir() else f"There is no folder “{root}”"
    name = root.name or "my-studio"
    return (
        f"{there}, so it is not a studio. A studio is a folder with style files in styles/ (*.md) "
        f"and client files in clients/ (*.md). “catalogue new {name}” makes one to start from."
    )
