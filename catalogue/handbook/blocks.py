"""Entries: taking pieces from a block, and giving a part the lengths that it must meet."""

from catalogue.handbook.entry import Entry

_GROUP = "Blocks"

_SKIRT = """---
title: Skirt block
block: yes
choices:
  hip ease: 4 cm (2 cm to 10 cm)
---

# Front

```draft
width    = hip_girth / 4 + hip_ease / 4
waist    = start
centre   = 24 cm down from waist
side     = width right from centre
side_top = width right from waist
hip_line = line (20 cm down from waist) to (20 cm down from side_top)
piece front "Skirt front", cut 1 on fold
  outline middle: waist to centre, fold
          hem: centre to side
          side: side to side_top
          top: side_top to waist
  draw hip_line as guide line "hip line"
```
"""

_BAND = """---
title: Band
block: yes
receives:
  edge length: 30 cm (10 cm to 150 cm) - the edge that the band is sewn to
---

# Band

```draft
end     = edge_length right from start
end_low = 4 cm down from end
low     = 4 cm down from start
piece band, cut 2
  outline left: low to start
          top: start to end
          right: end to end_low
          edge: end_low to low
```
"""

ENTRIES = (
    Entry(
        "take",
        _GROUP,
        "Take pieces from a block",
        'take PIECE, PIECE from BLOCK, or take PIECE as NAME "TITLE", cut N of CLOTH from BLOCK',
        "Lays pieces of a block on the table, with all that is drawn on them; BLOCK is its name under cut from: at the "
        "top of the file. What is drawn next is on the sheet of the first piece. BLOCK.NAME is a value, a point or a "
        "line that the block drafts; there is no other way to its names.",
        """
take front as upper "Yoke" from skirt

low       = 8 cm down from upper.waist
yoke_line = line low to (8 cm down from upper.side_top)
cut upper along yoke_line into upper "Yoke" with upper.waist, lower "Skirt"
check skirt.width is at least hip_girth / 4
""",
        also=("take_piece",),
        called="block sloper foundation master pattern copy trace off base import",
        cut_from=("skirt: skirt-block, hip ease = 6 cm",),
        blocks=(("skirt-block", _SKIRT),),
    ),
    Entry(
        "take_given",
        _GROUP,
        "Give a part its lengths",
        "take PIECE from BLOCK with NAME = VALUE and NAME = VALUE",
        "A part, such as a collar, lists under receives: in its file what it must be given; it is drafted with these "
        "values where it is taken. A part that is taken twice with different values needs two names there.",
        """
edge = 2 * (waist_girth / 4 + 2 cm)

take band as waistband from band with edge_length = edge
""",
        also=("given_value",),
        called="part collar cuff pocket parameters pass to fit",
        cut_from=("band: band",),
        blocks=(("band", _BAND),),
    ),
)
