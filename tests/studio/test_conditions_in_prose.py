"""Prose with conditions: what is there for whom, and what is said of conditions that can't be understood."""

from __future__ import annotations

import re
from itertools import islice, product

import pytest
from markdown_it import MarkdownIt

from catalogue.studio.prose import MARK, SLOT, Prose
from catalogue.studio.reading import style_from
from tests.work import calls

HEAD = """---
title: Skirt
garment: skirt
choices:
  vent: yes (yes, no)
  band: wide (wide, narrow, none)
---

# Sewing

{vent} and {band}.

"""
FIRST = HEAD.count("\n") + 1
SKETCH = "   ```sketch The vent\n   edge: 0 0, 10 10\n   ```\n"


def read(text: str):
    """The style with `text` as its sewing, and that prose."""
    made = style_from((HEAD + text).encode(), "skirt", "styles/skirt.md")
    [prose] = (part for section in made.sections for part in section.parts if isinstance(part, Prose))
    return made, prose


def there(text: str, *, vent: bool | None = True, band: str | None = "wide") -> str:
    """What is there of `text` for a client; None stands for a choice that is not known."""
    made, prose = read(text)
    assert made.findings == ()

    def holds(condition) -> bool | None:
        name, word = re.fullmatch(r"(vent|band) is (\w+)", condition.text).groups()
        if name == "vent":
            return None if vent is None else vent == (word == "yes")
        return None if band is None else band == word

    words = prose.words()
    shown = SLOT.sub(lambda slot: f"[{words[int(slot[1])]}]", prose.shown(holds))
    assert MARK.search(shown) is None
    return shown.removeprefix("\n[vent] and [band].").strip("\n")


def numbers(markdown: str) -> list[int]:
    """The numbers of the items of numbered lists as a reader of Markdown counts them."""
    found, at = [], []
    for token in MarkdownIt("commonmark").parse(markdown):
        if token.type == "ordered_list_open":
            at.append(int(token.attrs.get("start", 1)))
        elif token.type == "bullet_list_open":
            at.append(0)
        elif token.type in ("ordered_list_close", "bullet_list_close"):
            at.pop()
        elif token.type == "list_item_open" and at[-1]:
            found.append(at[-1])
            at[-1] += 1
    return found


@pytest.mark.parametrize(
    ("text", "with_vent", "without"),
    [
        ("Sew. {when vent is yes} Turn. {otherwise} Go on. {always} Press.", "Sew. Turn. Press.", "Sew. Go on. Press."),
        ("Sew{when vent is yes} to the vent{otherwise} on{always}, then press.", "Sew to the vent, then press.",
         "Sew on, then press."),
        ("Sew {when vent is yes} to the vent {always} , then press.", "Sew to the vent, then press.",
         "Sew, then press."),
        ("Sew {when vent is yes}to the\nvent and{always} to\nthe hem.", "Sew to the\nvent and to\nthe hem.",
         "Sew to\nthe hem."),
        ("Sew\n{when vent is yes}\nto the vent\n{always}\nand press.", "Sew\nto the vent\nand press.",
         "Sew\nand press."),
        ("{When vent is yes:} Turn. {Otherwise:} Go on. {Always:} Press.", "Turn. Press.", "Go on. Press."),
        ("{when vent is yes} It has a {vent}.", "It has a [vent].", ""),
        ("One.\n\n{when vent is yes} Two.\n\nThree.", "One.\n\nTwo.\n\nThree.", "One.\n\nThree."),
        ("**Sew {when vent is yes} on {otherwise} off{always}**", "**Sew on**", "**Sew off**"),
        ("{when vent is yes}\nOne.\n\nTwo.\n{otherwise}\nThree.\n{always}\n\nFour.", "One.\n\nTwo.\n\nFour.",
         "Three.\n\nFour."),
        ("| a | b |\n|---|---|\n{when vent is yes}\n| 1 | 2 |\n{always}\n| 3 | 4 |",
         "| a | b |\n|---|---|\n| 1 | 2 |\n| 3 | 4 |",
         "| a | b |\n|---|---|\n| 3 | 4 |"),
    ],
)  # fmt: skip
def test_words_in_two_ways(text, with_vent, without):
    assert there(text) == with_vent
    assert there(text, vent=False) == without


ITEMS = (
    "1. One.\n"
    "2. {when vent is yes} Two,\n   of two rows.\n\n" + SKETCH + "\n"
    "   And a paragraph.\n\n"
    "   - below it\n\n"
    "3. Three.\n"
    "{when vent is yes}\n4. Four.\n\n" + SKETCH + "5. Five.\n{otherwise}\n6. Six.\n{always}\n"
    "7. Seven.\n\n"
    "   {when vent is no}\n" + SKETCH.replace("vent", "hem") + "   {always}\n"
)


def test_items_are_left_out_with_all_that_lies_below_them():
    with_vent, without = there(ITEMS), there(ITEMS, vent=False)
    assert numbers(with_vent) == [1, 2, 3, 4, 5, 6]
    assert numbers(without) == [1, 2, 3, 4]
    assert with_vent.count("sketch The vent") == 2 and "sketch The hem" not in with_vent
    assert without.count("sketch") == 1 and "sketch The hem" in without
    assert "below it" in with_vent and "And a paragraph" in with_vent
    assert not {"below it", "And a paragraph", "Two", "Four", "Five"} & set(
        re.findall(r"[A-Za-z ]+", without)
    )
    # One list, before and after, in which the sketch is part of its item.
    assert MarkdownIt("commonmark").render(without).count("<ol") == 1


@pytest.mark.parametrize(
    "text",
    [
        "1. {when vent is yes} One.\n2. Two.\n3. Three.",
        "{when vent is yes}\n1. One.\n{always}\n2. Two.\n3. Three.",
        "{when vent is yes}\n\n1. One.\n\n{always}\n\n2. Two.\n\n3. Three.",
    ],
)
def test_a_list_begins_with_its_own_number_when_its_first_item_is_left_out(text):
    assert numbers(there(text, vent=False)) == [1, 2]
    assert numbers(there(text)) == [1, 2, 3]
    assert numbers(there(text.replace("1.", "5."), vent=False)) == [5, 6]


def test_no_empty_row_is_left_to_set_a_list_wider():
    assert (
        there("1. One.\n2. {when vent is yes} Two.\n\n" + SKETCH + "\n3. Three.", vent=False)
        == "1. One.\n3. Three."
    )
    assert there("1. One.\n2. {when vent is yes} Two.\n\nEnd.", vent=False) == "1. One.\n\nEnd."


def test_one_of_several_and_none_of_them():
    text = "{when band is wide} Wide. {when band is narrow} Narrow. {otherwise} None."
    assert [there(text, band=band) for band in ("wide", "narrow", "none")] == ["Wide.", "Narrow.", "None."]
    rows = "{when band is wide}\n1. Wide.\n{when band is narrow}\n1. Narrow.\n{otherwise}\n1. None.\n{always}\n2. Sew."
    assert [there(rows, band=band) for band in ("wide", "none")] == ["1. Wide.\n2. Sew.", "1. None.\n2. Sew."]


def test_a_condition_inside_what_a_row_leaves_out():
    text = "{when vent is yes}\n1. One{when band is none} without a band{always}.\n{always}\n2. Two."
    assert there(text, band="none") == "1. One without a band.\n2. Two."
    assert there(text) == "1. One.\n2. Two."
    assert there(text, vent=False, band="none") == "1. Two."


def test_what_is_not_known_is_shown_with_its_condition():
    assert there("Sew {when vent is yes} a vent {otherwise} on{always}.", vent=None) == (
        "Sew [when vent is yes:] a vent [otherwise:] on."
    )
    assert there("Sew on{when vent is yes}, a vent{otherwise}; no vent{always} and press.", vent=None) == (
        "Sew on, [when vent is yes:] a vent; [otherwise:] no vent [in any case:] and press."
    )
    assert there(
        "{when vent is yes}\n1. One.\n2. Two.\n{otherwise}\n3. Three.\n{always}\n4. Four.", vent=None
    ) == ("1. [when vent is yes:] One.\n2. [when vent is yes:] Two.\n3. [otherwise:] Three.\n4. Four.")
    assert there(f"1. One.\n\n   {{when vent is yes}}\n{SKETCH}   {{always}}\n2. Two.", vent=None) == (
        f"1. One.\n\n   [when vent is yes:]\n{SKETCH}2. Two."
    )
    # One that is known decides, though another is not.
    assert (
        there("{when band is wide} Wide. {when band is narrow} Narrow. {otherwise} None.", band="wide")
        == "Wide."
    )


def test_nothing_is_asked_in_what_is_left_out():
    _, prose = read(
        "{when vent is yes}\n1. {when band is wide} One.\n\n   {when band is narrow} More.\n{always}\n"
        "2. {when band is none} Two.\n\n   Below {when vent is no} it."
    )
    asked = []

    def holds(condition) -> bool:
        asked.append(condition.text)
        return False

    assert prose.shown(holds).strip("\n") == f"{Prose.slot(0)} and {Prose.slot(1)}."
    assert asked == ["vent is yes", "band is none"]


def test_code_and_escaped_braces_are_no_conditions():
    made, prose = read("Write `{when vent is yes}` or \\{always}.\n\n```\n{otherwise}\n```\n")
    assert made.findings == () and prose.conditions == ()
    assert "\n{otherwise}\n" in prose.markdown


def test_private_characters_can_not_pose_as_conditions():
    text = "\ue0030\ue004 {when vent is yes} a `\ue0031\ue004` b\n\n```\n\ue0032\ue004\n```\n"
    assert there(text, vent=False) == "\ufffd0\ufffd\n\n```\n\ufffd2\ufffd\n```"


def test_measurements_and_choices_that_only_a_condition_uses_are_used():
    made = style_from(
        b"---\ntitle: T\nchoices:\n  vent: yes (yes, no)\n---\n{when vent is yes and hip_girth > 90 cm} One.",
        "t", "styles/t.md",
    )  # fmt: skip
    assert made.needs == ("hip_girth",)
    assert made.findings == () and made.unused == ()


MISTAKES = [
    ("{otherwise} a", (0, 2), "no {when …} in this paragraph", "such as {when vent is yes}"),
    ("{when vent is yes} a\n\n{always} b", (2, 2), "no {when …} in this paragraph", "ends with it"),
    ("1. {when vent is yes} a\n2. b {always} c", (1, 7), "no {when …} in this paragraph", "ends with it"),
    ("a\n\n{always}\n\nb", (2, 2), "no {when …} on a row above", "has ended it"),
    ("{when vent is yes}\n1. a\n{when band is wide}\n2. b\n{always}\n3. c\n{always}\n", (2, 2),
     "“{when band is wide}” may be meant inside “{when vent is yes}” or after it",
     "{when vent is yes and band is wide}"),
    ("{when vent is yes} a {when band is wide} b", (0, 23), "may be meant inside", "Write {always} before it"),
    ("{when band is wide} a {when band is not none} b", (0, 24), "may be meant inside", "{always}"),
    ("{when band is wide} a {otherwise} b {when band is none} c", (0, 38), "inside “{otherwise}” or after", "{always}"),
    ("{when vent is yes}\n1. a\n", (0, 2), "how far “{when vent is yes}” goes", "Write {always} on a row of its own"),
    ("{when vent is yes}\n1. a\n{otherwise}\n2. b\n", (2, 2), "how far “{otherwise}” goes", "{always}"),
    ("{when vent is yes} {otherwise} b", (0, 2), "no text after “{when vent is yes}”", "leave the condition out"),
    ("a {when vent is yes}", (0, 4), "no text after", ""),
    ("{when vent is yes}\n\n{always}\n", (0, 2), "no text after", ""),
    ("{when vent is yes} a {otherwise} b {otherwise} c", (0, 37), "said already", "{when …} before another case"),
    ("{when vent is yes}\n1. a\n{always}\n   goes on", (2, 2), "goes on with a paragraph or", "empty row"),
    ("{when vent is yes}\nOne.\n\nTwo.\n{always}\nThree.\n", (4, 2), "goes on with a para",
     "empty row"),
    (f"1. {{when vent is yes}} a {{always}}\n\n{SKETCH}", (0, 5), "Nothing may be left of this item",
     "row of its own"),
    ("| a |\n|---|\n| {when vent is yes} b |", (2, 4), "Inside a table", "a row of its own"),
    ("{when vent is yes}\n1. a {when band is wide} b\n{otherwise}\n   c\n\n{always}", (2, 2), 
     "may be meant for the paragraph", "end of the row before"),
    ("{otherwise vent is no} a", (0, 2), "stands alone", "{when vent is no}"),
    ("{when vent is yes} a {always vent is yes} b", (0, 23), "stands alone", "Write {always}"),
    ("{when vent is yes} a {else} b", (0, 23), "“else” is no condition", "Write {otherwise}"),
    ("{when vent is yes} a {end} b", (0, 23), "“end” is no condition", "Write {always}"),
    ("{when vent is yes} a {otherwhise} b", (0, 23), "“otherwhise”", "Write {otherwise}"),
    ("{if vent is yes} a", (0, 2), "begins with “when”", "{when vent is yes}"),
    ("{unless vent is yes} a", (0, 2), "begins with “when”", "{when vent is not yes}"),
    ("{whem vent is yes} a", (0, 2), "begins with “when”", "{when vent is yes}"),
    ("{vent is yes} a", (0, 2), "begins with “when”", "{when vent is yes}"),
    ("{when} a", (0, 6), "stops too early", ""),
    ("{when vent is} a", (0, 14), "stops too early: after “is”", ""),
    ("a {when vent is yes\nand so on} a", (0, 3), "not closed", "Close the formula"),
    ("{when vent " + "is " * 400 + "yes} a", (0, 2), "longer than 1000 characters", ""),
]  # fmt: skip


@pytest.mark.parametrize(("text", "place", "message", "hint"), MISTAKES, ids=[m[0][:40] for m in MISTAKES])
def test_a_mistake_is_told_at_its_place(text, place, message, hint):
    made, _ = read(text)
    finding = made.findings[0]
    assert finding.is_error
    assert (finding.place.file, finding.place.line - FIRST, finding.place.column) == (
        "styles/skirt.md",
        *place,
    )
    assert message in finding.message
    assert hint in f"{finding.hint} {finding.instead}"
    assert finding.source == (HEAD + text).split("\n")[finding.place.line - 1][:200]


@pytest.mark.parametrize("text", [m[0] for m in MISTAKES])
def test_what_is_wrong_is_shown_with_its_conditions_all_the_same(text):
    _, prose = read(text)
    for answer in (True, False, None):
        assert MARK.search(prose.shown(lambda c, answer=answer: answer)) is None


def test_a_step_that_is_named_by_a_number_that_may_differ_is_asked_about():
    steps = "1. One.\n2. {when vent is yes} Two.\n3. As in step 1, but longer.\n"
    [finding] = read(steps)[0].findings
    assert not finding.is_error and "“step 1” may have another number" in finding.message
    assert finding.place.line == FIRST + 2
    assert read(steps.replace("{when vent is yes} ", ""))[0].findings == ()


def test_a_name_of_the_style_is_a_formula_whatever_it_is_called():
    text = "---\ntitle: T\nchoices:\n  vent: yes (yes, no)\n---\n```draft\nend = 3 cm\n```\n{when vent is yes} {end}."
    assert style_from(text.encode(), "t", "styles/t.md").findings == ()


PARTS = (
    "{when vent is yes}", "{otherwise}", "{always}", "{when band is wide} a", "1. b", "   c", "d {otherwise} e", "",
    "   - f {when vent is no} g {always} h", "| i |", SKETCH.strip("\n"),
)  # fmt: skip


def test_any_rows_are_read_and_shown():
    """Nothing is lost where nothing is known, and a mark is never left over."""
    for rows in islice(product(PARTS, repeat=3), 0, None, 13):
        text = "\n".join(rows)
        _, prose = read(text)
        for answer in (True, False, None):
            assert MARK.search(prose.shown(lambda c, answer=answer: answer)) is None
        unknown = prose.shown(lambda c: None)
        for word in re.findall(r"\b[a-i]\b", text):
            assert re.search(rf"\b{word}\b", unknown), rows


@pytest.mark.parametrize(
    "unit",
    ["{when vent is yes} a ", "{when vent is yes}\n", "{when vent is yes}\n1. a\n{always}\n", "{otherwise}",
     "1. {always}\n", "{when vent is yes} a {otherwise} b {always}\n\n", "{when "],
)  # fmt: skip
def test_many_conditions_are_read_in_linear_time(unit):
    few, many, refused = (
        calls(lambda count=count: read_only(unit * count))[1] for count in (50, 100, 100_000)
    )
    assert many < 2.6 * few
    assert refused < 300 * few


def read_only(text: str) -> None:
    """Read the text as prose and show it in both ways."""
    made = style_from((HEAD + text).encode(), "skirt", "styles/skirt.md")
    for part in (part for section in made.sections for part in section.parts if isinstance(part, Prose)):
        for answer in (True, False, None):
            part.shown(lambda c, answer=answer: answer)


@pytest.mark.parametrize(
    ("text", "without"),
    [
        ("1.\t{when vent is yes} One.\n2.\tTwo.", "1.  Two."),
        ("1. One.\n\t- {when vent is yes} a\n\t- b\n2. Two.", "1. One.\n    - b\n2. Two."),
        ("- [ ] {when vent is yes} One.\n- [ ] Two.", "- [ ] Two."),
        ("> {when vent is yes} One.\n> And more.\n\nTwo.", "Two."),
        ("Sew {when vent is yes} a vent.\n***\nPress.", "Sew\n***\nPress."),
        ("1. One.\n\n" + SKETCH.replace("   ", "") + "\n2. {when vent is yes} Two.\n3. Three.",
         "1. One.\n\n" + SKETCH.replace("   ", "") + "\n2. Three."),
        ("1. One.\n\n    ```\n    {when vent is yes}\n    {otherwise}\n    ```\n2. Two{when vent is yes} more{always}.",
         "1. One.\n\n    ```\n    {when vent is yes}\n    {otherwise}\n    ```\n2. Two."),
    ],
    ids=["tab", "tab below", "box", "quotation", "rule", "sketch that ends a list", "code below an item"],
)  # fmt: skip
def test_a_condition_takes_no_more_away_than_its_paragraph_or_item(text, without):
    assert there(text, vent=False) == without


BROADER = [
    ("a | b\n--|--\n1 | {when vent is yes} x\n2 | y", (2, 6), "Inside a table", "Begin each row of the table with |"),
    ("a | b\n:-:|\n1 | {when vent is yes} x\n2 | y", (2, 6), "Inside a table", "a row of its own"),
    ("> {when vent is yes} One.\n>\n> Two.", (0, 4), "In a quotation of several", "a row of its own"),
    ("> - {when vent is yes} One.\n> - Two.", (0, 6), "In a quotation of several", "a row of its own"),
    ("![a](x{when vent is yes}1{otherwise}2{always}.png)", (0, 8), "In the address of a link", "the whole link"),
    ("**Sew {when vent is yes} on** a", (0, 8), "**…** has no end", "{always}**"),
    ("a *b {when vent is yes} c {otherwise} d\ne* f", (0, 28), "*…* has no end", "{always}*"),
    ("See [a {when vent is yes} b](x.html)", (0, 9), "[…](…) has no end", "{always}](…)"),
    ("![a {when vent is yes} b](x.png)", (0, 6), "![…](…) has no end", "{always}](…)"),
    ("{when vent is yes} a __b {always} c__", (0, 27), "__…__ has no beginning", "after “{always}”"),
    ("## Vent {when vent is yes}\n\n{when vent is yes} a", (0, 10), "A heading is the same for everybody", "below the"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "place", "message", "hint"), BROADER, ids=[b[0][:20] for b in BROADER])
def test_a_condition_that_would_take_more_away_is_refused(text, place, message, hint):
    made = style_from((HEAD + text).encode(), "skirt", "styles/skirt.md")
    finding = made.findings[0]
    assert finding.is_error
    assert (finding.place.line - FIRST, finding.place.column) == place
    assert message in finding.message and hint in finding.hint


@pytest.mark.parametrize(
    "text",
    [
        "**Sew {when vent is yes} on{always}**, [a {when vent is no} b{always}](c.html)",
        "{when vent is yes} **Sew** [a](b.html) {otherwise} *Press*",
        "2 * 3 {when vent is yes} 4 * 5, snake_case {otherwise} snake_case, [a] {always} [b]",
        "\\*a {when vent is yes} b\\*",
    ],
)
def test_whole_words_between_signs_may_depend_on_the_client(text):
    assert read(text)[0].findings == ()


@pytest.mark.parametrize("key", ["title", "summary", "tags", "cloth"])
def test_a_condition_among_what_is_the_same_for_everybody_is_refused(key):
    text = f"---\ntitle: T\n{key}: a {{when vent is yes}} b\n---\nText.".replace(
        "title: T\ntitle", "title", 1
    )
    [finding] = style_from(text.encode(), "t", "styles/t.md").findings
    line = text.split("\n").index(f"{key}: a {{when vent is yes}} b") + 1
    assert finding.is_error and (finding.place.line, finding.place.column) == (line, len(key) + 6)
    assert "A notion can have a condition" in finding.hint


def test_a_condition_that_is_not_understood_is_shown_as_it_was_written():
    _, prose = read("{when vent is yes or band is wide} a")
    assert "when vent is yes or band is wide:" in prose.words().values()
