"""A draft made only as far as is asked for: the same as the whole one, as far as it goes."""

from __future__ import annotations

import datetime
from dataclasses import replace

import pytest

from catalogue.drafting import Draft, Extent, draft_style
from catalogue.drafting import drafter as drafting
from catalogue.drafting.block_drafts import BLOCK_DRAFTS
from catalogue.findings import Place
from catalogue.people import Client
from catalogue.people.fittings import FittingLine
from catalogue.studio.settings import Settings
from tests.demo import demo_client
from tests.drafting.people_and_styles import demo_style

DAY = datetime.date(2026, 3, 21)
SIDED = ("swayed back 6 mm", "right shoulder 6 mm lower")
"""The left half of the body is what the right one is without its second line."""


def fitted(*texts: str) -> Client:
    """A client of the demo with these lines written at a fitting of the bodice block, and no others."""
    lines = tuple(
        FittingLine(DAY, "bodice-block", text, Place("clients/x.md", n, 7), source=f"    - {text}")
        for n, text in enumerate(texts, 1)
    )
    return replace(demo_client("hester-pellow"), fittings=lines, corrections=())


@pytest.fixture(autouse=True)
def _nothing_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    BLOCK_DRAFTS.clear()
    monkeypatch.setattr(drafting, "_LATELY", drafting._Lately())


def judged(draft: Draft) -> tuple[object, ...]:
    """All that may be wrong with a draft, and what it is judged by."""
    return (
        *(draft.findings, draft.checks, draft.seams, draft.finished, draft.missing, draft.unaltered),
        *(draft.pieces, draft.cut_lines, draft.rendered, draft.values),
    )


@pytest.mark.parametrize("texts", [(), SIDED])
def test_a_draft_to_be_judged_differs_in_its_workings_alone(texts: tuple[str, ...]) -> None:
    client, style = fitted(*texts), demo_style("yoked-blouse")
    short = draft_style(style, client, Settings(), Extent.JUDGED)
    whole = draft_style(style, client, Settings())
    assert judged(short) == judged(whole)
    # What was left out for the one is not missing from the other, in its blocks neither.
    drafts = [whole, *(used.draft for used in whole.blocks)]
    assert all(any(step.workings for step in draft.steps) for draft in drafts)
    assert not any(step.workings for step in short.steps)
    assert draft_style(style, client, Settings(), Extent.PIECES).pieces == whole.pieces


def test_work_is_counted_alike_whether_anybody_reads_the_workings(monkeypatch: pytest.MonkeyPatch) -> None:
    client, style = fitted(), demo_style("skirt-block")
    for most in range(1000, 5000, 400):
        monkeypatch.setattr("catalogue.drafting.budget.BUDGET", most)
        monkeypatch.setattr("catalogue.drafting.evaluate.BUDGET", most)
        findings = [draft_style(style, client, Settings(), e).findings for e in (Extent.WHOLE, Extent.JUDGED)]
        assert findings[0] == findings[1]
        if not any(f.code == "too-much-work" for f in findings[0]):
            break
    else:
        pytest.fail("the style never had enough")
    assert most > 1000


def test_pieces_that_two_halves_have_in_common_are_drafted_once(monkeypatch: pytest.MonkeyPatch) -> None:
    drafted: list[tuple[str, ...]] = []
    pieces = drafting._pieces

    def counted(style: object, client: object, settings: object, plan: object) -> Draft:
        drafted.append(tuple(each.line.text for each in plan.corrections))  # type: ignore[attr-defined]
        return pieces(style, client, settings, plan)  # type: ignore[arg-type]

    monkeypatch.setattr(drafting, "_pieces", counted)
    style = demo_style("yoked-blouse")
    draft = draft_style(style, fitted(*SIDED), Settings())
    assert len(draft.halves) == 2 and {f.side for f in draft.fittings} == {"both", "right"}
    unfitted = draft_style(style, fitted(), Settings(), Extent.PIECES)
    # Without the first line, without the second, without either; each of them once.
    assert sorted(drafted) == sorted([SIDED[1:], SIDED[:1], ()])
    monkeypatch.undo()
    assert unfitted.pieces == draft_style(style, fitted(), Settings()).pieces
