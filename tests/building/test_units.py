"""Kinds of unit: one more is a class and a line in a list, and a build does the rest; the real ones fit together."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from catalogue.building.checking import check
from catalogue.building.common import Common
from catalogue.building.kind import UnitKind
from catalogue.building.known_units import KnownUnits
from catalogue.building.made_units import MadeUnit
from catalogue.building.readers import StudioReaders
from catalogue.building.reading import read_studio
from catalogue.building.report import Report, Request
from catalogue.building.run import build
from catalogue.building.studio import find_files
from catalogue.building.unit import Product, Products, Results, Source, Sources, SourcesOf, UnitName
from catalogue.building.units import CATALOGUE
from catalogue.findings import Finding, Place, Severity
from tests.building.fakes import HEAD, fakes, site_files, write_studio

ROOT = Path(__file__).parents[2]


class Block(UnitKind):
    """What is drafted once for a client, for several drafts to be cut from: the client's girth, doubled."""

    name = "block"
    place = "blocks/{client}/"
    uses_templates = False

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        return Source(common.studio.by_client[name.client].values["girth"])

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        girth = common.studio.by_client[name.client].values["girth"]
        if girth == 666:
            raise RuntimeError("the pencil broke")
        found = (Finding("wide", "this is wide", Place("clients/x.md"), severity=Severity.WARNING),)
        record = {f".catalogue/blocks/{name.client}.z": b"%d" % (2 * girth)}
        return {name: Product({}, {"wide": girth > 950}, found if girth > 950 else (), record)}


class Hello(UnitKind):
    """A page that shows the blocks, and is made anew when one of them says something else."""

    name = "hello"
    place = "hello/"
    shows = ("block",)
    reads_files = True
    beside = ("*.txt",)

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        blocks = [UnitName("block", client=client.slug) for client in common.studio.clients]
        return Source([sources(block).plain for block in blocks])

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        read = [results.read(f".catalogue/blocks/{n.client}.z").decode() for n in results.summaries]
        page = f"{HEAD} {read} {list(results.summaries.values())}".encode()
        return {name: Product({"hello/index.html": page, "hello/list.txt": b"beside"})}


BOTH = fakes(more=(Block(), Hello()))


class Desk:
    def __init__(self, folder: Path) -> None:
        self.studio = write_studio(folder / "studio")
        self.output = folder / "site"

    def build(self, **asked: object) -> Report:
        return build(Request(self.studio, self.output, **{"jobs": 1} | asked), BOTH)  # type: ignore[arg-type]

    def measure(self, client: int, old: str, new: str) -> None:
        path = self.studio / "clients" / f"client{client}.md"
        text = path.read_text()
        assert f"girth = {old}\n" in text
        path.write_text(text.replace(f"girth = {old}\n", f"girth = {new}\n"))

    def hello(self) -> str:
        return (self.output / "hello/index.html").read_text()


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(tmp_path)


@pytest.mark.parametrize("jobs", [1, 2])
def test_a_unit_may_show_what_was_made_of_others_in_the_same_build(desk: Desk, jobs: int) -> None:
    assert desk.build(jobs=jobs).ok
    assert "['1800', '1802', '1804']" in desk.hello() and "'wide': False" in desk.hello()
    assert desk.build().changed == ()


def test_it_is_made_again_when_one_of_those_is_and_reads_the_others_as_published(desk: Desk) -> None:
    desk.build()
    desk.measure(1, "901", "990")
    report = desk.build()
    assert "['1800', '1980', '1804']" in desk.hello()
    assert {"hello/index.html", ".catalogue/blocks/client1.z"} < set(report.changed)
    assert ".catalogue/blocks/client0.z" not in report.changed
    assert (
        [t.finding.code for t in report.findings]
        == ["wide"]
        == [t.finding.code for t in desk.build().findings]
    )
    (desk.studio / "clients" / "client0.md").open("a").write("a note\n")
    assert "hello/index.html" not in desk.build().changed


def test_one_that_cannot_be_made_has_a_page_that_says_so_and_is_tried_again(desk: Desk) -> None:
    desk.measure(1, "901", "666")
    report = desk.build()
    assert not report.ok and "the pencil broke" in report.findings[0].finding.message
    assert "the pencil broke" in (desk.output / "blocks/client1/index.html").read_text()
    assert "['1800', '', '1804']" in desk.hello()
    desk.measure(1, "666", "901")
    assert desk.build().ok and not (desk.output / "blocks").exists()
    assert "['1800', '1802', '1804']" in desk.hello()


def test_a_copy_for_one_client_holds_no_record(desk: Desk) -> None:
    desk.output = desk.output.with_name("copy")
    assert desk.build(recipient="Client 1").ok
    assert not (desk.output / ".catalogue").exists() and "['']" in desk.hello()


def test_its_files_are_known_when_the_manifest_is_lost(desk: Desk) -> None:
    desk.build()
    before = site_files(desk.output)
    (desk.output / ".catalogue.json").unlink()
    (desk.output / "hello" / "old.txt").write_text("of an earlier build")
    (desk.output / "hello" / "mine.doc").write_text("mine")
    desk.build()
    assert site_files(desk.output) == before | {"hello/mine.doc": b"mine"}


def test_what_a_check_looks_at_is_drafted_and_said(desk: Desk) -> None:
    class Checked(Block):
        def is_checked(self, common: Common) -> bool:
            return True

    desk.measure(1, "901", "990")
    report = check(Request(desk.studio, desk.output, jobs=1), fakes(more=(Checked(),)))
    assert [t.finding.code for t in report.findings] == ["wide"]
    assert check(Request(desk.studio, desk.output, jobs=1, force=True), BOTH).findings == ()


def test_units_shown_are_those_about_the_same_style_and_client() -> None:
    names = [UnitName("pair", style, client) for style in "ab" for client in "xy"]
    known = KnownUnits([*names, UnitName("sizes", "a")])
    shown = {kind.name: kind for kind in CATALOGUE.kinds}
    assert shown["page"].shown(UnitName("page", "a", "y"), known) == [UnitName("pair", "a", "y")]
    assert shown["style"].shown(UnitName("style", "a"), known) == [*names[:2], UnitName("sizes", "a")]
    assert shown["client"].shown(UnitName("client", client="y"), known) == [names[1], names[3]]
    assert shown["home"].shown(UnitName("home"), known) == names


def test_a_kind_comes_after_those_it_shows() -> None:
    turns = [[kind.name for kind in kinds] for kinds in CATALOGUE.in_turn()]
    assert sorted(name for turn in turns for name in turn) == sorted(kind.name for kind in CATALOGUE.kinds)
    for number, kinds in enumerate(CATALOGUE.in_turn()):
        before = {name for turn in turns[:number] for name in turn}
        assert all(set(kind.shows) <= before for kind in kinds)
    with pytest.raises(ValueError, match="“hello” shows “block”, so it must be registered after it"):
        fakes(more=(Hello(), Block())).in_turn()


def test_every_unit_of_the_demo_has_a_name_and_a_source_of_its_own() -> None:
    common = Common(read_studio(find_files(ROOT), StudioReaders()))
    names = [name for kind in CATALOGUE.kinds for name in kind.names(common)]
    assert len({str(name) for name in names}) == len(names) > 50
    known = KnownUnits(names)
    for name in names:
        known.keep(name, MadeUnit(""))
    sources: dict[UnitName, Sources] = {}

    def sources_of(name: UnitName) -> Sources:
        if name not in sources:
            source = CATALOGUE.kind_of(name).comes_from(common, name, sources_of)
            sources[name] = Sources(repr(source.content), repr(source.places))
        return sources[name]

    assert all(CATALOGUE.kind_of(name).folder(name).endswith("/") for name in names if name.kind != "home")
    pairs = [sources_of(name).plain for name in names if name.kind == "pair"]
    assert len(set(pairs)) == len(pairs) > 10


def test_a_definition_travels_to_a_process_that_is_started_afresh() -> None:
    import pickle

    again = pickle.loads(pickle.dumps(replace(CATALOGUE, readers=StudioReaders())))
    assert [kind.name for kind in again.kinds] == [kind.name for kind in CATALOGUE.kinds]
    common = Common(read_studio(find_files(ROOT), StudioReaders()))
    assert common.site and pickle.loads(pickle.dumps(common)).studio == common.studio
