"""Draft blocks as lines: continuation, what stands under what, remarks, places."""

from catalogue.language.lines import logical_lines
from catalogue.language.parser import DEEPEST_LINES, LONGEST_FORMULA, LONGEST_LINE, parse_block


def shape(lines):
    return [(line.first_word, line.line, shape(line.under)) for line in lines]


def test_each_row_is_a_line_of_its_own():
    assert shape(logical_lines("a = 1\nb = 2", 5)) == [("a", 5, []), ("b", 6, [])]


def test_an_indented_row_goes_on_from_the_one_above():
    (line,) = logical_lines("a = curve b,\n    c,\n  d", 3)
    assert line.text == "a = curve b,\n    c,\n  d"


def test_rows_left_out_keep_the_count():
    (line,) = logical_lines("a = curve b,\n\n  # remark\n  c", 3)
    assert line.text.split("\n") == ["a = curve b,", "", "", "  c"]


def test_lines_stand_under_those_that_take_them():
    text = "piece front, cut 1\n  outline a: b to c\n          d: c to e\n  grain down\nx = 1"
    assert shape(logical_lines(text)) == [
        ("piece", 1, [("outline", 2, [("d", 3, [])]), ("grain", 4, [])]),
        ("x", 5, []),
    ]


def test_when_and_otherwise_nest():
    text = "when a is b\n  when c is d\n    x = 1\n  otherwise\n    x = 2\notherwise\n  x = 3"
    assert shape(logical_lines(text)) == [
        ("when", 1, [("when", 2, [("x", 3, [])]), ("otherwise", 4, [("x", 5, [])])]),
        ("otherwise", 6, [("x", 7, [])]),
    ]


def test_a_row_under_a_line_goes_on_from_that_line():
    text = "when a is b\n  x = curve b,\n    c\n  y = 2"
    (when,) = logical_lines(text)
    assert [line.text for line in when.under] == ["  x = curve b,\n    c", "  y = 2"]


def test_a_tab_goes_to_the_next_multiple_of_eight():
    text = "when a is b\n\tx = 1\n        y = 2\n   \tz = 3"
    (when,) = logical_lines(text)
    assert [line.first_word for line in when.under] == ["x", "y", "z"]


def test_remarks_and_empty_rows_say_nothing():
    assert logical_lines("\n# a remark\n   \n  # another") == []


def test_a_whole_block_indented_reads_the_same():
    text = "a = 3 cm\nwhen b is c\n  d = 2 cm\ne = 1 cm"
    moved = "\n".join("    " + row for row in text.split("\n"))
    assert shape(logical_lines(text)) == shape(logical_lines(moved))


def test_nested_bodies_are_parsed_under_their_line():
    text = "find a between 1 cm and 2 cm so that length of c = 4 cm\n  b = a down from start\n  c = line start to b"
    nodes, findings = parse_block(text, "a.md", 1)
    assert not findings
    assert [n.word for n in nodes[0].body] == ["define", "define"]


def test_lines_nested_beyond_reason_are_refused_where_they_begin():
    deep = "\n".join("  " * i + "when a is b" for i in range(DEEPEST_LINES + 3))
    findings = parse_block(deep, "a.md", 1)[1]
    assert [f.code for f in findings] == ["too-deep"]
    assert (findings[0].place.line, findings[0].place.column) == (
        DEEPEST_LINES + 2,
        2 * (DEEPEST_LINES + 1) + 1,
    )


def test_a_line_too_long_is_refused():
    findings = parse_block("  a = " + "1 + " * LONGEST_LINE + "1", "a.md", 4)[1]
    assert [f.code for f in findings] == ["line-too-long"]
    assert (findings[0].place.line, findings[0].place.column) == (4, 3)
    assert LONGEST_FORMULA < LONGEST_LINE


def test_a_formula_too_deep_is_refused():
    findings = parse_block("a = " + "(" * 100 + "1 cm" + ")" * 100, "a.md", 1)[1]
    assert not findings  # brackets alone add nothing
    findings = parse_block("a = " + "-" * 100 + "1 cm", "a.md", 1)[1]
    assert [f.code for f in findings] == ["too-deep"]


def test_a_line_may_be_extended_in_brackets():
    for text in (
        "a = part of (l extended) from b to c",
        "a = length of (l extended)",
        "a = below b on l extended",
    ):
        (node,), findings = parse_block(text, "a.md", 1)
        assert not findings
        assert "extended" in [n.word for n in node.walk()]
