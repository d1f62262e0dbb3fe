"""People: body measurements and client files."""

from catalogue.people.client import Chosen, Client, Measured, MeasurementSet, read_client
from catalogue.people.measurements import Bounds, Measurement
from catalogue.people.register import REGISTER, known_measurements, lookup, suggest
from catalogue.slugs import slugify

__all__ = [
    "REGISTER",
    "Bounds",
    "Chosen",
    "Client",
    "Measured",
    "Measurement",
    "MeasurementSet",
    "known_measurements",
    "lookup",
    "read_client",
    "slugify",
    "suggest",
]
