"""What a style is cut from: missing, a circle, a chain too long, a block that fails."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.building.odd_studio import Desk
from tests.building.test_rooms import SECOND


@pytest.fixture
def desk(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Desk:
    return Desk(tmp_path, capsys)


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
        desk.write(f"styles/{name}.md", text.replace("title: Cut", f"title: Cut {name}"))
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
