"""The library of usual loads, read from its table."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

import numpy as np

from earthfast.estimate import Estimate, exact, lognormal_from_band
from earthfast.loads.load import Contact, Footing, Footprint, Load, Motion
from earthfast.sources import read_table, source_note


@dataclass(frozen=True, slots=True)
class LoadRow:
    """One row of the table of loads: bands are 5..95 %, a width or pressure of 0 means there is none."""

    key: str
    words: str
    x: list[float]
    y: list[float]
    force: list[float]
    footing: str
    contact_area: float
    contact_pressure: list[float]
    motion: str
    passes_per_year: list[float]
    base_pressure: list[float]
    footprint: list[float]
    needs_engineer: bool
    sources: list[str]


def _estimate(band: list[float]) -> Estimate:
    low, high = band
    return exact(low) if low == high else lognormal_from_band(low, high)


def _load(row: LoadRow) -> Load:
    force = _estimate(row.force)
    footing = Footing(row.footing)
    if footing is Footing.RIGID:
        pressure = Estimate(force.centre / row.contact_area, force.spread, force.family)
    else:
        pressure = _estimate(row.contact_pressure)
    return Load(
        key=row.key,
        words=row.words,
        contacts=tuple(Contact(x, y) for x, y in zip(row.x, row.y, strict=True)),
        force=force,
        pressure=pressure,
        footing=footing,
        motion=Motion(row.motion),
        passes_per_year=_estimate(row.passes_per_year),
        base_pressure=_estimate(row.base_pressure) if np.all(row.base_pressure) else None,
        footprint=Footprint(row.footprint[0], row.footprint[1]) if np.all(row.footprint) else None,
        needs_engineer=row.needs_engineer,
        sources=tuple(source_note(line) for line in row.sources),
    )


@cache
def load_library() -> MappingProxyType[str, Load]:
    """All usual loads by key.

    Returns
    -------
    loads : mapping
        Loads from a heel to a refuse lorry, by their plain word. [-]

    Notes
    -----
    Bands are the 5..95 % of the single thing named, not of all things of its kind. Only the heaviest axle
    of a lorry is listed. Codes speak of characteristic loads, which stand as exact values. Vehicles and
    racking are marked as needing an engineer. Outriggers are absent: ask the maker.

    References
    ----------
    en_1991_1_1, 6.3 [M]
    cross_1257, mass of cars [S]
    gb_vehicle_weights, axle and gross limits [S]
    fire_access_sheets, gross mass of appliances [S]
    hot_tub_weights, filled mass [S]
    earthfast_proposal, feet, sizes and passes [P]
    """
    return MappingProxyType({row.key: _load(row) for row in read_table("loads", LoadRow).rows})
