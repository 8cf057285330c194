"""The winters of a job: its climate, and the coldest winter of the design life in every draw."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.special import ndtr

from earthfast.checks import Winters, WinterSample, freezing_season_length
from earthfast.estimate import Draws, Estimate, FloatLike, Meaning, Origin, Quantity, Trail, lognormal
from earthfast.frost import SurfaceCover, n_factor
from earthfast.sources import source_note
from earthfast.stages.climate import Weather

INDEX = "K s"
INDEX_SHOWN = "°C day"
RETURN_PERIODS = (2, 10, 30, 100)
FACTOR_SPREAD = 0.10  # log-sd of a surface factor
KEPT = " kept clear"
SHADE_REACH = 5.0  # m from a building within which part of the area lies in its winter shade


@dataclass(frozen=True, slots=True)
class Exposure:
    """What the air meets on an area: its own surface, the verge beside it, and whether part lies in shade."""

    surface: SurfaceCover
    verge: SurfaceCover = SurfaceCover.TURF
    is_shaded: bool = False


def frost_index_of_return(freezing_index: FloatLike, return_period: FloatLike) -> FloatLike:
    """Frost index reached or passed by one winter in so many.

    Parameters
    ----------
    freezing_index : array-like
        Index of simulated winters. [K·s]
    return_period : array-like
        One winter in so many. [-]

    Returns
    -------
    index : array-like
        Frost index. [K·s]

    Notes
    -----
    The quantile of the simulated winters at 1 − 1/T, T the return period.

    References
    ----------
    definition, quantile [C]
    """
    return np.quantile(freezing_index, 1.0 - 1.0 / np.asarray(return_period))


def winters_of(
    weather: Weather,
    years: float,
    exposure: Exposure,
    sample: WinterSample,
    draws: Draws,
    trail: Trail,
) -> Winters:
    """The coldest winter of the design life, one a draw.

    The coldest of n independent winters is the quantile u^(1/n) of the simulated ones, u uniform.
    """
    steps = trail.under("winter")
    coldest = steps.enter(
        "freezing_index",
        Meaning(f"Frost index of the coldest of {years:.0f} winters", INDEX, INDEX_SHOWN),
        sample.at_rank(ndtr(draws.normal("winter")) ** (1.0 / max(years, 1.0))),
        weather.origin,
        weather.because + "; winters simulated with persistence",
        weather.sources,
    )
    _record_return_periods(sample, weather, steps)
    season = steps.derive(
        "season",
        Meaning("Length of that freezing season", "s", "day"),
        freezing_season_length,
        {"freezing_index": coldest},
    )
    mean = steps.enter(
        "mean_annual_temperature",
        Meaning("Mean air temperature of the year", "°C", "°C"),
        weather.climate.mean,
        weather.origin,
        weather.because,
        weather.sources,
    )
    factors = _factors(exposure, draws, steps)
    usual = n_factor(exposure.surface)
    return Winters(coldest, season, mean, factors.surface, factors.verge, factors.shade, usual, sample)


def _record_return_periods(sample: WinterSample, weather: Weather, steps: Trail) -> None:
    """Record the index of one winter in two, ten, thirty and a hundred."""
    simulated = steps.enter(
        "simulated",
        Meaning("Frost index of a winter", INDEX, INDEX_SHOWN),
        sample.freezing_index,
        weather.origin,
        weather.because + "; winters simulated with persistence",
        weather.sources,
    )
    for period in RETURN_PERIODS:
        years = steps.enter(
            f"return_period_{period}",
            Meaning("Return period", "-", "-"),
            period,
            Origin.DERIVED,
            "by its name",
        )
        steps.derive(
            f"freezing_index_{period}",
            Meaning(f"Frost index of one winter in {period}", INDEX, INDEX_SHOWN),
            frost_index_of_return,
            {"freezing_index": simulated, "return_period": years},
        )


@dataclass(frozen=True, slots=True)
class _Factors:
    surface: Quantity
    verge: Quantity
    shade: Quantity


def _factors(exposure: Exposure, draws: Draws, steps: Trail) -> _Factors:
    """Surface factors on one column of draws, so that the open, the edge and the shade keep their order."""
    surface = n_factor(exposure.surface)
    beside = 0.5 * (surface + n_factor(exposure.verge))
    shade = max(surface, n_factor(SurfaceCover.SHADED)) if exposure.is_shaded else surface

    def entered(key: str, label: str, factor: float, because: str) -> Quantity:
        return steps.enter(
            key,
            Meaning(f"Frost index of {label} over that of the air", "-", "-"),
            draws.of("surface factor", surface_factor(factor)),
            Origin.ASSUMED,
            because,
            (source_note("ufc_3_130_04, table 4-1 [S]"), source_note("earthfast_proposal, scatter [P]")),
        )

    shaded = "a building stands near" if exposure.is_shaded else "nothing stands near enough to shade it"
    return _Factors(
        entered(
            "surface_factor",
            "the surface",
            surface,
            f"as {exposure.surface.removesuffix(KEPT)}{KEPT} of snow",
        ),
        entered("verge_factor", "the edge", beside, f"half way to {exposure.verge.value} beside it"),
        entered("shade_factor", "the shaded part", shade, shaded),
    )


def surface_factor(usual: float) -> Estimate:
    """A surface factor with its scatter: cover, colour, wind and snow differ from winter to winter."""
    return lognormal(usual, FACTOR_SPREAD)
