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

from catalogue.building import fingerprint
from catalogue.building.common import Common
from catalogue.building.kind import Definition, UnitKind
from catalogue.building.made_units import MadeUnit
from catalogue.building.manifest import RECORDS
from catalogue.building.unit import Product, Products, Results, Source, SourcesOf, Summary, UnitName
from catalogue.cloth.cloths import Cloths
from catalogue.findings import Finding, Place, Severity
from catalogue.people import Client, SizeTable
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style

HEAD = '<!doctype html><html lang="en"><head><meta name="generator" content="pattern-catalogue"></head>'


@dataclass(frozen=True, slots=True)
class FakeStyle(Style):
    text: str = ""


@dataclass(frozen=True, slots=True)
class FakeClient(Client):
    values: Mapping[str, float] = field(default_factory=dict)
    value_lines: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class FakeTable(SizeTable):
    values: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class FakeReaders:
    """`version` stands for that of the program."""

    version: str = "1"

    def settings(self, root: Path) -> tuple[Settings, tuple[Finding, ...]]:
        path = root / "site_template" / "studio.toml"
        return Settings(name=path.read_text() if path.exists() else "", digest=self.version), ()

    def style(self, path: Path, root: Path, settings: Settings) -> FakeStyle:
        text, file = path.read_text(), path.relative_to(root).as_posix()
        needs = tuple(line.split()[1] for line in text.splitlines() if line.startswith("need "))
        digest = fingerprint.of_bytes(text.encode())
        slug = path.stem.lower()
        return FakeStyle(
            slug, file, path.stem, needs=needs, text=text, findings=_bad(text, file), digest=digest
        )

    def client(self, path: Path, root: Path, settings: Settings) -> FakeClient:
        text, file = path.read_text(), path.relative_to(root).as_posix()
        names = [line[6:] for line in text.splitlines() if line.startswith("name: ")]
        notes = "\n".join(
            line for line in text.splitlines() if " = " not in line and not line.startswith("name: ")
        )
        return FakeClient(
            path.stem.lower(),
            file,
            names[0] if names else path.stem,
            notes=notes,
            findings=_bad(text, file),
            digest=fingerprint.of_bytes(text.encode()),
            values=_values(text),
            value_lines={
                line.split(" = ")[0]: n for n, line in enumerate(text.splitlines(), 1) if " = " in line
            },
        )

    def cloths(self, root: Path, settings: Settings) -> Cloths:
        return Cloths()

    def sizes(self, path: Path, root: Path, settings: Settings) -> FakeTable:
        text, file = path.read_text(), path.relative_to(root).as_posix()
        asked = tuple(line.removeprefix("for ") for line in text.split("\n") if line.startswith("for "))
        words = tuple(word for line in asked for word in line.split(" for "))
        digest = fingerprint.of_bytes(text.encode())
        slug = path.stem.lower()
        return FakeTable(slug, file, path.stem, garments=words, digest=digest, values=_values(text))


class _OfAPair(UnitKind):
    """What is about a style and a client."""

    place = "styles/{style}/{client}/"

    def names(self, common: Common) -> list[UnitName]:
        styles = common.studio.by_style
        return [n for n in super().names(common) if f"not for {n.client}" not in styles[n.style].text]

    def both(self, common: Common, name: UnitName) -> tuple[FakeStyle, FakeClient]:
        style, client = common.studio.by_style[name.style], common.studio.by_client[name.client]
        assert isinstance(style, FakeStyle) and isinstance(client, FakeClient)
        return style, client


@dataclass(frozen=True, eq=False)
class FakePair(_OfAPair):
    """Counts its drafts in a file, one line each, since they may be made in other processes."""

    log: Path | None = None

    name = "pair"
    uses_templates = False
    is_draft = is_chosen = is_of_one_client = True
    beside = ("draft.*",)

    def made_with(self, name: UnitName) -> tuple[UnitName, ...]:
        return (name._replace(kind="page"),)

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        style, client = self.both(common, name)
        used = {name: client.values.get(name) for name in style.needs}
        lines = {name: client.value_lines.get(name) for name in style.needs}
        return Source((style.digest, client.name, used), lines)

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        style, client = self.both(common, name)
        if self.log:
            with self.log.open("a") as log:
                log.write(f"{style.slug}/{client.slug}\n")
        if "SLOW" in style.text:
            time.sleep(0.3)
        if "CRASH" in style.text:
            os._exit(9)
        if "RAISE" in style.text:
            raise RuntimeError("a wheel came off")
        missing = [name for name in style.needs if name not in client.values]
        total = sum(client.values.get(name, 0) for name in style.needs)
        state = "wrong" if style.findings else "waiting" if missing else "ready"
        summary = {"state": state, "client": client.name, "total": total}
        files = {}
        if state == "ready":
            files[f"{self.folder(name)}draft.svg"] = b"<svg>%r</svg>" % total
            files[f"{self.folder(name)}draft.json"] = json.dumps({"total": total}).encode()
        found = list(style.findings)
        for need in style.needs:
            if client.values.get(need, 0) > 1000:
                place = Place(client.file, client.value_lines[need])
                found.append(Finding("large", f"{need} is very large", place, severity=Severity.WARNING))
        record = _record(style, client)
        [page] = self.made_with(name)
        return {
            name: Product(files, summary, tuple(found), {_record_path(name): record}),
            page: FakePage().product(common, name, summary, record),
        }

    def failed(self, common: Common, name: UnitName, finding: Finding) -> Products:
        page = {f"{self.folder(name)}index.html": f"{HEAD}{finding}".encode()}
        return {name: Product({}, {"state": "wrong"}, (finding,)), self.made_with(name)[0]: Product(page)}

    def is_checked(self, common: Common) -> bool:
        return True


class FakePage(_OfAPair):
    """A record of another draft, or of this one as it was before, is seen in it."""

    name = "page"
    shows = ("pair",)
    reads_files = is_chosen = is_of_one_client = True

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        _, client = self.both(common, name)
        return Source((sources(name._replace(kind="pair")).placed, client.notes))

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        [summary] = results.summaries.values()
        record = results.read(_record_path(name)) or _record(*self.both(common, name))
        return {name: self.product(common, name, summary, record)}

    def product(self, common: Common, name: UnitName, summary: Summary, record: bytes) -> Product:
        style, client = self.both(common, name)
        links = '<a href="../index.html">style</a><a href="../../../index.html">all</a>'
        links += '<link href="../../../assets/page.css">'
        links += '<a href="draft.svg">drawing</a>' if summary["state"] == "ready" else ""
        lines = [client.value_lines.get(n) for n in style.needs]
        template = common.studio.root / "site_template" / "pages" / "draft.txt"
        own = template.read_text() if template.exists() else ""
        settings = common.studio.settings.name
        words = f"{style.title} {client.name} {client.notes} {settings} {dict(summary)} {lines} {own}"
        return Product(
            {f"{self.folder(name)}index.html": f"{HEAD}{words} {links} {record.decode()}".encode()}
        )


class FakeSizes(UnitKind):
    """A sheet of each table that asks for a style."""

    name = "sizes"
    place = "styles/{style}/sizes/"
    uses_templates = False
    page = "styles/*/index.html"
    beside = ("sizes/*.pdf",)

    def names(self, common: Common) -> list[UnitName]:
        studio = common.studio
        return [UnitName(self.name, style.slug) for style in studio.styles if studio.tables_for(style)]

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        style = common.studio.by_style[name.style]
        return Source((style.digest, [table.digest for table in common.studio.tables_for(style)]))

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        style = common.studio.by_style[name.style]
        if "CRASH" in style.text:
            os._exit(9)
        girths = {table.slug: table.values for table in common.studio.tables_for(style)}
        sheets = {f"{self.folder(name)}{slug}.pdf": b"%r" % values for slug, values in girths.items()}
        return {name: Product(sheets, {"girths": girths})}

    def is_checked(self, common: Common) -> bool:
        return True

    def can_wait(self, common: Common, name: UnitName, made: MadeUnit) -> bool:
        return True


class FakeChoices(UnitKind):
    """A picture of each measurement that a style needs."""

    name = "choices"
    place = "styles/{style}/choices/"
    uses_templates = False
    page = "styles/*/index.html"
    beside = ("choices/*.svg",)

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        return Source(common.studio.by_style[name.style].digest)

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        style = common.studio.by_style[name.style]
        return {name: Product({path: f"<svg>{style.text}</svg>".encode() for path in _pictures(style)})}

    def can_wait(self, common: Common, name: UnitName, made: MadeUnit) -> bool:
        return {file.path for file in made.files}.issuperset(_pictures(common.studio.by_style[name.style]))


class FakeStylePages(UnitKind):
    name = "style"
    place = "styles/{style}/"
    shows = ("pair", "sizes")

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        clients = [(c.slug, c.name) for c in common.studio.clients]
        return Source((common.studio.by_style[name.style].digest, clients))

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        style, summaries = common.studio.by_style[name.style], results.by_draft()
        links = "".join(f'<a href="{c}/index.html">{summaries[s, c]}</a>' for s, c in summaries if c)
        sized = summaries.get((style.slug, ""), {}).get("girths", {})
        links += "".join(f'<a href="sizes/{slug}.pdf">{values}</a>' for slug, values in sized.items())
        links += "".join(
            f'<a href="{path.removeprefix(self.folder(name))}">{path}</a>' for path in _pictures(style)
        )
        page = f"{HEAD}{style.title} {common.studio.settings.name} {links}".encode()
        return {name: Product({f"{self.folder(name)}index.html": page})}


class FakeClientPages(UnitKind):
    name = "client"
    place = "clients/{client}/"
    shows = ("pair",)

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        styles = [(s.slug, s.title) for s in common.studio.styles]
        return Source((common.studio.by_client[name.client].digest, styles))

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        client = common.studio.by_client[name.client]
        links = "".join(
            f'<a href="../../styles/{s}/{c}/index.html">{told}</a>'
            for (s, c), told in results.by_draft().items()
        )
        page = f"{HEAD}{client.name} {client.notes} {common.studio.settings.name} {links}".encode()
        return {name: Product({f"{self.folder(name)}{file}index.html": page for file in ("", "card/")})}


class FakeHome(UnitKind):
    name = "home"
    place = ""
    shows = ("pair",)

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        styles = [(s.slug, s.title) for s in common.studio.styles]
        return Source((styles, [(c.slug, c.name) for c in common.studio.clients]))

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        studio = common.studio
        links = "".join(f'<a href="styles/{s.slug}/index.html">{s.title}</a>' for s in studio.styles)
        links += "".join(f'<a href="clients/{c.slug}/index.html">{c.name}</a>' for c in studio.clients)
        page = f"{HEAD}{studio.settings.name} {links} {results.by_draft()}"
        return {name: Product({"index.html": page.encode()})}


@dataclass(frozen=True, eq=False)
class FakeRest(UnitKind):
    files: Mapping[str, bytes] = field(default_factory=lambda: {"assets/page.css": b"p {}\n"})

    name = "rest"
    place = "measuring/"

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        return {name: Product(self.files)}


class FakeHandbook(UnitKind):
    name = "handbook"
    place = "handbook/"

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        page = f"{HEAD}handbook {common.studio.settings.name}".encode()
        return {name: Product({"handbook/index.html": page})}

    def can_wait(self, common: Common, name: UnitName, made: MadeUnit) -> bool:
        return True


def fakes(
    log: Path | None = None,
    version: str = "1",
    pair: FakePair | None = None,
    more: tuple[UnitKind, ...] = (),
) -> Definition:
    """A catalogue of fake units; `pair` takes the place of the usual kind, and `more` comes after all others."""
    drafts = pair or FakePair(log)
    first = (FakeSizes(), FakeHandbook(), FakeChoices(), drafts, FakeRest())
    return Definition(
        FakeReaders(version), (*first, FakePage(), FakeStylePages(), FakeClientPages(), FakeHome(), *more)
    )


def _record_path(name: UnitName) -> str:
    return f"{RECORDS}/{name.style}/{name.client}.z"


def _record(style: FakeStyle, client: FakeClient) -> bytes:
    return f"{style.slug}/{client.slug}: {[client.values.get(name) for name in style.needs]}".encode()


def _pictures(style: Style) -> list[str]:
    return [f"styles/{style.slug}/choices/{need}.svg" for need in style.needs]


def _values(text: str) -> dict[str, float]:
    pairs = (line.split(" = ") for line in text.splitlines() if " = " in line)
    return {name: float(value) for name, value in pairs}


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
