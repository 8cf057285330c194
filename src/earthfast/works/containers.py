"""What soil and stone travel in, and how many journeys that makes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from earthfast.sources import read_table
from earthfast.works.goods import Goods, Line, order_line, whole_units

_SKIPS = (Goods.SKIP_4, Goods.SKIP_6, Goods.SKIP_8)


class Carrier(StrEnum):
    """Skips, barrows, trailers and lorries."""

    SKIP_4 = "skip_4"
    SKIP_6 = "skip_6"
    SKIP_8 = "skip_8"
    WHEELBARROW = "wheelbarrow"
    TRAILER = "trailer"
    VAN = "van"
    TIPPER_26 = "tipper_26"
    TIPPER_32 = "tipper_32"
    GRAB_LORRY = "grab_lorry"


@dataclass(frozen=True, slots=True)
class CarrierRow:
    """One row of containers.toml: volume (0 where not stated) and the range of payloads."""

    key: str
    words: str
    volume_m3: float
    least_payload_kg: float
    greatest_payload_kg: float
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class Filling:
    """How full a container may be.

    Attributes
    ----------
    usable_volume : m³.
    fraction : of the container's volume.
    full_mass : mass if it were filled to the brim, kg.
    mass_governs : the mass limit is reached before the brim.
    """

    usable_volume: float
    fraction: float
    full_mass: float
    mass_governs: bool


@cache
def carrier_row(carrier: Carrier) -> CarrierRow:
    """The row of containers.toml for a carrier."""
    rows: tuple[CarrierRow, ...] = read_table("containers", CarrierRow).rows
    return next(row for row in rows if row.key == carrier)


def filling(volume: float, payload: float, loose_density: float) -> Filling:
    """How full a container may be before its mass limit is reached.

    Parameters
    ----------
    volume : float
        Volume to the brim. [m³]
    payload : float
        Mass limit. [kg]
    loose_density : float
        Mass per loose volume of the contents. [kg/m³]

    Returns
    -------
    filling : Filling
        Usable volume, fraction, mass to the brim, and which limit governs.

    Notes
    -----
    V = min(V₀, m/ρ), with V₀, m, ρ in the order of the arguments.

    References
    ----------
    uk_skip_guide, a large skip of soil exceeds the lorry's limit [S]
    """
    usable = min(volume, payload / loose_density)
    return Filling(usable, usable / volume, volume * loose_density, usable < volume)


def journeys(carrier: Carrier, mass: float, loose_volume: float = 0.0) -> int:
    """Journeys of a carrier with a mass and a loose volume, by whichever limit is reached first."""
    row = carrier_row(carrier)
    by_mass = whole_units(mass, row.least_payload_kg)
    by_volume = whole_units(loose_volume, row.volume_m3) if row.volume_m3 else 0
    return max(by_mass, by_volume)


def area_per_skip(volume: float, dig_depth: float, swell: float) -> float:
    """Area whose soil fills one skip.

    Parameters
    ----------
    volume : float
        Volume of the skip. [m³]
    dig_depth : float
        Depth dug. [m]
    swell : float
        Gain of volume on digging. [-]

    Returns
    -------
    area : float
        Area dug for one skip, by volume; check the mass too. [m²]

    Notes
    -----
    A = V / (d (1 + s)), with V, d, s in the order of the arguments.

    References
    ----------
    uk_paving_guide_2009, its own figure leaves the swell out [C]
    """
    return volume / (dig_depth * (1.0 + swell))


def spoil_line(bank_volume: float, bank_density: float, swell: float, grab_lorry_from: float) -> Line | None:
    """Skips or lorry loads for soil that leaves; the fewest skips, and of those the smallest."""
    if bank_volume <= 0.0:
        return None
    mass = bank_volume * bank_density
    if mass >= grab_lorry_from:
        return order_line(Goods.GRAB_LOAD, mass)
    loose, density = bank_volume * (1.0 + swell), bank_density / (1.0 + swell)
    sizes = [_usable(skip, density) for skip in _SKIPS]
    counts = [math.ceil(loose / size - 1e-9) for size in sizes]
    fewest = counts.index(min(counts))
    return order_line(_SKIPS[fewest], loose, unit_size=sizes[fewest])


def _usable(skip: Goods, loose_density: float) -> float:
    row = carrier_row(Carrier(skip.value))
    return min(row.volume_m3, row.least_payload_kg / loose_density)
