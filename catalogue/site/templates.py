"""Page templates: where they are found, and what the page says when one of the studio's own is at fault.

The studio's own come first, then those of the program. They are trusted, as code is: what they ask for is done.
But a mistake in one is reported as any other, with file and line, and costs the pages that use it and no more.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Sequence
from html import escape
from pathlib import Path
from typing import Any

from jinja2 import (
    Environment,
    FunctionLoader,
    StrictUndefined,
    TemplateNotFound,
    TemplateSyntaxError,
    UndefinedError,
    meta,
)
from jinja2.bccache import Bucket, BytecodeCache
from jinja2.loaders import split_template_path

from catalogue.between_runs import keep, recalled
from catalogue.findings import Finding, Place, Trouble, did_you_mean
from catalogue.frontmatter import decode, read_bytes
from catalogue.site.folders import TEMPLATE, built_in_templates, own_templates


class _Compiled(BytecodeCache):
    """Templates compiled before, by name and contents: a process that builds again uses them again, and so does the
    next run.
    """

    MOST = 200

    def __init__(self) -> None:
        self._codes: dict[tuple[str, str], Any] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        bucket.code = self._codes.get((bucket.key, bucket.checksum))
        if bucket.code is None and (kept := recalled("template", (bucket.key, bucket.checksum))):
            bucket.bytecode_from_string(kept)
            self._remember(bucket)

    def dump_bytecode(self, bucket: Bucket) -> None:
        self._remember(bucket)
        keep("template", (bucket.key, bucket.checksum), bucket.bytecode_to_string())

    def _remember(self, bucket: Bucket) -> None:
        if len(self._codes) >= self.MOST:
            self._codes.clear()
        self._codes[bucket.key, bucket.checksum] = bucket.code


_compiled = _Compiled()


class Templates:
    """The templates of one studio.

    Args:
        studio: the studio's folder; None for the program's own templates alone.
    """

    def __init__(self, studio: Path | None = None) -> None:
        self._own = own_templates(studio) if studio is not None else None
        self.folders = tuple(f for f in (self._own, built_in_templates()) if f is not None)
        self.environment = Environment(
            loader=FunctionLoader(self._load),
            autoescape=True,
            trim_blocks=True,
            lstrip_blocks=True,
            undefined=StrictUndefined,
            bytecode_cache=_compiled,
        )

    def find(self, name: str) -> Path | None:
        """The file that stands for a name such as "handbook/index.html"; links out of a folder are not followed."""
        for folder in self.folders:
            path = folder.joinpath(*split_template_path(name))
            if path.is_file() and Path(os.path.realpath(folder)) in Path(os.path.realpath(path)).parents:
                return path
        return None

    def mistakes(self) -> Iterator[Finding]:
        """What is wrong with the studio's own templates, as far as can be seen without making a page."""
        if self._own is None:
            return
        for path in sorted(self._own.rglob("*.html")):
            name = path.relative_to(self._own).as_posix()
            try:
                if self.find(name) == path:
                    self.environment.get_template(name)
            except Exception as error:
                yield self.finding(error) or Finding("template", str(error), Place(f"{TEMPLATE}/{name}"))

    def finding(self, error: Exception) -> Finding | None:
        """What an error in making a page says of the studio's own templates; None when they have no part in it."""
        if isinstance(error, Trouble):
            return error.findings[0]
        spots = list(_spots(error, self.folders))
        mine = next((spot for spot in spots if self._is_own(spot[0])), None)
        if mine is not None:
            return _finding(
                "template", _words(error), self._label(mine[0]), mine[1], mine[0], self._hint(error)
            )
        if not spots or (own := self._used(spots[0][0])) is None:
            return None
        path, line = spots[0]
        message = f"the program's own {path.name}, line {line}, cannot use this: {_words(error)}"
        return Finding("template", message, Place(self._label(own)))

    def _load(self, name: str) -> tuple[str, str, Any] | None:
        path = self.find(name)
        if path is None:
            return None
        label = self._label(path)
        return decode(read_bytes(path, label), label), str(path), None

    def _is_own(self, path: Path) -> bool:
        return self._own is not None and self._own in path.parents

    def _label(self, path: Path) -> str:
        """The path as the reader knows it."""
        folder = next(f for f in self.folders if f in path.parents)
        return f"{TEMPLATE}/{path.relative_to(folder).as_posix()}"

    def _used(self, path: Path) -> Path | None:
        """The first of the studio's own templates that a template takes in, directly or through others."""
        todo, seen = [path], set()
        while todo:
            path = todo.pop(0)
            seen.add(path)
            try:
                tree = self.environment.parse(path.read_text(encoding="utf-8"))
            except (TemplateSyntaxError, OSError, ValueError):
                continue
            for name in meta.find_referenced_templates(tree):
                used = self.find(name) if name else None
                if used is not None and self._is_own(used):
                    return used
                if used is not None and used not in seen:
                    todo.append(used)
        return None

    def _hint(self, error: Exception) -> str:
        if not isinstance(error, TemplateNotFound):
            return ""
        known = {p.relative_to(f).as_posix() for f in self.folders for p in f.rglob("*.html")}
        return did_you_mean(str(error.name), sorted(known))


def plain_page(finding: Finding) -> str:
    """A page that stands for one that could not be made, and says why."""
    return _PLAIN.format(finding=escape(str(finding)))


def _spots(error: Exception, folders: Sequence[Path]) -> Iterator[tuple[Path, int]]:
    """Files and lines of templates an error came through, the innermost first."""
    if isinstance(error, TemplateSyntaxError):
        if error.filename:
            yield Path(error.filename), error.lineno
        return
    found = []
    trace = error.__traceback__
    while trace is not None:
        path = Path(trace.tb_frame.f_code.co_filename)
        if any(folder in path.parents for folder in folders):
            found.append((path, trace.tb_lineno))
        trace = trace.tb_next
    yield from reversed(found)


def _finding(code: str, message: str, label: str, line: int, path: Path, hint: str) -> Finding:
    lines = decode(read_bytes(path, label), label).split("\n")
    source = lines[line - 1].rstrip()[:200] if 0 < line <= len(lines) else ""
    column = len(source) - len(source.lstrip()) + 1
    return Finding(code, message, Place(label, line, column), hint, source=source)


def _words(error: Exception) -> str:
    if isinstance(error, TemplateSyntaxError):
        message = str(error.message).replace("Jinja was looking for the following tags:", "Expected:")
        return f"this template can't be read: {message}"
    if isinstance(error, TemplateNotFound):
        return f"there is no template “{error.name}”"
    if isinstance(error, RecursionError):
        return "these templates include each other in a circle"
    if isinstance(error, UndefinedError):
        message = str(error.message)
        if found := re.fullmatch(r"'(.+)' is undefined", message):
            return f"there is no “{found[1]}” here"
        if found := re.fullmatch(r"'(?:.*[. ])?(\w+) object' has no attribute '(.+)'", message):
            what = "template" if found[1] == "TemplateModule" else found[1].lower()
            return f"there is no “{found[2]}” in a {what}"
        return f"this can't be filled in: {message}"
    return f"this can't be worked out: {type(error).__name__}: {error}"


_PLAIN = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="generator" content="pattern-catalogue">
<title>Not made</title>
</head>
<body>
<h1>This page could not be made</h1>
<pre>{finding}</pre>
</body>
</html>
"""
