"""One client's copy holds nothing of the others: every byte of it is searched, and it is the same as if there were
none.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from catalogue.building import manifest
from catalogue.building.folder import STAGING, Refused
from catalogue.building.report import Report, Request
from catalogue.building.run import build
from catalogue.building.studio import UnknownName
from catalogue.building.units import CATALOGUE
from catalogue.cli import main
from catalogue.starter import make_studio
from tests.building.fakes import dangling_links, fakes, site_files, write_studio
from tests.building.searching import found_in
from tests.building.test_rooms import SECOND, differing

# Planted in the files of two other clients, and in a style made for one of them.
CANARIES = (
    "quillfeather",  # file name
    "Zephyrine Oddlocke",  # name
    "marmalade-stain",  # notes
    "tapeworn-remark",  # note beside a set of measurements
    "1013.7",  # a measurement, mm
    "4 March 2019",  # day of an older set of measurements
    "58.77",  # choice
    "furlongs-of-lace",  # on a line with a mistake, quoted in what is said about it
    "velvetoad",  # name of a file with a broken head
    "gossamerine",  # style that the other alone is drafted
    "blotted-picture",  # picture of that style
    "hush-cellar",  # the client's file in a folder below
)
OTHER = """---
name: Zephyrine Oddlocke
for: woman
units: cm
measured:
  2019-03-04:
    hip girth: 79.6
  2026-01-15:
    note: tapeworn-remark
    waist girth: 76.2
    hip girth: 101.37
    waist to hip: 20.5
choices:
  first-skirt:
    length: 58.77 cm
garments: [first-skirt, gossamerine]
---
She is known by a marmalade-stain.
"""
BROKEN = """---
name: Second Broken
for: woman
units: furlongs-of-lace
measured:
  2026-01-15:
    hip girth: 99
---
"""
THEIR_STYLE = SECOND.replace(
    "title: Bag", "title: The gossamerine gown\nfor: men\npicture: blotted-picture.svg"
)
PICTURE = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><title>blotted-picture</title></svg>'


@pytest.fixture(scope="module")
def studio(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three clients; the copies are for First Client, whose files hold none of the planted words."""
    root = tmp_path_factory.mktemp("handover") / "studio"
    make_studio(root)
    (root / "styles" / "bag.md").write_text(SECOND)
    (root / "styles" / "gossamerine.md").write_text(THEIR_STYLE)
    (root / "styles" / "blotted-picture.svg").write_text(PICTURE)
    (root / "clients" / "quillfeather.md").write_text(OTHER)
    (root / "clients" / "velvetoad.md").write_text(BROKEN)
    (root / "clients" / "hush-cellar").mkdir()
    (root / "clients" / "hush-cellar" / "letter.txt").write_text("private")
    (root / "clients" / "outside.md").symlink_to("/etc/hostname")
    return root


def make(studio: Path, output: Path, recipient: str = "First Client", **asked: object) -> Report:
    return build(Request(studio, output, jobs=1, recipient=recipient, **asked), CATALOGUE)  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def copy(studio: Path) -> Path:
    output = studio.parent / "copy"
    assert make(studio, output).ok
    return output


@pytest.fixture(scope="module")
def whole(studio: Path) -> Path:
    output = studio.parent / "whole"
    make(studio, output, "")
    return output


def test_no_byte_of_another_client_is_in_it(copy: Path, whole: Path) -> None:
    # The same search finds each planted word in the whole catalogue, so it would have found it here; but for what
    # no catalogue shows: what lies in folders below.
    unseen = {"hush-cellar"}
    assert set(CANARIES) - set(found_in(whole, CANARIES)) == unseen
    assert found_in(copy, CANARIES) == {}
    assert "First Client" in found_in(copy, ["First Client"])


def test_it_is_what_a_studio_gives_that_has_this_client_alone(
    studio: Path, copy: Path, tmp_path: Path
) -> None:
    alone = tmp_path / "studio"
    shutil.copytree(studio, alone, symlinks=True)
    for path in (alone / "clients").iterdir():
        if path.name != "first-client.md":
            shutil.rmtree(path) if path.is_dir() else path.unlink()
    make(alone, tmp_path / "copy")
    assert differing(site_files(copy), site_files(tmp_path / "copy")) == []


def test_it_is_whole(copy: Path) -> None:
    assert dangling_links(copy) == []
    for style in ("bag", "first-skirt"):
        for name in ("index.html", "draft.svg", "draft.json", "draft-a4.pdf"):
            assert (copy / "styles" / style / "first-client" / name).stat().st_size > 200
    assert (copy / "clients/first-client/card/index.html").is_file() and (
        copy / "handbook/index.html"
    ).is_file()
    assert not (copy / "styles/gossamerine").exists(), "a style that is drafted for others alone"
    assert not (copy / ".catalogue").exists(), "what only saves time is not handed over"


def test_building_again_touches_nothing_and_follows_the_one_client(studio: Path, tmp_path: Path) -> None:
    shutil.copytree(studio, tmp_path / "studio", symlinks=True)
    studio, output = tmp_path / "studio", tmp_path / "copy"
    make(studio, output)
    (studio / "clients" / "quillfeather.md").write_text(OTHER.replace("101.37", "102.38"))
    (studio / "clients" / "another.md").write_text(OTHER.replace("Zephyrine", "Second"))
    assert make(studio, output).changed == ()
    path = studio / "clients" / "first-client.md"
    path.write_text(path.read_text().replace("waist girth: 76", "waist girth: 78"))
    report = make(studio, output)
    assert report.made == 1 and "styles/first-skirt/first-client/draft.json" in report.changed
    make(studio, tmp_path / "again")
    assert differing(site_files(output), site_files(tmp_path / "again")) == []


def test_some_styles_alone_can_be_put_in(studio: Path, copy: Path, tmp_path: Path) -> None:
    output = tmp_path / "copy"
    assert make(studio, output, styles=("Bag",)).drafts == 1
    assert not (output / "styles/first-skirt").exists() and dangling_links(output) == []
    assert make(studio, output, styles=("Bag",)).changed == ()
    make(studio, output)
    assert differing(site_files(output), site_files(copy)) == []
    make(studio, output, styles=("bag.md",))
    assert not (output / "styles/first-skirt").exists(), "what is no longer meant to be in it goes"
    with pytest.raises(UnknownName, match="Not for this client: gossamerine"):
        make(studio, output, styles=("gossamerine", "bag"))


@pytest.mark.parametrize(
    ("first", "then"), [("", "client0"), ("client0", ""), ("client0", "client1"), ("client1", "client0")]
)
def test_a_folder_of_another_catalogue_is_left_alone(tmp_path: Path, first: str, then: str) -> None:
    studio, output = write_studio(tmp_path / "studio"), tmp_path / "out"
    build(Request(studio, output, jobs=1, recipient=first), fakes())
    before = site_files(output)
    with pytest.raises(Refused, match="left alone") as refused:
        build(Request(studio, output, jobs=1, recipient=then), fakes())
    assert ("the copy for the client" if first else "of all clients") in str(refused.value)
    assert site_files(output) == before


def test_a_catalogue_that_lost_its_manifest_is_not_taken_for_a_copy(tmp_path: Path) -> None:
    studio, output = write_studio(tmp_path / "studio"), tmp_path / "out"
    build(Request(studio, output, jobs=1), fakes())
    (output / manifest.NAME).unlink()
    with pytest.raises(Refused, match="whose it is"):
        build(Request(studio, output, jobs=1, recipient="client0"), fakes())


def test_what_a_cut_off_build_of_the_whole_left_is_thrown_away(tmp_path: Path) -> None:
    studio, output = write_studio(tmp_path / "studio"), tmp_path / "out"
    (output / f"{STAGING}1-x").mkdir(parents=True)
    (output / f"{STAGING}1-x" / "1-0").write_text("Client 2")
    build(Request(studio, output, jobs=1, recipient="client0"), fakes())
    assert found_in(output, ["Client 2", "client1"]) == {}


def test_strange_files_in_a_copy_are_named_and_stay(tmp_path: Path) -> None:
    studio, output = write_studio(tmp_path / "studio"), tmp_path / "out"
    request = Request(studio, output, jobs=1, recipient="client0")
    assert build(request, fakes()).findings == ()
    (output / "styles" / "of client1.pdf").write_text("mine")
    (output / ".DS_Store").write_text("of the system")
    (output / "linked").symlink_to(studio / "clients")
    [told] = build(request, fakes()).findings
    assert not told.finding.is_error
    assert "“styles/of client1.pdf”" in told.finding.message and "“linked”" in told.finding.message
    assert "DS_Store" not in told.finding.message and (output / "styles" / "of client1.pdf").exists()


def test_a_name_that_two_clients_bear_is_not_guessed_at(tmp_path: Path) -> None:
    studio, output = write_studio(tmp_path / "studio"), tmp_path / "out"
    for file in ("anna", "anna-two"):
        (studio / "clients" / f"{file}.md").write_text("name: Anna\ngirth = 900\n")
    (studio / "clients" / "other.md").write_text("name: anna-two\ngirth = 900\n")
    for name in ("Anna", "anna-two"):
        with pytest.raises(UnknownName, match=r"could be “clients/.*\.md” or “clients/.*\.md”"):
            build(Request(studio, output, jobs=1, recipient=name), fakes())
    assert not output.exists()
    for name in ("anna-two.md", "clients/anna-two.md"):
        assert build(Request(studio, output, jobs=1, recipient=name), fakes()).drafts == 3
    assert (output / "clients/anna-two").exists() and not (output / "clients/anna").exists()


def test_the_command(studio: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["build", str(studio), "--for", "first-client"]) == 2
    assert "--out" in capsys.readouterr().err and not (studio / "site").exists()
    out = str(tmp_path / "out")
    assert main(["build", str(studio), "--for", "first-client", "--client", "x", "--out", out]) == 2
    with pytest.raises(SystemExit):
        main(["build", str(studio), "--for", " ", "--out", out])
    assert "name is empty" in capsys.readouterr().err and not Path(out).exists()
    assert main(["build", str(studio), "--for", "Frist Client", "--out", out]) == 2
    assert "Did you mean “First Client”?" in capsys.readouterr().err
    assert main(["build", str(studio), "--for", "First Client", "--out", out, "--jobs", "1"]) == 0
    told = capsys.readouterr()
    assert found_in(Path(out), CANARIES) == {}
    assert not any(word in told.out + told.err for word in CANARIES), (
        "what is said stays about the one client"
    )


# ---- what prose, comments and names may carry ----

RESERVED = SECOND.replace(
    "title: Bag", "title: A gown for one\nreserved for: Zephyrine Oddlocke; First Client"
).replace("```draft", "```draft\n# first cut for Zephyrine Oddlocke", 1)


@pytest.fixture
def small(tmp_path: Path) -> Path:
    root = tmp_path / "studio"
    make_studio(root)
    (root / "clients" / "quillfeather.md").write_text(OTHER)
    (root / "styles" / "gown.md").write_text(RESERVED)
    return root


def test_a_reserved_style_is_drafted_for_those_it_names_alone(small: Path, tmp_path: Path) -> None:
    third = OTHER.replace("Zephyrine Oddlocke", "Third Person").replace("gossamerine", "gown")
    (small / "clients" / "third.md").write_text(third)
    make(small, tmp_path / "whole", "")
    drafts = {path.parent.name for path in (tmp_path / "whole/styles/gown").glob("*/index.html")}
    assert {"first-client", "quillfeather"} <= drafts and "third" not in drafts
    make(small, tmp_path / "copy", "Third Person")
    assert not (tmp_path / "copy/styles/gown").exists()
    style = small / "styles" / "gown.md"
    style.write_text(style.read_text().replace("First Client", "Frist Client"))
    told = [
        t.finding for t in make(small, tmp_path / "whole", "").findings if "reserved" in t.finding.message
    ]
    assert [(f.is_error, f.hint) for f in told] == [(False, "Did you mean “First Client”?")]


def test_comments_are_not_published_and_no_name_of_whom_a_style_is_reserved_for(
    small: Path, tmp_path: Path
) -> None:
    report = make(small, tmp_path / "copy")
    assert (tmp_path / "copy/styles/gown/first-client/index.html").exists()
    assert found_in(tmp_path / "copy", ["Zephyrine", "first cut"]) == {}
    assert not [told for told in report.findings if told.finding.code == "name-of-another"]
    make(small, tmp_path / "whole", "")
    assert found_in(tmp_path / "whole", ["first cut"]) == {}, "comments are for those who write the file"


def test_a_name_of_another_client_in_a_copy_is_reported_with_its_place(small: Path, tmp_path: Path) -> None:
    style = small / "styles" / "first-skirt.md"
    style.write_text(style.read_text() + "\nThe hem is as on zephyrine  Oddlocke's.\n")
    for _ in range(2):  # the second time nothing is made
        told = [t.finding for t in make(small, tmp_path / "copy").findings]
        [finding] = [f for f in told if f.code == "name-of-another"]
        assert finding.place is not None and finding.place.file == "styles/first-skirt.md"
        line = style.read_text().split("\n")[finding.place.line - 1]
        assert line[finding.place.column - 1 :].startswith("zephyrine")
        assert "styles/first-skirt/" in finding.message and not finding.is_error


@pytest.mark.parametrize(
    ("title", "code"),
    [("Skirt of Zephyrine Oddlocke", "name-of-another"), ("The Oddlocke skirt", "names-another")],
)
def test_a_name_in_a_title_is_reported_once(small: Path, tmp_path: Path, title: str, code: str) -> None:
    style = small / "styles" / "first-skirt.md"
    style.write_text(style.read_text().replace("title: First skirt", f"title: {title}"))
    told = [t.finding for t in make(small, tmp_path / "copy").findings]
    assert [(f.code, f.place and f.place.file) for f in told] == [(code, "styles/first-skirt.md")]
