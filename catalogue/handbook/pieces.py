"""Entries: pieces and what is drawn on them; darts."""

from catalogue.handbook.entry import Entry

_GROUP = "Pieces"

_FRAME = """
centre_hem = 40 cm down from start
side_waist = 20 cm right and 1 cm up from start
side_hem   = 24 cm right from centre_hem
waist      = curve start leaving right, side_waist
"""

_PANEL = (
    _FRAME
    + """
piece front "Skirt front", cut 1 on fold
  outline centre: centre_hem to start, fold
          waist: start to side_waist along waist
          side: side_waist to side_hem
          hem: side_hem to centre_hem
"""
)

ENTRIES = (
    Entry(
        "piece",
        _GROUP,
        "Cut a piece from the draft",
        'piece NAME "TITLE", cut NUMBER, with indented lines below',
        "After cut may stand on fold, of lining or another cloth, and alike. An even number not on the fold is cut "
        "in mirrored pairs unless alike says otherwise. Darts and notches are drawn on pieces.",
        _PANEL,
        also=("cut_clause", "on_fold", "alike", "of_cloth"),
        called="pattern piece cut out part name fabric fold pair",
    ),
    Entry(
        "outline",
        _GROUP,
        "The edges of a piece",
        "outline EDGE: POINT to POINT along LINE, and the next edges on lines below",
        "Round the piece, each edge from where the last one ended; without along it is straight. After a comma: fold "
        "for an edge laid on the fold, allow LENGTH for a seam allowance of its own.",
        _FRAME
        + """
piece front "Skirt front", cut 1 on fold
  outline centre: centre_hem to start, fold
          waist: start to side_waist along waist
          side: side_waist to side_hem
          hem: side_hem to centre_hem, allow 4 cm
""",
        also=("edge", "run", "edge_allow"),
        called="edges cutting line shape fold seam",
    ),
    Entry(
        "edge_fold",
        _GROUP,
        "A fold that ends",
        "outline EDGE: POINT to POINT to POINT, fold from POINT to POINT",
        "Only that part of the edge lies on the fold; it keeps the name, and what is beside it is called "
        "EDGE_2. In line "
        "with the fold that is a slit, cut without an allowance; aslant it is a V, with one. Fold alone is for "
        "the whole "
        "edge.",
        _FRAME
        + """
slit_end = 12 cm up from centre_hem
piece front "Skirt front", cut 1 on fold
  outline centre: centre_hem to start, fold from slit_end to start
          waist: start to side_waist along waist
          side: side_waist to side_hem
          hem: side_hem to centre_hem
""",
        called="fold line cut on fold centre slit part of the way",
    ),
    Entry(
        "grain",
        _GROUP,
        "The grain of the cloth",
        "grain along LINE; grain POINT to POINT; grain DIRECTION",
        "Indented under the piece. Without it the grain runs upright.",
        _FRAME
        + """
piece front "Skirt front", cut 2
  outline centre: centre_hem to start
          waist: start to side_waist along waist
          side: side_waist to side_hem
          hem: side_hem to centre_hem
  grain along centre
""",
        called="grainline straight of grain bias thread direction",
    ),
    Entry(
        "notch",
        _GROUP,
        "A notch on an edge",
        "notch EDGE at POINT; double notch, triple notch",
        "Indented under the piece. The point lies on the edge.",
        _FRAME
        + """
hip_mark = 1/2 of the way from side_waist to side_hem
piece front "Skirt front", cut 2
  outline centre: centre_hem to start
          waist: start to side_waist along waist
          side: side_waist to side_hem
          hem: side_hem to centre_hem
  double notch side at hip_mark
""",
        called="balance mark nick snip match",
    ),
    Entry(
        "mark",
        _GROUP,
        "A mark inside a piece",
        'mark POINT, then drill hole, button, buttonhole, placement or zip end, then "WORDS"',
        "Indented under the piece. The words are printed beside the mark. A buttonhole is "
        "14 mm long, for a shirt button, or as long as you say: buttonhole of 18 mm.",
        _FRAME
        + """
pocket_at = 6 cm down and 8 cm right from start
piece front "Skirt front", cut 2
  outline centre: centre_hem to start
          waist: start to side_waist along waist
          side: side_waist to side_hem
          hem: side_hem to centre_hem
  mark pocket_at placement "pocket corner"
""",
        called="drill hole button placement dot punch",
    ),
    Entry(
        "mark_row",
        _GROUP,
        "Buttons spread over a line",
        "mark NUMBER buttons along LINE from POINT to POINT; mark buttons LENGTH apart; also drill holes, buttonholes, "
        "buttonholes of LENGTH, LENGTH apart",
        "Indented under the piece. The first and the last lie on the ends of the line or on the points given, the "
        "others evenly between. With apart there are as many as come nearest to it. Buttonholes are 14 mm "
        "long where the style does not say of what length, and lie across the line; after a comma "
        "lying along turns them.",
        _FRAME
        + """
first_button = 2 cm down from start
last_button  = 8 cm up from centre_hem
piece front "Skirt front", cut 2
  outline centre: centre_hem to start
          waist: start to side_waist along waist
          side: side_waist to side_hem
          hem: side_hem to centre_hem
  mark 4 buttonholes of 18 mm along (line first_button to last_button), lying along
""",
        also=("row_count", "row_apart"),
        called="buttons buttonholes spacing evenly row",
    ),
    Entry(
        "draw",
        _GROUP,
        "A line inside a piece",
        'draw LINE as fold line, stitch line, placement line, pleat line, lengthen line or guide line, then "WORDS"',
        "Indented under the piece. Without as it is a guide line. At a lengthen line the paper is cut to lengthen it "
        "and folded to shorten it.",
        _FRAME
        + """
hem_fold = line from (4 cm up from centre_hem) right 22 cm
piece front "Skirt front", cut 2
  outline centre: centre_hem to start
          waist: start to side_waist along waist
          side: side_waist to side_hem
          hem: side_hem to centre_hem
  draw hem_fold as fold line "hem"
""",
        called="fold line stitch line guide lengthen line",
    ),
    Entry(
        "grain_of",
        _GROUP,
        "Change the grain later",
        "grain of PIECE along LINE; or POINT to POINT; or DIRECTION",
        "For a piece that was cut out or changed above.",
        _PANEL
        + """
grain of front along side
""",
        called="grainline straight of grain bias",
    ),
    Entry(
        "notch_of",
        _GROUP,
        "Add a notch later",
        "notch PIECE.EDGE at POINT; double notch, triple notch",
        "The point may be worked out on the edge as the piece lies now.",
        _PANEL
        + """
notch front.side at 20 cm along front.side from side_waist
""",
        called="balance mark nick snip match",
    ),
    Entry(
        "notch_both",
        _GROUP,
        "The same notch on both edges of a seam",
        "notch PIECE.EDGE and PIECE.EDGE, LENGTH from POINT and POINT; double notch, triple notch",
        "A balance mark: it lies as far from the end of the first edge as from the end of the second, so that both "
        "meet when the seam is pinned. The points are the ends that are sewn together.",
        _PANEL
        + """
back_hem  = 40 cm down and 60 cm right from start
back_top  = 41 cm up from back_hem
back_foot = 24 cm left from back_hem
back_side = 20 cm left from back_top
piece back "Skirt back", cut 1 on fold
  outline centre: back_top to back_hem, fold
          hem: back_hem to back_foot
          side: back_foot to back_side
          waist: back_side to back_top
notch front.side and back.side, 18 cm from side_waist and back_side
""",
        called="balance marks match two edges",
    ),
    Entry(
        "mark_on",
        _GROUP,
        "Add a mark later",
        'mark POINT, then its kind and "WORDS", on PIECE',
        "As a mark under the piece, for a piece cut out above.",
        _PANEL
        + """
pocket_at = 6 cm down and 8 cm right from start
mark pocket_at drill hole "pocket" on front
""",
        called="drill hole button placement",
    ),
    Entry(
        "mark_row_on",
        _GROUP,
        "Add a row of marks later",
        "mark NUMBER buttons along LINE from POINT to POINT on PIECE; mark buttons LENGTH apart",
        "As a row of marks under the piece, for a piece cut out above.",
        _PANEL
        + """
mark buttons 9 cm apart along front.side on front
""",
        called="buttons buttonholes spacing",
    ),
    Entry(
        "draw_on",
        _GROUP,
        "Draw on a piece later",
        'draw LINE as fold line "WORDS" on PIECE',
        "As a line drawn under the piece, for a piece cut out above.",
        _PANEL
        + """
pocket = line from (6 cm down and 4 cm right from start) right 12 cm
draw pocket as placement line "pocket" on front
""",
        called="fold line stitch line guide",
    ),
    Entry(
        "point_on",
        _GROUP,
        "A point added to a piece later",
        "point NAME at POINT on PIECE",
        "From then on it belongs to the piece and travels with the paper it lies on; write PIECE.NAME for where it is "
        "now. Points that had a name when the piece was cut out belong to it already.",
        _PANEL
        + """
point pocket_top at (6 cm down and 4 cm right from start) on front
mark front.pocket_top drill hole on front
""",
        called="mark landmark place on piece",
    ),
    Entry(
        "dart",
        "Darts",
        "A dart on an edge",
        "dart PIECE.EDGE, middle at POINT, intake LENGTH, length LENGTH, fold to EDGE; NAME on may go before the edge",
        "Middle at halfway is the middle of the edge. It points square into the piece, or to point at POINT. The "
        "mouth is shaped so that the folded dart lies even with the seam; straight mouth leaves it straight.",
        _PANEL
        + """
dart front.waist, middle at halfway, intake 3 cm, length 10 cm, fold to centre
""",
        also=(
            "dart_middle",
            "dart_middle_half",
            "dart_intake",
            "dart_length",
            "dart_point",
            "dart_fold",
            "dart_straight",
        ),
        called="tuck pinch take in shaping intake wedge",
    ),
    Entry(
        "dart_sides",
        "Darts",
        "A dart as a draft prints it",
        "dart PIECE.EDGE, at POINT, LENGTH left and LENGTH right, point at POINT; or from POINT to POINT in "
        "place of both",
        "The mouth is so much to each side of a point on the edge, or lies between two points of it; on an "
        "upright edge "
        "write up and down. The shorter leg is made as long as the other, and that is said where it is much. With "
        "unequal legs they stay as drawn and the page says how much is eased in, at most 1 cm or within LENGTH.",
        _PANEL
        + """
tip   = 10 cm right and 12 cm down from start
place = above tip on waist
dart printed on front.waist, at place, 1/2 in left and 1 1/2 in right, point at tip, unequal legs within 8 mm
"""
        + """
side_from = 6 cm along front.side from side_waist
side_to   = 9 cm along front.side from side_waist
dart bust on front.side, from side_from to side_to, length 7 cm
""",
        also=("dart_mouth", "dart_unequal"),
        called="unequal legs printed dart one side other mouth",
    ),
    Entry(
        "leg",
        "Darts",
        "A leg of a dart",
        "PIECE.DART.left leg or right leg; upper leg or lower leg of a level dart",
        "A line from the mouth to the point, to be measured, drawn to or from, or crossed: start of it lies on "
        "the edge, "
        "end of it is the point.",
        _PANEL
        + """
dart shaping on front.waist, middle at halfway, intake 3 cm, length 10 cm
leg_length = length of front.shaping.left leg
mouth_end  = start of front.shaping.right leg
""",
        called="side of a dart dart line stitching line length",
    ),
    Entry(
        "dart_as_pleat",
        "Darts",
        "A tuck, folded and not stitched",
        "dart NAME on PIECE.EDGE, middle at POINT, intake LENGTH, length LENGTH, fold to DIRECTION, as pleat",
        "Drawn like a dart and laid like a pleat, as above a cuff. The fold that is seen points to the direction; a "
        "dart is named by the side that what it takes is pressed to.",
        _PANEL
        + """
dart tuck_1 on front.waist, middle at halfway, intake 2 cm, length 6 cm, fold to left, as pleat
""",
        called="tuck dart tuck unstitched fold",
    ),
    Entry(
        "double_dart",
        "Darts",
        "A dart with two points",
        "dart NAME inside PIECE, from POINT, point at POINT, widest at POINT, intake LENGTH",
        "A fisheye dart inside the piece: closed at both ends, widest between them.",
        _PANEL
        + """
top_end = 8 cm down and 10 cm right from start
low_end = 22 cm down from top_end
middle  = midway top_end to low_end
dart shaping inside front, from top_end, point at low_end, widest at middle, intake 2.5 cm
""",
        also=("dart_from", "dart_centre"),
        called="fisheye contour diamond waist dart two points",
    ),
    Entry(
        "intake_of",
        "Darts",
        "What a dart takes in",
        "intake of PIECE.DART",
        "The width of its mouth.",
        _PANEL
        + """
dart shaping on front.waist, middle at halfway, intake 3 cm, length 10 cm
taken = intake of front.shaping
""",
        called="width of dart depth amount taken",
    ),
)
