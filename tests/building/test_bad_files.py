"""Files that are no style, client file or table, and those of other editors, which are."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from catalogue.starter import make_studio
from tests.building.odd_studio import (
    CLIENT,
    INCHES,
    PLAIN,
    ROOT,
    Desk,
    captured,
    no_more_memory_than,
    said_of,
)
from tests.building.sound import Run
from tests.building.test_rooms import SECOND
from tests.building.test_sized import TABLE

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="makes files that Windows does not have")


@pytest.fixture
def desk(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Desk:
    return Desk(tmp_path, capsys)


BROKEN_FILES: dict[str, tuple[Callable[[Path], object], str]] = {
    "link out": (lambda p: p.symlink_to("/etc/passwd"), "leads out"),
    "link to itself": (lambda p: p.symlink_to(p.name), "not a plain file"),
    "link to nothing": (lambda p: p.symlink_to("nothing.md"), "not a plain file"),
    "link to a folder": (lambda p: p.symlink_to(p.parent), "nothing in it is read"),
    "link to a folder elsewhere": (lambda p: p.symlink_to("/etc"), "nothing in it is read"),
    "pipe": (lambda p: os.mkfifo(p), "not a plain file"),
    "empty": (lambda p: p.write_bytes(b""), "empty"),
    "blanks": (lambda p: p.write_bytes(b" \n\n\t\n"), "empty"),
    "all bytes": (lambda p: p.write_bytes(bytes(range(256)) * 64), ""),
    "zeros": (lambda p: p.write_bytes(bytes(4096)), "not plain text"),
    "a picture": (lambda p: p.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(200)), ""),
    "a ZIP file": (lambda p: p.write_bytes(b"PK\x03\x04" + os.urandom(0) + b"\x14\x00" * 90), ""),
    "UTF-16 without its mark": (
        lambda p: p.write_bytes(CLIENT.encode("utf-16-le")),
        "UTF-16 without its mark",
    ),
    "UTF-16 cut off": (lambda p: p.write_bytes(CLIENT.encode("utf-16")[:-1]), "broken"),
    "UTF-32": (lambda p: p.write_bytes(CLIENT.encode("utf-32")), "UTF-32"),
    "Latin-1": (lambda p: p.write_bytes(CLIENT.replace("name: A", "name: José").encode("latin-1")), "“é”"),
    "no front matter": (lambda p: p.write_text("hello\n"), "three dashes"),
    "a fence that is not closed": (lambda p: p.write_text("---\nname: A\n"), "three dashes"),
    "dashes made long": (lambda p: p.write_text("——\nname: A\n——\n"), "looks like the line of dashes"),
    "tabs": (lambda p: p.write_text(CLIENT.replace("  ", "\t")), "there is a tab here"),
    "YAML bomb": (
        lambda p: p.write_text(
            "---\na: &a [x,x,x,x,x,x,x,x,x]\n"
            + "".join(
                f"{c}: &{c} [{','.join([f'*{b}'] * 9)}]\n"
                for b, c in zip("abcdefghi", "bcdefghij", strict=True)
            )
            + "---\n"
        ),
        "are not read",
    ),
    "YAML types": (
        lambda p: p.write_text("---\nname: !!python/object/apply:os.system [ls]\n---\n"),
        "types are not read",
    ),
    "YAML merge": (lambda p: p.write_text("---\nname: A\n<<: {for: man}\n---\n"), ""),
    "two YAML documents": (lambda p: p.write_text("---\nname: A\n...\nname: B\n---\n"), ""),
    "deep nesting": (lambda p: p.write_text(f"---\nname: {'[' * 20000}\n---\n"), ""),
    "deep groups": (
        lambda p: p.write_text("---\n" + "".join(f"{' ' * n}a:\n" for n in range(300)) + "---\n"),
        "",
    ),
    "a name twice": (lambda p: p.write_text("---\nname: A\nname: B\n---\n"), "given twice"),
    "a line of 900,000 letters": (lambda p: p.write_text(f"---\nname: {'x' * 900_000}\n---\n"), ""),
    "20,000 names": (
        lambda p: p.write_text("---\n" + "".join(f"n{i}: {i}\n" for i in range(20_000)) + "---\n"),
        "",
    ),
}


def broken_file(kind: str) -> str:
    return f"odd-{list(BROKEN_FILES).index(kind):02}.md"


@pytest.fixture(scope="module", params=["clients", "styles", "clients/sizes"])
def broken(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Desk, Run]:
    """All such files in one folder of a studio, built and checked together: none may hide what is said of another."""
    folder = request.param
    with captured() as printed:
        desk = Desk(tmp_path_factory.mktemp("broken"), printed)
        for kind, (make, _) in BROKEN_FILES.items():
            make(desk.studio / folder / broken_file(kind))
        return folder, desk, desk.run()


@pytest.mark.parametrize("kind", BROKEN_FILES)
def test_a_file_that_is_no_style_or_client(broken: tuple[str, Desk, Run], kind: str) -> None:
    folder, _, told = broken
    _, words = BROKEN_FILES[kind]
    said = said_of(f"{folder}/{broken_file(kind)}", told)
    assert ": error: " in said and words in said, told.printed


def test_the_others_are_made_all_the_same(broken: tuple[str, Desk, Run]) -> None:
    folder, desk, told = broken
    assert told.status == 1
    assert {m["file"] for m in told.findings()} == {f"{folder}/{broken_file(kind)}" for kind in BROKEN_FILES}
    assert (desk.output / "styles/first-skirt/first-client/draft-a4.pdf").is_file()


ACCEPTED: dict[str, Callable[[str], bytes]] = {
    "with a byte-order mark": lambda text: text.encode("utf-8-sig"),
    "UTF-16, little end first": lambda text: b"\xff\xfe" + text.encode("utf-16-le"),
    "UTF-16, big end first": lambda text: b"\xfe\xff" + text.encode("utf-16-be"),
    "line ends of Windows": lambda text: text.replace("\n", "\r\n").encode(),
    "line ends of an old Macintosh": lambda text: text.replace("\n", "\r").encode(),
    "blanks at the ends of lines": lambda text: text.replace("\n", "  \n").encode(),
    "no line end at the end": lambda text: text.rstrip("\n").encode(),
    "empty lines first": lambda text: f"\n\n{text}".encode(),
}


DRAWN = ("a/draft.svg", "a/draft-a4.pdf", "a/draft.json", "sizes/hatbox-a4.pdf")


def drawn(desk: Desk, save: Callable[[str], bytes]) -> dict[str, bytes]:
    """What is drawn of a style, a client and a table of sizes that were saved in some way."""
    for file, text in (
        ("styles/first-skirt.md", PLAIN),
        ("clients/a.md", CLIENT),
        ("clients/sizes/hatbox.md", TABLE),
    ):
        desk.write(file, save(text))
    assert desk.run().status == 0
    return {path: (desk.output / f"styles/first-skirt/{path}").read_bytes() for path in DRAWN}


@pytest.fixture(scope="module")
def as_meant(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    with captured() as printed:
        return drawn(Desk(tmp_path_factory.mktemp("meant"), printed), str.encode)


@pytest.mark.parametrize("way", ACCEPTED)
def test_what_editors_save_is_read_as_meant(desk: Desk, as_meant: dict[str, bytes], way: str) -> None:
    assert drawn(desk, ACCEPTED[way]) == as_meant


def test_inch_marks_as_typed_and_as_made_smart_are_inches(desk: Desk) -> None:
    desk.write("clients/a.md", INCHES)
    desk.write(
        "clients/b.md", INCHES.replace("”", '"').replace("″", " in").replace("''", '"').replace("½“", '.5"')
    )
    assert desk.run().status == 0
    one, other = (
        (desk.output / f"styles/first-skirt/{c}/draft.json").read_text().replace(f'"client": "{c}"', "")
        for c in "ab"
    )
    assert re.sub(r'"text": "[^"]*"', "", one) == re.sub(r'"text": "[^"]*"', "", other)


def test_files_of_100_mb_take_no_memory(tmp_path: Path) -> None:
    studio = tmp_path / "studio"
    make_studio(studio)
    huge = (
        "clients/huge.md",
        "styles/huge.md",
        "clients/sizes/huge.md",
        "styles/huge.png",
        "site_template/studio.toml",
        "site_template/parts.html",
    )
    (studio / "styles" / "shown.md").write_text(
        SECOND.replace("garment: bag", "garment: bag\npicture: huge.png")
    )
    for file in huge:
        with (studio / file).open("wb") as stream:
            stream.write(b"\x89PNG\r\n\x1a\n" if file.endswith("png") else b"---\nname: x\n")
            stream.truncate(100_000_000)
    command = [sys.executable, "-m", "catalogue", "build", str(studio), "--jobs", "1"]
    done = subprocess.run(
        command, cwd=ROOT, capture_output=True, text=True, timeout=600, preexec_fn=little_memory
    )
    assert done.returncode == 1, done.stderr
    assert "Traceback" not in done.stderr and "fault of this program" not in done.stderr
    for file in (
        "clients/huge.md:1:1",
        "styles/huge.md:1:1",
        "clients/sizes/huge.md:1:1",
        "styles/shown.md:4:10",
        "site_template/studio.toml:1:1",
    ):
        assert file in done.stderr
    assert "site_template/parts.html:1:1: error: this file is over 1 MB" in done.stderr


def little_memory() -> None:
    no_more_memory_than(400_000_000)
