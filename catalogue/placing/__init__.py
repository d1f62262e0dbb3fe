"""Where there is room: shapes and lines as cells of a grid, and free places for pages, cloth and labels."""

from catalogue.placing.bits import (
    counts,
    fewest,
    first_of,
    joined,
    rectangle,
    repeated,
    row_runs,
    shifted,
    smeared,
    spread,
    thinned,
)
from catalogue.placing.costs import Costs
from catalogue.placing.grid import (
    Grid,
    Window,
    any_room,
    cells_of_box,
    free_in,
    mark,
    nearest_room,
    window_round,
)
from catalogue.placing.lines import cells_inside, cells_stepped, cells_touched, touch_cells
from catalogue.placing.shapes import CellShape, Overlaps, half_turned, quarter_turned, shape_of

__all__ = [
    "CellShape",
    "Costs",
    "Grid",
    "Overlaps",
    "Window",
    "any_room",
    "cells_inside",
    "cells_of_box",
    "cells_stepped",
    "cells_touched",
    "counts",
    "fewest",
    "first_of",
    "free_in",
    "half_turned",
    "joined",
    "mark",
    "nearest_room",
    "quarter_turned",
    "rectangle",
    "repeated",
    "row_runs",
    "shape_of",
    "shifted",
    "smeared",
    "spread",
    "thinned",
    "touch_cells",
    "window_round",
]
