"""What is said of conditions without a client: other brackets, names and words that exist nowhere, what to write."""

from __future__ import annotations

import pytest

from catalogue.studio.reading import style_from

HEAD = """---
title: Skirt
notions: {notions}
choices:
  vent: yes (yes, no)
  band: wide (wide, narrow, none)
  fully lined: no (yes, no)
  skirt length: 60 cm (40 cm to 80 cm)
---

```draft
when vent is yes
    lap = 4 cm
repeat for n 1 to 3
    hem_{n} = 2 cm * n
```

# Sewing

{vent} {band} {fully_lined} {skirt_length} {lap} {hem_1}

"""


def findings(text: str, notions: str = "a zip", head: str = HEAD):
    return style_from((head.replace("{notions}", notions) + text).encode(), "t", "styles/t.md").findings


@pytest.mark.parametrize(
    ("text", "shown", "instead"),
    [
        ("9. (when fully_lined is yes) Sew.", "(when fully_lined is yes)", "{when fully_lined is yes}"),
        ("[when fully lined is yes] Sew.", "[when fully lined is yes]", "{when fully_lined is yes}"),
        ("<when skirt_length > 50 cm> Sew.", "<when skirt_length > 50 cm>", "{when skirt_length > 50 cm}"),
        ("（When bust_girth at least 1 m） Sew.", "（When bust_girth at least 1 m）", "{when bust_girth at least 1 m}"),
        ("{when vent is yes} Turn. (otherwise) Press.", "(otherwise)", "{otherwise}"),
        ("{when vent is yes} Turn. [always] Press.", "[always]", "{always}"),
    ],
)  # fmt: skip
def test_a_condition_in_other_brackets_is_asked_about(text, shown, instead):
    [finding] = findings(text)
    assert not finding.is_error and f"“{shown}” is plain text here" in finding.message
    assert finding.instead == instead
    assert finding.source[finding.place.column - 1 :].startswith(shown)


def test_a_notion_with_a_condition_in_other_brackets_is_asked_about():
    [finding] = findings("Sew.", "a zip; (when vent is yes) a hook")
    assert finding.instead == "{when vent is yes}"
    assert (finding.place.line, finding.place.column) == (3, 17)


@pytest.mark.parametrize(
    "text",
    [
        "Press (when the cloth frays), then sew (always).",
        "Sew (when vent is open).",
        "Sew on (otherwise it slips) and press (otherwise).",
        "See [when vent is yes](vent.html).",
        "`(when vent is yes)`",
        "```\n(when vent is yes)\n```",
        "Sew (when hem is even).",
    ],
)
def test_ordinary_words_in_brackets_are_let_alone(text):
    assert findings(text) == ()


@pytest.mark.parametrize(
    ("text", "message", "hint"),
    [
        ("{when fully_lined is no and vent is noo} a", "“noo” is not one of the words of “vent”: yes, no.", "“no”"),
        ("{when vent is no} {otherwise} {when fuly_lined is yes} a", "“fuly_lined” is not known", "“fully_lined”"),
        ("{when vent is no} a {lapp}", "“lapp” is not known", "“lap”"),
        ("{when vent is no} a {front.waist}", "“front” is not known", "Names are given"),
        ("{when skirt_length is long} a", "“skirt_length” is not a choice of words", "vent, band, fully_lined"),
        ("```draft\nwhen vent is no\n    when band is wid\n        a = 1 m\n```\n{a}", "“wid” is not one of", "“wide”"),
    ],
)  # fmt: skip
def test_names_and_words_are_checked_whether_shown_or_not(text, message, hint):
    told = [f for f in findings(text) if message in f.message]
    assert len(told) == 1 and told[0].is_error and hint in told[0].hint


def test_a_notions_condition_is_checked():
    [finding] = findings("Sew.", "a zip; {when vent is noo} a hook")
    assert "“noo”" in finding.message and finding.place.line == 3


def test_what_only_some_drafts_give_is_known():
    assert findings("{when vent is yes} {lap}, {hem_2}, {waist}, {bust_girth}{always}.") == ()


def test_a_line_that_is_not_understood_may_give_any_name():
    told = findings("```draft\ndepth = 2 2\n```\n{when vent is yes} {depth}")
    assert [f.source for f in told] == ["depth = 2 2"]


def test_a_choice_is_not_called_unused_while_its_name_is_misspelt():
    head = "---\ntitle: T\nchoices:\n  fully lined: no (yes, no)\n---\n"
    [finding] = findings("{when fuly_lined is yes} Sew.", head=head)
    assert "“fuly_lined”" in finding.message
    [finding] = findings("Sew.", head=head)
    assert "in a formula as fully_lined or in the prose as {when fully_lined is yes}" in finding.hint


@pytest.mark.parametrize(
    ("condition", "instead"),
    [
        ("when fully_lined = yes", "{when fully_lined is yes}"),
        ("when fully_lined", "{when fully_lined is yes}"),
        ("when fully lined is yes", "{when fully_lined is yes}"),
        ("only when fully_lined is yes", "{when fully_lined is yes}"),
        ("when fully_lined yes", "{when fully_lined is yes}"),
        ("when fully_lined: yes", "{when fully_lined is yes}"),
        ("when vent isn't yes", "{when vent is not yes}"),
        ("when vent isn’t yes and band = wide", "{when vent is not yes and band is wide}"),
        ("when there is a vent", "{when vent is yes}"),
        ("when there is no vent", "{when vent is no}"),
        ("if vent = yes", "{when vent is yes}"),
        ("when band is wide or narrow", "{when band is not none}"),
        ("when vent is yes or band is wide",
         "{when vent is yes} … {always} {when vent is not yes and band is wide} … {always}"),
    ],
)  # fmt: skip
def test_what_to_write_is_understood(condition, instead):
    [finding] = findings(f"{{{condition}}} Sew.")
    assert finding.is_error and finding.instead == instead and finding.hint == ""
    assert findings(instead.replace("…", "Sew.").removesuffix("{always}") + "Sew.") == ()


def test_where_it_is_not_known_what_to_write_a_choice_is_named():
    [finding] = findings("{when skirt_length} Sew.")
    assert "such as {when vent is yes}" in finding.hint


def test_notions_of_another_kind_are_told_once() -> None:
    style = style_from(b"---\ntitle: Apron\nnotions:\n  zip: 20 cm\n---\n", "apron", "styles/apron.md")
    assert [finding.code for finding in style.findings].count("wrong-kind") == 1
