"""Lines put into a client file under a heading of its front matter; nothing else of the file is changed."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from catalogue.findings import Trouble
from catalogue.frontmatter import Front, FrontEntry, split
from catalogue.slugs import slugify

_NAMED = re.compile(r"([^:#\s][^:#]*?)\s*:\s+\S")


def with_lines(text: str, path: Sequence[str], lines: Sequence[str], file: str = "") -> str:
    """The client file `text` with `lines` under the headings of `path`, such as measured: and a date below it.

    A heading that is not there is added at the end of the front matter or of the heading above it. A line
    `name: value` takes the place of the one with that name under the same heading; the others go below what is there.

    Raises:
        Trouble: the file can't be read as it is, or has something else than a group of lines under a heading.
    """
    front = split(text, file)
    end = "\r\n" if "\r\n" in text else "\n"
    rows = text.replace("\r\n", "\n").split("\n")
    last = front.body_line - 2  # index of the fence that ends the front matter
    group: Mapping[str, FrontEntry] | None = front.mapping
    at, indent = last, 0  # where new lines go, and how far in
    for depth, heading in enumerate(path):
        found = _find(group, heading) if group is not None else None
        if found is None:
            added = [" " * (indent + 2 * n) + f"{_written(name)}:" for n, name in enumerate(path[depth:])]
            rows[at:at] = added
            at, indent = at + len(added), indent + 2 * len(path[depth:])
            group = None
            break
        _must_take_lines(found, heading, front)
        own = found.key_place.column - 1
        at = _end_of(rows, found.key_place.line - 1, own, last)
        group = found.mapping
        first = next(iter(group.values()), None) if group else None
        indent = first.key_place.column - 1 if first else own + 2
    for line in lines:
        name = _NAMED.match(line)
        old = group.get(name[1]) if name and group else None
        if old is not None and old.text is not None and old.quoted not in ("|", ">"):
            rows[old.key_place.line - 1] = " " * indent + line
        else:
            rows.insert(at, " " * indent + line)
            at += 1
    return end.join(rows)


def _find(group: Mapping[str, FrontEntry], heading: str) -> FrontEntry | None:
    """The entry of that name; a style's is known by its file name or its title."""
    slug = slugify(heading)
    return next((entry for name, entry in group.items() if name == heading or slugify(name) == slug), None)


def _written(heading: str) -> str:
    """A heading as the front matter writes it."""
    if re.fullmatch(r"\w[\w .,’'()/-]*", heading) and heading == heading.strip():
        return heading
    return '"' + heading.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _must_take_lines(entry: FrontEntry, heading: str, front: Front) -> None:
    """Raise Trouble where lines can't be put below an entry."""
    below = entry.value == "" or entry.place.line > entry.key_place.line
    if not below or (entry.text or "") != "":
        message = f"nothing can be put below “{heading}”, which has its value on the same line"
        hint = f"Write what is there on lines of its own below {heading}:, indented by two blanks."
        raise Trouble(front.finding("not-a-group", message, entry.key_place, hint))


def _end_of(rows: Sequence[str], key: int, indent: int, last: int) -> int:
    """The index after the last line below the heading in row `key`."""
    end = key + 1
    for n in range(key + 1, last):
        row = rows[n]
        if not row.strip():
            continue
        deep = len(row) - len(row.lstrip())
        if deep <= indent and not (deep == indent and row.lstrip().startswith("- ")):
            break
        end = n + 1
    return end
