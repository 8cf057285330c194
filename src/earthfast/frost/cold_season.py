"""From a climate to what the heat flow needs: surface temperatures of cold seasons, and the ground before them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import Floats
from earthfast.frost.climate import Climate
from earthfast.frost.heat import GroundStart
from earthfast.frost.winters import daily_winters

FIRST_DAY, LAST_DAY = 91, 291  # days from the warmest: a quarter year on, to well past the deepest frost


@dataclass(frozen=True, slots=True)
class ColdSeasons:
    """Surface temperatures and starting ground for `frozen_winters`.

    Attributes
    ----------
    surface_temperatures : daily means, shape (winters, days), °C.
    start : temperature of the ground on the first day.
    """

    surface_temperatures: Floats
    start: GroundStart


def cold_seasons(
    climate: Climate, freezing_n_factor: float, n_winters: int, generator: np.random.Generator
) -> ColdSeasons:
    """Cold seasons of a climate at the surface of paving.

    Parameters
    ----------
    climate : Climate
        Weather of the place. [-]
    freezing_n_factor : float
        Surface index over air index, freezing. [-]
    n_winters : int
        Number of winters. [-]
    generator : Generator
        Source of chance. [-]

    Returns
    -------
    seasons : ColdSeasons
        Surface temperatures of 200 days a winter, and the ground before them. [-]

    Notes
    -----
    T_surface = n T_air below 0 °C and T_air above, from 91 to 291 days after the warmest day, by which
    time frost is past its deepest. The ground starts with the yearly wave of the air: paving in the sun
    is warmer in summer, so this errs towards deeper frost.

    References
    ----------
    ufc_3_130_04, table 4-1, n-factors [S]
    earthfast_proposal, window and start [P]
    """
    air = daily_winters(climate, n_winters, generator)[:, FIRST_DAY:LAST_DAY]
    surface = np.where(air < 0.0, freezing_n_factor * air, air)
    return ColdSeasons(np.asarray(surface), GroundStart(climate.mean, climate.amplitude, float(FIRST_DAY)))
