"""Style files: what is read from them, where it stands, and what is said when something is wrong."""

from __future__ import annotations

import pytest

from catalogue.findings import Severity
from catalogue.studio.body import code_spans, cut_up, fence_of, heading_of
from catalogue.studio.body_reading import MOST_MISTAKES, MOST_STATEMENTS
from catalogue.studio.prose import Prose
from catalogue.studio.reading import read_style, style_from
from catalogue.studio.style import DraftLines


def style(text: str, stem: str = "plain-skirt"):
    return style_from(text.encode(), stem, f"styles/{stem}.md")


def body(text: str):
    return style(f"---\ntitle: T\n---\n{text}")


def codes(made) -> list[str]:
    return [f.code for f in made.findings]


def places(made) -> list[tuple[int, int]]:
    return [(f.place.line, f.place.column) for f in made.findings]


WHOLE = """---
title: Plain skirt
garment: skirt
for: women, girls
summary: Two panels
  and a band.
tags: [easy, summer]
cloth:
  main: cotton
  lining: lawn
choices:
  length: 58 cm (40 cm to 75 cm) - from the waist down
  hip ease: 5 cm
  flare: half (full, half or quarter)
notions: 20 cm zip; 60 cm interfacing
sources: a book; another
picture: skirt.jpg
---
Before any heading.

# Drafting

## The frame
A quarter is {quarter} and {hip_girth / 2}.

```draft
quarter = hip_girth / 4
```

After it {waist_girth}.
"""


def test_everything_a_style_file_says():
    made = style(WHOLE)
    assert codes(made) == ["unused-choice"] * 3  # and nothing worse
    assert (made.title, made.garment, made.audience) == ("Plain skirt", "skirt", ("women", "girls"))
    assert made.summary == "Two panels and a band."
    assert made.tags == ("easy", "summer")
    assert made.cloth == (("main", "cotton"), ("lining", "lawn"))
    assert made.notions == ("20 cm zip", "60 cm interfacing")
    assert made.sources == ("a book", "another")
    assert made.picture == "skirt.jpg"
    assert made.needs == ("hip_girth", "waist_girth")
    assert [(c.name, c.key, c.default, c.lowest, c.highest, c.options) for c in made.choices] == [
        ("length", "length", "58 cm", "40 cm", "75 cm", ()),
        ("hip ease", "hip_ease", "5 cm", "", "", ()),
        ("flare", "flare", "half", "", "", ("full", "half", "quarter")),
    ]
    assert made.choices[0].about == "from the waist down"


def test_sections_blocks_and_formulas_stand_where_they_do():
    made = style(WHOLE)
    assert [(s.level, s.heading, s.line) for s in made.sections] == [
        (0, "", 19),
        (1, "Drafting", 21),
        (2, "The frame", 23),
    ]
    prose, block, after = made.sections[2].parts
    assert isinstance(prose, Prose)
    assert isinstance(block, DraftLines)
    assert prose.markdown == f"A quarter is {Prose.slot(0)} and {Prose.slot(1)}.\n"
    row = WHOLE.split("\n")[23]
    assert [(f.index, f.text, f.place.line, f.place.column) for f in prose.formulas] == [
        (0, "quarter", 24, row.index("quarter}") + 1),
        (1, "hip_girth / 2", 24, row.index("hip_girth") + 1),
    ]
    assert (block.number, block.place.line, block.source) == (1, 27, "quarter = hip_girth / 4")
    assert after.formulas[0].index == 2


def test_slots_lead_back_to_their_formulas():
    made = style(WHOLE)
    formulas = [f for s in made.sections for p in s.parts if isinstance(p, Prose) for f in p.formulas]
    assert [f.index for f in formulas] == list(range(len(formulas)))
    text = "".join(p.markdown for s in made.sections for p in s.parts if isinstance(p, Prose))
    assert all(text.count(Prose.slot(f.index)) == 1 for f in formulas)


def test_a_file_on_disk(tmp_path):
    path = tmp_path / "styles" / "Weiter Rock.md"
    path.parent.mkdir()
    path.write_bytes(b"\xef\xbb\xbf" + WHOLE.replace("\n", "\r\n").encode())
    made = read_style(path, tmp_path)
    assert codes(made) == ["unused-choice"] * 3
    assert made.file == "styles/Weiter Rock.md"
    assert made.sections[2].line == 23


def test_a_file_that_is_not_there(tmp_path):
    made = read_style(tmp_path / "none.md", tmp_path)
    assert codes(made) == ["cannot-read"]


# --- the front matter ---------------------------------------------------------------------------------------

FRONT_MISTAKES = [
    ("no title", "---\ngarment: skirt\n---\n", "no-title", (1, 1), ""),
    ("an unknown key", "---\ntitle: T\ngarmet: skirt\n---\n", "unknown-key", (3, 1), "garment"),
    ("for whom", "---\ntitle: T\nfor: woman\n---\n", "unknown-audience", (3, 6), "women"),
    ("a list as title", "---\ntitle: [a, b]\n---\n", "wrong-kind", (2, 8), ""),
    ("choices as text", "---\ntitle: T\nchoices: length\n---\n", "wrong-kind", (3, 10), "length: 58 cm"),
    ("no unit", "---\ntitle: T\nchoices:\n  length: 58 cmm\n---\n", "not-understood", (4, 14), "cm, m, in"),
    (
        "no unit in a range",
        "---\ntitle: T\nchoices:\n  a: 8 cm (4 cm to 9 im)\n---\n",
        "not-understood",
        (4, 22),
        "cm, m, in",
    ),
    (
        "an open range",
        "---\ntitle: T\nchoices:\n  length: 58 cm (40 cm to\n---\n",
        "bad-choice",
        (4, 11),
        "58 cm",
    ),
    (
        "a default not offered",
        "---\ntitle: T\nchoices:\n  a: hlf (half, full)\n---\n",
        "bad-choice",
        (4, 6),
        "half",
    ),
    (
        "two words to choose",
        "---\ntitle: T\nchoices:\n  a: half (half, very full)\n---\n",
        "bad-choice",
        (4, 6),
        "",
    ),
    ("a choice with a sign", "---\ntitle: T\nchoices:\n  a+b: 3 cm\n---\n", "bad-name", (4, 3), "letters"),
    (
        "a measurement",
        "---\ntitle: T\nchoices:\n  hip girth: 3 cm\n---\n",
        "name-taken",
        (4, 3),
        "hip girth ease",
    ),
    ("start", "---\ntitle: T\nchoices:\n  start: 3 cm\n---\n", "name-taken", (4, 3), ""),
    (
        "one choice twice",
        "---\ntitle: T\nchoices:\n  a b: 3 cm\n  a_b: 2 cm\n---\n",
        "given-twice",
        (5, 3),
        "",
    ),
]


@pytest.mark.parametrize(
    ("text", "code", "place", "hint"), [m[1:] for m in FRONT_MISTAKES], ids=[m[0] for m in FRONT_MISTAKES]
)
def test_a_mistake_in_the_front_matter(text, code, place, hint):
    made = style(text)
    assert (codes(made), places(made)) == ([code], [place]), [str(f) for f in made.findings]
    assert hint in made.findings[0].hint


def test_choices_may_be_in_any_script():
    made = style(
        "---\ntitle: T\nchoices:\n  độ dài: 5 cm\n  gígùn: ẹ̀kúnrẹ́rẹ́ (ẹ̀kúnrẹ́rẹ́, ìdajì)\n---\n```draft\na = độ_dài\n"
        "b = by gígùn: ẹ̀kúnrẹ́rẹ́ 1, otherwise 2\n```\n"
    )
    assert made.findings == ()
    assert made.choices[0].key == "độ_dài"


def test_a_default_may_be_a_formula_with_a_dash():
    made = style(
        "---\ntitle: T\nchoices:\n  a: bust_girth / 4 - 1 in (5 in to 14 in) - what it is\n---\nIt is {a}.\n"
    )
    assert made.findings == ()
    assert (made.choices[0].default, made.choices[0].about) == ("bust_girth / 4 - 1 in", "what it is")
    assert made.needs == ("bust_girth",)


# --- the body -----------------------------------------------------------------------------------------------


def test_an_open_block_is_told_of_and_read():
    made = body("```draft\na = 3 cm\n")
    assert codes(made) == ["open-fence"]
    assert places(made) == [(4, 1)]
    assert made.sections[0].parts[0].statements


def test_prose_after_an_open_block_is_not_taken_for_drafting():
    made = body("```draft\na = 3 cm\n\n## Sewing\n\nSew the side seams.\n\n- and press them\n")
    assert codes(made) == ["open-fence"]
    assert made.findings[0].message == "The draft block that begins on line 4 is not closed."
    assert [node.place.line for node in made.sections[0].parts[0].statements] == [5]


@pytest.mark.parametrize(
    ("row", "columns"),
    [
        ("It is {hip_girth + 1 cm", [7]),
        ("It is {hip_girth and {waist_girth}.", [7]),
        ("`{a` and {hip_girth `}`", [10]),
        ("{hip_girth} {", [13]),
        (r"\{hip_girth", []),
    ],
)
def test_a_brace_that_is_not_closed_is_told_of(row, columns):
    made = body(row + "\n")
    assert codes(made) == ["open-brace"] * len(columns)
    assert places(made) == [(4, column) for column in columns]


@pytest.mark.parametrize(
    ("written", "meant", "column"),
    [
        ("5 cm (2 cm - 8 cm) - how long", "2 cm to 8 cm", 17),
        ("5 cm (2 – 8 cm)", "2 cm to 8 cm", 17),
        ("5 cm (2-8 cm)", "2 cm to 8 cm", 17),
        ("3 in (1/2 in … 5 in)", "1/2 in to 5 in", 17),
    ],
)
def test_a_range_with_a_dash_is_told_of_once(written, meant, column):
    made = style(f"---\ntitle: T\nchoices:\n  length: {written}\n---\n")
    assert places(made) == [(4, column)], [str(f) for f in made.findings]
    assert made.findings[0].hint == f"Write a range as {meant}."
    (choice,) = made.choices
    assert f"{choice.lowest} to {choice.highest}" == meant


def test_other_code_blocks_are_left_alone():
    made = body("```\n{not a formula\n# no heading\n```draft\n```\n\nText {1 cm}.\n")
    assert made.findings == ()
    assert [type(p) for s in made.sections for p in s.parts] == [Prose]
    assert "{not a formula\n# no heading" in made.sections[0].parts[0].markdown


def test_a_draft_block_may_be_fenced_by_more_ticks_or_tildes():
    made = body("````draft\na = 3 cm\n````\n\n~~~ draft\nb = 3 cm\n~~~\n")
    assert made.findings == ()
    assert [p.source for s in made.sections for p in s.parts] == ["a = 3 cm", "b = 3 cm"]


@pytest.mark.parametrize(
    ("row", "kept"),
    [
        ("`{a}` and {1 cm}", "`{a}` and SLOT"),
        ("``{a} ` {b}`` {1 cm}", "``{a} ` {b}`` SLOT"),
        ("` {1 cm}", "` SLOT"),
        (r"\{a} and \{b\}", "{a} and {b}"),
        ("{} and { }", "{} and "),
        ("a } b", "a } b"),
    ],
)
def test_code_and_escaped_braces_are_no_formulas(row, kept):
    made = body(row + "\n")
    text = made.sections[0].parts[0].markdown.strip("\n").replace(Prose.slot(0), "SLOT")
    assert text.startswith(kept)


def test_a_bad_formula_is_shown_with_its_row():
    made = body("Text\n\nIt is {a + } wide and {b}.\n")
    assert codes(made) == ["not-understood"]
    assert places(made) == [(6, 11)]
    assert made.findings[0].source == "It is {a + } wide and {b}."
    assert "{a + }" in made.sections[0].parts[0].markdown
    assert len(made.sections[0].parts[0].formulas) == 1


def test_every_bad_block_and_formula_is_told_of():
    made = body("{a +}\n```draft\nb = 3 cm dwn\nc = = 2\n```\n{d )}\n```draft\npice x\n```\n")
    assert [f.place.line for f in made.findings] == [4, 6, 7, 9, 11]


def test_after_many_mistakes_the_rest_is_not_read():
    made = body("```draft\n" + "a b c d\n" * 20 + "```\n" + ("```draft\na b c d\n```\n" * 100))
    assert codes(made).count("not-understood") == MOST_MISTAKES + 1
    assert codes(made)[-1] == "too-many-mistakes"


def test_private_characters_can_not_pose_as_formulas():
    made = body("\ue0000\ue001 {1 cm}\n")
    assert made.sections[0].parts[0].markdown == f"\ufffd0\ufffd {Prose.slot(0)}\n"


def test_a_name_that_is_a_measurement_is_refused_when_the_file_is_read():
    made = body("```draft\nhip_girth = 3 cm\na = hip_girth\n```\n")
    assert codes(made) == ["name-taken"]
    assert places(made) == [(5, 1)]
    assert made.needs == ()


def test_needs_are_named_once_in_order():
    made = body(
        "{waist_girth}\n```draft\na = hip_girth + waist_girth\nfinished bust girth = a, ease at least 1 cm\n```\n"
    )
    assert made.needs == ("waist_girth", "hip_girth", "bust_girth")


def test_a_style_too_long_is_not_read():
    made = body("```draft\n" + "a = 1\n" * (MOST_STATEMENTS + 1) + "```\n")
    assert codes(made) == ["too-long"]
    assert made.sections == ()


def test_remarks_and_empty_rows_do_not_count():
    made = body("```draft\n" + "# a\n\n" * (MOST_STATEMENTS + 1) + "```\n")
    assert made.findings == ()


def test_findings_are_errors_that_name_the_file():
    made = style("---\nfor: woman\n---\n{\n{a +}\n```draft\nb = = 1\n")
    assert made.findings
    assert not made.ok
    for finding in made.findings:
        assert finding.severity is Severity.ERROR
        assert str(finding.place).startswith("styles/plain-skirt.md:")


# --- the cutting up -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("row", "ticks", "word"),
    [
        ("```", "```", ""),
        ("```draft", "```", "draft"),
        ("   ```  draft more", "```", "draft"),
        ("~~~~draft", "~~~~", "draft"),
        ("    ```", "", ""),
        ("``", "", ""),
        ("```a`b", "", ""),
        ("x```", "", ""),
    ],
)
def test_fences(row, ticks, word):
    # CommonMark 0.31.2, section 4.5 Fenced code blocks
    fence = fence_of(row)
    assert (fence.ticks, fence.word) == (ticks, word)


@pytest.mark.parametrize(
    ("row", "heading"),
    [
        ("# foo", (1, "foo")),
        ("###### foo", (6, "foo")),
        ("####### foo", None),
        ("#5 bolt", None),
        ("#hashtag", None),
        ("   # foo", (1, "foo")),
        ("    # foo", None),
        ("## foo ##", (2, "foo")),
        ("### foo ### b", (3, "foo ### b")),
        ("# foo#", (1, "foo#")),
        ("#\tFoo", (1, "Foo")),
        ("## ", None),
        ("### ###", None),
    ],
)
def test_headings(row, heading):
    # CommonMark 0.31.2, section 4.2 ATX headings, examples 62 to 79; headings without words are left out here
    assert heading_of(row) == heading


@pytest.mark.parametrize(
    ("row", "spans"),
    [
        ("`foo`", ["`foo`"]),
        ("`` foo ` bar ``", ["`` foo ` bar ``"]),
        ("` `` `", ["` `` `"]),
        ("```foo``", []),
        ("`foo", []),
        ("`foo``bar``", ["``bar``"]),
        ("a `b` c `d` e", ["`b`", "`d`"]),
    ],
)
def test_code_spans(row, spans):
    # CommonMark 0.31.2, section 6.1 Code spans, examples 328 to 349
    assert [row[a:b] for a, b in code_spans(row)] == spans


def test_code_spans_agree_with_the_markdown_library():
    from markdown_it import MarkdownIt

    library = MarkdownIt("zero").enable("backticks")
    for number in range(3**7):
        row = "".join("`a "[number // 3**i % 3] for i in range(7))
        tokens = library.parseInline(f"x{row}x")[0].children
        theirs = [t.markup for t in tokens if t.type == "code_inline"]
        ours = [f"x{row}x"[a:b] for a, b in code_spans(f"x{row}x")]
        assert [o[: len(o) - len(o.lstrip("`"))] for o in ours] == theirs, row


def test_parts_carry_their_lines():
    text = "a\n\n# H\nb\n```draft\nc\n```\nd"
    assert [(p.kind, p.text, p.line) for p in cut_up(text, 10)] == [
        ("prose", "a\n", 10),
        ("heading", "H", 12),
        ("prose", "b", 13),
        ("block", "c", 15),
        ("prose", "d", 17),
    ]
