"""Entries: how a point is placed."""

from catalogue.handbook.entry import Entry

_GROUP = "Points"

ENTRIES = (
    Entry(
        "placed",
        _GROUP,
        "So much in a direction",
        "LENGTH DIRECTION from POINT; with and, a second move or an angle",
        "The directions are up, down, left and right, as the sheet lies before you; across is to the right. An angle "
        "after and leans the move: 4.5 cm up and 45 degrees left is half left, half up.",
        """
nape     = start
shoulder = 18 cm right and 4 cm down from nape
waist    = back_waist_length down from nape
hollow   = 3 cm right and 45 degrees down from nape
""",
        also=("moves", "move"),
        called="down up left right below above over measure square down square across",
    ),
    Entry(
        "toward",
        _GROUP,
        "From one point toward another",
        "LENGTH from POINT toward POINT",
        "On the straight line that joins them, at that length from the first; it may lie past the second.",
        """
tip    = 14 cm right and 5 cm down from start
pocket = 6 cm from start toward tip
""",
        called="towards in direction of point from to",
    ),
    Entry(
        "beyond",
        _GROUP,
        "Past a point",
        "LENGTH beyond POINT from POINT",
        "The straight line from the second point to the first is run on by that length.",
        """
neck  = 12 cm right and 3 cm up from start
stand = 2.5 cm beyond neck from start
seam  = line start to neck
""",
        called="past extend further on after",
    ),
    Entry(
        "along",
        _GROUP,
        "So much along a line",
        "LENGTH along LINE from POINT; LENGTH along LINE from POINT toward POINT",
        "Measured by the tape, round every bend. From an end of the line it goes toward the other. From elsewhere say "
        "which way with toward and a point of the line; else it goes the way the line was drawn.",
        """
tip     = 12 cm right and 16 cm down from start
armhole = curve start leaving down, tip arriving right
pitch   = 8 cm along armhole from tip
higher  = 2 cm along armhole from pitch toward tip
""",
        called="on a line on a curve measure along edge",
    ),
    Entry(
        "part_way",
        _GROUP,
        "A part of the way",
        "NUMBER of the way from POINT to POINT, then along LINE if it bends",
        "1/3 of the way may be said as a third of the way. With along it is a third of the way by the tape.",
        """
tip    = 15 cm right and 6 cm down from start
edge   = line start to tip
pitch  = 1/3 of the way from start to tip
pocket = a quarter of the way from tip to start
""",
        also=("share", "share_word"),
        called="fraction third of the way divide between",
    ),
    Entry(
        "part_between",
        _GROUP,
        "A part of what lies between two points",
        "2/5 of POINT to POINT",
        "On the straight line, from the first point. 40% of POINT to POINT is the same.",
        """
tip   = 15 cm right and 6 cm down from start
pitch = 2/5 of start to tip
""",
        called="fraction third of the way divide between",
    ),
    Entry(
        "halfway",
        _GROUP,
        "The middle of a line",
        "halfway along LINE",
        "By the tape, half the line lies on either side.",
        """
tip    = 14 cm right and 14 cm down from start
hem    = curve start leaving down, tip arriving right
middle = halfway along hem
""",
        called="middle centre of line half way",
    ),
    Entry(
        "midway",
        _GROUP,
        "Between two points",
        "midway POINT to POINT",
        "Straight between them, at the same distance from both.",
        """
tip    = 16 cm right and 4 cm down from start
middle = midway start to tip
""",
        called="midpoint middle centre between half way",
    ),
    Entry(
        "level",
        _GROUP,
        "Under one point, level with another",
        "below POINT on level POINT; above; left of POINT in line with POINT; right of",
        "Where the line straight down, up or across from the first point comes level with the second.",
        """
neck  = 7 cm right from start
waist = 20 cm down from start
foot  = below neck on level waist
""",
        called="same height line up vertical horizontal below above",
    ),
    Entry(
        "onto",
        _GROUP,
        "Straight onto a line",
        "below POINT on LINE; above; left of; right of; across from",
        "Where the line straight down, up or across from the point meets the other line, nearest first.",
        """
side  = 24 cm right and 3 cm down from start
hem   = curve start leaving right, side
dart_point = 12 cm right and 10 cm up from start
dart_foot  = below dart_point on hem
""",
        called="drop straight down to line project meet",
    ),
    Entry(
        "crossing",
        _GROUP,
        "Where two lines cross",
        "where LINE crosses LINE; when they cross more than once, a comma and which",
        "Which is highest, lowest, leftmost, rightmost, first, last, nearest POINT or farthest from POINT.",
        """
corner  = 16 cm right and 12 cm down from start
falling = line start to corner
rising  = line from (12 cm down from start) to (16 cm right from start)
meet    = where falling crosses rising
""",
        also=("which",),
        called="intersection cross meet intersect where",
    ),
    Entry(
        "square_foot",
        _GROUP,
        "Square onto a line",
        "square from POINT to LINE",
        "Where a set square on the line has its other arm through the point.",
        """
side = line from start to (18 cm right and 8 cm down from start)
bust = 12 cm right and 6 cm up from start
foot = square from bust to side
""",
        called="perpendicular right angle drop set square",
    ),
    Entry(
        "square_off",
        _GROUP,
        "Square off a line",
        "LENGTH square off LINE at POINT, DIRECTION",
        "Away from the line at a right angle, on the side that the direction names.",
        """
tip      = 14 cm right and 5 cm down from start
shoulder = line start to tip
corner   = 4 cm square off shoulder at tip, down
""",
        called="perpendicular right angle set square from line",
    ),
    Entry(
        "end_of",
        _GROUP,
        "The end of a line",
        "start of LINE, end of LINE",
        "Where a line was begun or ended as it was drawn. An edge of a piece runs clockwise round it; to name its ends "
        "by what they meet, write corner of.",
        """
tip     = 12 cm right and 16 cm down from start
armhole = curve start leaving down, tip arriving right
low     = 3 cm down from (end of armhole)
""",
        called="start end first last point of a line",
    ),
    Entry(
        "corner_of",
        _GROUP,
        "Where two edges meet",
        "corner of PIECE.EDGE and EDGE",
        "The point of a piece where two of its edges meet, wherever it lies now.",
        """
side_top = 20 cm right from start
foot     = 30 cm down from side_top
centre   = 30 cm down from start
piece front, cut 1 on fold
  outline waist: start to side_top
          side: side_top to foot
          hem: foot to centre
          centre: centre to start, fold
vent_top = 12 cm along front.side from (corner of front.side and hem)
""",
        called="corner meeting of edges",
    ),
    Entry(
        "touching",
        _GROUP,
        "Swing a length to a line",
        "LENGTH from POINT to touch LINE, WHICH",
        "The tape is held at the point and swung until its end meets the line. Say which place when there are two.",
        """
slope_line = line from (5 cm down from start) right 20 cm
shoulder   = 13 cm from start to touch slope_line, rightmost
""",
        called="swing arc compass slope shoulder length pivot tape",
    ),
    Entry(
        "sweeps",
        _GROUP,
        "Where two sweeps meet",
        "LENGTH from POINT meeting LENGTH from POINT, WHICH",
        "Two sweeps of the compasses cross in two places; say which.",
        """
side = 14 cm right from start
apex = 10 cm from start meeting 9 cm from side, lowest
""",
        called="compasses two arcs triangle intersection",
    ),
    Entry(
        "mirrored",
        _GROUP,
        "Turn over a line",
        "mirror of POINT over LINE; a line or curve may be mirrored too",
        "As if the paper were folded on the line and the point pricked through.",
        """
fold  = line from start down 16 cm
tip   = 6 cm right and 4 cm down from start
other = mirror of tip over fold
""",
        called="reflect flip turn over symmetrical copy",
    ),
    Entry(
        "turned",
        _GROUP,
        "Turn about a point",
        "POINT turned ANGLE about POINT; a line or curve may be turned too",
        "Clockwise, as the sheet lies before you; a negative angle turns the other way.",
        """
arm    = line from start right 14 cm
swung  = arm turned 25 degrees about start
""",
        called="rotate rotation swing",
    ),
    Entry(
        "shifted",
        _GROUP,
        "Move a shape",
        "POINT moved LENGTH DIRECTION; a line or curve may be moved too",
        "The shape is drawn once more at its new place; the first stays. After midway A to B it is the middle that is "
        "moved.",
        """
tip   = 14 cm right and 12 cm down from start
neck  = curve start leaving down, tip arriving right
lower = neck moved 2 cm down
pitch = midway start to tip moved 1 cm right
""",
        called="move slide shift copy",
    ),
)
