"""What a laboratory or a careful bench test measures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

import numpy as np
from scipy.special import ndtr

from earthfast.estimate import Answers, Evidence, Floats, Numbers
from earthfast.ground.observation import (
    Asks,
    Dimension,
    DoubtfulObservationError,
    Observation,
    observation,
    spots_of,
)
from earthfast.ground.stratum_draws import StratumDraws

WITHIN_STRATUM = 0.08  # coefficient of variation of limits within a stratum of one garden; P
LIMIT_SHARED = 0.015  # between laboratories, as a fraction; P


def _limit_scatter(limit: Floats, test: float) -> Floats:
    return np.asarray(np.hypot(WITHIN_STRATUM * limit, test))


def _liquid_limit_says(rows: Sequence[LiquidLimit], ground: StratumDraws) -> tuple[Evidence, ...]:
    values = np.array([row.value for row in rows])
    limit = ground.liquid_limit
    return (Numbers(values, limit, _limit_scatter(limit, 0.03), LIMIT_SHARED),)


LIMIT_SOURCES = (
    "phoon_kulhawy_1999, measurement of limits 5 to 15 % [M]",
    "earthfast_proposal, liquid limit within 3 and plastic limit within 2 points [P]",
)


@observation(
    "liquid limit",
    question="What is the liquid limit?",
    how="Send a bag of about a kilogram to a laboratory, or use the cone or the cup.",
    deepest="30 m",
    minutes=20.0,
    cost=40.0,
    says=_liquid_limit_says,
    example={"value": 0.38},
    sources=LIMIT_SOURCES,
)
@dataclass(frozen=True, slots=True, kw_only=True)
class LiquidLimit(Observation):
    """Liquid limit of the part finer than 0.425 mm."""

    value: Annotated[float, Asks(Dimension.FRACTION, "Liquid limit.", "10 %", "600 %")]


def _plastic_limit_says(rows: Sequence[PlasticLimit], ground: StratumDraws) -> tuple[Evidence, ...]:
    pieces: list[Evidence] = []
    values = np.array([row.value for row in rows if row.value is not None])
    if values.size:
        limit = ground.plastic_limit
        pieces.append(Numbers(values, limit, _limit_scatter(limit, 0.02), LIMIT_SHARED))
    if values.size < len(rows):
        plastic = ndtr((ground.plasticity_index - 0.03) / 0.015)
        pieces.append(Answers(np.vstack([1.0 - plastic, plastic]), (0,) * (len(rows) - values.size)))
    return tuple(pieces)


@observation(
    "plastic limit",
    question="What is the plastic limit, or will it not roll at all?",
    how="Weigh threads that just crumble at 3 mm, dry them, weigh again.",
    deepest="30 m",
    minutes=30.0,
    cost=0.0,
    says=_plastic_limit_says,
    example={"value": 0.21},
    sources=LIMIT_SOURCES,
)
@dataclass(frozen=True, slots=True, kw_only=True)
class PlasticLimit(Observation):
    """Plastic limit of the part finer than 0.425 mm; leave the value out for a non-plastic soil."""

    value: Annotated[
        float | None,
        Asks(Dimension.FRACTION, "Plastic limit; leave out when no thread rolls.", "3 %", "300 %"),
    ] = None


def _water_content_says(rows: Sequence[WaterContent], ground: StratumDraws) -> tuple[Evidence, ...]:
    values = np.log([max(row.value, 0.005) for row in rows])
    return (Numbers(values, np.log(ground.water_content), 0.14, 0.03),)


@observation(
    "water content",
    question="How much water does it hold, by dry mass?",
    how="Weigh a fresh sample, dry it at 105 °C until it loses no more, weigh again.",
    deepest="30 m",
    minutes=20.0,
    says=_water_content_says,
    example={"value": 0.20},
    sources=("phoon_kulhawy_1999, inherent 18 % and measurement 6 to 12 % [M]",),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class WaterContent(Observation):
    """Water over dry mass."""

    value: Annotated[float, Asks(Dimension.FRACTION, "Mass of water over mass of dry soil.", "", "1000 %")]


def _grading_says(rows: Sequence[GradingTest], ground: StratumDraws) -> tuple[Evidence, ...]:
    targets = (
        (2.0e-3, 1.0 - ground.stones, 0.05),
        (75.0e-6, ground.fines, 0.05),
        (2.0e-6, (1.0 - ground.stones) * ground.clay, 0.04),
    )
    pieces = []
    for size, share, scatter in targets:
        read = [passing_at(row, size) for row in rows]
        values = np.array([value for value in read if value is not None])
        if values.size:
            pieces.append(Numbers(values, share, scatter, 0.02))
    return tuple(pieces)


def passing_at(row: GradingTest, size: float) -> float | None:
    """Share passing a size, log-linear between sieves; None beyond the finest or coarsest sieve."""
    order = np.argsort(row.sizes)
    sizes, passing = np.asarray(row.sizes)[order], np.asarray(row.passing)[order]
    if size < sizes[0] * (1.0 - 1e-6):
        return None
    if size > sizes[-1]:
        return float(passing[-1]) if passing[-1] >= 1.0 - 1e-9 else None
    return float(np.interp(np.log(size), np.log(sizes), passing))


@observation(
    "grading",
    question="How much passes each sieve?",
    how="Dry, break up, sieve wet over 0.075 mm or 0.063 mm, weigh what each sieve keeps.",
    deepest="30 m",
    minutes=60.0,
    cost=60.0,
    says=_grading_says,
    example={"sizes": (0.002, 425.0e-6, 75.0e-6), "passing": (0.95, 0.86, 0.60)},
    sources=("earthfast_proposal, scatter of one bag within a stratum [P]",),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class GradingTest(Observation):
    """Shares passing a set of sieves."""

    sizes: Annotated[tuple[float, ...], Asks(Dimension.LENGTH, "Sieve sizes.", "0.0002 mm", "300 mm")]
    passing: Annotated[tuple[float, ...], Asks(Dimension.FRACTION, "Share passing each sieve.", "", "100 %")]

    def __post_init__(self) -> None:
        if len(self.sizes) != len(self.passing):
            found = f"{len(self.sizes)} sieves and {len(self.passing)} shares"
            raise DoubtfulObservationError(found, "one share for each sieve")
        if len(set(self.sizes)) != len(self.sizes):
            raise DoubtfulObservationError("a sieve named twice", "each sieve once")


WEAKEST_CBR = 0.2  # a test that reads nothing means less than this; P


def _cbr_says(rows: Sequence[CbrTest], ground: StratumDraws) -> tuple[Evidence, ...]:
    pieces = []
    for soaked, cbr in ((True, ground.cbr_wet), (False, ground.cbr_now)):
        those = [row for row in rows if row.soaked == soaked]
        if those:
            values = np.log([max(row.value, WEAKEST_CBR) for row in those])
            shared = 0.20 if soaked else 0.10
            pieces.append(Numbers(values, np.log(cbr), 0.15, shared, ground.spot_spread, spots_of(those)))
    return tuple(pieces)


@observation(
    "cbr",
    question="What is the CBR from a loading test?",
    how="In the laboratory after four days of soaking for the wet state, or in place as found.",
    deepest="10 m",
    minutes=30.0,
    cost=120.0,
    says=_cbr_says,
    example={"value": 3.0, "soaked": True},
    sources=("earthfast_proposal, soaked test as a stand-in for the long-term wet state [P]",),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class CbrTest(Observation):
    """CBR by a loading test, in percent by definition."""

    value: Annotated[float, Asks(Dimension.RATIO, "CBR, in percent by definition.", "0", "200")]
    soaked: Annotated[bool, Asks(Dimension.YES_NO, "The specimen was soaked for four days.")]


def _plate_says(rows: Sequence[PlateTest], ground: StratumDraws) -> tuple[Evidence, ...]:
    now = np.log(ground.stiffness) + 0.82 * np.log(ground.cbr_now / ground.cbr_wet)
    values = np.log([max(row.modulus, 0.5e6) for row in rows])
    return (Numbers(np.asarray(values), now, 0.15, 0.20, ground.spot_spread, spots_of(rows)),)


@observation(
    "plate",
    question="What stiffness does a plate test give?",
    how="Load a plate on the trimmed stratum or drop the light weight on it; write the modulus.",
    deepest="5 m",
    minutes=30.0,
    cost=100.0,
    says=_plate_says,
    example={"modulus": 25.0e6},
    sources=("earthfast_proposal, stiffness as found follows CBR to the power 0.82 [P]",),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class PlateTest(Observation):
    """Modulus from a plate test on the stratum as found."""

    modulus: Annotated[float, Asks(Dimension.STRESS, "Modulus of deformation.", "0.1 MPa", "1000 MPa")]


def _organic_says(rows: Sequence[OrganicContent], ground: StratumDraws) -> tuple[Evidence, ...]:
    values = np.log([max(row.value, 1e-3) for row in rows])
    return (Numbers(np.asarray(values), np.log(ground.organic_content), 0.30, 0.20),)


@observation(
    "organic content",
    question="How much organic matter does it hold, by dry mass?",
    how="Loss on ignition in a laboratory, or 1.72 times organic carbon.",
    deepest="30 m",
    minutes=15.0,
    cost=30.0,
    says=_organic_says,
    example={"value": 0.012},
    sources=("earthfast_proposal, scatter of one bag [P]",),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class OrganicContent(Observation):
    """Organic matter over dry mass."""

    value: Annotated[float, Asks(Dimension.FRACTION, "Organic matter over dry mass.", "", "100 %")]


PASTE_PH = 12.1  # soil-cement paste below this after 15 minutes: organic matter that slows setting; M


def _paste_ph_says(rows: Sequence[PastePh], ground: StratumDraws) -> tuple[Evidence, ...]:
    slow = ndtr((np.log(ground.organic_content) - np.log(0.025)) / 0.6)
    chosen = tuple(1 if row.value < PASTE_PH else 0 for row in rows)
    return (Answers(np.vstack([1.0 - slow, slow]), chosen),)


@observation(
    "paste ph",
    question="What pH has a paste of ten parts soil and one part cement after a quarter of an hour?",
    how="Mix 25 g of dry soil with 2.5 g of cement and water, wait 15 minutes, read a meter or a strip.",
    deepest="30 m",
    minutes=25.0,
    cost=3.0,
    says=_paste_ph_says,
    example={"value": 12.3},
    sources=(
        "from_memory, pH 12.1 of a soil-cement paste [M]",
        "earthfast_proposal, organic content behind it [P]",
    ),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class PastePh(Observation):
    """PH of a soil-cement paste."""

    value: Annotated[float, Asks(Dimension.RATIO, "pH after 15 minutes.", "6", "14")]


def _sulfate_says(rows: Sequence[Sulfate], ground: StratumDraws) -> tuple[Evidence, ...]:
    values = np.log([max(row.value, 10e-6) for row in rows])
    return (Numbers(np.asarray(values), np.log(ground.sulfate), 0.50, 0.15),)


@observation(
    "sulfate",
    question="How much sulfate does it hold, by dry mass?",
    how="Water-soluble or acid-soluble sulfate in a laboratory; strips give a first idea.",
    deepest="30 m",
    minutes=15.0,
    cost=35.0,
    says=_sulfate_says,
    example={"value": 4.0e-4},
    sources=("earthfast_proposal, sulfate is patchy: scatter of one bag [P]",),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class Sulfate(Observation):
    """Sulfate over dry mass."""

    value: Annotated[
        float, Asks(Dimension.FRACTION, "Sulfate over dry mass (1000 ppm is 0.1 %).", "", "30 %")
    ]
