"""The kinds of unit that a catalogue is made of, each in a module of its own; `CATALOGUE` lists them."""

from catalogue.building.kind import Definition
from catalogue.building.readers import StudioReaders
from catalogue.building.units.choices import Choices
from catalogue.building.units.client import ClientPages
from catalogue.building.units.handbook import Handbook
from catalogue.building.units.home import Home
from catalogue.building.units.options import Options
from catalogue.building.units.ordered import OrderedDraft
from catalogue.building.units.orders import Orders
from catalogue.building.units.page import PairPage
from catalogue.building.units.pair import Pair
from catalogue.building.units.rest import Rest
from catalogue.building.units.sizes import Sizes
from catalogue.building.units.style import StylePages
from catalogue.building.units.workroom import Workroom

__all__ = ["CATALOGUE"]

# A kind comes after those it shows; of the others, what takes long comes first, so that no process is left with it
# when the rest are done.
CATALOGUE = Definition(
    StudioReaders(),
    (
        Sizes(),
        Handbook(),
        Choices(),
        Pair(),
        Rest(),
        OrderedDraft(),
        PairPage(),
        Options(),
        StylePages(),
        ClientPages(),
        Orders(),
        Workroom(),
        Home(),
    ),
)
