"""`catalogue copy`: a style of this studio, or of another one, under a title of its own, to be changed."""

from __future__ import annotations

import os
import re
import shutil
import unicodedata
from collections.abc import Callable, Iterator
from pathlib import Path

from catalogue.building.disk import CannotWrite
from catalogue.building.folder import Refused
from catalogue.building.studio import leads_outside
from catalogue.findings import Trouble, did_you_mean
from catalogue.frontmatter import decode, read_bytes
from catalogue.slugs import LONGEST, slugify
from catalogue.sorting import folded
from catalogue.studio.reading import read_style, style_from
from catalogue.studio.style import Style

_TITLE = re.compile(r"(?m)^title[ \t]*:.*$")


def copy_style(
    studio: Path,
    name: str,
    title: str = "",
    source: Path | None = None,
    tell: Callable[[str], None] = lambda _: None,
) -> list[Path]:
    """Write a copy of a style into `studio`; gives the files written, the copy first.

    Args:
        name: of the style to copy, by title or name of its file.
        title: of the copy; "" for “Copy of …”, or for the title as it is where it comes from another studio.
        source: the studio that it is copied from, with the blocks it is cut from and its picture; None for `studio`.
        tell: is given a sentence for each block that is there already and is another than in `source`.

    Raises:
        Refused: there is no such style, it can't be read, or a file of that name is there already; nothing was written.
        CannotWrite: the disk did not take it.
    """
    origin = source or studio
    if not (origin / "styles").is_dir() or not (studio / "styles").is_dir():
        raise Refused(f"“{origin if source else studio}” is not a studio: it has no folder styles/.")
    chosen = _find(origin, name)
    is_same = origin.resolve() == studio.resolve()
    title = " ".join(title.split()) or (f"Copy of {chosen.title}" if is_same else chosen.title)
    target = studio / "styles" / f"{_stem_for(title)}.md"
    try:
        wanted = {target: _titled(origin / chosen.file, title)}
    except Trouble as trouble:
        raise Refused("\n".join(str(f) for f in trouble.findings)) from None
    if not is_same:
        for block in _blocks(origin, chosen):
            path = studio / "styles" / Path(block.file).name
            if not path.exists():
                wanted[path] = (origin / block.file).read_bytes()
            elif path.read_bytes() != (origin / block.file).read_bytes():
                tell(
                    f"“{path}” is there already and is another than that of “{origin}”: the copy is cut from the one "
                    "that is there. Compare the two drafts before cloth is cut."
                )
    # What differs from it in capitals or blanks alone would be called the same in the catalogue.
    there = [path for path in (studio / "styles").glob("*.md") if slugify(path.stem) == slugify(target.stem)]
    for path in (*there, target):
        if os.path.lexists(path):
            raise Refused(f"“{path}” is there already, so nothing was written. Give the copy another title.")
    begun: list[Path] = []
    try:
        for path, data in wanted.items():
            with path.open("xb") as file:
                begun.append(path)
                file.write(data)
        picture = origin / "styles" / chosen.picture
        beside = studio / "styles" / Path(chosen.picture).name
        if not is_same and chosen.picture and _is_below(picture, origin / "styles") and not beside.exists():
            begun.append(beside)
            shutil.copyfile(picture, beside)
            wanted[beside] = b""
    except OSError as error:
        for path in begun:  # Half a file would be taken for a style.
            path.unlink(missing_ok=True)
        raise CannotWrite(f"“{error.filename or studio}” can't be written: {error.strerror}.") from error
    return list(wanted)


def _is_below(picture: Path, folder: Path) -> bool:
    """Whether a file lies in a folder, its links followed: a style may name any path, a stranger's too."""
    return picture.is_file() and picture.resolve().is_relative_to(folder.resolve())


def _styles(origin: Path) -> list[Path]:
    """Plain files alone: to read a pipe is to wait for ever, and a link may lead anywhere."""
    return [
        p for p in sorted((origin / "styles").glob("*.md")) if p.is_file() and not leads_outside(p, origin)
    ]


def _stem_for(title: str) -> str:
    """What the file of a style is called, for people to find it: “Épaule 2” is epaule-2; other scripts stay."""
    plain = folded(title)
    if plain.isascii():
        return slugify(plain)
    words = "".join(c if unicodedata.category(c)[0] in "LNM" else " " for c in plain).split()
    return unicodedata.normalize("NFC", "-".join(words))[:LONGEST].strip("-") or slugify(title)


def _find(origin: Path, name: str) -> Style:
    """The style of that title or file name; Refused where there is none."""
    wanted = name.casefold().removesuffix(".md")
    read = [read_style(path, origin) for path in _styles(origin)]
    for style in read:
        if wanted in (style.title.casefold(), style.slug, Path(style.file).stem.casefold()):
            return style
    known = [word for style in read for word in (style.slug, style.title)]
    hint = did_you_mean(name, known) or f"It has: {', '.join(sorted(s.slug for s in read)) or 'none yet'}."
    elsewhere = "For a studio in another folder add --studio and the folder." if not origin.name else ""
    raise Refused(
        f"The studio in “{origin.resolve().name}” has no style “{name}”. {hint} {elsewhere}".rstrip()
    )


def _blocks(origin: Path, style: Style) -> Iterator[Style]:
    """What a style is cut from, and what that is cut from, each once."""
    paths = {slugify(path.stem): path for path in _styles(origin)}
    waiting, seen = [cut.slug for cut in style.cut_from], set()
    while waiting:
        slug = waiting.pop(0)
        if slug in seen or slug not in paths:
            continue
        seen.add(slug)
        block = read_style(paths[slug], origin)
        yield block
        waiting += [cut.slug for cut in block.cut_from]


def _titled(path: Path, title: str) -> bytes:
    """The file with another title, and nothing else changed. Raises Trouble and Refused."""
    data = read_bytes(path, path.as_posix())
    text = decode(data, path.as_posix())
    if b"\r\n" in data:
        text = text.replace("\n", "\r\n")
    doubled = title.replace("'", "''")
    quoted = f"'{doubled}'" if re.search(r"[:#]|^[^\w]", title) else title
    end = "\r" if "\r\n" in text else ""
    copied = _TITLE.sub(lambda _: f"title: {quoted}{end}", text, count=1).encode()
    if style_from(copied, path.stem, path.as_posix()).title != title:
        raise Refused(
            f"The title of “{path}” can't be changed here: write it there on one line, title: and the words, or choose "
            "another for the copy."
        )
    return copied
