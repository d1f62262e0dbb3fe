"""Drafting every style for every body of a survey, and what to count.

On its own it prints a report:

    python -m tests.survey.drafting [--ansur FILE --kind woman] [--vary SEED] [--style straight-skirt]

With --vary what the survey did not measure varies as people do and all options are drawn; the last line is
`X of Y right`.
"""

from __future__ import annotations

import argparse
import time
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from catalogue.drafting.drafter import draft_style
from catalogue.drafting.model import Draft
from catalogue.geometry import contains, self_crossings
from catalogue.pattern.piece import Piece
from catalogue.people import Client
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style
from catalogue.studio.suiting import suits
from tests.demo import demo_styles
from tests.survey.bodies import Body, ansur_rows, clients, heinz_rows
from tests.survey.options import options_drawn
from tests.survey.varied import children, varied

ROOT = Path(__file__).parents[2]

SMALLEST_INTAKE, LARGEST_INTAKE = 3.0, 130.0
"""mm. The side dart of a full bust is the largest; a dart of under 3 mm is not worth sewing (own judgement)."""

WIDEST_ANGLE = 1.0
"""Intake over length: wider than that a dart is no dart any more (own judgement)."""


@dataclass
class Report:
    """Counts of a survey: drafts made, those that are right, and by what the others fail."""

    drafted: int = 0
    right: int = 0
    seconds: float = 0.0
    faults: Counter[str] = field(default_factory=Counter)
    remarks: Counter[str] = field(default_factory=Counter)
    bodies: dict[str, list[str]] = field(default_factory=dict)

    def add(self, name: str, draft: Draft) -> None:
        wrong = sorted(set(faults(draft)))
        self.drafted += 1
        self.right += not wrong
        for fault in wrong:
            self.faults[fault] += 1
            self.bodies.setdefault(fault, []).append(name)
        self.remarks.update(remarks(draft))


def faults(draft: Draft) -> Iterator[str]:
    """What must not be: an error, a seam out of tolerance, a failed check, paper that can't be."""
    if draft.missing:
        yield f"missing {', '.join(draft.missing)}"
    for finding in draft.findings:
        if finding.is_error:
            yield f"error {finding.code} at line {finding.place.line if finding.place else 0}"
    for seam in draft.seams:
        if not seam.ok:
            yield f"seam {seam.first} to {seam.second}"
    for check in draft.checks:
        if not check.ok:
            yield f"check {check.text}"
    for piece in draft.pieces.values():
        if self_crossings(piece.outline):
            yield f"{piece.name} crosses itself"
        yield from dart_faults(piece)


def dart_faults(piece: Piece) -> Iterator[str]:
    for dart in piece.darts:
        name = f"dart {piece.name}.{dart.name}"
        first, second = (leg.distance(dart.apex) for leg in dart.legs)
        if abs(first - second) > 0.1:
            yield f"{name} has unequal legs"
        if not SMALLEST_INTAKE <= dart.intake <= LARGEST_INTAKE:
            yield f"{name} takes too little or too much"
        if dart.intake > WIDEST_ANGLE * first:
            yield f"{name} is too wide for its length"
        if not contains(piece.outline, dart.apex, 0.5):
            yield f"{name} ends outside"


def remarks(draft: Draft) -> Iterator[str]:
    """What the page tells without calling the draft wrong: warnings, notes, ease outside its range."""
    for finding in draft.findings:
        if not finding.is_error:
            yield f"{finding.code} at line {finding.place.line if finding.place else 0}: {finding.message[:60]}"
    for finished in draft.finished:
        if not finished.ok:
            yield f"ease of the {finished.name}"


def survey(style: Style, people: Iterable[Client], seed: int | None = None) -> Report:
    """The style drafted for each client, with a seed in options drawn for each."""
    report = Report()
    for number, client in enumerate(people):
        cut = style if seed is None else options_drawn(style, seed, number)
        began = time.perf_counter()
        draft = draft_style(cut, client, Settings())
        report.seconds += time.perf_counter() - began
        report.add(client.name, draft)
    return report


def people_asked(kind: str, file: Path | None, seed: int | None, most: int) -> list[Client]:
    """People of a kind: of the file, or of Heinz et al.; varied with a seed; children only so."""
    if kind == "child":
        return [] if seed is None else list(children(most // 2, seed))
    rows: list[Body] = list(ansur_rows(file)) if file else list(heinz_rows(kind))
    if seed is None:
        return list(clients(rows, kind))[:most] if file is None else list(clients(rows, kind))
    if file:  # Its waist is at the navel.
        rows = [{("navel_girth" if k == "waist_girth" else k): cm for k, cm in row.items()} for row in rows]
    wanted = len(rows) if file else most
    return list(varied([rows[i % len(rows)] for i in range(wanted)], kind, seed))


def main() -> None:
    parser = argparse.ArgumentParser(description="Draft the demo styles for the bodies of a survey.")
    parser.add_argument("--ansur", type=Path, help="a CSV file of the US Army survey of 2012")
    parser.add_argument("--kind", choices=("woman", "man", "child"), help="only these; whose file it is")
    parser.add_argument(
        "--vary", type=int, metavar="SEED", help="vary what was not measured, and draw options"
    )
    parser.add_argument("--most", type=int, default=400, help="people of each kind at most (children: half)")
    parser.add_argument("--style", help="only this style")
    asked = parser.parse_args()
    if asked.ansur and asked.kind not in ("woman", "man"):
        parser.error("say whose file it is: --kind woman or --kind man")
    drafted = right = 0
    for kind in [asked.kind] if asked.kind else ["woman", "man", "child"]:
        people = people_asked(kind, asked.ansur, asked.vary, asked.most)
        for style in demo_styles():
            if not people or not suits(style, people[0]) or (asked.style and style.slug != asked.style):
                continue
            report = survey(style, people, asked.vary)
            drafted, right = drafted + report.drafted, right + report.right
            print(
                f"{style.slug}, {people[0].kind}: {report.right} of {report.drafted} right, "
                f"{1000 * report.seconds / report.drafted:.1f} ms each"
            )
            for fault, count in report.faults.most_common():
                print(f"  {count:4} {fault}  ({', '.join(report.bodies[fault][:4])})")
            for remark, count in report.remarks.most_common():
                print(f"  {count:4} (remark) {remark}")
    print(f"{right} of {drafted} right")


if __name__ == "__main__":
    main()
