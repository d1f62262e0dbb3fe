"""Markup and script in every text, and pictures that are none."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.building.odd_studio import STYLE, Desk, captured, said_of
from tests.building.sound import Run
from tests.building.test_rooms import SECOND


@pytest.fixture
def desk(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Desk:
    return Desk(tmp_path, capsys)


PLAIN_SVG = b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="M0 0h9"/></svg>'

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


def shown(kind: str) -> str:
    """The style that is given the picture."""
    return f"shown-{list(BAD_PICTURES).index(kind):02}"


@pytest.fixture(scope="module")
def pictured(tmp_path_factory: pytest.TempPathFactory) -> tuple[Desk, Run]:
    """A studio with a style for each of them, built and checked."""
    with captured() as printed:
        desk = Desk(tmp_path_factory.mktemp("pictured"), printed)
        for kind, (name, data, _) in BAD_PICTURES.items():
            picture = f"{shown(kind)}-{name}" if name.startswith("x.") else name
            if data:
                desk.write(f"styles/{picture}", data)
            style = SECOND.replace("title: Bag", f"title: Bag {shown(kind)}")
            desk.write(
                f"styles/{shown(kind)}.md", style.replace("garment: bag", f"garment: bag\npicture: {picture}")
            )
        return desk, desk.run()


@pytest.mark.parametrize("kind", BAD_PICTURES)
def test_a_picture_that_is_none_is_left_out(pictured: tuple[Desk, Run], kind: str) -> None:
    desk, told = pictured
    *_, words = BAD_PICTURES[kind]
    file = f"styles/{shown(kind)}.md"
    assert words in said_of(file, told), told.printed
    assert [(m["line"], m["kind"]) for m in told.findings() if m["file"] == file] == [("4", "warning")]
    # Its pieces stand for it.
    assert f'src="styles/{shown(kind)}/first-client/pieces.svg"' in (desk.output / "index.html").read_text(
        encoding="utf-8"
    )


def test_nothing_else_is_said_and_no_picture_is_kept(pictured: tuple[Desk, Run]) -> None:
    desk, told = pictured
    assert told.status == 0 and len(told.findings()) == len(BAD_PICTURES)
    assert not (desk.output / "pictures").exists()


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
