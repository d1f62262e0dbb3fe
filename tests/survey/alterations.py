"""Every alteration on the demo styles for varied bodies: `python -m tests.survey.alterations 40` prints tables.

So many women, men and children of the survey are taken, varied as people are, and every style that is meant for them.
Each alteration that has its landmarks on a style, or on a block that the style is cut from, is carried out on it alone,
by the largest usual amount and by its limit, and every seam is walked again. `--style NAME` takes one style,
`--each 2` two of them for each person, in turn, so that many bodies can be tried.
"""

from __future__ import annotations

import argparse
import time
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace

from catalogue.drafting import words_blocks, words_checks
from catalogue.drafting.block_drafts import BLOCK_DRAFTS, lay_out_blocks
from catalogue.drafting.blocks import OnHand
from catalogue.drafting.choosing import take_choices
from catalogue.drafting.desk import Desk
from catalogue.drafting.drafter import allow_for_seams, draft_style
from catalogue.drafting.fitting_plan import NO_FITTINGS, NOT_ALTERED, Correction, Plan
from catalogue.drafting.fittings import carry_out_fittings, steps_for
from catalogue.drafting.landmarks import landmarked
from catalogue.drafting.model import Step
from catalogue.drafting.steps import carry_out_steps, desk_for
from catalogue.findings import Finding, Place
from catalogue.geometry import self_crossings
from catalogue.handbook.alterations import DAY
from catalogue.people import Client
from catalogue.people.fittings import FittingLine
from catalogue.studio.alterations import Alteration, library
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style
from catalogue.studio.suiting import suits
from tests.survey.bodies import heinz_rows
from tests.survey.drafting import demo_styles
from tests.survey.varied import children, varied

SEED = 13


@dataclass(slots=True)
class Row:
    """What became of one alteration at one amount.

    Attributes:
        carried: drafts with it. refused: drafts without it, by the reason of the message.
        failing: drafts in which lines of the style fail after it, by the message.
        apart: seams that matched and no longer do. crossing: pieces whose outline crosses itself.
    """

    carried: int = 0
    refused: Counter[str] = field(default_factory=Counter)
    failing: Counter[str] = field(default_factory=Counter)
    apart: Counter[str] = field(default_factory=Counter)
    crossing: Counter[str] = field(default_factory=Counter)

    def add(self, other: Row) -> None:
        self.carried += other.carried
        for name in ("refused", "failing", "apart", "crossing"):
            getattr(self, name).update(getattr(other, name))


def people(count: int, seed: int = SEED) -> Iterator[Client]:
    """So many women, men and children in turn, spread over their survey and made as unlike as people are."""

    def spread(kind: str) -> list[Client]:
        rows = heinz_rows(kind)
        step = max(len(rows) // count, 1)
        return list(varied(rows, kind, seed))[::step][:count]

    for three in zip(spread("woman"), spread("man"), children(count, seed), strict=True):
        yield from three


@dataclass(frozen=True, slots=True)
class Made:
    """A style after its last line, and what is wrong with it: the seams apart, errors, pieces that cross themselves."""

    desk: Desk
    steps: list[Step]
    apart: frozenset[str]
    errors: Counter[str]
    crossing: frozenset[str]


def drafted(style: Style, client: Client, plan: Plan = NO_FITTINGS) -> tuple[Desk, list[Step]]:
    """The desk after the last line of a style, whose blocks have had their fittings."""
    desk = desk_for(style, client)
    take_choices(style, client, desk)
    lay_out_blocks(style, client, desk, plan)
    steps, _ = carry_out_steps(style, desk)
    return desk, steps


def looked_at(desk: Desk, steps: list[Step]) -> Made:
    """The pieces as they lie, with every seam walked; the desk stays as it is."""
    twin = desk.twin()
    words_blocks.ask_for_blocks(twin)
    allow_for_seams(twin, Settings())
    words_checks.walk_seams(twin)
    return Made(
        desk,
        steps,
        frozenset(f"{seam.first} to {seam.second}" for seam in twin.trace.seams if not seam.ok),
        Counter(_plain(f.message) for f in twin.messages.findings if f.is_error),
        frozenset(name for name, piece in twin.table.pieces.items() if self_crossings(piece.outline)),
    )


def _plain(words: str) -> str:
    """Words without their figures, so that they can be counted."""
    return "".join(c for c in words if not c.isdigit())


def blocks_used(desk: Desk) -> Iterator[OnHand]:
    return (used for used in desk.blocks.on_hand.values() if used.drafted is not None)


def can_be_made(alteration: Alteration, style: Style, desk: Desk) -> bool:
    """Whether an alteration has its landmarks on the pieces of a style."""
    return bool(steps_for(alteration, landmarked(desk.table.pieces, style.landmarks)))


def can_be_made_below(alteration: Alteration, desk: Desk) -> bool:
    """Whether it has them on a block that was used, or on a block of that."""

    waiting = [used.drafted.draft for used in blocks_used(desk) if used.drafted is not None]
    while waiting:
        draft = waiting.pop()
        if steps_for(alteration, landmarked(draft.pieces, draft.style.landmarks)):
            return True
        waiting.extend(used.draft for used in draft.blocks)
    return False


def tried(alteration: Alteration, amount: float, style: Style, client: Client, before: Made) -> Row | None:
    """One alteration on one style; None where it has not the landmarks."""
    line = FittingLine(DAY, style.slug, f"{alteration.names[0]} {amount:g} mm", Place("survey", 1))
    family = frozenset({style.slug, *(block.slug for block in style.chain)})
    plan = Plan((Correction(line, alteration, amount, "both", not alteration.on_the_body, family),))
    if can_be_made_below(alteration, before.desk):
        desk, steps = drafted(style, client, plan)
    elif can_be_made(alteration, style, before.desk):
        desk, steps = before.desk.twin(), list(before.steps)
    else:
        return None
    row = Row()
    here = carry_out_fittings(style, desk, plan, steps)
    below = [f for used in blocks_used(desk) if used.drafted for f in used.drafted.draft.fittings]
    if not here and not below:
        row.refused[_reason(desk.messages.findings)] += 1
        return row
    after = looked_at(desk, steps)
    if after.errors - before.errors:
        # As a page does, the draft goes without it, or has it on the garment's own pieces.
        draft = draft_style(style, replace(client, fittings=(line,)), Settings())
        if draft.unaltered:
            row.refused[_reason(draft.findings)] += 1
            return row
        after = Made(
            desk,
            steps,
            frozenset(f"{seam.first} to {seam.second}" for seam in draft.seams if not seam.ok),
            Counter(_plain(f.message) for f in draft.findings if f.is_error),
            frozenset(name for name, piece in draft.pieces.items() if self_crossings(piece.outline)),
        )
    row.carried += 1
    row.apart.update(after.apart - before.apart)
    row.failing.update((after.errors - before.errors).keys())
    row.crossing.update(after.crossing - before.crossing)
    return row


def _reason(findings: Iterable[Finding]) -> str:
    told = next((f.message for f in findings if f.code == NOT_ALTERED), "without a message")
    why = told.partition("here: ")[2] or told.partition("follow it: ")[2] or told
    return _plain(why.partition(" (fitting")[0])


def main() -> None:
    parser = argparse.ArgumentParser(description="Carry out every alteration on the demo styles.")
    parser.add_argument("people", type=int, nargs="?", default=40, help="of each kind")
    parser.add_argument("--style", action="append", help="only this style")
    parser.add_argument("--alteration", action="append", help="only this alteration")
    parser.add_argument("--minutes", type=float, default=600.0, help="take nobody else after so many")
    parser.add_argument(
        "--each", type=int, help="styles tried for each person, in turn (default: all that suit)"
    )
    asked = parser.parse_args()
    rows: dict[tuple[str, str, str], Row] = {}
    styles = [s for s in demo_styles() if not asked.style or s.slug in asked.style]
    began, bodies, drafts = time.process_time(), Counter[str](), 0
    ends = time.monotonic() + 60 * asked.minutes
    for client in people(asked.people):
        if time.monotonic() > ends:
            break
        suited = [style for style in styles if suits(style, client) and not style.receives]
        first = bodies[client.kind] * (asked.each or 0) % max(len(suited), 1)
        bodies[client.kind] += 1
        for style in (suited[first:] + suited[:first])[: asked.each]:
            before = looked_at(*drafted(style, client))
            drafts += 1
            for alteration in library().values():
                if asked.alteration and alteration.slug not in asked.alteration:
                    continue
                for what, amount in (("usual", alteration.usual[1]), ("limit", alteration.limit)):
                    made = tried(alteration, amount, style, client, before)
                    if made is not None:
                        rows.setdefault((alteration.slug, style.slug, what), Row()).add(made)
        BLOCK_DRAFTS.clear()
    print(f"{', '.join(f'{n} {kind}' for kind, n in bodies.items())}; {drafts} drafts;", end=" ")
    print(f"{time.process_time() - began:.0f} s of a processor")
    report(rows)


def report(rows: dict[tuple[str, str, str], Row]) -> None:
    """The tables: by alteration over all styles, then every style where something is not right."""
    total = Row()
    for row in rows.values():
        total.add(row)
    print(
        f"{total.carried} carried out, {total.refused.total()} refused with a message, {total.apart.total()} seams "
        f"apart, {total.failing.total()} failing lines, {total.crossing.total()} outlines crossing themselves"
    )
    print("| alteration | styles | carried out | refused | failing | crossing | seams apart: usual | limit |")
    print("|---|--:|--:|--:|--:|--:|--:|--:|")
    for slug in dict.fromkeys(alteration for alteration, _, _ in sorted(rows)):
        both = {what: Row() for what in ("usual", "limit")}
        for (alteration, _, what), row in rows.items():
            if alteration == slug:
                both[what].add(row)
        every = Row()
        for row in both.values():
            every.add(row)
        styles = len({style for alteration, style, _ in rows if alteration == slug})
        print(
            f"| {slug} | {styles} | {every.carried} | {every.refused.total()} | {every.failing.total()} | "
            f"{every.crossing.total()} | {both['usual'].apart.total()} | {both['limit'].apart.total()} |"
        )
    for key, row in sorted(rows.items()):
        for name in ("refused", "failing", "crossing", "apart"):
            for reason, n in getattr(row, name).most_common(4):
                print(f"{', '.join(key)}: {name} {n} of {row.carried + row.refused.total()}: {reason}")


if __name__ == "__main__":
    main()
