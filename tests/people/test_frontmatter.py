"""Front matter: what is read, where it stands, and what is refused."""

from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from catalogue import frontmatter
from catalogue.findings import Place, Trouble
from catalogue.frontmatter import decode, read_text, split


@pytest.fixture(params=["CBaseLoader", "BaseLoader"])
def loader(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Both of YAML's readers: the one in C is not there on every machine."""
    found = getattr(yaml, request.param, None)
    if found is None:
        pytest.fail("PyYAML here lacks its C reader, which this test needs beside the other one")
    monkeypatch.setattr(frontmatter, "_LOADER", found)
    return str(request.param)


def test_every_value_is_text_with_its_place(loader: str) -> None:
    front = split(
        '---\nname: Ọmọlará\nyes: no\nnumber: 010\nlist: [a, "b c"]\ngroup:\n  one: 38 1/2"\n---\nBody\n',
        "c.md",
    )
    assert {k: e.text for k, e in front.mapping.items() if e.text is not None} == {
        "name": "Ọmọlará",
        "yes": "no",
        "number": "010",
    }
    assert [e.text for e in front.mapping["list"].entries or ()] == ["a", "b c"]
    assert [e.place for e in front.mapping["list"].entries or ()] == [
        Place("c.md", 5, 8),
        Place("c.md", 5, 11),
    ]
    group = front.mapping["group"].mapping
    assert group and group["one"].text == '38 1/2"'
    assert group["one"].place == Place("c.md", 7, 8)
    assert group["one"].key_place == Place("c.md", 7, 3)
    assert (front.body, front.body_line) == ("Body\n", 9)
    assert front.lines[6] == '  one: 38 1/2"'


def test_a_place_inside_a_text_counts_the_quote() -> None:
    front = split("---\na: abc\nb: 'abc'\nc: |\n  abc\n---\n", "f")
    assert front.mapping["a"].place_at(1) == Place("f", 2, 5)
    assert front.mapping["b"].place_at(1) == Place("f", 3, 6)
    assert front.mapping["c"].place_at(1) == front.mapping["c"].place


def test_columns_count_letters_not_bytes(loader: str) -> None:
    front = split("---\n{ñandú: é, 名前: 花}\n---\n", "f")
    assert front.mapping["名前"].key_place == Place("f", 2, 12)
    assert front.mapping["名前"].place == Place("f", 2, 16)


def test_blank_lines_before_and_nothing_between_the_fences() -> None:
    front = split("\n\n---\n---\nText", "f")
    assert (dict(front.mapping), front.body, front.body_line) == ({}, "Text", 5)


BAD = [
    # front matter, line and column in the file, code, part of the message
    ("a: b: c", 2, 5, "yaml", "a second colon"),
    ("Ọlá: b: c", 2, 7, "yaml", "a second colon"),
    ("a:b\nc: d", 3, 2, "yaml", "can't be read together"),
    ("a: 1\n  b: 2", 3, 4, "yaml", "can't be read together"),
    ("a:\n\tb: 1", 3, 1, "yaml", "there is a tab here"),
    ('a: "x\nb: 2', 2, 4, "yaml", "a quote opens here"),
    ("a: 'x", 2, 4, "yaml", "a quote opens here"),
    ("a: [1, 2\nb: 3", 2, 4, "yaml", "a bracket opens here"),
    ("a: {x: 1", 2, 4, "yaml", "a bracket opens here"),
    ('name: "Ann" Smith', 2, 13, "yaml", "can't be read as a name with a value"),
    ("notions: {when vent is yes} hook; zip", 2, 29, "yaml", "begins with { needs quotes round it"),
    ("notions:\n- {when vent is yes} hook\n- zip", 3, 22, "yaml", "begins with { needs quotes round it"),
    ("a:\n  b: 1\n c: 2", 4, 2, "yaml", "can't be read as a name with a value"),
    ("a: @x", 2, 4, "yaml", "can't begin with @"),
    ("a: %x", 2, 4, "yaml", "can't begin with %"),
    ("a: `x", 2, 4, "yaml", "can't begin with `"),
    ("a: *x", 2, 4, "alias", "references are not read"),
    ("a: &x 1", 2, 4, "anchor", "labels are not read"),
    ("a: !t 1", 2, 4, "tag", "types are not read"),
    ("a: !!python/object/apply:os.system [ls]", 2, 4, "tag", "types are not read"),
    ("a: 1\nb: 2\na: 3", 4, 1, "twice", "“a” is given twice; the first is on line 2"),
    ("g:\n  a: 1\n  a: 3", 4, 3, "twice", "given twice"),
    ("a: {b: {c: {d: {e: {f: {g: h}}}}}}", 2, 24, "too-deep", "more than 6 deep"),
    ("a: " + "[" * 50, 2, 9, "too-deep", "more than 6 deep"),
    ("? [a]\n: b", 2, 3, "not-a-name", "a list can't be a name"),
    ("- a", 2, 1, "not-a-mapping", "must be names with values"),
    ("only a text", 2, 1, "not-a-mapping", "must be names with values"),
    ("name: Zo\x00e", 2, 9, "unseen", "code 0000"),
    ("a: 1\nname: \x1b[31m", 3, 7, "unseen", "code 001B"),
]


@pytest.mark.parametrize(("text", "line", "column", "code", "words"), BAD)
def test_says_what_is_wrong_and_where(
    loader: str, text: str, line: int, column: int, code: str, words: str
) -> None:
    with pytest.raises(Trouble) as caught:
        split(f"---\n{text}\n---\nBody\n", "c.md")
    finding = caught.value.findings[0]
    assert finding.place == Place("c.md", line, column)
    assert finding.code == code
    assert words in finding.message
    assert finding.source and finding.source in text


@pytest.mark.parametrize("sign", ["[", "{", "- ", "? ", "&a ", "!a "])
def test_endless_nesting_ends_in_a_finding(loader: str, sign: str) -> None:
    with pytest.raises(Trouble) as caught:
        split(f"---\na:\n {sign * 100_000}\n---\n", "f")
    assert all(f.place and f.place.line in (2, 3) for f in caught.value.findings)


def test_a_list_begun_beside_its_name(loader: str) -> None:
    with pytest.raises(Trouble) as caught:
        split("---\na: - b\n---\n", "f")
    assert caught.value.findings[0].place == Place("f", 2, 4)


def test_every_refusal_of_a_file_is_told_at_once(loader: str) -> None:
    with pytest.raises(Trouble) as caught:
        split("---\na: &x 1\nb: !t 2\na: 3\n---\n", "f")
    assert [f.code for f in caught.value.findings] == ["anchor", "tag", "twice"]


@pytest.mark.parametrize(
    ("text", "line", "words", "hint"),
    [
        ("", 1, "this file is empty", "---"),
        (" \n\n", 1, "this file is empty", "---"),
        ("# Hester\n\nname: Hester\n", 1, "must begin with a line of three dashes", "Write ---"),
        ("—\nname: Hester\n—\n", 1, "must begin", "Write ---"),
        ("——\nname: Hester\n——\n", 1, "must begin", "three plain dashes"),
        ("----\nname: Hester\n---\n", 1, "must begin", "three plain dashes"),
        ("---\nname: Hester\n\nNotes\n", 1, "that ends the front matter is missing", "after the last name"),
        ("---\nname: Hester\n–––\nNotes\n", 3, "that ends the front matter is missing", "three plain dashes"),
    ],
)
def test_a_missing_fence_is_explained(text: str, line: int, words: str, hint: str) -> None:
    with pytest.raises(Trouble) as caught:
        split(text, "c.md")
    finding = caught.value.findings[0]
    assert finding.place == Place("c.md", line, 1)
    assert words in finding.message
    assert hint in finding.hint


def test_ten_thousand_laughs_are_refused_before_they_are_built(loader: str) -> None:
    lines = ["a0: &a0 [ha, ha]"] + [f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 9)}]" for i in range(1, 12)]
    with pytest.raises(Trouble) as caught:
        split("---\n" + "\n".join(lines) + "\n---\n", "f")
    assert {f.code for f in caught.value.findings} == {"anchor", "alias"}


TEXT = "---\nname: Inês Ọlá\n---\nNotes\n"


@pytest.mark.parametrize(
    "data",
    [
        TEXT.encode("utf-8"),
        TEXT.encode("utf-8-sig"),
        TEXT.encode("utf-16"),
        b"\xfe\xff" + TEXT.encode("utf-16-be"),
        TEXT.replace("\n", "\r\n").encode("utf-8"),
        TEXT.replace("\n", "\r").encode("utf-8"),
    ],
    ids=["utf-8", "with mark", "utf-16", "utf-16 big end first", "crlf", "cr"],
)
def test_reads_what_editors_save(data: bytes, tmp_path: Path) -> None:
    path = tmp_path / "c.md"
    path.write_bytes(data)
    assert read_text(path) == TEXT


def test_a_wrong_encoding_is_named_with_its_place() -> None:
    with pytest.raises(Trouble) as caught:
        decode("---\r\nname: Ọla\r\ncity: Évora\r\n".encode()[:-8] + "É".encode("cp1252"), "c.md")
    finding = caught.value.findings[0]
    assert finding.place == Place("c.md", 3, 7)
    assert "byte C9, perhaps meant as “É”" in finding.message
    assert "UTF-8" in finding.hint


@pytest.mark.parametrize(
    "data",
    [TEXT.encode("utf-16-le"), TEXT.encode("utf-32"), b"\xff\xfe\x00\xd8x", b"\x89PNG\x00\x00\x00\x00\x00"],
    ids=["utf-16 without mark", "utf-32", "broken utf-16", "a picture"],
)
def test_what_is_no_text_is_refused(data: bytes) -> None:
    with pytest.raises(Trouble) as caught:
        decode(data, "c.md")
    assert caught.value.findings[0].code == "wrong-encoding"


def test_what_can_not_be_read_is_a_finding(tmp_path: Path) -> None:
    (tmp_path / "large.md").write_bytes(b"x" * 1_000_001)
    for name, code in (("none.md", "cannot-read"), (".", "cannot-read"), ("large.md", "too-large")):
        with pytest.raises(Trouble) as caught:
            read_text(tmp_path / name)
        assert caught.value.findings[0].code == code


SIGNS = [
    "a: ",
    "b:\n",
    "  ",
    "- ",
    "[",
    "]",
    "{",
    "}",
    "'",
    '"',
    "&x ",
    "*x",
    "!t ",
    "\t",
    "---\n",
    "\n",
    ": ",
    "#",
    "\\",
    "? ",
    "%",
    "...\n",
    ">",
]


@given(st.lists(st.text(st.characters(codec="utf-8"), max_size=12) | st.sampled_from(SIGNS), max_size=14))
def test_any_text_is_read_or_refused_with_a_place(parts: list[str]) -> None:
    text = "---\n" + "".join(parts) + "\n---\n"
    try:
        front = split(text, "f")
    except Trouble as trouble:
        for finding in trouble.findings:
            assert finding.place and finding.place.file == "f"
            assert 1 <= finding.place.line <= text.count("\n") + 1
    else:
        assert all(isinstance(key, str) for key in front.mapping)
