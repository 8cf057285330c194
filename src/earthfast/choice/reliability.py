"""Chance of failure of one way in one check where counting says no more than that it is rare."""

from __future__ import annotations

import numpy as np
from scipy.special import ndtr, ndtri

from earthfast.checks import CHECKS, Case, CheckName, Way
from earthfast.choice.rare_chance import RareChance, Room, subset_chance
from earthfast.choice.setting import Setting
from earthfast.estimate import Draws, FloatLike, Floats, Trail

RARE = 1e-3  # counting 4096 draws is no longer near below it
# the others rest on the ground's draws and on nothing else, which have no tail beyond themselves
FOLLOWED = (
    CheckName.BEARING,
    CheckName.SOFTENING,
    CheckName.CRACKING,
    CheckName.RUTTING,
    CheckName.SETTLEMENT,
    CheckName.FROST,
    CheckName.DURABILITY,
    CheckName.DRAINAGE,
    CheckName.EDGE,
)
GROUND, WINTER = "ground", "coldest winter"


def reliability_index(chance: FloatLike) -> Floats:
    """Reliability index that stands for a chance of failure.

    Parameters
    ----------
    chance : array-like
        Chance of failure. [-]

    Returns
    -------
    index : array-like
        Reliability index; 0 for one in two, 3.1 for one in a thousand. [-]

    Notes
    -----
    β = −Φ⁻¹(P), P the chance. Another scale for the same thing, kept beside it for those who think in it.

    References
    ----------
    en_1990, annex C [M]
    """
    return np.asarray(-ndtri(chance))


def variables_of(setting: Setting) -> tuple[str, ...]:
    """Names of the independent variables behind a setting: every column of its draws, the ground and the winter."""
    return (*setting.draws.names, GROUND, WINTER)


def room_of(way: Way, name: CheckName, setting: Setting) -> Room:
    """Room of a way in a check as a function of standard normal scores of all variables, (samples, variables).

    The ground is one of the setting's draws, taken in order of what the check asks of it, and so is the winter in order of its
    frost: chances are as fine as those draws allow and the tails of what the draws are made of no longer. Heat flows as worked
    out for the middle of all draws.

    Returns
    -------
    room : (capacity − demand)/(|capacity| + |demand|), below 0 where it fails.
    """
    names = setting.draws.names
    ranked = _ranked_by(setting.alone(way), name, setting)
    by_ground, by_frost = (np.argsort(key, kind="stable") for key in ranked)

    def room(scores: Floats) -> Floats:
        places = _places(scores[:, -2:], setting.draws.count)
        draws = Draws.of_normals(names, np.ascontiguousarray(scores[:, :-2]))
        drawn = setting.redrawn(by_ground[places[:, 0]], by_frost[places[:, 1]], draws)
        result = CHECKS[name].judge(drawn.alone(way), Trail(recording=False))
        shape = (1, len(scores))
        demand, capacity = (np.broadcast_to(q.values, shape)[0] for q in (result.demand, result.capacity))
        size = np.maximum(np.abs(capacity) + np.abs(demand), np.finfo(np.float64).tiny)
        return np.asarray((capacity - demand) / size)

    return room


def _ranked_by(case: Case, name: CheckName, setting: Setting) -> tuple[Floats, Floats]:
    """What the ground and the winters are put in order by, the worst first."""
    ground, winters = case.ground, setting.winters.freezing_index.values
    worst_first = (
        -ground.segregation_potential.values if name is CheckName.FROST else ground.strength_wet.values
    )
    every = np.arange(setting.draws.count, dtype=np.float64)
    return worst_first, -(winters if winters.size > 1 else every)


def _places(scores: Floats, count: int) -> np.ndarray[tuple[int, int], np.dtype[np.intp]]:
    return np.minimum((ndtr(scores) * count).astype(np.intp), count - 1)


def rare_chance(
    way: Way, name: CheckName, setting: Setting, count: int, generator: np.random.Generator
) -> RareChance:
    """Chance of failure of a way in a check by subset simulation, with so many samples a level."""
    if name not in FOLLOWED:
        raise ValueError(f"the chance of '{name}' is counted only")
    return subset_chance(room_of(way, name, setting), len(variables_of(setting)), count, generator)
