"""Entries: scissors and tape. Each takes pieces of paper and gives pieces, and what is drawn on them goes with it."""

from catalogue.handbook.entry import Entry

_GROUP = "Paper work"

_PANEL = """
centre_hem = 40 cm down from start
side_waist = 20 cm right and 1 cm up from start
side_hem   = 24 cm right from centre_hem
waist_line = curve start leaving right, side_waist
piece front "Skirt front", cut 1 on fold
  outline centre: centre_hem to start, fold
          waist: start to side_waist along waist_line
          side: side_waist to side_hem
          hem: side_hem to centre_hem
"""

_BODICE = """
neck       = 7 cm right and 2 cm up from start
tip        = 19 cm right and 2 cm down from start
side_top   = 24 cm right and 16 cm down from start
waist      = 36 cm down from start
side_waist = 22 cm right from waist
bust_point = 10 cm right and 19 cm down from start
cf_neck    = 6 cm down from start
neck_curve = curve cf_neck leaving right, neck arriving up
armhole    = curve tip leaving down, side_top arriving right
piece front "Bodice front", cut 1 on fold
  outline centre: waist to cf_neck, fold
          neck: cf_neck to neck along neck_curve
          shoulder: neck to tip
          armhole: tip to side_top along armhole
          side: side_top to side_waist
          waist: side_waist to waist
dart front.waist, middle at halfway, intake 3 cm, point at bust_point, length 14 cm, fold to centre
"""

_TWO = """
back_hem   = 30 cm down from start
back_side  = 18 cm right from start
back_foot  = 20 cm right from back_hem
piece back, cut 1 on fold
  outline centre: back_hem to start, fold
          waist: start to back_side
          side: back_side to back_foot
          hem: back_foot to back_hem
front_top  = 50 cm right from start
front_hem  = 30 cm down from front_top
front_side = 19 cm left and 1 cm up from front_top
front_foot = 21 cm left and 1 cm down from front_hem
piece front, cut 1 on fold
  outline centre: front_hem to front_top, fold
          waist: front_top to front_side
          side: front_side to front_foot
          hem: front_foot to front_hem
"""

ENTRIES = (
    Entry(
        "cut_along",
        _GROUP,
        "Cut in two",
        'cut PIECE along LINE into PART "TITLE", PART "TITLE"; or from POINT to POINT',
        "Each half has the name given, a title in quotes if you like, and the cut as a new edge. With POINT after a "
        "part says which half it is; edge NAME names the cut edge.",
        _PANEL
        + """
yoke_line = line from (10 cm down from start) to (11 cm down and 26 cm right from start)
cut front along yoke_line into yoke "Yoke" with side_waist, skirt "Lower skirt", edge join
""",
        also=("part_named",),
        called="cut apart yoke divide split separate scissors",
    ),
    Entry(
        "cut_through",
        _GROUP,
        "Cut through darts into panels",
        "cut PIECE through DART and DART into PART, PART, smooth, edge NAME",
        "The cut runs along the legs of the darts, so that they vanish in the seam. Points may stand among the "
        "darts. With smooth the seam is drawn as one smooth curve. A dart that a body does not need counts as the "
        "middle of its mouth.",
        _BODICE
        + """
dart front.shoulder, middle at halfway, intake 2 cm, point at bust_point, length 13 cm
cut front through shoulder_dart and waist_dart into middle "Middle front", side "Side front", smooth, edge panel
""",
        also=("cut_edge", "cut_smooth"),
        called="panel princess line seam divide darts",
    ),
    Entry(
        "discard",
        _GROUP,
        "Throw a part away",
        "discard PIECE",
        "For what is left over from a cut. It is not printed.",
        _PANEL
        + """
cut front from (25 cm down from start) to (25 cm down and 30 cm right from start) into short with start, scrap
discard scrap
""",
        called="delete remove throw away",
    ),
    Entry(
        "close_dart",
        _GROUP,
        "Move a dart",
        "close PIECE.DART, pivoting on POINT, opening EDGE at POINT",
        "The paper is slashed from the opening to the pivot and the dart folded shut, so that its width opens in the "
        "new place. After close, by moves a share; after the opening stand as gathers, named NAME, stopping LENGTH "
        "short or taking SHARE.",
        _BODICE
        + """
shoulder_mid = midway neck to tip
close front.waist_dart, pivoting on bust_point, opening shoulder at shoulder_mid named shoulder_dart
""",
        also=(
            "close_share",
            "opening",
            "opening_share",
            "opening_as",
            "opening_named",
            "opening_short",
            "opening_fold",
        ),
        called="dart manipulation pivot rotate transfer move slash",
    ),
    Entry(
        "spread",
        _GROUP,
        "Slash and spread",
        "spread PIECE, NUMBER lines from EDGE to EDGE, LENGTH at EDGE, nothing at EDGE, as gathers",
        "The paper is slashed along even lines, or along lines you have drawn, and each opens by the lengths given. In "
        "all makes the length that of all of them together. With as far as LENGTH at EDGE they open alike until that "
        "edge of the piece is so long. After as pleats, fold to DIRECTION says where the folds that are seen point.",
        _PANEL
        + """
spread front, 3 lines from waist to hem, nothing at waist, as far as 38 cm at hem
""",
        also=(
            "lines_even",
            "spread_amount",
            "spread_nothing",
            "spread_until",
            "spread_as",
            "spread_in_all",
            "spread_fold",
        ),
        called="slash flare fullness gathers widen add",
    ),
    Entry(
        "lines_drawn",
        _GROUP,
        "Slashes that end inside a piece",
        "spread PIECE, along LINE and LINE, LENGTH at EDGE, nothing at EDGE",
        "Lines that you have drawn run from edge to edge. For slashes that end inside, cut the piece in two where they "
        "end, spread one part with nothing at the cut and sew it to the other. To have no seam there, overlap the "
        "other part by the same angles, then tape both.",
        _PANEL
        + """
fold_1    = 1/3 of start to side_waist
fold_2    = 2/3 of start to side_waist
hip       = 18 cm down from start
hip_line  = line hip to (right of hip on (line side_waist to side_hem))
end_1     = below fold_1 on hip_line
end_2     = below fold_2 on hip_line
cut front along hip_line into upper "Upper front" with start, lower "Lower front", edge hip_seam
spread upper, along line fold_1 to end_1 and line fold_2 to end_2, 2 cm at waist, nothing at hip_seam, as pleats
sew upper.hip_seam to lower.hip_seam
""",
        called="slash part of the way partial inside stop short fan hinge pivot",
    ),
    Entry(
        "overlap",
        _GROUP,
        "Slash and lap",
        "overlap PIECE, along LINE, LENGTH at EDGE, nothing at EDGE; or NUMBER lines from EDGE to EDGE",
        "The opposite of spread: the paper is lapped, so that the edge becomes shorter.",
        _PANEL
        + """
slash = line from (10 cm right from start) down 50 cm
overlap front, along slash, nothing at waist, 3 cm at hem
""",
        called="slash reduce take out narrow lap",
    ),
    Entry(
        "pleat",
        _GROUP,
        "Fold a pleat",
        "pleat PIECE along LINE, knife, depth LENGTH, fold to DIRECTION, free at EDGE, named NAME",
        "Knife, box or inverted. The fold that shows points in the direction given, seen from the right side; "
        "arrows lead from it to where it is laid. The edges are cut as the folded pleat lies, and run straight on "
        "where it hangs free. On the fold or centre edge of a half piece half of a box or inverted pleat is added.",
        _PANEL
        + """
pleat_line = line from (10 cm right and 5 cm up from start) down 50 cm
pleat front along pleat_line, knife, depth 3 cm, fold to left, free at hem

pleat front along front.centre, inverted, depth 4 cm, free at hem, named middle_pleat
""",
        also=("pleat_fold", "pleat_named", "pleat_free"),
        called="knife box inverted fold",
    ),
    Entry(
        "fold_out",
        _GROUP,
        "Fold out a wedge",
        "fold out PIECE, LENGTH at POINT, nothing at POINT",
        "A tuck across the pattern, widest at one edge and running out to nothing at the other: for a sway back or a "
        "gaping neck.",
        _PANEL
        + """
side_mid   = 1/3 of the way from side_waist to side_hem
centre_mid = 12 cm down from start
fold out front, 1.5 cm at centre_mid, nothing at side_mid
""",
        called="wedge tuck out take out sway back shorten hollow",
    ),
    Entry(
        "lengthen",
        _GROUP,
        "Lengthen or shorten",
        "lengthen PIECE at LINE by LENGTH, shorten PIECE at LINE by LENGTH",
        "Cut across at the line and spread, or folded there. The edges that it crosses are drawn on.",
        _PANEL
        + """
hip_line = line from (20 cm down from start) right 40 cm
lengthen front at hip_line by 4 cm
""",
        also=("shorten",),
        called="shorten longer shorter adjust add length",
    ),
    Entry(
        "tape",
        _GROUP,
        "Tape two pieces together",
        'tape PIECE.EDGE to PIECE.EDGE as NAME "TITLE", cut NUMBER',
        "The first piece is laid against the second, edge to edge, and the two become one. The edges should match. "
        "The new piece is cut as the second one was, unless the line ends with what to cut: , cut 2 on fold for a yoke "
        "that is lined with itself.",
        _PANEL
        + """
cut front from (15 cm down from start) to (15 cm down and 30 cm right from start) into upper with start, lower

tape lower.cut to upper.cut as whole "Front again"
""",
        called="join stick attach combine merge yoke",
    ),
    Entry(
        "unfold",
        _GROUP,
        "Open out a half piece",
        "unfold PIECE on EDGE",
        "The piece is mirrored over its edge and becomes a whole one: for a piece that is not the same on both sides "
        "in the end.",
        _PANEL
        + """
unfold front on centre
""",
        called="mirror whole open out symmetric full",
    ),
    Entry(
        "trace",
        _GROUP,
        "Trace a facing or a copy",
        'trace NAME "TITLE" from PIECE, LENGTH from EDGE, cut NUMBER of CLOTH',
        "A band beside one or more edges, joined by and; or the part on one side of a line: along LINE with POINT. "
        "With neither it is a copy. The traced piece lies on a sheet of its own.",
        _PANEL
        + """
trace facing "Waist facing" from front, 5 cm from waist, cut 1 on fold of interfacing
""",
        also=("trace_band", "trace_along"),
        called="facing copy lining interfacing band waistband",
    ),
    Entry(
        "true_across",
        _GROUP,
        "True across a seam",
        "true PIECE.EDGE and PIECE.EDGE across PIECE.EDGE and PIECE.EDGE",
        "With the seam closed, the first two edges are redrawn to run on smoothly from one piece to the other: "
        "necklines over the shoulder, a hem over the side seam.",
        _TWO
        + """
true front.hem and back.hem across front.side and back.side
""",
        called="truing smooth corner blend walk",
    ),
    Entry(
        "square_at",
        _GROUP,
        "Square an edge to another",
        "square PIECE.EDGE to EDGE",
        "The edge is bent to meet the other at a right angle, so that it shows no point there.",
        _TWO
        + """
square front.waist to centre
""",
        called="right angle corner blend fold",
    ),
    Entry(
        "level_with",
        _GROUP,
        "Level two seams",
        "level PIECE.EDGE and PIECE.EDGE at EDGE",
        "Both edges get the same length: the longer is shortened and the shorter lengthened at the edge named.",
        _TWO
        + """
level front.side and back.side at hem
""",
        called="even same length match seams shorten",
    ),
    Entry(
        "redraw",
        _GROUP,
        "Redraw an edge",
        "redraw PIECE.EDGE along LINE; redraw PIECE.EDGE straight; redraw PIECE.EDGE smooth, through POINT",
        "The edge takes a new course between its corners: along a line that you drew, straight, or as one smooth "
        "curve without the corners that cutting and spreading left. Through names points that the curve keeps to.",
        _PANEL
        + """
new_side = curve side_waist, (26 cm right and 22 cm down from start) heading down, side_hem
redraw front.side along new_side

spread front, 2 lines from waist to hem, nothing at waist, 4 cm at hem
redraw front.hem smooth
redraw front.waist smooth, through (9 cm along front.waist from (corner of front.waist and centre))
""",
        also=("smoothen", "straighten"),
        called="reshape smooth straighten new line change",
    ),
    Entry(
        "shape_hem",
        _GROUP,
        "Shape an edge",
        "shape PIECE.EDGE, LENGTH up at EDGE, LENGTH down at EDGE, pointed",
        "The edge rises or falls at its ends, which meet the edges named, in one smooth curve; pointed leaves a "
        "straight slope.",
        _PANEL
        + """
shape front.hem, 5 cm up at side, 2 cm down at centre
""",
        also=("shape_shift", "shape_pointed"),
        called="curve hem dip raise lower shirt tail",
    ),
    Entry(
        "extend_edge",
        _GROUP,
        "Add a strip along an edge",
        "extend PIECE.EDGE by LENGTH as NAME",
        "For a button stand or a wrap. The new outer edge has the name given.",
        _TWO
        + """
extend front.side by 3 cm as wrap
""",
        called="extension strip placket wrap button stand overlap add",
    ),
    Entry(
        "shift_points",
        _GROUP,
        "Shift points of the outline",
        "shift PIECE, LENGTH DIRECTION at POINT, nothing at POINT",
        "The points named move by so much, and the edges between are redrawn: to nothing at the next corner, or to the "
        "next point that is named. An edge whose ends move alike keeps its shape, so an armhole can be moved whole.",
        _PANEL
        + """
shift front, 2 cm right at side_hem, 5 mm right and 3 mm up at side_waist
""",
        also=("shift_by", "shift_nothing", "shift_to", "shift_turn"),
        called="let out take in move redraw alter corner turn swing",
    ),
    Entry(
        "shift_dart",
        _GROUP,
        "Shift a dart",
        "shift dart PIECE.DART LENGTH DIRECTION, with POINT",
        "As if a box were cut round the dart and slid: its point moves by so much, its mouth along its edge. With a "
        "point named, such as the bust point, that goes with it.",
        _PANEL
        + """
dart waist_dart on front.waist, middle at halfway, intake 2 cm, length 10 cm
shift dart front.waist_dart 1 cm right
""",
        called="move dart bust point box",
    ),
    Entry(
        "shift_notch",
        _GROUP,
        "Shift a notch",
        "shift notch PIECE.EDGE at POINT, LENGTH toward POINT",
        "The notch of the edge that is nearest to the point moves along it.",
        _PANEL
        + """
notch front.side at halfway along front.side
shift notch front.side at (halfway along front.side), 2 cm toward side_hem
""",
        called="move notch",
    ),
    Entry(
        "widen_bust",
        _GROUP,
        "Widen over the bust",
        "widen PIECE over POINT by LENGTH, hinged at POINT, opening at POINT and POINT",
        "A half front made fuller: slashed from the waist over the bust point to the armhole, where it is hinged, and "
        "to the side, where a dart opens or widens. Armhole and seams keep their lengths. A negative length makes it "
        "flatter.",
        """
piece front "Bodice front", cut 1 on fold
  outline neck: (8 cm down from start) to (7 cm right from start)
          shoulder: (7 cm right from start) to (18 cm right and 4 cm down from start)
          armhole: (18 cm right and 4 cm down from start) to (22 cm right and 20 cm down from start)
          side: (22 cm right and 20 cm down from start) to (21 cm right and 40 cm down from start)
          waist: (21 cm right and 40 cm down from start) to (40 cm down from start)
          centre: (40 cm down from start) to (8 cm down from start), fold
bust  = 9 cm right and 26 cm down from start
pitch = halfway along front.armhole
foot  = halfway along front.side
below_bust = halfway along front.waist
widen front over bust by 1.5 cm, hinged at pitch, opening at foot and below_bust
""",
        called="full bust small bust cup",
    ),
    Entry(
        "move_piece",
        _GROUP,
        "Move, turn or mirror a piece",
        "move PIECE LENGTH DIRECTION; turn PIECE ANGLE about POINT; mirror PIECE over LINE",
        "The piece is laid elsewhere on its paper and everything on it goes with it, its grain line too. It turns "
        "clockwise unless anticlockwise stands after the angle; mirror turns it over.",
        _PANEL
        + """
move front 6 cm right and 2 cm down

turn front 30 degrees anticlockwise about front.side_waist

mirror front over (line from start down 40 cm)
""",
        also=("turn_piece", "mirror_piece"),
        called="shift slide turn rotate twist flip mirror whole piece paper",
    ),
)
