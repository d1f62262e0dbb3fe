"""The line that a message shows to write: it parses, and it is what was meant."""

import re
from pathlib import Path

import pytest

from catalogue.findings import Finding, Place
from catalogue.language.parser import MOST_REPAIRED, grammar, parse_block
from catalogue.language.repairs import line_to_write
from catalogue.language.sayings import SAYINGS, SPOKEN
from tests.language.hint_lines import LINES
from tests.language.test_mistakes import MISTAKES


def table() -> list[tuple[str, str, str, str]]:
    """Label, line, line to write ("" for none) and words of the hint ("") of each in hundred_mistakes.txt."""
    text = (Path(__file__).parent / "hundred_mistakes.txt").read_text(encoding="utf-8")
    rows = []
    for entry in text.split("\n== ")[1:]:
        label, rest = entry.split("\n", 1)
        line, mark, said = re.split(r"\n(=>|\?\?) ", rest.rstrip(), maxsplit=1)
        rows.append((label, line, said if mark == "=>" else "", said if mark == "??" else ""))
    return rows


HUNDRED = table()


def finding_of(text: str) -> Finding:
    _, findings = parse_block(text, "styles/a.md", 1)
    assert len(findings) == 1, findings
    return findings[0]


@pytest.mark.parametrize(
    ("line", "better", "words"), [each[1:] for each in HUNDRED], ids=[each[0] for each in HUNDRED]
)
def test_a_dressmakers_mistake_is_answered_with_the_line_to_write(line, better, words):
    finding = finding_of(line)
    assert finding.instead == better
    assert words.casefold() in finding.hint.casefold()
    if better:
        nodes, findings = parse_block(better, "styles/a.md", 1)
        assert findings == ()
        assert len(nodes) == 1


@pytest.mark.parametrize(
    ("line", "better"),
    [
        (
            "dart back.waist, middle at 9 cm from top, intake 2 cm, length 13 cm, fold to centre",
            "dart back.waist, middle at (9 cm along back.waist from top), intake 2 cm, length 13 cm, fold to centre",
        ),
        ("centre_hip = waist_to_hip below from top", "centre_hip = waist_to_hip down from top"),
        ("centre_hem = go down from top by skirt_length", "centre_hem = skirt_length down from top"),
        ("allow 1.5cm all round, 3 cm at hem", "allow 1.5cm, hem 3 cm"),
    ],
)
def test_a_measure_from_a_point_or_at_an_edge_is_put_where_it_belongs(line, better):
    assert finding_of(line).instead == better
    assert parse_block(better, "styles/a.md", 1)[1] == ()


def test_at_least_ninety_of_a_hundred_messages_show_the_line():
    assert len(HUNDRED) == 100
    assert len({each[0] for each in HUNDRED}) == len({each[1] for each in HUNDRED}) == 100
    assert sum(bool(each[2]) for each in HUNDRED) >= 90


@pytest.mark.parametrize("line", [*(m[1].replace("▸", "") for m in MISTAKES), *LINES.values()])
def test_whatever_is_shown_parses(line):
    better = finding_of(line).instead
    if better:
        assert parse_block(better, "styles/a.md", 1)[1] == ()


@pytest.mark.parametrize(
    "line",
    [
        "check hem_width != hip_girth",  # Without the sign it would say the opposite.
        "hem = ",
        "a = b +",
        "cut front along style_line",
        "a = 3 cm sideways from b",
        "check",
        "the quick brown dressmaker sews a long seam",
    ],
)
def test_nothing_is_made_up_where_the_writer_must_decide(line):
    assert finding_of(line).instead == ""


def test_no_figure_and_no_name_is_lost():
    """Of the hundred: figures stay (but for those written in words), and so do names (but for those joined)."""
    for label, line, better, _ in HUNDRED:
        if better and "thousand" not in label:
            assert set(re.findall(r"\d+", line)) <= set(re.findall(r"\d+", better)), label
            names = set(re.findall(r"\w+_\w+", line))
            assert names <= set(re.findall(r"\w+", better)), label


def test_a_line_in_quotes_is_left_alone():
    better = finding_of('piece front "Skirt the  below, cut two" cut 2').instead
    assert better == 'piece front "Skirt the  below, cut two", cut 2'


def test_a_line_that_goes_on_is_shown_in_one():
    assert (
        finding_of("a = 3 cm down\n  and 2 cm rigth from b").instead == "a = 3 cm down and 2 cm right from b"
    )


def test_lines_below_others_are_put_right_too():
    text = 'piece front "Front", cut 1 on fold\n  outline side: a to b,\n          hem: b c\n  grain follows side'
    findings = parse_block(text, "styles/a.md", 1)[1]
    assert [f.instead for f in findings] == ["outline side: a to b", "hem: b to c", "grain along side"]


def test_the_line_is_in_the_text_of_the_message():
    finding = Finding("x", "Wrong.", Place("a.md", 2, 3), "Because.", source="a = b c", instead="a = b_c")
    assert str(finding).endswith("Because.\n    Write: a = b_c")


def test_a_file_of_nonsense_is_not_put_right_line_by_line():
    findings = parse_block("\n".join(f"hem{i} = 3 cm dwn from b" for i in range(20)), "a.md", 1)[1]
    assert [bool(f.instead) for f in findings] == [i < MOST_REPAIRED for i in range(20)]


@pytest.mark.parametrize("saying", SAYINGS, ids=lambda saying: " ".join(saying.said))
def test_every_saying_is_found_in_a_line_that_says_it(saying):
    given = {"P": "elbow", "Q": "hip", "R": "knee", "L": "3 cm", "M": "4 cm", "J": "2", "K": "1/3"}
    given |= {"E": "front.side", "F": "back.side", "D": "down", "N": "hem", "T": '"q0"', "^": "", "$": ""}
    said = [given.get(each, each.split("|")[0]) for each in saying.said if not each.startswith("[")]
    line = " ".join(" ".join(said).split())
    words = frozenset(re.findall(r"[^\W\d_][\w.]*", line))
    assert next(saying.ways(line, words, SPOKEN - {"elbow", "hip", "knee", "hem"}), None) is not None


def test_it_is_looked_for_once():
    line_to_write.cache_clear()
    for _ in range(3):
        line_to_write("a = 3 cm dwn from b", "statement", grammar())
    assert line_to_write.cache_info().misses == 1


@pytest.mark.parametrize(
    ("said", "which"),
    [
        ("highest", "highest"),
        (", topmost", "highest"),
        (" at the bottom", "lowest"),
        (", the highest", "highest"),
        ("left", "leftmost"),
    ],
)
def test_which_of_several_crossings_is_written_after_a_comma(said: str, which: str) -> None:
    line = f"x = where l1 crosses l2{'' if said.startswith(',') else ' '}{said}"
    assert finding_of(line).instead == f"x = where l1 crosses l2, {which}"
