"""Every alteration carried out on a plain bodice, skirt or pair of trousers, to show it before and after."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

from catalogue.drafting import draft_style
from catalogue.drafting.model import FittingDone
from catalogue.findings import Place
from catalogue.handbook.examples import neutral_client
from catalogue.people.fittings import FittingLine
from catalogue.studio.alterations import Alteration, library
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style

BODICE = """
new paper "Back"
nape     = start
back_neck = 7 cm right and 2 cm up from nape
back_tip = 19 cm right and 2.5 cm down from nape
back_arm = 23.5 cm right and 21 cm down from nape
back_waist_out = 21 cm right and 40 cm down from nape
cb_waist = 41 cm down from nape
back_pitch = 17.5 cm right and 13 cm down from nape
back_neckline = curve nape leaving right, back_neck
back_hole = curve back_tip leaving square to (line back_neck to back_tip), back_pitch, back_arm arriving right
piece back "Back", cut 2
  outline neck: nape to back_neck along back_neckline
          shoulder: back_neck to back_tip
          armhole: back_tip to back_arm along back_hole
          side: back_arm to back_waist_out
          waist: back_waist_out to cb_waist
          centre: cb_waist to nape
  grain along centre
  double notch armhole at back_pitch
dart waist_dart on back.waist, middle at halfway, intake 2.5 cm, length 15 cm, fold to centre
new paper "Front"
cf_neck  = 8 cm down from start
front_neck = 7 cm right from start
front_tip = 19 cm right and 5.5 cm down from start
front_arm = 24.5 cm right and 21 cm down from start
front_waist_out = 23 cm right and 43 cm down from start
cf_waist = 44 cm down from start
front_pitch = 17 cm right and 14 cm down from start
bust_point = 9 cm right and 26 cm down from start
front_neckline = curve cf_neck leaving right, front_neck arriving up
front_hole = curve front_tip leaving square to (line front_neck to front_tip), front_pitch, front_arm arriving right
piece front "Front", cut 1 on fold
  outline neck: cf_neck to front_neck along front_neckline
          shoulder: front_neck to front_tip
          armhole: front_tip to front_arm along front_hole
          side: front_arm to front_waist_out
          waist: front_waist_out to cf_waist
          centre: cf_waist to cf_neck, fold
  grain along centre
  notch armhole at front_pitch
  mark bust_point "bust point"
bust_foot = 6 cm along front.side from front_arm
bust_head = 2.5 cm right from bust_point
dart bust_dart on front.side, middle at bust_foot, intake 3 cm, point at bust_head, fold to down
waist_foot = below bust_point on front.waist
waist_head = 2.5 cm down from bust_point
dart waist_dart on front.waist, middle at waist_foot, intake 3 cm, point at waist_head, fold to centre
new paper "Sleeve"
cap_high = start
back_under = 16 cm left and 14 cm down from start
front_under = 16 cm right and 14 cm down from start
back_cap = 9.5 cm left and 7 cm down from start
front_cap = 9.5 cm right and 7.5 cm down from start
cap = curve back_under leaving right, back_cap, cap_high heading right, front_cap, front_under arriving right
piece sleeve "Sleeve", cut 2
  outline cap: back_under to front_under along cap
          front_seam: front_under to (12 cm right and 58 cm down from start)
          hem: (12 cm right and 58 cm down from start) to (12 cm left and 58 cm down from start)
          back_seam: (12 cm left and 58 cm down from start) to back_under
  grain down
  double notch cap at back_cap
  notch cap at cap_high
  notch cap at front_cap
level front.side and back.side at waist
"""

SKIRT = """
new paper "Back"
cb_waist = 1 cm down from start
cb_hem   = 60 cm down from start
back_hip = 25 cm right and 20 cm down from start
back_foot = 25 cm right and 60 cm down from start
back_waist_out = 22 cm right and 1 cm up from start
piece back "Skirt back", cut 2
  outline waist: cb_waist to back_waist_out
          side: back_waist_out to back_hip along (curve back_waist_out, back_hip arriving down) to back_foot
          hem: back_foot to cb_hem
          centre: cb_hem to cb_waist
  grain along centre
  notch side at back_hip
point hip_side at back_hip on back
dart waist_dart on back.waist, middle at halfway, intake 3 cm, length 12 cm, fold to centre
new paper "Front"
cf_waist = start
front_hip = 24 cm right and 20 cm down from start
front_foot = 24 cm right and 60 cm down from start
front_waist_out = 21 cm right and 1 cm up from start
piece front "Skirt front", cut 1 on fold
  outline waist: cf_waist to front_waist_out
          side: front_waist_out to front_hip along (curve front_waist_out, front_hip arriving down) to front_foot
          hem: front_foot to (60 cm down from start)
          centre: (60 cm down from start) to cf_waist, fold
  grain along centre
  notch side at front_hip
point hip_side at front_hip on front
dart waist_dart on front.waist, middle at halfway, intake 2 cm, length 9 cm, fold to centre
"""

TROUSERS = """
new paper "Back"
cb_waist = 5 cm right and 3 cm up from start
cb_hip   = 1 cm right and 19 cm down from start
back_fork = 11 cm left and 28 cm down from start
back_hip = 26 cm right and 20 cm down from start
back_waist_out = 25 cm right from start
back_knee_out = 19 cm right and 62 cm down from start
back_knee_in = 5 cm left and 62 cm down from start
back_foot = 17 cm right and 104 cm down from start
back_foot_in = 3 cm left and 104 cm down from start
back_leg = curve back_waist_out, back_hip heading down, back_knee_out arriving toward back_foot
back_inner = curve back_fork, back_knee_in arriving toward back_foot_in
back_seat = curve cb_waist leaving toward cb_hip, cb_hip, back_fork arriving left
piece back "Trousers back", cut 2
  outline waist: cb_waist to back_waist_out
          side: back_waist_out to back_knee_out along back_leg to back_foot
          hem: back_foot to back_foot_in
          inside: back_foot_in to back_knee_in to back_fork along back_inner
          crotch: back_fork to cb_waist along back_seat
  grain down
  notch crotch at cb_hip
point hip_side at back_hip on back
dart waist_dart on back.waist, middle at halfway, intake 2.5 cm, length 11 cm, fold to crotch
new paper "Front"
cf_waist = 1 cm right from start
cf_hip   = 19 cm down from start
front_fork = 5 cm left and 27 cm down from start
front_hip = 24 cm right and 20 cm down from start
front_waist_out = 22 cm right and 1 cm up from start
front_knee_out = 20 cm right and 62 cm down from start
front_knee_in = 1 cm left and 62 cm down from start
front_foot = 18 cm right and 104 cm down from start
front_foot_in = 1 cm right and 104 cm down from start
front_leg = curve front_waist_out, front_hip heading down, front_knee_out arriving toward front_foot
front_inner = curve front_fork, front_knee_in arriving toward front_foot_in
front_seat = curve cf_waist leaving toward cf_hip, cf_hip, front_fork arriving left
piece front "Trousers front", cut 2
  outline waist: cf_waist to front_waist_out
          side: front_waist_out to front_knee_out along front_leg to front_foot
          hem: front_foot to front_foot_in
          inside: front_foot_in to front_knee_in to front_fork along front_inner
          crotch: front_fork to cf_waist along front_seat
  grain down
  notch crotch at cf_hip
point hip_side at front_hip on front
dart waist_dart on front.waist, middle at halfway, intake 2 cm, length 9 cm, fold to crotch
level front.side and back.side at waist
level front.inside and back.inside at crotch
"""

DAY = datetime.date(2000, 1, 1)
"""A day for the fitting; it is shown nowhere."""


@dataclass(frozen=True, slots=True)
class AlterationExample:
    """An alteration, and how it was carried out on the sample; None where the sample has not what it needs."""

    alteration: Alteration
    done: FittingDone | None


@cache
def samples() -> dict[str, Style]:
    """The plain garments that alterations are shown on, by kind of garment."""
    texts = {"bodice": BODICE, "skirt": SKIRT, "trousers": TROUSERS}
    return {
        kind: style_from(
            f"---\ntitle: Sample\ngarment: {kind}\n---\n\n# Draft\n\n```draft{text}```\n".encode(),
            f"sample-{kind}",
            f"handbook/sample-{kind}.md",
        )
        for kind, text in texts.items()
    }


def shown(alteration: Alteration) -> AlterationExample:
    """The alteration carried out by its largest usual amount on the first sample that has its landmarks."""
    for style in samples().values():
        text = f"{alteration.names[0]} {alteration.usual[1]:g} mm"
        client = replace(
            neutral_client(), fittings=(FittingLine(DAY, style.slug, text, Place("handbook", 1)),)
        )
        done = draft_style(style, client, Settings(alterations=(alteration,))).fittings
        if done:
            return AlterationExample(alteration, done[0])
    return AlterationExample(alteration, None)


@cache
def alteration_examples() -> Sequence[AlterationExample]:
    """Every alteration of the catalogue's own library, carried out."""
    return tuple(shown(alteration) for alteration in library().values())
