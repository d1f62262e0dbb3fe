"""The file of a client or of a table of sizes taken apart, and what there is when it can't be."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from catalogue.findings import Finding, Place, Trouble
from catalogue.frontmatter import Front, decode, read_bytes
from catalogue.people.client import Client
from catalogue.people.mending import split_mended
from catalogue.people.sizes import SizeTable
from catalogue.slugs import slugify

T = TypeVar("T", Client, SizeTable)


def read_file(
    path: Path, root: Path, read: Callable[[Front, str, str, str], T], broken: Callable[..., T]
) -> T:
    """What `read` makes of a file, called with its parts, slug, stem and digest; problems become findings of `broken`.

    Args:
        root: the studio's folder, for naming the file in findings.
        broken: makes what stands for a file that can't be read, of its slug, file, stem, findings and digest.
    """
    file = path.relative_to(root).as_posix() if path.is_relative_to(root) else path.as_posix()
    slug = slugify(path.stem)
    digest = ""
    try:
        data = read_bytes(path, file)
        digest = hashlib.sha256(data).hexdigest()
        front, mended = split_mended(decode(data, file), file)
        return _with(read(front, slug, path.stem, digest), mended, file)
    except Trouble as trouble:
        return broken(slug, file, path.stem, findings=trouble.findings, digest=digest)


def _with(made: T, findings: tuple[Finding, ...], file: str) -> T:
    if not findings:
        return made
    every = sorted((*findings, *made.findings), key=lambda f: f.place or Place(file))
    return replace(made, findings=tuple(every))
