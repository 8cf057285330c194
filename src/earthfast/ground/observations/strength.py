"""What pushing tells: thumb, heel, wheel, pocket penetrometer, vane, rod, cone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import Annotated

import numpy as np

from earthfast.estimate import Answers, Evidence, Floats, Numbers, ordered_choices
from earthfast.ground.cone import CONE_EQUATIONS, LIGHT_HAMMER_FACTOR, ConeEquation
from earthfast.ground.consistency import (
    THUMB_LIMITS,
    ConsistencyScheme,
    ConsistencyWord,
    Thumb,
    consistency_bands,
)
from earthfast.ground.observation import (
    Asks,
    Dimension,
    DoubtfulObservationError,
    Observation,
    observation,
    spots_of,
)
from earthfast.ground.stratum_draws import StratumDraws

WEAKEST = 2.0e3  # Pa; a reading of nothing means less than this; P
HAND_WORD_ERROR = 0.45  # log-sd of strength judged by hand; P
CONE_MODEL_ERROR = 0.35  # log-sd of the equation from cone to CBR; P
CONE_REPEAT = 0.20  # log-sd of a repeat at one spot; repeats scatter by up to 30 % S
CONE_REFUSAL = 0.001  # less than this a blow over 20 blows is a stone; P


class BootHeel(StrEnum):
    """How far the heel of a boot goes in."""

    DEEP = "more than 75 mm standing"
    HALF = "50 to 75 mm walking"
    SHALLOW = "about 25 mm walking"
    MARK = "a mark only"
    NOTHING = "no mark"


HEEL_CBR = (0.4, 0.8, 1.6, 3.2)


class WheelRut(StrEnum):
    """What a wheel leaves behind."""

    BOGS = "a car bogs down"
    CAR_RUT = "a car or pick-up ruts 12 to 25 mm"
    LORRY_RUT = "a loaded lorry ruts 12 to 25 mm"
    LITTLE = "a loaded lorry ruts less than 12 mm"


WHEEL_CBR = (1.6, 3.2, 6.4)


def _band_answers(
    words: Sequence[StrEnum], answers: Sequence[StrEnum], strength: Floats, limits: tuple[float, ...]
) -> Answers:
    order = list(words)
    bands = ordered_choices(np.log(strength), tuple(np.log(limits)), HAND_WORD_ERROR)
    return Answers(bands, tuple(order.index(answer) for answer in answers))


def _thumb_says(rows: Sequence[ThumbTest], ground: StratumDraws) -> tuple[Evidence, ...]:
    return (
        _band_answers(list(Thumb), [row.result for row in rows], ground.undrained_strength, THUMB_LIMITS),
    )


@observation(
    "thumb",
    question="How far does your thumb go into a fresh face?",
    how="Press into the freshly cut side of the hole at several places, not into loose crumbs.",
    deepest="5 m",
    minutes=2.0,
    says=_thumb_says,
    example={"result": Thumb.MODERATE},
    sources=("tm_5_818_1, table 2-2, unconfined strength [S]", "earthfast_proposal, error of the hand [P]"),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class ThumbTest(Observation):
    """Thumb pressed into a fresh face of fine soil."""

    result: Annotated[Thumb, Asks(Dimension.CHOICE, "How far the thumb goes in.")]


def _boot_heel_says(rows: Sequence[BootHeelTest], ground: StratumDraws) -> tuple[Evidence, ...]:
    return (_band_answers(list(BootHeel), [row.result for row in rows], ground.cbr_now, HEEL_CBR),)


FOOT_AND_WHEEL = (
    "us_subgrade_support_table, heel and wheel against CBR [M]",
    "earthfast_proposal, error of the eye; no mark above CBR 3.2 [P]",
)


@observation(
    "boot heel",
    question="How far does your heel sink in?",
    how="Strip the topsoil, stand on one heel on the stratum, then walk over it.",
    deepest="3 m",
    minutes=2.0,
    says=_boot_heel_says,
    example={"result": BootHeel.MARK},
    sources=FOOT_AND_WHEEL,
)
@dataclass(frozen=True, slots=True, kw_only=True)
class BootHeelTest(Observation):
    """A heel on the stripped stratum."""

    result: Annotated[BootHeel, Asks(Dimension.CHOICE, "How far the heel sinks.")]


def _wheel_rut_says(rows: Sequence[WheelRutSeen], ground: StratumDraws) -> tuple[Evidence, ...]:
    return (_band_answers(list(WheelRut), [row.result for row in rows], ground.cbr_now, WHEEL_CBR),)


@observation(
    "wheel rut",
    question="What does a wheel leave behind?",
    how="Look where a vehicle has driven on the stripped stratum.",
    deepest="3 m",
    minutes=2.0,
    says=_wheel_rut_says,
    example={"result": WheelRut.LORRY_RUT},
    sources=FOOT_AND_WHEEL,
)
@dataclass(frozen=True, slots=True, kw_only=True)
class WheelRutSeen(Observation):
    """A rut seen on the stripped stratum."""

    result: Annotated[WheelRut, Asks(Dimension.CHOICE, "How deep the rut is, and of what.")]


def _consistency_says(rows: Sequence[ConsistencyNoted], ground: StratumDraws) -> tuple[Evidence, ...]:
    pieces = []
    for scheme in ConsistencyScheme:
        words = [row.word for row in rows if row.scheme == scheme]
        if words:
            bands = consistency_bands(scheme)
            pieces.append(_band_answers(bands.words, words, ground.undrained_strength, bands.limits))
    return tuple(pieces)


@observation(
    "consistency",
    question="Which word of consistency does the log use, and by which scheme?",
    how="Copy the word from a borehole or pit log together with its scheme.",
    deepest="30 m",
    minutes=2.0,
    says=_consistency_says,
    example={"word": ConsistencyWord.FIRM, "scheme": ConsistencyScheme.BS},
    sources=(
        "bs_5930, consistency words [S]",
        "from_memory, ISO 14688-2 limits [M]",
        "earthfast_proposal, error of a word [P]",
    ),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class ConsistencyNoted(Observation):
    """A word of consistency from a log."""

    word: Annotated[ConsistencyWord, Asks(Dimension.CHOICE, "Word of consistency.")]
    scheme: Annotated[ConsistencyScheme, Asks(Dimension.CHOICE, "Scheme the word belongs to.")]

    def __post_init__(self) -> None:
        words = consistency_bands(self.scheme).words
        if self.word not in words:
            accepted = ", ".join(words)
            raise DoubtfulObservationError(f"'{self.word}', no word of the scheme {self.scheme}", accepted)


def _at_spots(
    rows: Sequence[Observation],
    logs: Floats,
    centre: Floats,
    repeat: float,
    shared: float,
    ground: StratumDraws,
) -> Numbers:
    return Numbers(logs, np.log(centre), repeat, shared, ground.spot_spread, spots_of(rows))


def _pocket_penetrometer_says(
    rows: Sequence[PocketPenetrometer], ground: StratumDraws
) -> tuple[Evidence, ...]:
    # the scale reads unconfined strength: twice the undrained strength
    readings = np.log([max(0.5 * row.reading, WEAKEST) for row in rows])
    return (_at_spots(rows, readings, ground.undrained_strength, 0.20, 0.30, ground),)


@observation(
    "pocket penetrometer",
    question="What does a pocket penetrometer read on a fresh face?",
    how="Push to the mark in a few seconds, ten times, away from stones; write the scale's reading "
    "(unconfined strength).",
    deepest="10 m",
    minutes=5.0,
    cost=2.0,
    says=_pocket_penetrometer_says,
    example={"reading": 1.5e5},
    sources=("tm_5_818_1, reading is unconfined strength, within 30 % [S]",),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class PocketPenetrometer(Observation):
    """One reading of a pocket penetrometer, as unconfined strength."""

    reading: Annotated[
        float, Asks(Dimension.STRESS, "Reading of the scale (unconfined strength).", "", "1000 kPa")
    ]


def _hand_vane_says(rows: Sequence[HandVane], ground: StratumDraws) -> tuple[Evidence, ...]:
    readings = np.log([max(row.strength, WEAKEST) for row in rows])
    return (_at_spots(rows, readings, ground.undrained_strength, 0.15, 0.15, ground),)


@observation(
    "hand vane",
    question="What does a hand vane read?",
    how="Push the vane two blade heights into undisturbed fine soil and turn steadily.",
    deepest="10 m",
    minutes=5.0,
    cost=3.0,
    says=_hand_vane_says,
    example={"strength": 6.0e4},
    sources=("phoon_kulhawy_1999, vane measurement error 10 to 20 % [M]",),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class HandVane(Observation):
    """One vane reading, as undrained strength."""

    strength: Annotated[float, Asks(Dimension.STRESS, "Undrained strength read.", "", "500 kPa")]


def _steel_rod_says(_rows: Sequence[SteelRod], _ground: StratumDraws) -> tuple[Evidence, ...]:
    return ()


@observation(
    "steel rod",
    question="How far does a pointed steel rod go in under your weight?",
    how="Lean on a 10 to 16 mm rod. It maps soft spots and the depth of firm ground; no strength is read "
    "from it, since no calibration is published.",
    deepest="3 m",
    minutes=1.0,
    says=_steel_rod_says,
    example={"reach": 0.4},
    sources=("earthfast_proposal, used as a map only [P]",),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class SteelRod(Observation):
    """Depth that a rod reaches under body weight."""

    reach: Annotated[float, Asks(Dimension.LENGTH, "Depth the rod reaches.", "", "3 m")]


class Hammer(StrEnum):
    """Hammer of the dynamic cone."""

    FULL = "8 kg"
    LIGHT = "4.6 kg"


def penetration_per_blow(row: ConePenetrometer) -> Floats:
    """Penetration of each set of blows over its blows, m, for the full hammer."""
    depths = np.concatenate([[row.start], np.asarray(row.depths, dtype=np.float64)])
    factor = LIGHT_HAMMER_FACTOR if row.hammer == Hammer.LIGHT else 1.0
    return np.asarray(factor * np.diff(depths) / np.asarray(row.blows, dtype=np.float64))


def _cone_says(rows: Sequence[ConePenetrometer], ground: StratumDraws) -> tuple[Evidence, ...]:
    cbr = np.array([row.log_cbr for row in rows])
    return (_at_spots(rows, cbr, ground.cbr_now, CONE_REPEAT, CONE_MODEL_ERROR, ground),)


@observation(
    "cone penetrometer",
    question="How far does a dynamic cone go in for each set of blows?",
    how="Drop the hammer 575 mm, read the scale after every blow or set of blows; restart 300 mm away when "
    "a stone stops it.",
    deepest="10 m",
    minutes=15.0,
    cost=10.0,
    says=_cone_says,
    example={"blows": (5, 5, 5), "depths": (0.10, 0.21, 0.33)},
    sources=(
        "trl_dcp, relation for the 60° cone [S]",
        "earthfast_proposal, model error 0.35 from the spread between equations [P]",
    ),
)
@dataclass(frozen=True, kw_only=True)
class ConePenetrometer(Observation):
    """One sounding, or the part of it within one stratum."""

    blows: Annotated[tuple[int, ...], Asks(Dimension.COUNT, "Blows of each set.", "1", "500")]
    depths: Annotated[
        tuple[float, ...], Asks(Dimension.LENGTH, "Depth of the tip after each set.", "", "10 m")
    ]
    start: Annotated[float, Asks(Dimension.LENGTH, "Depth of the tip before the first blow.", "", "10 m")] = (
        0.0
    )
    hammer: Annotated[Hammer, Asks(Dimension.CHOICE, "Hammer used.")] = Hammer.FULL
    equation: Annotated[ConeEquation, Asks(Dimension.CHOICE, "Equation from penetration to CBR.")] = (
        ConeEquation.TRL
    )

    def __post_init__(self) -> None:
        if len(self.blows) != len(self.depths):
            found = f"{len(self.blows)} sets of blows and {len(self.depths)} depths"
            raise DoubtfulObservationError(found, "one depth for each set")
        if min(self.blows) < 1 or np.any(np.diff([self.start, *self.depths]) < 0.0):
            found = "a set without a blow, or a depth above the one before"
            raise DoubtfulObservationError(found, "a blow or more for every set, and depths that go down")

    @cached_property
    def typical_penetration(self) -> float:
        """Penetration per blow that stands for the whole sounding, m: the mean of logarithms over depth."""
        steps = penetration_per_blow(self)
        lengths = np.diff([self.start, *self.depths])
        usable = steps > CONE_REFUSAL
        if not usable.any():
            return CONE_REFUSAL
        return float(np.exp(np.average(np.log(steps[usable]), weights=lengths[usable])))

    @cached_property
    def log_cbr(self) -> float:
        """Logarithm of the CBR that the sounding's own equation gives."""
        # asked for again with every set of draws, and a yard has hundreds of soundings
        return float(np.log(CONE_EQUATIONS[self.equation](self.typical_penetration)))
