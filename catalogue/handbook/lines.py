"""Entries: lines and curves."""

from catalogue.handbook.entry import Entry

_GROUP = "Lines and curves"

ENTRIES = (
    Entry(
        "line_to",
        _GROUP,
        "A straight line",
        "line POINT to POINT, and on to further points",
        "With more than two points it turns a corner at each.",
        """
side  = 14 cm right from start
hem   = 9 cm down from side
frame = line start to side to hem
""",
        called="straight connect join rule ruler",
    ),
    Entry(
        "line_from",
        _GROUP,
        "A line of a given length",
        "line from POINT DIRECTION LENGTH; line from POINT DIRECTION and ANGLE DIRECTION LENGTH; "
        "line from POINT to POINT",
        "Saves naming the far end. Right and 20 degrees down leans from level towards the floor, as a shoulder does.",
        """
waist_level = line from start right 16 cm
shoulder    = line from start right and 20 degrees down 12 cm
""",
        called="straight guide line length direction slope",
    ),
    Entry(
        "curve",
        _GROUP,
        "A curve",
        "curve POINT, POINT, POINT; after a point leaving, arriving or heading and a direction",
        "Passes smoothly through the points. At its ends it leaves and arrives as told; heading gives the direction in "
        "which it passes a point between.",
        """
tip     = 2 cm down and 12 cm right from start
pitch   = 8 cm down and 8 cm right from start
side    = 16 cm down and 14 cm right from start
armhole = curve tip leaving down, pitch heading down, side arriving right
""",
        also=("knot", "knot_through"),
        called="french curve armhole neckline smooth shape hollow",
    ),
    Entry(
        "arriving",
        _GROUP,
        "The direction of a curve",
        "leaving DIRECTION and ANGLE DIRECTION; leaving toward POINT; leaving square to LINE; leaving along LINE",
        "Leaving at its first point, arriving at its last, heading between. Up and 20 degrees right leans from "
        "upright to the right. Square to a fold keeps a neckline from showing a point there.",
        """
tip      = 14 cm right and 4 cm up from start
shoulder = line from tip to (24 cm right from start)
neck     = curve start leaving right, tip arriving up and 20 degrees right
side     = 22 cm right and 14 cm down from start
armhole  = curve (24 cm right from start) leaving square to shoulder, side arriving right
""",
        also=("leaving", "heading", "aim_direction", "aim_toward", "aim_square", "aim_along"),
        called="leaving heading tangent direction square smooth",
    ),
    Entry(
        "arc_to",
        _GROUP,
        "A part of a circle, to a point",
        "arc about POINT from POINT to POINT",
        "The first point is the centre. It goes the shorter way round and ends in the direction of the last point.",
        """
waist_end = 12 cm right from start
side_end  = 12 cm down from start
waist     = arc about start from waist_end to side_end
""",
        called="arc compass circle sweep",
    ),
    Entry(
        "arc_turning",
        _GROUP,
        "A part of a circle, by its angle",
        "arc about POINT from POINT turning ANGLE, then clockwise or anticlockwise",
        "Clockwise unless it says otherwise. A circle skirt is two of these.",
        """
waist_end = 10 cm right from start
waist     = arc about start from waist_end turning 120 degrees
""",
        called="arc angle circle sweep degrees",
    ),
    Entry(
        "circle",
        _GROUP,
        "A circle",
        "circle about POINT radius LENGTH",
        "It begins and ends at its right-hand side.",
        """
hole = circle about start radius 6 cm
""",
        called="round radius compass",
    ),
    Entry(
        "part_of",
        _GROUP,
        "A part of a line",
        "part of LINE from POINT to POINT",
        "Both points lie on the line. The part runs from the first to the second.",
        """
tip   = 16 cm right and 14 cm down from start
edge  = curve start leaving down, tip arriving right
pitch = 6 cm along edge from start
lower = part of edge from pitch to tip
""",
        called="section segment piece of a line portion",
    ),
    Entry(
        "parallel",
        _GROUP,
        "A line beside another",
        "parallel to LINE, LENGTH DIRECTION",
        "Everywhere at the same distance, on the side that the direction names: a facing edge, a stitching line.",
        """
tip    = 16 cm right and 10 cm down from start
neck   = curve start leaving down, tip arriving right
facing = parallel to neck, 4 cm down
""",
        called="offset beside same distance",
    ),
    Entry(
        "extended",
        _GROUP,
        "Run a line on",
        "LINE extended",
        "Runs straight on at both ends, so that something farther off can meet it.",
        """
shoulder = line from start to (10 cm right and 3 cm down from start)
upright  = line from (16 cm right from start) down 12 cm
meet     = where shoulder extended crosses upright
""",
        called="extend lengthen run on continue",
    ),
    Entry(
        "chain",
        _GROUP,
        "One line after another",
        "LINE then LINE",
        "Joined into one line; each begins where the one before ends, and is turned round if that joins them.",
        """
corner  = 12 cm right from start
tip     = 10 cm down and 4 cm right from corner
top     = line start to corner
side    = curve corner leaving down, tip
outside = top then side
""",
        called="join lines one after another combine",
    ),
)
