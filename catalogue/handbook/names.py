"""Entries: lines that name things, start a paper, or leave a note; trying a value until it fits."""

from catalogue.handbook.entry import Entry

_GROUP = "Names and papers"

ENTRIES = (
    Entry(
        "define",
        _GROUP,
        "Give a name",
        "NAME = VALUE",
        "The name stands for the value on every line below. It is one word: letters of any alphabet, digits and _, a "
        "letter first. Each name is given once, so a draft can be read from top to bottom.",
        """
armhole_depth = bust_girth / 6 + 4 cm
nape          = start
depth_mark    = armhole_depth down from nape
""",
        called="set let equals variable value name formula",
    ),
    Entry(
        "name",
        _GROUP,
        "Use a name",
        "NAME",
        "A name given above, a choice of the style, a body measurement written with _ for its spaces, or start: the "
        "first point, from which everything else is measured. The points of a printed draft keep their numbers: "
        "point 7.",
        """
quarter = waist_girth / 4
point 1 = quarter right from start
point 2 = midway start to point 1
""",
        called="measurement choice refer variable",
    ),
    Entry(
        "dotted",
        _GROUP,
        "A part of a piece",
        "PIECE.EDGE or PIECE.POINT",
        "An edge of a piece is a line; a point of a piece is where it lies on the paper now, also after the piece was "
        "cut or turned.",
        """
a = start
b = 12 cm right from a
c = 8 cm down from b
d = 8 cm down from a
piece pocket, cut 2
  outline opening: a to b
          side: b to c
          bottom: c to d
          front: d to a

label_at = midway pocket.a to pocket.c
opening  = length of pocket.opening
""",
        called="edge of a piece dot side",
    ),
    Entry(
        "paper",
        _GROUP,
        "Take a new sheet",
        'new paper "TITLE"',
        "The lines below are drawn on a sheet of their own, with its own start. Names from other sheets can still be "
        "used in formulas. A title that was given before goes back to that sheet; a piece traced from another lies on "
        "a sheet with the piece's title.",
        """
new paper "Cuff"
cuff_end = wrist_girth + 6 cm right from start
cuff_top = line start to cuff_end
""",
        called="page sheet start again second drawing",
    ),
    Entry(
        "note",
        _GROUP,
        "Remind the cutter",
        'note "WORDS" or note "WORDS" when CONDITION',
        "The page of the draft shows the words as a reminder: always, or only for a client to whom the condition "
        "applies.",
        """
dip = 1 cm down from start
note "Check the hollow of the back at the fitting" when back_waist_length is more than 48 cm
""",
        called="remark reminder comment warning",
    ),
    Entry(
        "find",
        _GROUP,
        "Try values until it fits",
        "find NAME between LEAST and MOST so that VALUE = VALUE, with indented lines below",
        "Draws the indented lines with one value after another in the range until both sides are equal, and keeps that "
        "drawing. When no value in the range fits, the draft says what happens at both ends.",
        """
wanted = 30 cm
find rise between 4 cm and 14 cm so that length of cap = wanted
  top   = rise up from start
  back  = 12 cm left from start
  front = 12 cm right from start
  cap   = curve back leaving right, top heading right, front arriving right
""",
        called="solve search until try adjust fit goal",
    ),
    Entry(
        "repeat",
        _GROUP,
        "Draw lines several times",
        "repeat for NAME 1 to NUMBER, with indented lines below",
        "The indented lines are drawn once for each number. The name stands for the number in formulas; in names and "
        "titles write it in braces, and {NAME-1} for the number before.",
        """
gore_0 = start
repeat for gore 1 to 4
  gore_{gore} = waist_girth / 8 right from gore_{gore-1}
  seam_{gore} = line from gore_{gore} down 50 cm + gore * 1 cm
""",
        called="loop for each again several times gores buttons series count",
    ),
    Entry(
        "when",
        _GROUP,
        "Only for some",
        "when CONDITION, with indented lines below",
        "The indented lines are drawn only if the condition holds for this client and these choices.",
        """
vent_length = 20 cm
when hip_girth is more than 90 cm
  vent_top = vent_length up from start
  vent     = line start to vent_top
""",
        called="if condition in case only depends",
    ),
    Entry(
        "otherwise",
        _GROUP,
        "For the rest",
        "otherwise, with indented lines below",
        "Follows a when: its lines are drawn if that condition did not hold. Both may give the same name, as only one "
        "of them is drawn.",
        """
when cuff is wide
  cuff_depth = 7 cm
otherwise
  cuff_depth = 4 cm
cuff_edge = line from start down cuff_depth
""",
        choices=("cuff: narrow (narrow, wide)",),
        called="else if not default",
    ),
)
