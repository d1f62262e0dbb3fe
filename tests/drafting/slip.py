"""A slip to cut styles from, and styles cut from it."""

from catalogue.drafting.drafter import draft_style
from catalogue.drafting.model import Draft
from catalogue.studio.joining import joined
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style
from tests.drafting.people_and_styles import person

SLIP = """
choices:
  hip ease: 4 cm (2 cm to 20 cm) - room
  closing: zip (zip, laces)
"""

SLIP_DRAFT = """
quarter   = hip_girth / 4 + hip_ease / 4
top       = start
centre_hem = 60 cm down from top
side_top  = quarter right from top
side_hem  = quarter right from centre_hem
hip_mark  = 20 cm down from side_top
hip_line  = line (20 cm down from top) to hip_mark
piece front "Slip front", cut 1 on fold
  outline centre: top to centre_hem, fold
          hem: centre_hem to side_hem, allow 4 cm
          side: side_hem to side_top
          waist: side_top to top
  notch side at hip_mark
dart front.waist, middle at halfway, intake 2 cm, length 9 cm, fold to centre
new paper "Back"
piece back, cut 1 on fold
  outline centre: top to centre_hem, fold
          hem: centre_hem to side_hem
          side: side_hem to side_top
          waist: side_top to top
  notch side at hip_mark
sew front.side to back.side
check length of front.side = length of back.side, "sides are one length"
check quarter is more than 10 cm, "wide enough"
finished hip girth measured at front.hip_mark = 4 * quarter, ease at least 2 cm
when closing is laces
  note "Lace it"
"""

WEARER = person(hip_girth="96 cm", waist_girth="70 cm")


def style(slug: str, front: str = "", *blocks: str) -> Style:
    body = "\n".join(f"```draft\n{block.strip()}\n```\n" for block in blocks)
    text = f"---\ntitle: {slug.capitalize()}\n{front.strip()}\n---\n\n# Draft\n\n{body}"
    return style_from(text.encode(), slug, f"styles/{slug}.md")


def cut(
    front: str, *blocks: str, client=WEARER, others: tuple[Style, ...] = (), slug: str = "dress"
) -> Draft:
    """A style cut from the slip, and perhaps others, drafted."""
    styles = joined([style(slug, front, *blocks), style("slip", SLIP, SLIP_DRAFT), *others])
    return draft_style(styles[0], client, Settings())


FROM_SLIP = "cut from:\n  slip: slip\n"


def errors(draft: Draft) -> list[str]:
    return [f.message for f in draft.findings if f.is_error]


BAND = style(
    "band",
    "receives:\n  edge length: 30 cm (10 cm to 200 cm) - the edge it is sewn to\n  depth: 3 cm\nblock: yes\n",
    "end = edge_length right from start\nend_low = depth down from end\nlow = depth down from start\n"
    "piece band, cut 2\n  outline seam: low to start\n  outline top: start to end\n  outline other: end to end_low\n"
    "  outline bottom: end_low to low\n",
)
FROM_BOTH = "cut from:\n  slip: slip\n  band: band\n"
WITH_BAND = (
    "take front from slip\ntake band from band with edge_length = 2 * length of front.waist and depth = 4 cm"
)
