"""Infiltration: rain that soaks through the surface and stands on ground that does not take it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from scipy.constants import day

from earthfast.checks.build_up import UNITS, Material, Method, Way
from earthfast.checks.situation import WEAKENED, Drainage, GroundDraws
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Quantity, Trail
from earthfast.sources import source_note

WET_DAY = 0.025  # m of rain, as falls a few times a year in a temperate climate
THROUGH_JOINTS = 0.2  # share of it that soaks in between blocks or flags; they shed the rest
THROUGH_GRAVEL = 1.0
SOON = 1.0 * day
UNBOUND = (Method.STONE, Method.SAND_BED)
STIFFNESS_POWER = 0.8  # of the modulus with strength, between the power law's 0.64 and proportionality
STANDING = "with rain standing on formation"
PROPOSED = "earthfast_proposal, a wet day, the share through joints, and a day to take it [P]"


def time_to_soak_away(rain: FloatLike, share: FloatLike, permeability: FloatLike) -> Floats:
    """Time in which the ground takes the rain that soaks through paving.

    Parameters
    ----------
    rain : array-like
        Depth of rain. [m]
    share : array-like
        Share of it that soaks through the joints. [-]
    permeability : array-like
        Of the ground. [m/s]

    Returns
    -------
    time : array-like
        Time. [s]

    Notes
    -----
    t = s r/k with r, s and k in the order of the arguments: downward flow under its own weight, the slower the wetter the ground
    below already is.

    References
    ----------
    definition, flow at a gradient of one [C]
    """
    return np.asarray(np.asarray(share) * rain / np.asarray(permeability))


def strength_under_rain(long_term: FloatLike, softening: FloatLike, soak_time: FloatLike) -> Floats:
    """Undrained strength of the ground once wet, where rain may stand on formation.

    Parameters
    ----------
    long_term : array-like
        With the water where it stands by itself. [Pa]
    softening : array-like
        Strength with rain standing on formation over that. [-]
    soak_time : array-like
        Time in which the ground takes what a wet day lets through the surface. [s]

    Returns
    -------
    strength : array-like
        Of the state that governs. [Pa]

    Notes
    -----
    c r where the time is more than a day, else c; c and r in the order of the arguments, r not above 1.

    References
    ----------
    earthfast_proposal, what a day does not take away stands [P]
    """
    return np.asarray(np.asarray(long_term) * _left(softening, soak_time))


def modulus_under_rain(long_term: FloatLike, softening: FloatLike, soak_time: FloatLike) -> Floats:
    """Resilient modulus of the ground once wet, where rain may stand on formation.

    Parameters
    ----------
    long_term : array-like
        With the water where it stands by itself. [Pa]
    softening : array-like
        Strength with rain standing on formation over that. [-]
    soak_time : array-like
        Time in which the ground takes what a wet day lets through the surface. [s]

    Returns
    -------
    modulus : array-like
        Of the state that governs. [Pa]

    Notes
    -----
    E r^0.8 where the time is more than a day, else E; E and r in the order of the arguments, r not above 1.

    References
    ----------
    earthfast_proposal, modulus with the 0.8th power of strength [P]
    """
    return np.asarray(np.asarray(long_term) * _left(softening, soak_time) ** STIFFNESS_POWER)


def _left(softening: FloatLike, soak_time: FloatLike) -> Floats:
    """What is left of the strength: all of it where rain does not stand."""
    stands = np.asarray(soak_time) > SOON
    return np.where(stands, np.minimum(softening, 1.0), 1.0)


def let_through(way: Way, drainage: Drainage) -> float:
    """Share of the rain that comes to formation under a way and has no way out but the ground."""
    if drainage.formation_drains or (way.method not in UNBOUND and drainage.has_outlet):
        return 0.0
    top = way.build_up.courses[0].material
    if top is Material.CONCRETE:
        return 0.0
    return THROUGH_JOINTS if top in UNITS else THROUGH_GRAVEL


def with_infiltration(ground: GroundDraws, way: Way, drainage: Drainage, trail: Trail) -> GroundDraws:
    """The ground in the worse of its own water and of rain that stands on it, for all ways of this one's method and surface."""
    share = let_through(way, drainage)
    if share == 0.0 or np.all(ground.softening.values >= WEAKENED):
        return ground
    steps = trail.under("infiltration")
    wet = {"softening": ground.softening, "soak_time": _soak_time(ground, share, steps)}
    stands = _left(**{name: one.values for name, one in wet.items()}) < WEAKENED
    return replace(
        ground,
        strength_wet=steps.derive(
            "strength",
            Meaning(
                "Undrained strength once wet, rain standing on formation where the ground does not take it",
                "Pa",
                "kPa",
            ),
            strength_under_rain,
            {"long_term": ground.strength_wet, **wet},
        ),
        modulus_wet=steps.derive(
            "modulus",
            Meaning(
                "Modulus once wet, rain standing on formation where the ground does not take it", "Pa", "MPa"
            ),
            modulus_under_rain,
            {"long_term": ground.modulus_wet, **wet},
        ),
        rain_stands=Quantity(f"{steps.prefix}stands", stands.astype(np.float64)),
    )


def _soak_time(ground: GroundDraws, share: float, steps: Trail) -> Quantity:
    sources = (source_note(PROPOSED),)
    because = "as falls a few times a year in a temperate climate"
    rain = steps.enter(
        "rain", Meaning("Rain of a wet day", "m", "mm"), WET_DAY, Origin.ASSUMED, because, sources
    )
    through = steps.enter(
        "share",
        Meaning("Share of rain that soaks through the surface", "-", "%"),
        share,
        Origin.ASSUMED,
        "through the joints of paving" if share < THROUGH_GRAVEL else "through gravel",
        sources,
    )
    return steps.derive(
        "soak_time",
        Meaning("Time in which the ground takes a wet day's water", "s", "day"),
        time_to_soak_away,
        {"rain": rain, "share": through, "permeability": ground.permeability},
    )
