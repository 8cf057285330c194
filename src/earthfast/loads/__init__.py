"""Loads that stand or roll on the paving."""

from earthfast.loads.contact import contact_radius, contact_through_units
from earthfast.loads.library import LoadRow, load_library
from earthfast.loads.load import (
    Contact,
    Footing,
    Footprint,
    Load,
    Motion,
    load_from_mass,
    vehicle_from_mass,
)

__all__ = [
    "Contact",
    "Footing",
    "Footprint",
    "Load",
    "LoadRow",
    "Motion",
    "contact_radius",
    "contact_through_units",
    "load_from_mass",
    "load_library",
    "vehicle_from_mass",
]
