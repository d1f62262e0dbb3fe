"""A small trade of its own in place of drafting, so that builds can be tested by the hundred.

A style file says which measurements it needs, one `need NAME` a line; a draft is the sum of them. A client
file holds `NAME = NUMBER` lines, a `name: TEXT` and free notes. `BAD` in either makes an error, `CRASH` kills
the process that drafts it, `RAISE` is a fault of the program.
"""

from __future__ import annotations

import json
import os
import time
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from catalogue.building import fingerprint
from catalogue.building.sized import SizedMade
from catalogue.building.studio import Studio
from catalogue.building.works import PairMade, PairSource, Summaries
from catalogue.findings import Finding, Place, Severity

HEAD = '<!doctype html><html lang="en"><head><meta name="generator" content="pattern-catalogue"></head>'


@dataclass(frozen=True, slots=True)
class FakeStyle:
    slug: str
    file: str
    title: str
    needs: tuple[str, ...]
    text: str
    findings: tuple[Finding, ...]
    digest: str


@dataclass(frozen=True, slots=True)
class FakeClient:
    slug: str
    file: str
    name: str
    measurements: Mapping[str, float]
    lines: Mapping[str, int]
    notes: str
    findings: tuple[Finding, ...]
    digest: str


@dataclass(frozen=True, slots=True)
class FakeWorks:
    """Counts its drafts in a file, one line each, since they may be made in other processes."""

    log: Path | None = None
    version: str = "1"
    others_files: Mapping[str, bytes] = field(default_factory=lambda: {"assets/page.css": b"p {}\n"})

    def warm(self, studio: Studio) -> None:
        pass

    def warm_to_draft(self) -> None:
        pass

    def settings(self, root: Path) -> tuple[Any, tuple[Finding, ...]]:
        path = root / "site_template" / "studio.toml"
        return (path.read_text() if path.exists() else ""), ()

    def style(self, path: Path, root: Path, settings: Any) -> FakeStyle:
        text, file = path.read_text(), path.relative_to(root).as_posix()
        needs = tuple(line.split()[1] for line in text.splitlines() if line.startswith("need "))
        digest = fingerprint.of_bytes(text.encode())
        return FakeStyle(path.stem.lower(), file, path.stem, needs, text, _bad(text, file), digest)

    def client(self, path: Path, root: Path, settings: Any) -> FakeClient:
        text, file = path.read_text(), path.relative_to(root).as_posix()
        pairs = [line.split(" = ") for line in text.splitlines() if " = " in line]
        names = [line[6:] for line in text.splitlines() if line.startswith("name: ")]
        notes = "\n".join(
            line for line in text.splitlines() if " = " not in line and not line.startswith("name: ")
        )
        digest = fingerprint.of_bytes(text.encode())
        measurements = {name: float(value) for name, value in pairs}
        name = names[0] if names else path.stem
        lines = {line.split(" = ")[0]: n for n, line in enumerate(text.splitlines(), 1) if " = " in line}
        return FakeClient(path.stem.lower(), file, name, measurements, lines, notes, _bad(text, file), digest)

    def sizes(self, path: Path, root: Path, settings: Any) -> FakeClient:
        return self.client(path, root, settings)

    def shared(self, studio: Studio) -> Any:
        return studio.settings, self.version

    def shared_pages(self, studio: Studio) -> Any:
        return studio.files.under("site_template/pages")

    def look_over(self, studio: Studio) -> tuple[Finding, ...]:
        return ()

    def said(self, studio: Studio) -> tuple[Finding, ...]:
        return ()

    def suits(self, style: Any, client: Any) -> bool:
        return f"not for {client.slug}" not in style.text

    def pair_from(self, studio: Studio, style: Any, client: Any) -> PairSource:
        used = {name: client.measurements.get(name) for name in style.needs}
        lines = {name: client.lines.get(name) for name in style.needs}
        return PairSource((style.digest, client.name, used), lines, client.notes)

    def style_from(self, studio: Studio, style: Any) -> Any:
        return style.digest, [(c.slug, c.name) for c in studio.clients]

    def client_from(self, studio: Studio, client: Any) -> Any:
        return client.digest, [(s.slug, s.title) for s in studio.styles]

    def front_from(self, studio: Studio) -> Any:
        return [(s.slug, s.title) for s in studio.styles], [(c.slug, c.name) for c in studio.clients]

    def others_from(self, studio: Studio) -> Any:
        return None

    def pair(self, studio: Studio, style: Any, client: Any) -> PairMade:
        if self.log:
            with self.log.open("a") as log:
                log.write(f"{style.slug}/{client.slug}\n")
        if "SLOW" in style.text:
            time.sleep(0.3)
        if "CRASH" in style.text:
            os._exit(9)
        if "RAISE" in style.text:
            raise RuntimeError("a wheel came off")
        missing = [name for name in style.needs if name not in client.measurements]
        total = sum(client.measurements.get(name, 0) for name in style.needs)
        state = "wrong" if style.findings else "waiting" if missing else "ready"
        summary = {"state": state, "client": client.name, "total": total}
        files = {}
        if state == "ready":
            files["draft.svg"] = b"<svg>%r</svg>" % total
            files["draft.json"] = json.dumps({"total": total}).encode()
        found = list(style.findings)
        for name in style.needs:
            if client.measurements.get(name, 0) > 1000:
                place = Place(client.file, client.lines[name])
                found.append(Finding("large", f"{name} is very large", place, severity=Severity.WARNING))
        page, record = self.pair_page(studio, style, client, summary), _record(style, client)
        return PairMade(files, page, summary, tuple(found), record)

    def pair_page(
        self, studio: Studio, style: Any, client: Any, summary: Mapping[str, Any], record: bytes = b""
    ) -> bytes:
        # A record of another draft, or of this one as it was before, is seen in the page.
        record = record or _record(style, client)
        links = '<a href="../index.html">style</a><a href="../../../index.html">all</a>'
        links += '<link href="../../../assets/page.css">'
        links += '<a href="draft.svg">drawing</a>' if summary["state"] == "ready" else ""
        lines = [client.lines.get(n) for n in style.needs]
        template = studio.root / "site_template" / "pages" / "draft.txt"
        own = template.read_text() if template.exists() else ""
        words = f"{style.title} {client.name} {client.notes} {studio.settings} {dict(summary)} {lines} {own}"
        return f"{HEAD}{words} {links} {record.decode()}".encode()

    def pair_failed(self, studio: Studio, style: Any, client: Any, finding: Finding) -> PairMade:
        return PairMade({}, f"{HEAD}{finding}".encode(), {"state": "wrong"}, (finding,))

    def check(self, studio: Studio, style: Any, client: Any) -> tuple[Finding, ...]:
        return self.pair(studio, style, client).findings

    def check_pages(self, studio: Studio) -> tuple[Finding, ...]:
        return ()

    def style_pages(self, studio: Studio, style: Any, summaries: Summaries) -> Mapping[str, bytes]:
        links = "".join(f'<a href="{c}/index.html">{summaries[s, c]}</a>' for s, c in summaries if c)
        sized = summaries.get((style.slug, ""), {}).get("girths", {})
        links += "".join(f'<a href="sizes/{slug}.pdf">{values}</a>' for slug, values in sized.items())
        links += "".join(
            f'<a href="{path.removeprefix(f"styles/{style.slug}/")}">{path}</a>'
            for path in self.choice_paths(style)
        )
        page = f"{HEAD}{style.title} {studio.settings} {links}".encode()
        return {f"styles/{style.slug}/index.html": page}

    def client_pages(self, studio: Studio, client: Any, summaries: Summaries) -> Mapping[str, bytes]:
        links = "".join(
            f'<a href="../../styles/{s}/{c}/index.html">{summaries[s, c]}</a>' for s, c in summaries
        )
        page = f"{HEAD}{client.name} {client.notes} {studio.settings} {links}".encode()
        return {f"clients/{client.slug}/index.html": page, f"clients/{client.slug}/card/index.html": page}

    def front_pages(self, studio: Studio, summaries: Summaries) -> Mapping[str, bytes]:
        links = "".join(f'<a href="styles/{s.slug}/index.html">{s.title}</a>' for s in studio.styles)
        links += "".join(f'<a href="clients/{c.slug}/index.html">{c.name}</a>' for c in studio.clients)
        return {"index.html": f"{HEAD}{studio.settings} {links} {dict(summaries)}".encode()}

    def others(self, studio: Studio) -> Mapping[str, bytes]:
        return dict(self.others_files)

    def sized_from(self, studio: Studio, style: Any) -> Any:
        asking = [table for table in studio.sizes if f"for {style.slug}" in table.notes]
        return (style.digest, [table.digest for table in asking]) if asking else None

    def sized(self, studio: Studio, style: Any) -> SizedMade:
        if "CRASH" in style.text:
            os._exit(9)
        girths = {t.slug: t.measurements for t in studio.sizes if f"for {style.slug}" in t.notes}
        return SizedMade(
            {f"{slug}.pdf": b"%r" % values for slug, values in girths.items()}, {"girths": girths}
        )

    def check_sized(self, studio: Studio, style: Any) -> tuple[Finding, ...]:
        return self.sized(studio, style).findings

    def choices_from(self, studio: Studio, style: Any) -> Any:
        return style.digest

    def choice_paths(self, style: Any) -> list[str]:
        return [f"styles/{style.slug}/choices/{need}.svg" for need in style.needs]

    def choices(self, studio: Studio, style: Any) -> Mapping[str, bytes]:
        return {path: f"<svg>{style.text}</svg>".encode() for path in self.choice_paths(style)}

    def handbook(self, studio: Studio) -> Mapping[str, bytes]:
        return {"handbook/index.html": f"{HEAD}handbook {studio.settings}".encode()}


def _record(style: FakeStyle, client: FakeClient) -> bytes:
    return f"{style.slug}/{client.slug}: {[client.measurements.get(name) for name in style.needs]}".encode()


def _bad(text: str, file: str) -> tuple[Finding, ...]:
    lines = text.splitlines()
    return tuple(
        Finding("bad", "this word is not known", Place(file, n, line.index("BAD") + 1), source=line)
        for n, line in enumerate(lines, 1)
        if "BAD" in line
    )


def write_studio(root: Path, styles: int = 3, clients: int = 3) -> Path:
    """A small studio of the fakes' own kind."""
    (root / "styles").mkdir(parents=True)
    (root / "clients").mkdir()
    for n in range(styles):
        (root / "styles" / f"style{n}.md").write_text(f"need girth\nneed length{n}\n")
    for n in range(clients):
        lengths = "".join(f"length{m} = {10 * n + m}\n" for m in range(styles))
        (root / "clients" / f"client{n}.md").write_text(
            f"name: Client {n}\ngirth = {900 + n}\n{lengths}notes\n"
        )
    return root


def site_files(output: Path) -> dict[str, bytes]:
    """Every file of a published folder, by path."""
    return {
        p.relative_to(output).as_posix(): p.read_bytes() for p in sorted(output.rglob("*")) if p.is_file()
    }


def dangling_links(output: Path) -> list[str]:
    """Links that lead nowhere, from pages that can be reached from the first."""
    import re

    seen, todo, dangling = set(), [output / "index.html"], []
    while todo:
        page = todo.pop()
        if page in seen:
            continue
        seen.add(page)
        for link in re.findall(r'href="([^"]*)"', page.read_text(errors="replace")):
            path = link.partition("#")[0]
            target = (page.parent / path).resolve() if path else page
            if link.startswith(("http://", "https://", "mailto:", "data:")):
                continue
            if not target.is_file():
                dangling.append(f"{page.relative_to(output)} -> {link}")
            elif target.suffix == ".html":
                todo.append(target)
    return dangling
