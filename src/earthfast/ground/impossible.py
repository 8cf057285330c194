"""Data that cannot be true, and observations that contradict one another."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

import numpy as np

from earthfast.estimate import Caution, CautionCode
from earthfast.ground.compaction import above_zero_air
from earthfast.ground.hand_key import hand_key_fits
from earthfast.ground.observation import Observation
from earthfast.ground.observations.density import CompactionTest, CoreCutter, SandReplacement
from earthfast.ground.observations.feel import DilatancyTest, DryStrengthTest, ToughnessTest
from earthfast.ground.observations.laboratory import GradingTest, LiquidLimit, PlasticLimit
from earthfast.ground.observations.strength import (
    BootHeelTest,
    ConePenetrometer,
    HandVane,
    PocketPenetrometer,
    ThumbTest,
)
from earthfast.ground.stratum_draws import StratumDraws
from earthfast.ground.stratum_prior import SEASON_SHIFTS, Season, StratumPrior

HEAVIEST_GRAINS = 2.80  # most soils 2.6 to 2.8
CONTRADICTION = -3.0  # together twenty times less likely than apart; P
FEW = 3

Row = TypeVar("Row", bound=Observation)


def _of(rows: Sequence[Observation], kind: type[Row]) -> list[Row]:
    return [row for row in rows if isinstance(row, kind)]


def observation_cautions(
    rows: Sequence[Observation], ground: StratumDraws, prior: StratumPrior, agreement: float
) -> tuple[Caution, ...]:
    """Cautions that the observations of one stratum call for."""
    found = [
        *_above_u_line(rows),
        *_above_zero_air_line(rows),
        *_grading_not_rising(rows),
        *_hand_tests(rows),
    ]
    if agreement < CONTRADICTION:
        found.append(
            Caution(
                CautionCode.CONTRADICTING_OBSERVATIONS,
                "Together the observations are far less likely than each is alone: look again, or split "
                "the stratum.",
                source="earthfast_proposal",
            )
        )
    if len(rows) < FEW:
        counted = {0: "Nothing was", 1: "One thing was"}.get(len(rows), f"{len(rows)} things were")
        text = f"{counted} seen in this stratum; three kinds of hand test cost an hour."
        found.append(Caution(CautionCode.FEW_OBSERVATIONS, text, source="earthfast_proposal"))
    found.extend(_dry_season(rows, ground, prior))
    return tuple(found)


def _above_u_line(rows: Sequence[Observation]) -> list[Caution]:
    limits = [row.value for row in _of(rows, LiquidLimit)]
    plastic = [row.value for row in _of(rows, PlasticLimit) if row.value is not None]
    if not (limits and plastic):
        return []
    limit, index = float(np.mean(limits)), float(np.mean(limits) - np.mean(plastic))
    if index <= 0.9 * (limit - 0.08) and index >= 0.0:
        return []
    text = (
        f"Liquid limit {limit:.0%} with plasticity index {index:.0%} is above the U-line, where no soil lies."
        if index > 0.0
        else f"Plastic limit above the liquid limit ({limit:.0%}): one of the two is wrong."
    )
    return [Caution(CautionCode.IMPOSSIBLE_DATA, text, source="astm_d2487")]


def _above_zero_air_line(rows: Sequence[Observation]) -> list[Caution]:
    cautions = []
    for test in _of(rows, CompactionTest):
        wrong = above_zero_air(np.asarray(test.water), np.asarray(test.dry_density), HEAVIEST_GRAINS)
        if wrong.any():
            points = ", ".join(f"{water:.1%}" for water in np.asarray(test.water)[wrong])
            text = f"Compaction point(s) at {points} water lie above the zero-air line."
            cautions.append(Caution(CautionCode.IMPOSSIBLE_DATA, text, source="definition"))
    dug: list[SandReplacement | CoreCutter] = [*_of(rows, SandReplacement), *_of(rows, CoreCutter)]
    for hole in dug:
        if above_zero_air(np.asarray(hole.water_content), np.asarray(hole.dry_density), HEAVIEST_GRAINS):
            text = (
                f"Dry density {hole.dry_density:.0f} kg/m³ with {hole.water_content:.1%} water is more than "
                "saturated: mass, volume or water is wrong."
            )
            cautions.append(Caution(CautionCode.IMPOSSIBLE_DATA, text, source="definition"))
    return cautions


def _grading_not_rising(rows: Sequence[Observation]) -> list[Caution]:
    return [
        Caution(
            CautionCode.IMPOSSIBLE_DATA, "More passes a finer sieve than a coarser one.", source="definition"
        )
        for row in _of(rows, GradingTest)
        if np.any(np.diff(np.asarray(row.passing)[np.argsort(row.sizes)]) < -1e-9)
    ]


def _hand_tests(rows: Sequence[Observation]) -> list[Caution]:
    dry = {row.result for row in _of(rows, DryStrengthTest)}
    shaken = {row.result for row in _of(rows, DilatancyTest)}
    tough = {row.result for row in _of(rows, ToughnessTest)}
    if max(len(dry), len(shaken), len(tough)) > 2:
        text = "The same hand test gave three different answers: the stratum, or the pieces, were mixed."
        return [Caution(CautionCode.CONTRADICTING_OBSERVATIONS, text, source="earthfast_proposal")]
    fits = any(
        hand_key_fits(first, second, third)
        for first in dry or (None,)
        for second in shaken or (None,)
        for third in tough or (None,)
    )
    if fits:
        return []
    return [
        Caution(
            CautionCode.CONTRADICTING_OBSERVATIONS,
            "No soil of the hand-test key fits these answers: repeat them; suspect carbonate or cement "
            "(high dry strength in a silt) or organic soil.",
            source="venkatramaiah_geotechnical_engineering",
        )
    ]


def _dry_season(rows: Sequence[Observation], ground: StratumDraws, prior: StratumPrior) -> list[Caution]:
    strength = (ThumbTest, BootHeelTest, ConePenetrometer, HandVane, PocketPenetrometer)
    unsure = prior.season in {SEASON_SHIFTS[Season.UNKNOWN], SEASON_SHIFTS[Season.DRY]}
    plastic = float(np.median(ground.plasticity_index)) > 0.07
    if unsure and plastic and any(isinstance(row, strength) for row in rows):
        text = "Strength found dry or at an unknown season: plastic soil may read 2 to 5 times its wet value."
        return [Caution(CautionCode.DRY_SEASON_TEST, text, source="earthfast_proposal")]
    return []
