"""Which alterations a garment can be given at a fitting."""

from __future__ import annotations

from collections.abc import Sequence

from catalogue.drafting.fittings import steps_for
from catalogue.drafting.landmarks import landmarks_of
from catalogue.drafting.model import Draft
from catalogue.drafting.once import once
from catalogue.drafting.usual_ease import kind_of
from catalogue.studio.alterations import TURNS, Alteration, known_alterations


@once(1)  # the page and the fitting sheet of a draft ask one after the other
def possible_alterations(draft: Draft, own: Sequence[Alteration] = ()) -> list[Alteration]:
    """The alterations that can be made on this garment or on what it is cut from, in the trade's order.

    Args:
        own: the studio's own alterations.
    """
    # Where the two halves differ, pieces are called right and left; each half alone has the names of the style.
    whole = draft.halves[0] if draft.halves else draft
    drafts = [whole, *(used.draft for used in whole.blocks)]
    drafts += [below.draft for used in drafts[1:] for below in used.blocks]
    known = [landmarks_of(each) for each in drafts]
    kind = kind_of(draft.style.garment)
    fit = [
        each
        for each in known_alterations(own).values()
        if (not each.garments or kind in each.garments) and any(steps_for(each, pieces) for pieces in known)
    ]
    return sorted(fit, key=lambda each: TURNS.index(each.turn))
