"""Entries: seam allowances, seams that are walked, finished measurements and a style's own checks."""

from catalogue.handbook.entry import Entry

_GROUP = "Seams and checks"

_TWO = """
back_hem   = 30 cm down from start
back_side  = 18 cm right from start
back_foot  = 20 cm right from back_hem
piece back, cut 1 on fold
  outline centre: back_hem to start, fold
          waist: start to back_side
          side: back_side to back_foot
          hem: back_foot to back_hem
front_top  = 32 cm right from start
front_hem  = 30 cm down from front_top
front_side = 19 cm right from front_top
front_foot = 21 cm right from front_hem
piece front, cut 1 on fold
  outline centre: front_hem to front_top, fold
          waist: front_top to front_side
          side: front_side to front_foot
          hem: front_foot to front_hem
"""

_PAIR = """
centre_hem = 40 cm down from start
side_waist = 18 cm left from start
side_hem   = 20 cm left from centre_hem
piece back, cut 2
  outline centre: start to centre_hem
          hem: centre_hem to side_hem
          side: side_hem to side_waist
          waist: side_waist to start
"""

ENTRIES = (
    Entry(
        "allow",
        _GROUP,
        "Seam allowances",
        "allow LENGTH, EDGE LENGTH, PIECE.EDGE LENGTH",
        "The first length is for every edge not named; an edge's name stands for that edge of every piece. Edges on "
        "the fold get none. Mitred, squared or turned up may follow a length and says how its corners are cut: a hem "
        "is turned up, the rest is mitred.",
        _TWO
        + """
allow 1.5 cm, hem 4 cm, front.waist 1 cm
""",
        also=("allow_clause",),
        called="seam allowance turning hem inlay",
    ),
    Entry(
        "sew",
        _GROUP,
        "A seam, walked",
        "sew PIECE.EDGE to PIECE.EDGE; after a comma ease LENGTH, ease LENGTH to LENGTH, gathered, within LENGTH, "
        "smooth within ANGLE, or starting at EDGE",
        "The two edges are measured as they are sewn, and the page says when they do not match. Several edges on one "
        "side are joined by and. Ease is what the first side has more. Notches are paired in order and must meet; "
        "smooth asks that the edges beside the seam run on across it, starting at tells where both sides begin.",
        _TWO
        + """
sew front.side to back.side, within 2 mm, smooth within 9 degrees, starting at waist
sew front.waist to back.waist, ease 0 cm to 2 cm
""",
        also=(
            "seam_side",
            "sew_ease",
            "sew_ease_range",
            "sew_gather",
            "sew_within",
            "sew_smooth",
            "sew_start",
        ),
        called="seam join stitch match walk ease gather",
    ),
    Entry(
        "both_halves",
        _GROUP,
        "An edge on the fold, sewn whole",
        "sew both halves of PIECE.EDGE to PIECE.EDGE",
        "Only half of a piece on the fold is drawn. Where it is sewn to one that is drawn whole, both halves of counts "
        "its edge from one end over the fold to the other.",
        _TWO
        + """
band_left  = 5 cm up from start
band_right = 36 cm right from band_left
band_top   = 4 cm up from band_right
band_end   = 4 cm up from band_left
piece band, cut 1
  outline seam: band_right to band_left
          left_end: band_left to band_end
          top: band_end to band_top
          right_end: band_top to band_right

sew both halves of back.waist to band.seam
""",
        called="fold whole edge double",
    ),
    Entry(
        "sew_halves",
        _GROUP,
        "A centre seam, left to right",
        "sew PIECE.EDGE left to right; several edges in a row are joined by and; after a comma smooth within ANGLE",
        "Of a piece that is cut as a pair the left one is sewn to the right one: a centre back seam, or the fork of "
        "trousers as sew front.fork and back.fork left to right. Both are of one length; the page says how neck, waist "
        "or hem run on across the seam.",
        _PAIR
        + """
sew back.centre left to right, smooth within 2 degrees
""",
        called="centre seam left to right fork crotch join halves",
    ),
    Entry(
        "edge_part",
        _GROUP,
        "Part of an edge, sewn",
        "sew PIECE.EDGE from POINT to POINT to PIECE.EDGE from POINT to POINT; or LENGTH of PIECE.EDGE from EDGE",
        "Both sides begin at the point that is named first, such as a notch. LENGTH of is measured as sewn, "
        "from the end "
        "of the edge that lies at EDGE.",
        _TWO
        + """
sew 12 cm of front.side from hem to 12 cm of back.side from hem
slit_back  = 12 cm along back.side from back_side
slit_front = 12 cm along front.side from front_side
sew front.side from front_side to slit_front to back.side from back_side to slit_back, within 2 mm
""",
        also=("edge_length",),
        called="part of a seam from notch to notch section",
    ),
    Entry(
        "zip_in",
        _GROUP,
        "A zip in a seam",
        "zip LENGTH in PIECE.EDGE from EDGE; PIECE.EDGE and PIECE.EDGE for a side seam",
        "A notch and a mark show where the zip ends, and the page says whether the zip among the notions is "
        "long enough "
        "for it. From EDGE is the end of the seam where it opens. In a skirt it reaches to the fullest part of the "
        "hip; a shorter one strains at its end.",
        _PAIR
        + """
zip 18 cm in back.centre from waist
""",
        notions="20 cm zip",
        called="zipper zip fastener opening seam",
    ),
    Entry(
        "finished",
        _GROUP,
        "A finished measurement",
        "finished WHAT measured at LEVEL, finished WHAT measured along PIECE.EDGE, or finished WHAT = LENGTH",
        "What the garment measures when it is sewn, for the page. It is best measured off the pieces; a formula after "
        "it is then a check, which may differ by 1/4 in all round. A formula alone is not checked.",
        _TWO
        + """
sew front.side to back.side
finished waist girth measured at front.waist = 74 cm
finished skirt length = length of back.centre
""",
        called="finished size ease garment measurement",
    ),
    Entry(
        "measured_at",
        _GROUP,
        "A girth measured off the pieces",
        "finished WHAT measured at PIECE.POINT, at POINT on PIECE, at a line, or at PIECE.EDGE; more after and",
        "The tape goes round at that level, square to the grain or along the line or edge, through each seam to the "
        "next piece. Darts are closed, pleats folded and both halves counted; a sleeve or a leg is measured once "
        "round. At an opening it ends at a line named as the centre. Levels joined by and are added up.",
        _TWO
        + """
sew front.side to back.side
finished waist girth measured at front.waist
finished girth at the hem measured at back.hem
""",
        called="girth bust waist hip level round",
    ),
    Entry(
        "level_at",
        _GROUP,
        "A girth so far below an edge",
        "finished WHAT measured at LENGTH below PIECE.EDGE",
        "The level runs parallel to the edge, as the hip of a round skirt does to its waist.",
        _TWO
        + """
sew front.side to back.side
finished hip girth measured at 20 cm below front.waist, body 76 cm
""",
        called="girth level below",
    ),
    Entry(
        "finish_overlap",
        _GROUP,
        "What laps over at an opening",
        "finished WHAT measured at LEVEL, overlap LENGTH",
        "It is taken off, where no line on the piece is named as the centre.",
        _TWO
        + """
sew front.side to back.side
finished waist girth measured at front.waist, overlap 2 cm
""",
        called="wrap button stand lap opening",
    ),
    Entry(
        "measured_along",
        _GROUP,
        "A length measured off the pieces",
        "finished WHAT measured along PIECE.EDGE and PIECE.EDGE …; after an edge from POINT to POINT",
        "The length of the edges as they are sewn, added up: a shoulder, a back from neck to hem, an inside leg.",
        _TWO
        + """
finished skirt length measured along back.centre = 30 cm
""",
        also=("stretch_of",),
        called="length of seam edge finished",
    ),
    Entry(
        "finish_ease_least",
        _GROUP,
        "Ease of a finished measurement",
        "ease at least LENGTH, or body LENGTH, after a comma",
        "If WHAT is a body measurement, the ease is worked out and judged, and clients must have it; body compares "
        "with another, as body either bust_girth or chest_girth. A girth smaller than the body's can't close, unless "
        "the style has the tag knit or laced.",
        _TWO
        + """
sew front.side to back.side
finished waist girth measured at front.waist, ease at least 1 cm
""",
        also=("finish_on",),
        called="ease minimum",
    ),
    Entry(
        "finish_ease_range",
        _GROUP,
        "Both limits of the ease",
        "ease LENGTH to LENGTH, after a comma",
        "Where no more than the least ease is stated, ease that is not usual for the garment and its cloth is a "
        "warning. Both limits are the style's own word. The tags loose and flared say that it is meant to be wide.",
        _TWO
        + """
sew front.side to back.side
finished waist girth measured at front.waist, ease 1 cm to 4 cm
""",
        called="ease minimum maximum limits",
    ),
    Entry(
        "check",
        _GROUP,
        "A check of your own",
        'check CONDITION, "WORDS"',
        "The page shows whether it holds, with the numbers, in your words or those of the condition.",
        _TWO
        + """
check length of front.hem is at least length of back.hem, "the front hem is not the narrower one"
""",
        called="test requirement must be control",
    ),
)
