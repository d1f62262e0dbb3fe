"""Files that are wrong, hostile or just odd, each tried through the commands `build` and `check`.

The table in DEVELOPERS.md, “Bad input tried”, has a row for each kind; a test holds the two together.
"""

from __future__ import annotations

import os
import re
import resource
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from catalogue.starter import make_studio
from tests.building.fakes import site_files
from tests.building.sound import Run, run
from tests.building.test_rooms import SECOND
from tests.building.test_sized import TABLE
from tests.site.test_markdown_bounds import ENDLESS

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="makes files that Windows does not have")
ROOT = Path(__file__).parents[2]
STYLE = (ROOT / "catalogue/starter/studio/styles/first-skirt.md").read_text(encoding="utf-8")
CLIENT = """---
name: A
for: woman
units: cm
measured:
  2026-01-15:
    waist girth: 76
    hip girth: 101.5
    waist to hip: 20.5
---
Notes.
"""
PLAIN = """---
title: First skirt
garment: skirt
for: women
flat: no
choices:
  length: 60 cm (40 cm to 90 cm)
---

The skirt is {waist_girth} round.

```draft
side = waist_girth / 4 right from start
hem  = length down from side
low  = below start on level hem
piece front "Front", cut 2
  outline waist: start to side
          side: side to hem
          hem: hem to low
          centre: low to start
```
"""
"""A style soon drafted and drawn, where it is the files beside it that are wrong."""
INCHES = """---
name: A
for: woman
units: inches
measured:
  2026-01-15:
    waist girth: 29 7/8”
    hip girth: 40″
    waist to hip: 8 1/4''
    high hip girth: 37½“
choices:
  first-skirt:
    length: 25 1/4”
---
Notes.
"""
PLAIN_SVG = b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="M0 0h9"/></svg>'
Write = Callable[[Path], object]


class Desk:
    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str], style: str = PLAIN) -> None:
        self.studio, self.output, self.capsys = folder / "studio", folder / "site", capsys
        make_studio(self.studio)
        self.write("styles/first-skirt.md", style)

    def write(self, file: str, data: str | bytes) -> None:
        path = self.studio / file
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data if isinstance(data, bytes) else data.encode("utf-8", "surrogateescape"))

    def run(self) -> Run:
        return run(self.studio, self.output, self.capsys)


@pytest.fixture
def desk(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Desk:
    return Desk(tmp_path, capsys)


def pages_of_clients(output: Path) -> list[str]:
    return sorted(p.name for p in (output / "clients").iterdir() if p.name not in ("first-client", "new"))


# ---- names ----

NAMES = (
    "a.. ..",
    "a..%2f..%2fetc",
    "con",
    "NUL",
    "Com1",
    "lpt9.x",
    "index",
    "draft",
    "site",
    "-rf",
    "a b",
    "a'b\"`c",
    "<b>x",
    "$(touch x)",
    "x" * 240,
    "y" * 250,
    "💃🏽",
    "ليلى",
    "ab\u202egnp",
    "Đặng Thùy",
    "аnnа",  # Cyrillic letters among Latin ones
    "ａｎｎ",
    "é",
    "e\u0301e",
    "陈",
    "trailing.",
    "a;b|c&d",
    "%00",
    "\\\\server\\share",
    "C:x",
)


def test_names_that_try_to_escape_are_plain_folders(desk: Desk) -> None:
    """Traversal, absolute, reserved on Windows, very long, mixed scripts, emoji, right-to-left, quotes, wildcards."""
    for name in NAMES:
        written = "Q" if "'" in name or len(name) > 200 else f"'{name}'"
        desk.write(f"clients/{name}.md", CLIENT.replace("name: A", f"name: {written}"))
    told = desk.run()
    assert told.status == 0, told.printed
    assert len(pages_of_clients(desk.output)) == len(NAMES)


def test_names_of_styles_that_try_to_escape(desk: Desk) -> None:
    for name in NAMES[::3]:
        desk.write(f"styles/{name}.md", SECOND)
    told = desk.run()
    assert told.status == 0, told.printed
    assert len(list((desk.output / "styles").glob("*/first-client/draft.json"))) == len(NAMES[::3]) + 1


@pytest.mark.parametrize(
    "names",
    [("Anna", "anna"), ("Anna", "ANNA", "anna "), ("é", "e\u0301"), ("a b", "a-b", "a_b"), ("ǅ", "ǆ")],
)
def test_names_that_are_the_same_somewhere_are_told_and_not_mixed_up(
    desk: Desk, names: tuple[str, ...]
) -> None:
    for name in names:
        desk.write(f"clients/{name}.md", CLIENT)
    told = desk.run()
    if len(pages_of_clients(desk.output)) < len(names):
        assert told.status == 1 and len(told.findings()) == len(names) - 1
        assert "would both be called" in told.printed and pages_of_clients(desk.output) == []


@pytest.mark.parametrize("name", ["a\nb", "a\tb", "\x1b[31m", "a\udcff", "a\x7f", "a\u2028b"])
@pytest.mark.parametrize("folder", ["clients", "styles", "site_template"])
def test_names_that_can_not_be_shown_are_not_read(desk: Desk, folder: str, name: str) -> None:
    desk.write(f"{folder}/{name}.md", SECOND if folder == "styles" else CLIENT)
    told = desk.run()
    assert told.status == 1 and "cannot be shown" in told.printed and "\ufffd" in told.findings()[0]["file"]
    assert pages_of_clients(desk.output) == []


# ---- what a file is ----

BROKEN_FILES: dict[str, tuple[Write, str]] = {
    "link out": (lambda p: p.symlink_to("/etc/passwd"), "leads out"),
    "link to itself": (lambda p: p.symlink_to(p.name), "not a plain file"),
    "link to nothing": (lambda p: p.symlink_to("nothing.md"), "not a plain file"),
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


@pytest.mark.parametrize("folder", ["clients", "styles", "clients/sizes"])
@pytest.mark.parametrize("kind", BROKEN_FILES)
def test_a_file_that_is_no_style_or_client(desk: Desk, folder: str, kind: str) -> None:
    make, words = BROKEN_FILES[kind]
    make(desk.studio / folder / "odd.md")
    told = desk.run()
    assert told.status == 1, told.printed
    found = told.findings()
    assert found and {m["file"] for m in found} == {f"{folder}/odd.md"}
    assert words in told.printed
    assert (desk.output / "styles/first-skirt/first-client/draft-a4.pdf").is_file(), (
        "the others are made all the same"
    )


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


@pytest.mark.parametrize("way", ACCEPTED)
def test_what_editors_save_is_read_as_meant(desk: Desk, way: str, tmp_path: Path) -> None:
    for file, text in (
        ("styles/first-skirt.md", STYLE),
        ("clients/a.md", CLIENT),
        ("clients/sizes/hatbox.md", TABLE),
    ):
        desk.write(file, ACCEPTED[way](text))
    assert desk.run().status == 0
    wanted = Desk(tmp_path / "plain", desk.capsys, STYLE)
    wanted.write("clients/a.md", CLIENT)
    wanted.write("clients/sizes/hatbox.md", TABLE)
    wanted.run()
    for drawing in ("a/draft.svg", "a/draft-a4.pdf", "a/draft.json", "sizes/hatbox-a4.pdf"):
        path = f"styles/first-skirt/{drawing}"
        assert (desk.output / path).read_bytes() == (wanted.output / path).read_bytes()


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


def no_more_memory_than(count: int) -> None:
    """From now on this process can't have more bytes than these: asking for more is a MemoryError."""
    resource.setrlimit(resource.RLIMIT_DATA, (count, count))


# ---- words ----

PAYLOADS = (
    '"><script>alert(1)</script><img src=x onerror=alert(2)>',
    "</title></style></script><svg onload=alert(1)>",
    "]]><!-- --> <?xml-stylesheet href='http://example.org/x'?>",
    "{{ 7*7 }} {% include '/etc/passwd' %} ${7*7} <% x %>",
    ") Tj ET /JavaScript (app.alert(1)) BT (",
    "' onmouseover='alert(1)",
    "javascript:alert(1)",
    "\u202egnp.exe\u2066\u200f",
)
EVIL_STYLE = """---
title: >-
  {p}
garment: {q}
summary: {q}
tags: [{q}]
cloth:
  main: {q}
choices:
  length: 60 cm (40 cm to 90 cm) - {q}
notions: {q}
sources: {q}
---

{p}

# {p}

[a](javascript:alert(1)) [b](JaVa\tScript:x) [c](data:text/html,<script>x</script>) [d](file:///etc/passwd)
[e](vbscript:x) <javascript:alert(1)> ![f](http://example.org/x.png) ![g](//example.org/x.png) [h](&#106;avascript:x)
<script>alert(1)</script> <b onclick=x>bold</b>

```draft
a = start
b = 30 cm right from a
c = length down from b
d = below a on level c
piece one "{s}", cut 2
  outline x: a to b
          y: b to c
          z: c to d
          w: d to a
note "{s}"
check length at least 2 m, "{s}"
```
"""


@pytest.mark.parametrize("number", range(len(PAYLOADS)))
def test_markup_and_script_in_every_text_stay_words(desk: Desk, number: int) -> None:
    payload = PAYLOADS[number]
    quoted = "'" + payload.replace("'", "''") + "'"
    safe = payload.replace('"', "”")
    desk.write(
        "styles/evil.md", EVIL_STYLE.replace("{p}", payload).replace("{q}", quoted).replace("{s}", safe)
    )
    desk.write(
        "clients/evil.md",
        f"---\nname: {quoted}\nfor: woman\nmeasured:\n  2026-01-15:\n    note: {quoted}\n    waist girth: 76\n"
        f"    hip girth: 101\n    waist to hip: 20\nchoices:\n  evil:\n    length: {quoted}\n---\n\n{payload}\n\n"
        f"[x](javascript:alert(1)) <img src=x onerror=alert(1)>\n",
    )
    cell = payload.replace("\n", " ").replace("|", "\\|")
    desk.write(
        "clients/sizes/evil.md",
        f"---\nname: {quoted}\nfor: woman\nsources: {quoted}\ngarments: first-skirt\n---\n\n{payload}\n\n"
        f"| size | {cell[:40]} | 2 |\n|---|---|---|\n| waist girth | 76 | 80 |\n| hip girth | 101 | 105 |\n"
        f"| waist to hip | 20 | {cell} |\n",
    )
    name = payload.replace("\\", "\\\\").replace('"', '\\"')
    desk.write("site_template/studio.toml", f'name = "{name}"\nstrapline = "{name}"\n')
    told = desk.run()
    assert told.findings()
    assert (desk.output / "styles/evil/first-client/index.html").is_file()
    for path in (*desk.output.rglob("*.html"), *desk.output.rglob("*.svg")):
        text = path.read_text(encoding="utf-8").lower()
        assert "<script>alert" not in text and "<img src=x" not in text


# ---- pictures ----

BAD_PICTURES: dict[str, tuple[str, bytes, str]] = {
    "a page": ("x.html", b"<script>alert(1)</script>", "not a picture of a kind known"),
    "a style file": ("first-skirt.md", STYLE.encode(), "not a picture of a kind known"),
    "a page named as a picture": (
        "x.png",
        b"<html><script>alert(1)</script>",
        "is not the kind of file its name says",
    ),
    "a drawing with a script": ("x.svg", PLAIN_SVG.replace(b"<path", b"<script>x</script><path"), "“script”"),
    "a drawing that acts": ("x.svg", PLAIN_SVG.replace(b"<path", b"<path onload='x()'"), "“onload”"),
    "a drawing with a page in it": (
        "x.svg",
        PLAIN_SVG.replace(b"<path", b"<foreignObject/><path"),
        "foreignobject",
    ),
    "a drawing that links": (
        "x.svg",
        PLAIN_SVG.replace(b"<path", b"<a href='javascript:x'/><path"),
        "leads to",
    ),
    "a drawing that fetches": (
        "x.svg",
        PLAIN_SVG.replace(b"<path", b"<image href='http://example.org/x.png'/><path"),
        "leads to",
    ),
    "a drawing with style from elsewhere": (
        "x.svg",
        PLAIN_SVG.replace(b"<path", b"<style>@import 'x.css';</style><path"),
        "fetches",
    ),
    "a drawing with names of its own": (
        "x.svg",
        b'<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;&a;">]>' + PLAIN_SVG,
        "names of its own",
    ),
    "a drawing that is none": ("x.svg", b"<svg><path></svg>", "not well-formed SVG"),
    "a picture cut off": ("x.png", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "it ends in the middle"),
    "a picture that is not there": ("gone.png", b"", "there is no picture"),
    "a path that climbs": ("../clients/first-client.md", b"", "there is no picture"),
    "an absolute path": ("/etc/passwd", b"", "there is no picture"),
}


@pytest.mark.parametrize("kind", BAD_PICTURES)
def test_a_picture_that_is_none_is_left_out(desk: Desk, kind: str) -> None:
    name, data, words = BAD_PICTURES[kind]
    if data:
        desk.write(f"styles/{name}", data)
    desk.write("styles/shown.md", SECOND.replace("garment: bag", f"garment: bag\npicture: {name}"))
    told = desk.run()
    assert told.status == 0 and words in told.printed
    assert [(m["file"], m["line"], m["kind"]) for m in told.findings()] == [
        ("styles/shown.md", "4", "warning")
    ]
    assert not (desk.output / "pictures").exists()
    # Its pieces stand for it.
    assert 'src="styles/shown/first-client/pieces.svg"' in (desk.output / "index.html").read_text(
        encoding="utf-8"
    )


def test_good_pictures_are_shown(desk: Desk) -> None:
    from PIL import Image

    for kind in ("png", "jpg", "gif", "webp"):
        Image.new("RGB", (2, 2)).save(desk.studio / "styles" / f"a picture.{kind}")
    drawing = b'<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "x.dtd">' + PLAIN_SVG
    desk.write("styles/below/a.svg", drawing.replace(b"<path", b'<use href="#p"/><path id="p"'))
    shown = " ".join(f"![x](<a picture.{kind}>)" for kind in ("jpg", "gif", "webp"))
    desk.write(
        "styles/shown.md",
        SECOND.replace("garment: bag", "garment: bag\npicture: a picture.png").replace(
            "The bag", f"{shown}\n\n![y](below/a.svg)\n\nThe bag"
        ),
    )
    told = desk.run()
    assert told.status == 0 and told.findings() == [], told.printed
    found = {p.relative_to(desk.output).as_posix() for p in (desk.output / "pictures").rglob("*.*")}
    assert found == {f"pictures/a picture.{k}" for k in ("png", "jpg", "gif", "webp")} | {
        "pictures/below/a.svg"
    }


def test_a_picture_that_is_missing_from_prose_leaves_its_words(desk: Desk) -> None:
    from PIL import Image

    desk.write("styles/shown.md", f"{SECOND}\n![The finished bag](gone.png)\n")
    page = desk.output / "styles/shown/first-client/index.html"
    assert desk.run().status == 0
    text = page.read_text(encoding="utf-8")
    assert "gone.png" not in text and ">The finished bag<" in text
    Image.new("RGB", (2, 2)).save(desk.studio / "styles" / "gone.png")
    assert desk.run().status == 0
    assert "pictures/gone.png" in page.read_text(encoding="utf-8")


# ---- settings ----

BAD_SETTINGS = {
    "no TOML": ("name = ", 1),
    "a key twice": ('name = "a"\nname = "b"', 2),
    "an unknown key": ('nmae = "a"', 1),
    "a number for a name": ("name = 3", 1),
    "a name too long": (f'name = "{"x" * 5000}"', 1),
    "a paper that is none": ('papers = ["a9"]', 1),
    "a margin wider than paper": ('\nmargin = "3 m"', 2),
    "a colour that is none": ('accent = "url(http://example.org)"', 1),
    "a date that is none": ('date = "2026-02-30"', 1),
    "an infinite length": ("hem = inf", 1),
    "a number of 5,000 figures": (f"hem = {'9' * 5000}", 1),
    "deep lists": (f"papers = {'[' * 5000}", 1),
    "another encoding": ("name = 'José'".encode("latin-1"), 1),
    "a list of a thousand": (f"papers = {['a4'] * 1000}".replace("'", '"') + "\nlanguage = '<b>'", 2),
    "a key of 100,000 parts": ("a." * 100_000 + "b = 1", 1),
    "a control character": ('name = "a\x01b"', 1),
}


@pytest.mark.parametrize("kind", BAD_SETTINGS)
def test_settings_that_are_wrong(desk: Desk, kind: str) -> None:
    text, line = BAD_SETTINGS[kind]
    desk.write("site_template/studio.toml", text)
    told = desk.run()
    assert told.status == 1, told.printed
    assert [(m["file"], int(m["line"])) for m in told.findings()] == [("site_template/studio.toml", line)]
    assert (desk.output / "styles/first-skirt/first-client/draft-a4.pdf").is_file(), "the usual stands in"


# ---- templates ----

BAD_TEMPLATES: dict[str, tuple[str, str | bytes, int, str]] = {
    "a brace too few": ("draft.html", "{% extends 'base.html' %}\n{{ client.name }", 2, "can't be read"),
    "a block left open": ("style.html", "\n{% block x %}", 2, "can't be read"),
    "an unknown tag": ("index.html", "\n\n{% nonsense %}", 3, "can't be read"),
    "an unknown filter": ("index.html", "\n{{ cards|nofilter }}", 2, "nofilter"),
    "an unknown name": ("draft.html", "a\nb\n  {{ nonsense.x }}", 3, "there is no “nonsense”"),
    "a part that is not there": ("client.html", "\n{{ client.no_such }}", 2, "no “no_such” in a client"),
    "a template that is not there": (
        "draft.html",
        "{% include 'pats.html' %}",
        1,
        "Did you mean “parts.html”?",
    ),
    "a way out of the folder": ("draft.html", "{% include '../studio.toml' %}", 1, "there is no template"),
    "an absolute path": ("draft.html", "{% include '/etc/passwd' %}", 1, "there is no template"),
    "a circle": ("base.html", "{% extends 'base.html' %}", 1, "circle"),
    "a division by nothing": ("card.html", "\n{{ 1/0 }}", 2, "can't be worked out"),
    "another encoding": ("draft.html", "<p>José".encode("latin-1"), 1, "not in UTF-8"),
    "UTF-16 cut off": ("draft.html", b"\xff\xfe\x00", 1, "broken"),
    "parts missing": ("parts.html", "nothing", 1, "cannot use this"),
    "a handbook page": ("handbook/chapter.html", "\n{{ chapter.x.y }}", 2, "no “x” in a chapter"),
}


@pytest.mark.parametrize("kind", BAD_TEMPLATES)
def test_a_template_that_is_wrong_names_its_file_and_line(desk: Desk, kind: str) -> None:
    name, text, line, words = BAD_TEMPLATES[kind]
    desk.write(f"site_template/{name}", text)
    told = desk.run()
    assert told.status == 1 and words in told.printed, told.printed
    assert {(m["file"], int(m["line"])) for m in told.findings()} == {(f"site_template/{name}", line)}
    folder = desk.output / "styles/first-skirt/first-client"
    assert (folder / "draft-a4.pdf").is_file() and (folder / "index.html").is_file(), (
        "a page costs no drawing"
    )
    pages = [p.read_text(encoding="utf-8") for p in desk.output.rglob("*.html")]
    assert any(f"site_template/{name}:{line}:" in page for page in pages), (
        "the page says what is wrong with it"
    )


def test_templates_behind_a_link_that_leads_out_are_not_followed(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "outside.html").write_text("from outside")
    (tmp_path / "outside.css").write_text("from outside")
    (desk.studio / "site_template" / "draft.html").symlink_to(tmp_path / "outside.html")
    (desk.studio / "site_template" / "catalogue.css").symlink_to(tmp_path / "outside.css")
    told = desk.run()
    assert told.status == 1 and told.printed.count("leads out") == 2
    assert b"from outside" not in b"".join(site_files(desk.output).values())


# ---- folders ----


def test_folders_that_are_links_out_of_the_studio(desk: Desk, tmp_path: Path) -> None:
    shutil.copytree(desk.studio / "clients", tmp_path / "elsewhere")
    (tmp_path / "elsewhere" / "private.md").write_text(CLIENT)
    (desk.studio / "clients" / "more").symlink_to(tmp_path / "elsewhere")
    (desk.studio / "styles" / "more").symlink_to("/")
    assert desk.run().status == 0
    assert pages_of_clients(desk.output) == []


def test_a_folder_named_as_a_file_is_no_file(desk: Desk) -> None:
    for file in ("clients/a.md", "styles/b.md", "site_template/draft.html", "site_template/catalogue.css"):
        (desk.studio / file).mkdir()
    assert desk.run().status == 0


# ---- the table ----


def test_the_table_in_the_documentation_counts_these_cases() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    rows = dict(re.findall(r"^\| (.+?) \| (\d+) \| .+ \|$", text, re.MULTILINE))
    assert {kind: int(rows.get(kind, 0)) for kind in CASES} == CASES


# ---- what a style is cut from ----


def cut_from(block: str, lines: str = "take bag from it", name: str = "it") -> str:
    return f"---\ntitle: Cut\ncut from:\n  {name}: {block}\n---\n\n```draft\n{lines}\n```\n"


BAD_BLOCK = SECOND.replace("/ 4 right", "/ 4 + 2 right")
BAD_BLOCKS: dict[str, tuple[dict[str, str], dict[str, int], str]] = {
    "missing": ({"one": cut_from("no-such")}, {"one": 4}, "Its file would be styles/no-such.md"),
    "nearly right": ({"bag": SECOND, "one": cut_from("bagg")}, {"one": 4}, "Did you mean “bag”?"),
    "a path": ({"one": cut_from("../../../etc/passwd")}, {"one": 4}, "There is no style"),
    "itself": ({"one": cut_from("one")}, {"one": 4}, "no style can be cut from itself"),
    "a circle of three": (
        {"one": cut_from("two"), "two": cut_from("three"), "three": cut_from("one")},
        {"one": 4, "two": 4, "three": 4},
        "“one” is cut from “two”, which is cut from “three”, which is cut from “one”",
    ),
    "a block that fails": (
        {"bag": BAD_BLOCK, "one": cut_from("bag"), "two": cut_from("one")},
        {"bag": 13},
        "number can't be added to a length",
    ),
    "a block that is no style": ({"bag": "hello\n", "one": cut_from("bag")}, {"bag": 1}, "three dashes"),
    "a chain too long": (
        {"s0": SECOND, **{f"s{n}": cut_from(f"s{n - 1}") for n in range(1, 12)}},
        {"s8": 4},
        "More than 8 styles are cut from one another: “s8” from “s7”",
    ),
    "a list": ({"one": cut_from("[bag, bag]")}, {"one": 4}, "should be the name of a style's file"),
    "one name twice": (
        {"bag": SECOND, "one": cut_from("bag\n  it : bag")},
        {"one": 5},
        "twice",
    ),
    "a measurement's name": (
        {"bag": SECOND, "one": cut_from("bag", "a = hip_girth", "hip girth")},
        {"one": 4},
        "no block can be called so",
    ),
    "a piece that is there already": (
        {"bag": SECOND, "one": cut_from("bag", "take bag from it\ntake bag from it")},
        {"one": 9},
        "“bag” is a piece",
    ),
    "a piece called as the block": (
        {"bag": SECOND, "one": cut_from("bag", name="bag").replace("from it", "from bag")},
        {"one": 8},
        "a block that the style is cut from",
    ),
    "a choice that it lacks": (
        {"bag": SECOND, "one": cut_from("bag, dpth = 30 cm")},
        {"one": 4},
        "Did you mean “depth”?",
    ),
    "a choice out of range": (
        {"bag": SECOND, "one": cut_from("bag, depth = 3 m")},
        {"one": 4},
        "outside the range of “depth”",
    ),
    "a semicolon": (
        {"bag": SECOND, "one": cut_from("bag; depth = 30 cm")},
        {"one": 4},
        "it: bag, depth = 30 cm",
    ),
}


@pytest.mark.parametrize("kind", BAD_BLOCKS)
def test_a_block_that_can_not_be_taken_is_told_where_the_mistake_is(desk: Desk, kind: str) -> None:
    files, places, words = BAD_BLOCKS[kind]
    for name, text in files.items():
        desk.write(f"styles/{name}.md", text)
    told = desk.run()
    assert told.status == 1 and words in told.printed, told.printed
    found = [(m["file"], int(m["line"])) for m in told.findings()]
    assert found == [(f"styles/{name}.md", line) for name, line in sorted(places.items())], told.printed
    assert (desk.output / "styles/first-skirt/first-client/draft-a4.pdf").is_file(), (
        "the others are made all the same"
    )
    for name in sorted(files.keys() & {"one", "two", "three", "s8", "s11"}):
        page = (desk.output / f"styles/{name}/first-client/index.html").read_text(encoding="utf-8")
        assert all(f"styles/{file}.md" in page for file in places if name == file or len(places) == 1)


CASES = {
    "names of files that try to escape": len(NAMES) + len(NAMES[::3]),
    "names that are the same somewhere": 5,
    "names that can't be shown": 18,
    "files that are no style, client file or table": 3 * len(BROKEN_FILES),
    "other encodings and line ends": len(ACCEPTED),
    "files of 100 MB": 6,
    "markup and script in every text": len(PAYLOADS),
    "pictures that are none": len(BAD_PICTURES),
    "prose that is long to read": len(ENDLESS),
    "settings": len(BAD_SETTINGS),
    "templates": len(BAD_TEMPLATES),
    "what a style is cut from": len(BAD_BLOCKS),
}
