"""What water leaves behind: strikes, mottles, the look of the soil."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

import numpy as np
from scipy.special import log_ndtr

from earthfast.estimate import Answers, Evidence, Numbers, ordered_choices
from earthfast.ground.observation import Asks, Dimension, Observation, observation
from earthfast.ground.stratum_draws import StratumDraws
from earthfast.ground.stratum_prior import Season


def _water_strike_says(rows: Sequence[WaterStrike], ground: StratumDraws) -> tuple[Evidence, ...]:
    pieces: list[Evidence] = []
    for season in Season:
        levels = [row.level for row in rows if row.season == season]
        if levels:
            fall = STRIKE_FALL[season]
            centre = np.log(ground.winter_water_depth) + fall
            pieces.append(Numbers(np.log(np.maximum(levels, 0.02)), centre, 0.25, STRIKE_ERROR[season]))
    return tuple(pieces)


# how far below the winter level water stands when seen, as log of the ratio of depths; P
STRIKE_FALL = {Season.WET: 0.05, Season.MIXED: 0.25, Season.UNKNOWN: 0.35, Season.DRY: 0.60}
STRIKE_ERROR = {Season.WET: 0.20, Season.MIXED: 0.30, Season.UNKNOWN: 0.50, Season.DRY: 0.40}


@observation(
    "water strike",
    question="At what depth does water stand in the hole?",
    how="Dig, cover, and read again after an hour or next morning: the first strike is lower than the level "
    "that it settles to.",
    deepest="30 m",
    minutes=10.0,
    says=_water_strike_says,
    example={"level": 1.2},
    sources=(
        "nz_soil_description_handbook, wait for the level to settle [S]",
        "earthfast_proposal, fall from winter to summer [P]",
    ),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class WaterStrike(Observation):
    """Water standing in a hole."""

    level: Annotated[float, Asks(Dimension.LENGTH, "Depth of the settled water below ground.", "", "30 m")]
    season: Annotated[Season, Asks(Dimension.CHOICE, "State of the ground that month.")] = Season.UNKNOWN


def _dry_hole_says(rows: Sequence[DryHole], ground: StratumDraws) -> tuple[Evidence, ...]:
    pieces = []
    for row in rows:
        error = float(np.hypot(0.25, STRIKE_ERROR[row.season]))
        lower = np.log(ground.winter_water_depth) + STRIKE_FALL[row.season] - np.log(max(row.bottom, 0.02))
        chance = np.exp(log_ndtr(lower / error))
        pieces.append(Answers(np.vstack([chance, 1.0 - chance]), (0,)))
    return tuple(pieces)


@observation(
    "dry hole",
    question="How deep did you dig without meeting water?",
    how="Leave the hole covered for an hour before writing that it is dry.",
    deepest="30 m",
    minutes=5.0,
    says=_dry_hole_says,
    example={"bottom": 0.8},
    sources=("earthfast_proposal, as for a water strike [P]",),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class DryHole(Observation):
    """A hole that stayed dry."""

    bottom: Annotated[float, Asks(Dimension.LENGTH, "Depth of the hole.", "50 mm", "30 m")]
    season: Annotated[Season, Asks(Dimension.CHOICE, "State of the ground that month.")] = Season.UNKNOWN


def _mottling_says(rows: Sequence[Mottling], ground: StratumDraws) -> tuple[Evidence, ...]:
    seen = np.log([max(row.top, 0.02) for row in rows])
    return (Numbers(np.asarray(seen), np.log(ground.winter_water_depth), 0.25, 0.30),)


@observation(
    "mottling",
    question="At what depth do grey or rusty patches begin?",
    how="Clean the side of the hole with a knife and measure down to the first grey or rust-mottled soil.",
    deepest="10 m",
    minutes=5.0,
    says=_mottling_says,
    example={"top": 0.55},
    sources=(
        "nz_soil_description_handbook, drainage class by depth of mottles [S]",
        "earthfast_proposal, error as a winter water level [P]",
    ),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class Mottling(Observation):
    """Top of the grey or rust-mottled soil: the winter water level of many winters."""

    top: Annotated[float, Asks(Dimension.LENGTH, "Depth below ground at which mottles begin.", "", "10 m")]


class Moisture(StrEnum):
    """How wet a fresh piece looks and feels."""

    DRY = "dry"
    MOIST = "moist"
    WET = "wet"
    SATURATED = "saturated"


def _moisture_says(rows: Sequence[MoistureSeen], ground: StratumDraws) -> tuple[Evidence, ...]:
    order = list(Moisture)
    plastic = ground.plasticity_index > 0.04
    # plastic soil is judged against its plastic limit, the rest by how full its pores are
    centre = np.where(plastic, ground.liquidity_index, 2.0 * ground.saturation - 1.2)
    bands = ordered_choices(centre, (-0.30, 0.25, 0.75), 0.30)
    return (Answers(bands, tuple(order.index(row.result) for row in rows)),)


@observation(
    "moisture",
    question="How wet does a fresh piece look and feel?",
    how="Dry: dusty or hard. Moist: cool and dark, no water. Wet: water shows when squeezed. Saturated: "
    "free water.",
    deepest="10 m",
    minutes=1.0,
    says=_moisture_says,
    example={"result": Moisture.MOIST},
    sources=("nz_soil_description_handbook, words of moisture [S]", "earthfast_proposal, what they mean [P]"),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class MoistureSeen(Observation):
    """Wetness of a fresh piece."""

    result: Annotated[Moisture, Asks(Dimension.CHOICE, "How wet a fresh piece is.")]
