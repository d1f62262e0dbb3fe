"""People: body measurements and client files."""

from catalogue.people.client import Chosen, Client, Measured, MeasurementSet, read_client
from catalogue.people.measurements import Bounds, Measurement
from catalogue.people.register import REGISTER, lookup, suggest
from catalogue.slugs import slugify

__all__ = [
    "REGISTER",
    "Bounds",
    "Chosen",
    "Client",
    "Measured",
    "MeasurementSet",
    "Measurement",
    "lookup",
    "read_client",
    "slugify",
    "suggest",
]
