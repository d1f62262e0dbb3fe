"""Names in any script, and equal names however their accents are written."""

import unicodedata

import pytest

from catalogue.drafting import draft_style
from catalogue.findings import did_you_mean
from catalogue.handbook import neutral_client
from catalogue.language.letters import MOST_MARKS, composed, is_name, unseen
from catalogue.language.parser import parse_block
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings

NAMES = [
    "länge",
    "đường_eo",
    "ẹ̀gbẹ́",
    "ilà_ọrùn",
    "طول",
    "ארוך",
    "लंबाई",
    "நீளம்",
    "ความยาว",
    "длина",
    "μήκος",
    "长度",
    "ながさ",
    "길이",
]


@pytest.mark.parametrize("name", NAMES)
def test_a_name_may_be_in_any_script(name):
    nodes, findings = parse_block(f"{name} = 3 cm\nb = {name} down from start", "a.md", 1)
    assert not findings
    assert nodes[0].name.text == composed(name)
    assert is_name(name)


@pytest.mark.parametrize("name", NAMES)
def test_accents_apart_make_the_same_name(name):
    apart = unicodedata.normalize("NFD", name)
    (node,), findings = parse_block(f"{apart} = 3 cm", "a.md", 1)
    assert not findings
    assert node.name.text == unicodedata.normalize("NFC", name)


@pytest.mark.parametrize("name", NAMES)
def test_a_piece_and_its_edge_may_be_in_any_script(name):
    (node,), findings = parse_block(f"a = length of {name}.{name}", "a.md", 1)
    assert not findings
    assert node.value.line.word == "dotted"


@pytest.mark.parametrize("text", ["", "2a", "_a", "a b", "a-b", "a.b", "\u0301a", "😀", "a\u200bb"])
def test_what_is_no_name(text):
    assert not is_name(text)


@pytest.mark.parametrize("digits", ["３", "٣", "३"])
def test_digits_of_any_script_are_digits(digits):
    (node,), findings = parse_block(f"a = {digits} cm", "a.md", 1)
    assert not findings
    assert node.value.word == "length"


def test_many_accents_are_not_sorted():
    heap = "a" + "\u0323\u0301" * MOST_MARKS
    assert composed(heap) == heap


def test_what_can_be_seen_is_not_called_unseen():
    assert [c for c in 'aäđ1_ ."”½لक😀' if unseen(c)] == []


@pytest.mark.parametrize(
    ("wrong", "letter", "right", "alphabet"),
    [
        ("n\u0430pe", "\u0430", "nape", "Cyrillic"),
        ("\u0441\u0441", "\u0441", "cc", "Cyrillic"),
        ("\u03bd\u03bd\u03bf", "\u03bd", "vvo", "Greek"),
    ],
)
def test_a_letter_that_only_looks_the_same_is_told_of(wrong, letter, right, alphabet):
    said = f"Did you mean “{right}”? Your “{letter}” is a {alphabet} letter that looks the same."
    assert did_you_mean(wrong, ["hem", right]) == said


def test_a_name_in_another_alphabet_is_not_suspected():
    assert did_you_mean("длина", ["длина_юбки"]) in ("", "Did you mean “длина_юбки”?")
    assert did_you_mean("nap", ["nape"]) == "Did you mean “nape”?"


def test_a_draft_tells_of_a_look_alike():
    source = "---\ntitle: a\n---\n```draft\nnape = 3 cm\nb = n\u0430pe + 1 cm\n```\n"
    draft = draft_style(style_from(source.encode(), "a", "styles/a.md"), neutral_client(), Settings())
    (finding,) = draft.findings
    assert (finding.code, finding.place.line, finding.place.column) == ("unknown-name", 6, 5)
    assert "Cyrillic" in finding.hint
