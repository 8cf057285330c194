"""What a stratum may be: draws of its correlated properties, made from independent standard normals."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.special import expit, log_ndtr, ndtri_exp

from earthfast.estimate import Estimate, Floats
from earthfast.ground.compaction import optimum_water_from_plastic_limit
from earthfast.ground.equilibrium import equilibrium_cbr, table_rule
from earthfast.ground.hand_key import FinesClass
from earthfast.ground.stratum_prior import StratumPrior
from earthfast.sources.constants import WATER_DENSITY

GRAIN_DENSITY_RATIO = 2.68  # most soils 2.6 to 2.8
PLASTIC_FROM = 0.02  # below this plasticity index the soil counts as non-plastic


LATENTS = (
    "clay_to_silt",
    "sand_to_silt",
    "stones",
    "activity",
    "limit_offset",
    "organic",
    "water_level",
    "equilibrium_error",
    "season",
    "looseness",
    "saturation",
    "liquidity_error",
    "cu_to_cbr_error",
    "stiffness_error",
    "spot_spread",
    "sulfate",
)


@dataclass(frozen=True, slots=True)
class StratumDraws:
    """Joint draws of the properties of one stratum, each an array of the same length.

    Attributes
    ----------
    clay, silt, sand : shares of the mineral part finer than 2 mm, -.
    stones : share of the whole coarser than 2 mm, -.
    fines : share of the whole finer than 0.075 mm, -.
    plasticity_index, liquid_limit : of the part finer than 0.425 mm, as fractions, -.
    organic_content : of dry mass, -.
    sulfate : water-soluble, fraction of dry mass, -.
    winter_water_depth : depth below ground of the highest seasonal water, m.
    water_content : now, of dry mass, -.
    liquidity_index : now, -.
    dry_density : now, kg/m³.
    saturation : now, share of the pores, -.
    cbr_wet : in the long-term wet state under paving, %.
    cbr_now : as found, %.
    undrained_strength : as found, Pa.
    undrained_strength_wet : in the long-term wet state, Pa.
    stiffness : vertical modulus in the long-term wet state, Pa.
    spot_spread : log-standard deviation of strength from place to place, -.
    fines_class : what the fine part behaves as (FinesClass).
    """

    clay: Floats
    silt: Floats
    sand: Floats
    stones: Floats
    fines: Floats
    plasticity_index: Floats
    liquid_limit: Floats
    organic_content: Floats
    sulfate: Floats
    winter_water_depth: Floats
    water_content: Floats
    liquidity_index: Floats
    dry_density: Floats
    saturation: Floats
    cbr_wet: Floats
    cbr_now: Floats
    undrained_strength: Floats
    undrained_strength_wet: Floats
    stiffness: Floats
    spot_spread: Floats
    fines_class: np.ndarray[tuple[int], np.dtype[np.intp]]

    @property
    def plastic_limit(self) -> Floats:
        """Liquid limit less plasticity index, -."""
        return np.asarray(self.liquid_limit - self.plasticity_index)

    @property
    def optimum_water(self) -> Floats:
        """Water content at which it compacts best at standard effort, -."""
        ruled = fines_rule(self.fines)
        return np.asarray(ruled * optimum_water_from_plastic_limit(self.plastic_limit) + (1.0 - ruled) * 0.11)

    @property
    def count(self) -> int:
        """Number of draws."""
        return int(self.clay.size)


@dataclass(frozen=True, slots=True)
class _Grains:
    clay: Floats
    silt: Floats
    sand: Floats
    stones: Floats
    fines: Floats


@dataclass(frozen=True, slots=True)
class _Limits:
    plasticity_index: Floats
    liquid_limit: Floats
    organic_content: Floats


def stratum_from_latents(latents: Floats, prior: StratumPrior) -> StratumDraws:
    """Properties of a stratum for standard normal latents, shape (draws, latents)."""
    columns = np.ascontiguousarray(latents.T)
    z = dict(zip(LATENTS, columns, strict=True))
    grains = _grains(z, prior)
    limits = _limits(z, prior, grains)
    water_depth = prior.winter_water_depth.at_normal(z["water_level"])
    ruled = fines_rule(grains.fines)
    cbr_wet = _wet_cbr(z, prior, grains, limits, water_depth)
    cbr_now = cbr_wet * np.exp((0.15 + 0.85 * ruled) * _log_found_over_wet(z["season"], prior.season))
    cu_per_cbr = 25.0e3 * np.exp(0.40 * z["cu_to_cbr_error"])
    undrained_strength = cu_per_cbr * cbr_now
    water, liquidity, density, saturation = _water_and_density(z, limits, ruled, undrained_strength)
    return StratumDraws(
        clay=grains.clay,
        silt=grains.silt,
        sand=grains.sand,
        stones=grains.stones,
        fines=grains.fines,
        plasticity_index=limits.plasticity_index,
        liquid_limit=limits.liquid_limit,
        organic_content=limits.organic_content,
        sulfate=prior.sulfate.at_normal(z["sulfate"]),
        winter_water_depth=water_depth,
        water_content=water,
        liquidity_index=liquidity,
        dry_density=density,
        saturation=saturation,
        cbr_wet=cbr_wet,
        cbr_now=cbr_now,
        undrained_strength=undrained_strength,
        undrained_strength_wet=cu_per_cbr * cbr_wet,
        stiffness=_stiffness(cbr_wet) * np.exp(0.45 * z["stiffness_error"]),
        spot_spread=prior.spot_spread.at_normal(z["spot_spread"]),
        fines_class=fines_class(limits.plasticity_index, limits.liquid_limit, limits.organic_content),
    )


def fines_rule(fines: Floats) -> Floats:
    """How far the fine part rules the whole: not in clean sand, wholly from 35 % fines on (P)."""
    return np.asarray(np.clip((fines - 0.12) / 0.23, 0.0, 1.0))


def _long_tailed(normal: Floats, cubic: float, below: float | None = None) -> Floats:
    """Normal scores with their tails drawn out, for ground that is rare and must not be ruled out."""
    drawn = cubic if below is None else np.where(normal < 0.0, below, cubic)
    return np.asarray(normal * (1.0 + drawn * normal * normal))


def _grains(z: dict[str, Floats], prior: StratumPrior) -> _Grains:
    clay = np.exp(prior.ln_clay_to_silt.at_normal(z["clay_to_silt"]))
    sand = np.exp(prior.ln_sand_to_silt.at_normal(z["sand_to_silt"]))
    whole = 1.0 + clay + sand
    clay, silt, sand = clay / whole, 1.0 / whole, sand / whole
    stones = np.asarray(expit(prior.logit_stones.at_normal(z["stones"])))
    # 15 % of sand lies between 0.05 and 0.075 mm, less in clean sand
    very_fine = 0.15 * sand * np.minimum(1.0, (1.0 - sand) / 0.4)
    return _Grains(clay, silt, sand, stones, (1.0 - stones) * (clay + silt + very_fine))


def _limits(z: dict[str, Floats], prior: StratumPrior, grains: _Grains) -> _Limits:
    # the long tail is peaty ground: one stratum in a hundred above 20 %
    organic = np.minimum(
        prior.organic_median * np.exp(prior.organic_spread * _long_tailed(z["organic"], 0.17)), 0.9
    )
    activity = prior.activity.at_normal(z["activity"])
    # below about 10 % clay the grains stand in contact and plasticity fades out
    index = activity * grains.clay * -np.expm1(-((grains.clay / 0.10) ** 3))
    # clays lie above the A-line, the more so the more plastic; organic matter carries soils below it
    offset = prior.limit_offset.at_normal(z["limit_offset"]) - 0.12 * index + 1.5 * np.minimum(organic, 0.4)
    limit = 0.20 + index / 0.73 + offset
    return _Limits(index, np.maximum(limit, 0.08 + index / 0.9 + 0.01), organic)


def fines_class(
    plasticity_index: Floats, liquid_limit: Floats, organic_content: Floats
) -> np.ndarray[tuple[int], np.dtype[np.intp]]:
    """Row of the hand-test key for each draw; organic from 6 % and peat from 25 % of dry mass (P)."""
    above = plasticity_index >= 0.73 * (liquid_limit - 0.20)
    low = np.where(
        above & (plasticity_index > 0.07),
        FinesClass.LEAN_CLAY,
        np.where(above & (plasticity_index >= 0.04), FinesClass.SILTY_CLAY, FinesClass.SILT),
    )
    high = np.where(above, FinesClass.FAT_CLAY, FinesClass.ELASTIC_SILT)
    mineral = np.where(liquid_limit < 0.50, low, high)
    organic = np.where(liquid_limit < 0.50, FinesClass.ORGANIC_LEAN, FinesClass.ORGANIC_FAT)
    return np.where(
        organic_content > 0.25, FinesClass.PEAT, np.where(organic_content > 0.06, organic, mineral)
    ).astype(np.intp)


def _wet_cbr(
    z: dict[str, Floats], prior: StratumPrior, grains: _Grains, limits: _Limits, water_depth: Floats
) -> Floats:
    below = water_depth - prior.formation_depth
    by_fines = equilibrium_cbr(limits.plasticity_index, below, prior.protection)
    # sand 20, sandy gravel 60 when clean; about 10 at 20 % fines; the table of fine soils from 45 %
    clean = np.log(20.0) + (np.log(60.0) - np.log(20.0)) * np.clip(grains.stones / 0.5, 0.0, 1.0)
    dirty = np.log(10.0) + 0.5 * (np.clip(grains.stones / 0.5, 0.0, 1.0))
    fines = grains.fines
    granular = clean + (dirty - clean) * np.clip((fines - 0.05) / 0.15, 0.0, 1.0)
    ln_cbr = granular + (np.log(by_fines) - granular) * table_rule(fines)
    softened = -6.0 * np.maximum(np.minimum(limits.organic_content, 0.3) - 0.03, 0.0)
    # the longer tail is ground that never was firm: soft silt and mud, which a heel sinks into
    error = prior.equilibrium_error * _long_tailed(z["equilibrium_error"], 0.04, below=0.20)
    return np.asarray(np.exp(ln_cbr + softened + error))


def _log_found_over_wet(normal: Floats, season: Estimate) -> Floats:
    """Log of strength as found over wet at standard normal scores: normal, cut off at 0."""
    above = log_ndtr(season.centre / season.spread)
    scores = -ndtri_exp(above + log_ndtr(-_long_tailed(normal, 0.06)))
    return np.asarray(np.maximum(season.centre + season.spread * scores, 0.0))


def _stiffness(cbr: Floats) -> Floats:
    # geometric middle of 10 CBR and 17.6 CBR^0.64, MPa
    return np.asarray(1.0e6 * np.sqrt(10.0 * cbr * 17.6 * cbr**0.64))


def _water_and_density(
    z: dict[str, Floats], limits: _Limits, ruled: Floats, undrained_strength: Floats
) -> tuple[Floats, Floats, Floats, Floats]:
    index, plastic_limit = limits.plasticity_index, limits.liquid_limit - limits.plasticity_index
    # cu = 1.7 kPa at the liquid limit, 35 times that at the plastic limit
    liquidity = 1.0 - np.log(undrained_strength / 1.7e3) / np.log(35.0) + 0.2 * z["liquidity_error"]
    liquidity = np.clip(liquidity, -1.0, 1.6)
    water_fine = np.maximum(plastic_limit + liquidity * index + 0.02 * z["liquidity_error"], 0.03)
    ratio = GRAIN_DENSITY_RATIO
    full_fine = expit(2.2 + 0.9 * z["saturation"])
    full_sand = expit(-0.2 + 1.0 * z["saturation"])
    voids_sand = 0.55 * np.exp(0.2 * z["looseness"])
    water = ruled * water_fine + (1.0 - ruled) * full_sand * voids_sand / ratio
    voids = ruled * water_fine * ratio / full_fine + (1.0 - ruled) * voids_sand
    return (
        np.asarray(water),
        np.asarray(liquidity),
        np.asarray(ratio * WATER_DENSITY / (1.0 + voids)),
        np.asarray(water * ratio / voids),
    )
