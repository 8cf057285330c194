"""How the ground draws water to a freezing front and lets it through, from its grains and plasticity, in every draw."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
from scipy.special import ndtr

from earthfast.estimate import Draws, FloatLike, Floats, Meaning, Origin, Quantity, Trail
from earthfast.frost import capillary_rise, permeability
from earthfast.ground import StratumDraws
from earthfast.sources import source_note

MM2_PER_KELVIN_DAY = 1.1574e-11  # m²/(K·s)
SILT_BELOW_20_MICRON = 0.715  # log-linear share of 0.002..0.05 mm
BANDS = np.array([[0.5, 5.0], [5.0, 15.0], [10.0, 35.0], [20.0, 70.0], [50.0, 150.0]])


def frost_rank(finer_20_micron: FloatLike, fines: FloatLike, plasticity_index: FloatLike) -> Floats:
    """Frost group of a soil as a rank, from 0 (not susceptible) to 4 (F4).

    Parameters
    ----------
    finer_20_micron : array-like
        Share finer than 0.02 mm. [-]
    fines : array-like
        Share finer than 0.075 mm. [-]
    plasticity_index : array-like
        Plasticity index as a fraction. [-]

    Returns
    -------
    rank : array-like
        0 not susceptible, 1 to 4 for F1 to F4. [-]

    Notes
    -----
    Less than 3 % finer than 0.02 mm: 0; 3 to 6 %: 1; 6 to 15 %: 2; above: 3. Where fines rule (half or more): 3 for
    clay above a plasticity index of 12, else 4. Sands by the table; gravels need a little more fines for the same group.

    References
    ----------
    ufc_3_260_02, table of frost groups [M]
    cost_351_water_in_roads, the boundaries as national classes [S]
    """
    granular = np.digitize(np.asarray(finer_20_micron), [0.03, 0.06, 0.15]).astype(np.float64)
    fine = np.where(np.asarray(plasticity_index) > 0.12, 3.0, 4.0)
    return np.where(np.asarray(fines) >= 0.5, fine, granular)


def segregation_potential_by_rank(rank: FloatLike, chance: FloatLike) -> Floats:
    """Segregation potential of a frost group, log-uniform within the group's band.

    Parameters
    ----------
    rank : array-like
        0 not susceptible, 1 to 4 for F1 to F4. [-]
    chance : array-like
        Place within the band. [-]

    Returns
    -------
    potential : array-like
        Water drawn to the front per gradient. [m²/(K·s)]

    Notes
    -----
    SP = low (high/low)^u in mm²/(K·day): not susceptible 0.5 to 5, F1 5 to 15, F2 10 to 35, F3 20 to 70, F4 50 to
    150; u the place in the band. The pressure of light paving hardly lowers it.

    References
    ----------
    earthfast_proposal, bands by frost group [P]
    konrad_morgenstern_1981, Devon silt 52 to 121 [S]
    """
    low, high = BANDS[np.asarray(rank, dtype=np.intp)].T
    return np.asarray(low * (high / low) ** np.asarray(chance) * MM2_PER_KELVIN_DAY)


def segregation_potential(
    ground: StratumDraws, order: npt.NDArray[np.int64], draws: Draws, trail: Trail
) -> Quantity:
    """Segregation potential of a stratum in every draw."""
    rank = _rank(ground)[order]
    values = segregation_potential_by_rank(rank, ndtr(draws.normal("segregation")))
    return trail.enter(
        "segregation_potential",
        Meaning("How strongly the ground feeds ice lenses", "m²/(K s)", "mm²/(K day)"),
        values,
        Origin.OBSERVED,
        "from grains and plasticity by frost group",
    )


def capillary_reach(
    ground: StratumDraws, order: npt.NDArray[np.int64], draws: Draws, trail: Trail
) -> Quantity:
    """Height to which water climbs in a stratum in every draw."""
    score = draws.normal("capillary rise")
    return trail.enter(
        "capillary_rise",
        Meaning("Height to which water climbs in the ground", "m", "m"),
        capillary_rise(ground.fines[order], ground.plasticity_index[order], score),
        Origin.OBSERVED,
        "from grains and plasticity",
        (source_note("from_memory, capillary rise bands [M]"),),
    )


def passing(ground: StratumDraws, order: npt.NDArray[np.int64], draws: Draws, trail: Trail) -> Quantity:
    """Permeability of a stratum in every draw: the higher water climbs in it, the less it lets through."""
    score = -draws.normal("capillary rise")
    return trail.enter(
        "permeability",
        Meaning("Permeability of the ground", "m/s", "mm/day"),
        permeability(ground.fines[order], ground.plasticity_index[order], score),
        Origin.OBSERVED,
        "from grains and plasticity",
        (source_note("from_memory, permeability bands [M]"),),
    )


def frost_rank_of(ground: StratumDraws, order: npt.NDArray[np.int64], trail: Trail) -> Quantity:
    """Frost group of a stratum in every draw, as a rank."""
    return trail.enter(
        "frost_rank",
        Meaning("Frost group as a rank, 0 harmless to 4 worst", "-", "-"),
        _rank(ground)[order],
        Origin.OBSERVED,
        "from grains and plasticity",
        (source_note("ufc_3_260_02, table of frost groups [M]"),),
    )


def _rank(ground: StratumDraws) -> Floats:
    finer = (1.0 - ground.stones) * (ground.clay + SILT_BELOW_20_MICRON * ground.silt)
    return frost_rank(finer, ground.fines, ground.plasticity_index)
