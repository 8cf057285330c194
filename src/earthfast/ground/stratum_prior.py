"""What is believed about a stratum before anything is observed in it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from earthfast.estimate import Estimate, lognormal, normal
from earthfast.ground.equilibrium import Protection


class Season(StrEnum):
    """State of the ground when it was tested, against its long-term wet state under paving."""

    UNKNOWN = "unknown"
    WET = "wet"
    MIXED = "mixed"
    DRY = "dry"


class Bedding(StrEnum):
    """What kind of stratum it is taken for, before observations."""

    TOPSOIL = "topsoil"
    NATURAL = "natural ground"
    FILL = "filled ground"


@dataclass(frozen=True, slots=True)
class StratumPrior:
    """Prior of one stratum; every figure is our proposal unless the pages on evidence say otherwise.

    Attributes
    ----------
    ln_clay_to_silt, ln_sand_to_silt : log ratios of the shares finer than 2 mm, -.
    logit_stones : logit of the share coarser than 2 mm, -.
    activity : plasticity index over clay share, -.
    limit_offset : how far the liquid limit lies beyond the A-line, as a fraction, -.
    organic_median, organic_spread : organic content, -.
    sulfate : water-soluble sulfate by dry mass, -.
    winter_water_depth : depth of the highest seasonal water below ground, m.
    season : log of strength as found over strength in the long-term wet state, of plastic soil, before it is
        cut off at 0: ground is never stronger once wet than as found, -.
    spot_spread : log-standard deviation of strength from place to place, -.
    equilibrium_error : log-standard deviation of the long-term wet CBR about its table, -.
    formation_depth : depth of formation below ground, m.
    protection : how well formation is drained and kept dry while building.
    """

    ln_clay_to_silt: Estimate
    ln_sand_to_silt: Estimate
    logit_stones: Estimate
    activity: Estimate
    limit_offset: Estimate
    organic_median: float
    organic_spread: float
    sulfate: Estimate
    winter_water_depth: Estimate
    season: Estimate
    spot_spread: Estimate
    equilibrium_error: float
    formation_depth: float
    protection: Protection = Protection.AVERAGE


NATURAL_GROUND = StratumPrior(
    ln_clay_to_silt=normal(-0.5, 0.8),
    ln_sand_to_silt=normal(0.3, 1.7),
    logit_stones=normal(-2.2, 1.3),
    activity=lognormal(0.71, 0.35),
    limit_offset=normal(-0.01, 0.045),
    organic_median=0.010,
    organic_spread=0.7,
    sulfate=lognormal(300e-6, 1.2),
    winter_water_depth=lognormal(1.2, 0.8),
    season=normal(0.2, 0.65),
    spot_spread=lognormal(0.32, 0.35),
    equilibrium_error=0.35,
    formation_depth=0.3,
)

SEASON_SHIFTS: dict[Season, Estimate] = {
    Season.UNKNOWN: normal(0.2, 0.65),
    Season.WET: normal(0.0, 0.2),
    Season.MIXED: normal(0.35, 0.32),
    Season.DRY: normal(0.9, 0.45),
}


def stratum_prior(
    bedding: Bedding = Bedding.NATURAL, season: Season = Season.UNKNOWN, formation_depth: float = 0.3
) -> StratumPrior:
    """Prior belief about a stratum from what it is taken for and when it was tested.

    Parameters
    ----------
    bedding : Bedding
        Topsoil, natural ground or filled ground.
    season : Season
        State of the ground when it was tested.
    formation_depth : float
        Depth of formation below the ground surface. [m]

    Returns
    -------
    prior : StratumPrior

    Notes
    -----
    Strength as found exceeds the long-term wet strength of plastic soil by a factor exp(s), s normal and cut off
    at 0, since wetting never hardens ground: unknown season 0.2 ± 0.65 (once cut off 0.5, 0.03 to 1.6),
    wet 0 ± 0.2 (0.14, 0.01 to 0.4), between 0.35 ± 0.32 (0.4, 0.03 to 1.0), dry 0.9 ± 0.45 (0.9, 0.2 to 1.8). A
    dry-season sounding in clay reads 2 to 5 times the wet value. Topsoil starts from 4 % organic content, filled ground from
    twice the place-to-place spread and more stones.

    References
    ----------
    earthfast_proposal, prior of a stratum [P]
    """
    base = replace(NATURAL_GROUND, season=SEASON_SHIFTS[season], formation_depth=formation_depth)
    if bedding is Bedding.TOPSOIL:
        return replace(base, organic_median=0.04, organic_spread=0.5)
    if bedding is Bedding.FILL:
        return replace(base, spot_spread=lognormal(0.6, 0.35), logit_stones=normal(-1.2, 1.3))
    return base
