"""Every alteration on the demo blocks for varied bodies: `python -m tests.survey.alterations 200` prints a table.

Each block is drafted once for a body; every alteration that has its landmarks there is then carried out on it alone, by
the largest usual amount and by its limit, and every seam is walked again.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

from catalogue.drafting import words_blocks, words_checks
from catalogue.drafting.block_drafts import lay_out_blocks
from catalogue.drafting.choosing import take_choices
from catalogue.drafting.desk import Desk
from catalogue.drafting.drafter import allow_for_seams
from catalogue.drafting.fitting_plan import Correction, Plan
from catalogue.drafting.fittings import carry_out_fittings
from catalogue.drafting.landmarks import landmarked, missing
from catalogue.drafting.model import Step
from catalogue.drafting.steps import carry_out_steps, desk_for
from catalogue.findings import Place
from catalogue.geometry import self_crossings
from catalogue.handbook.alterations import DAY
from catalogue.people import Client
from catalogue.people.fittings import FittingLine
from catalogue.studio.alterations import Alteration, library
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style
from tests.drafting.people_and_styles import demo_style
from tests.survey.bodies import heinz_rows
from tests.survey.varied import varied

BLOCKS = ("bodice-block", "skirt-block", "trousers-block")
SEED = 13


@dataclass(slots=True)
class Row:
    """What became of one alteration at one amount: `refused` counts the reasons, `apart` seams that no longer match."""

    carried: int = 0
    refused: Counter[str] = field(default_factory=Counter)
    apart: Counter[str] = field(default_factory=Counter)
    crossing: int = 0


def bodies(count: int, seed: int = SEED) -> Iterator[Client]:
    """So many women of the survey, spread over it, made as unlike as people are."""
    rows = heinz_rows("woman")
    step = max(len(rows) // count, 1)
    yield from list(varied(rows, "woman", seed))[::step][:count]


def drafted(style: Style, client: Client) -> tuple[Desk, list[Step]]:
    """The desk after the last line of a block."""
    desk = desk_for(style, client)
    take_choices(style, client, desk)
    lay_out_blocks(style, client, desk)
    steps, _ = carry_out_steps(style, desk)
    return desk, steps


def walked(desk: Desk) -> dict[tuple[str, str], bool]:
    """Whether each seam matches, on the pieces as they lie."""
    words_blocks.ask_for_blocks(desk)
    allow_for_seams(desk, Settings())
    words_checks.walk_seams(desk)
    return {(seam.first, seam.second): seam.ok for seam in desk.trace.seams}


def has_landmarks(alteration: Alteration, style: Style, desk: Desk) -> bool:
    known = landmarked(desk.table.pieces, style.landmarks)
    return any(not step.follows and not missing(step.landmarks, known) for step in alteration.steps)


def tried(alteration: Alteration, amount: float, style: Style, desk: Desk, steps: list[Step]) -> Row:
    """One alteration on one drafted block."""
    before = walked(desk.twin())
    twin, row = desk.twin(), Row()
    line = FittingLine(DAY, style.slug, alteration.names[0], Place("survey", 1))
    each = Correction(line, alteration, amount, "both", False, frozenset({style.slug}))
    known = len(twin.messages.findings)
    done = carry_out_fittings(style, twin, Plan((each,)), list(steps))
    if not done:
        told = twin.messages.findings[known:]
        reason = told[0].message.partition("here: ")[2].partition(" (fitting")[0] if told else "no place"
        row.refused["".join(c for c in reason if not c.isdigit())] += 1
        return row
    row.carried += 1
    row.crossing += any(self_crossings(twin.table.pieces[name].outline) for name in done[0].pieces)
    for seam, ok in walked(twin).items():
        if not ok and before.get(seam, True):
            row.apart[" to ".join(seam)] += 1
    return row


def main(count: int) -> None:
    rows: dict[tuple[str, str, str], Row] = {}
    for client in bodies(count):
        for slug in BLOCKS:
            style = demo_style(slug)
            desk, steps = drafted(style, client)
            if any(f.is_error for f in desk.messages.findings):
                continue
            for alteration in library().values():
                if not has_landmarks(alteration, style, desk):
                    continue
                for what, amount in (("usual", alteration.usual[1]), ("limit", alteration.limit)):
                    made = tried(alteration, amount, style, desk, steps)
                    row = rows.setdefault((alteration.slug, slug, what), Row())
                    row.carried += made.carried
                    row.crossing += made.crossing
                    row.refused += made.refused
                    row.apart += made.apart
    print(
        "| alteration | block | amount | carried out | refused, with a message | self-crossing | seams not matching |"
    )
    print("|---|---|---|--:|--:|--:|--:|")
    for (alteration, slug, what), row in sorted(rows.items()):
        print(
            f"| {alteration} | {slug} | {what} | {row.carried} | {row.refused.total()} | {row.crossing} | "
            f"{row.apart.total()} |"
        )
    for (alteration, slug, what), row in sorted(rows.items()):
        for reason, n in row.refused.most_common(2):
            print(f"{alteration}, {slug}, {what}: refused {n} times: {reason}")
        for seam, n in row.apart.most_common(2):
            print(f"{alteration}, {slug}, {what}: {n} times apart: {seam}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
