"""Entries: lengths, numbers and angles, the arithmetic with them, and what is measured on the paper."""

from catalogue.handbook.entry import Entry

_GROUP = "Numbers"

ENTRIES = (
    Entry(
        "length",
        _GROUP,
        "A length",
        "12 cm, 8 mm, 4 3/4 in, 2½ in, 1.5 m",
        "A number with its unit: mm, cm, m, in or ft, and the inch mark after a number. Inches and centimetres may "
        "stand in one formula.",
        """
ease = 1 1/2 in
drop = 4.5 cm + ease
hip  = drop down from start
""",
        called="cm inch mm unit measure size",
    ),
    Entry(
        "number",
        _GROUP,
        "A number",
        "3, 2.5, 1/3, 1 1/2",
        "A plain number counts or multiplies. It is never a length by itself: 3 is refused where 3 cm is needed.",
        """
gores = 6
gore  = hip_girth / gores
edge  = line from start right gore
""",
        called="fraction figure count",
    ),
    Entry(
        "percent",
        _GROUP,
        "A share",
        "15%, 7.5 per cent",
        "The share of a hundred: 15% of a length is 15% * LENGTH.",
        """
shrinkage = 4%
cut_long  = 60 cm * (1 + shrinkage)
edge      = line from start down cut_long
""",
        called="per cent share proportion",
    ),
    Entry(
        "angle",
        _GROUP,
        "An angle",
        "12 degrees, 7.5°",
        "Used where something turns or leans.",
        """
slope = 20 degrees
tip   = 12 cm right from start
lower = tip turned slope about start
""",
        called="degrees slope tilt",
    ),
    Entry(
        "add",
        _GROUP,
        "Add and take away",
        "A + B, A - B",
        "Only like goes with like: a length with a length, an angle with an angle.",
        """
half_waist = waist_girth / 2 + 1 cm
skirt_side = half_waist - 3 cm
edge       = line from start right skirt_side
""",
        also=("subtract",),
        called="plus minus subtract sum difference",
    ),
    Entry(
        "multiply",
        _GROUP,
        "Times and parts",
        "A * B, A / B",
        "The signs × and ÷ can be used too. Times and divided go before plus and minus; brackets change that.",
        """
panel = (hip_girth + 6 cm) / 4
flare = panel * 1.5
hem   = line from start right flare
""",
        also=("divide",),
        called="times divide divided by product fraction",
    ),
    Entry(
        "negative",
        _GROUP,
        "Less than nothing",
        "-A",
        "A negative length points the other way: -2 cm down is 2 cm up.",
        """
lift = -2 cm
tip  = 10 cm right and lift down from start
""",
        called="minus sign opposite",
    ),
    Entry(
        "half",
        _GROUP,
        "Half, a third, a quarter",
        "half of A, third of A, quarter of A",
        "The same as dividing by two, three or four.",
        """
front = quarter of hip_girth
taken = third of (hip_girth - waist_girth)
edge  = line from start right front - taken
""",
        also=("third", "quarter"),
        called="third quarter halve divide by two fraction",
    ),
    Entry(
        "smaller",
        _GROUP,
        "The smaller or the larger",
        "smaller of A and B, larger of A and B",
        "Keeps a figure within bounds: larger of A and 0 cm is never less than nothing.",
        """
intake = larger of (hip_girth / 4 - waist_girth / 4) and 0 cm
depth  = smaller of intake and 3 cm
mouth  = line from start right depth
""",
        also=("larger",),
        called="minimum maximum larger greater least most min max",
    ),
    Entry(
        "root",
        _GROUP,
        "Square root",
        "square root of A",
        "Of an area it is the side of a square of that area; of a number, a number. The third side of a square "
        "corner is found with it.",
        """
across = 12 cm
rise   = 5 cm
slant  = square root of (across * across + rise * rise)
edge   = line from start right slant
""",
        called="square root sqrt pythagoras diagonal",
    ),
    Entry(
        "either",
        _GROUP,
        "Whichever was measured",
        "either A or B",
        "The first of some body measurements that the client's file has. A style that says this can be drafted when "
        "any one of them was taken.",
        """
girth = either bust_girth or chest_girth
edge  = line from start right girth / 4
""",
        called="or one of two fallback instead",
    ),
    Entry(
        "rounded",
        _GROUP,
        "Round a figure",
        "rounded A to B",
        "To the nearest whole number of B, as 1 cm or 1/4 in.",
        """
tuck = rounded (waist_girth / 17) to 5 mm
edge = line from start right tuck
""",
        called="round up nearest whole",
    ),
    Entry(
        "share_of",
        _GROUP,
        "A part of a length",
        "2/5 of VALUE, 15% of VALUE",
        "The part comes first, as a fraction or a share of a hundred. 2/5 of a + 1 cm is 1 cm more than the part of a.",
        """
front = 2/5 of waist_girth
edge  = line from start right front
""",
        also=("fraction",),
        called="fraction third half quarter percent part of way",
    ),
    Entry(
        "length_of",
        _GROUP,
        "Measure a line",
        "length of LINE",
        "By the tape, along the curve. An edge of a piece is measured as it is sewn: darts and pleats closed.",
        """
shoulder = 12 cm right and 4 cm down from start
armhole  = curve start leaving down, shoulder arriving right
around   = length of armhole
""",
        called="measure how long tape distance along",
    ),
    Entry(
        "distance",
        _GROUP,
        "Measure between points",
        "distance A to B",
        "Straight, as a ruler lies.",
        """
neck     = 7 cm right and 2 cm up from start
shoulder = 18 cm right and 2 cm down from start
seam     = distance neck to shoulder
""",
        called="measure between points straight how far",
    ),
    Entry(
        "angle_of",
        _GROUP,
        "The slope of a line",
        "angle of LINE",
        "How far the line falls from level, from its first end to its last; negative when it rises.",
        """
tip      = 12 cm right and 4 cm down from start
shoulder = line start to tip
slope    = angle of shoulder
""",
        called="slope degrees tilt measure",
    ),
    Entry(
        "table",
        "Tables",
        "A figure by size",
        "by A: up to B VALUE, up to C VALUE, above VALUE; or by CHOICE: WORD VALUE, WORD VALUE",
        "The first row that fits is taken, and up to includes its own figure. With a choice of words a row begins "
        "with the word. The last row may be otherwise.",
        """
intake = by bust_girth: up to 35 in 1 in, up to 40 in 1 1/2 in, above 2 in
depth  = by pocket: patch 14 cm, welt 11 cm, otherwise 16 cm
mouth  = line from start right intake
side   = line from start down depth
""",
        also=("row_up_to", "row_above", "row_word", "row_otherwise"),
        choices=("pocket: patch (patch, welt, seam)",),
        called="chart steps up to by size scale",
    ),
    Entry(
        "graded",
        "Tables",
        "A figure that grows with the size",
        "graded by A: at B VALUE, at C VALUE",
        "Between two rows the figure grows in proportion. Below the first row and above the last it stays.",
        """
ease = graded by hip_girth: at 85 cm 3 cm, at 105 cm 5 cm, at 140 cm 8 cm
edge = line from start right ease
""",
        also=("grade",),
        called="grade grading rule sliding scale between sizes",
    ),
)
