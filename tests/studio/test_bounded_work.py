"""A style from a stranger is safe to read and draft: whatever it says, it ends soon, with findings that say where."""

from __future__ import annotations

import pytest

from catalogue.drafting import draft_style
from catalogue.handbook import neutral_client
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from tests.studio.hostile import styles

HOSTILE = tuple(styles())

MEANT_TO_FAIL = {
    "a sum of 10,000 terms": "line-too-long",
    "a sum of 500 terms": "too-deep",
    "60,000 brackets in prose": "line-too-long",
    "1,000 minus signs": "too-deep",
    "halves of halves": "too-deep",
    "find in find": "find-body",
    "find under when under find": "find-body",
    "find with 400 lines": "",
    "find without a root": "no-solution",
    "90 finds of 40 lines": "too-much-work",
    "huge numbers": "not-a-length",
    "powers of powers": "no-number",
    "tiny divisors": "no-number",
    "50 deep whens": "too-deep",
    "1,300 deep whens": "too-deep",
    "outlines in outlines": "too-deep",
    "4,001 lines": "too-long",
    "4,000 lines": "",
    "4,000 bad lines": "not-understood",
    "100,000 lines under a find": "too-long",
    "one line of 100,000 rows": "too-long",
    "a curve of 500 knots": "too-many-points",
    "a curve of 2,000 knots": "line-too-long",
    "a chain of curves": "too-many-parts",
    "gigantic parallels": "too-much-work",
    "a find over parallels": "too-much-work",
    "doubling chains": "too-many-parts",
    "60 slashes, 60 times, in a plain piece": "too-much-work",
    "60 slashes, 60 times, in a wavy piece": "too-much-work",
    "a wavy piece lengthened 500 times": "too-much-work",
    "pleats without end in a plain piece": "too-much-work",
    "80 pieces": "too-many-pieces",
    "50,000 braces": "too-long",
    "300 long formulas": "line-too-long",
    "200,000 headings": "too-long",
    "60,000 draft blocks": "too-long",
    "20,000 choices": "too-long",
    "20,000 keys": "unknown-key",
}
"""What is said of some of them: the code of one finding, or "" for none at all."""


@pytest.mark.timeout(120)  # against work without end: `tests.benchmarks.hostile` prints how long each takes
@pytest.mark.parametrize(("label", "text"), HOSTILE, ids=[label.replace(" ", "-") for label, _ in HOSTILE])
def test_a_hostile_style_ends(label, text):
    style = style_from(text.encode(), "hostile", "styles/hostile.md")
    draft = draft_style(style, neutral_client(), Settings())
    lines = text.count("\n") + 1
    for finding in draft.findings:
        assert finding.place is not None
        assert finding.place.file == "styles/hostile.md"
        assert 1 <= finding.place.line <= lines
        assert finding.place.column >= 1
        assert len(finding.message) < 600
    if label in MEANT_TO_FAIL:
        said = [f.code for f in draft.findings]
        assert MEANT_TO_FAIL[label] in said if MEANT_TO_FAIL[label] else said == []


def test_the_list_of_what_is_said_names_hostile_styles():
    assert set(MEANT_TO_FAIL) <= {label for label, _ in HOSTILE}
