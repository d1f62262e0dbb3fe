"""Plane geometry for the drafting table: points, smooth curves, paths, their crossings and parallels, solving.

Everything is in millimetres, x to the right and y down, angles in degrees clockwise as seen on paper. Curves
stay cubic Béziers throughout. All values are immutable. Shapes that can't be made raise GeometryError.
"""

from catalogue.geometry.arcs import arc, circle
from catalogue.geometry.areas import contains, polygon, signed_area
from catalogue.geometry.box import Box, union
from catalogue.geometry.construction import circle_meets_path, circles_meet, foot_of, line_meets_line
from catalogue.geometry.crossing import Crossing, crossings, is_simple, self_crossings
from catalogue.geometry.offset import parallel
from catalogue.geometry.path import Path
from catalogue.geometry.point import DIRECTIONS, GeometryError, Point
from catalogue.geometry.segments import Cubic, Line, Segment
from catalogue.geometry.smooth import Knot, smooth
from catalogue.geometry.solving import NoSolution, solve
from catalogue.geometry.transform import Transform

__all__ = [
    "DIRECTIONS",
    "Box",
    "Crossing",
    "Cubic",
    "GeometryError",
    "Knot",
    "Line",
    "NoSolution",
    "Path",
    "Point",
    "Segment",
    "Transform",
    "arc",
    "circle",
    "circle_meets_path",
    "circles_meet",
    "contains",
    "crossings",
    "foot_of",
    "is_simple",
    "line_meets_line",
    "parallel",
    "polygon",
    "self_crossings",
    "signed_area",
    "smooth",
    "solve",
    "union",
]
