"""Entries: conditions, as they stand after when, check and note."""

from catalogue.handbook.entry import Entry

_GROUP = "Conditions"

ENTRIES = (
    Entry(
        "equal",
        _GROUP,
        "Two figures are equal",
        "A = B, or A = B within LENGTH",
        "Equal means to within a twentieth of a millimetre, unless within allows more.",
        """
side  = line from start down 18 cm
other = line from (2 cm right from start) to (4 cm right and 18 cm down from start)
check length of side = length of other within 2 mm, "the side seams match"
""",
        also=("all_of",),
        called="same as equals",
    ),
    Entry(
        "compare",
        _GROUP,
        "More or less",
        "A is more than B; less than; at least; at most",
        "At least and at most include the figure itself. The signs >, <, ≥ and ≤ can be used too.",
        """
opening = line from start right head_girth / 2 + 1 cm
check length of opening is at least head_girth / 2, "the head goes through"
""",
        called="greater less than bigger smaller at least at most",
    ),
    Entry(
        "in_range",
        _GROUP,
        "Between two figures",
        "A between B and C",
        "Both ends are included. Several conditions are joined by and.",
        """
shoulder = line from start right shoulder_length
check length of shoulder between 9 cm and 18 cm, "the shoulder is neither short nor long"
""",
        called="between limits from to",
    ),
    Entry(
        "place_is",
        _GROUP,
        "Where a point lies",
        "POINT level with POINT; in line with; above, below, left of, right of POINT or LINE; is on LINE; by LENGTH",
        "Level is side by side, in line is one under the other. By says how far, within how exactly; else it is to a "
        "twentieth of a millimetre. A = B within LENGTH says that two points are one.",
        """
neck = 7 cm right and 2 cm up from start
tip  = 18 cm right and 3 cm down from start
hem  = line from (40 cm down from start) right 20 cm
check tip below neck by 5 cm, "the shoulder falls by 5 cm"
check tip above hem and neck left of tip, "the shoulder lies above the hem"
""",
        also=("landmark",),
        called="above below left right level condition compare places",
    ),
    Entry(
        "is_word",
        _GROUP,
        "A choice was taken",
        "CHOICE is WORD, or CHOICE is not WORD",
        "For a choice of words from the heading of the style file.",
        """
when neckline is square
  corner = 8 cm down from start
  edge   = line from corner right 7 cm
otherwise
  corner = 8 cm down and 7 cm right from start
  edge   = curve start leaving down, corner arriving right
""",
        choices=("neckline: round (round, square)",),
        called="choice option chosen yes no",
    ),
)
