"""People: the register of body measurements, and client files and tables of sizes read by it."""

from catalogue.people.client import Chosen, Client, Measured, MeasurementSet
from catalogue.people.measurements import Bounds, Measurement
from catalogue.people.reading import read_client
from catalogue.people.register import REGISTER, Register, known_measurements, lookup, suggest
from catalogue.people.size_reading import read_sizes
from catalogue.people.sizes import Size, SizeTable
from catalogue.slugs import slugify

__all__ = [
    "REGISTER",
    "Bounds",
    "Chosen",
    "Client",
    "Measured",
    "Measurement",
    "MeasurementSet",
    "Register",
    "Size",
    "SizeTable",
    "known_measurements",
    "lookup",
    "read_client",
    "read_sizes",
    "slugify",
    "suggest",
]
