"""Shrink-swell: does clay under the edges rise and fall with the seasons by more than the surface stands?"""

from __future__ import annotations

import numpy as np

from earthfast.checks.frost import STANDS
from earthfast.checks.registry import CheckName, check
from earthfast.checks.situation import Case, CheckResult
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Quantity, Trail
from earthfast.frost import (
    Expansiveness,
    allowable_movement,
    modified_plasticity_index,
    swell_of_layer_van_der_merwe,
)
from earthfast.sources import source_note

PERCENT = 100.0
SHRINKABLE_FINES, SHRINKABLE_INDEX = 0.35, 0.10
COARSE_SHARE_FINER = 0.5  # of what is coarser than fines, finer than 0.425 mm
EXPANSIVE_FROM = (0.12, 0.23, 0.32)  # modified index from which medium, high and very high
WORTH_JUDGING = 0.01


def shrinkable_index(plasticity_index: FloatLike, fines: FloatLike) -> Floats:
    """Modified plasticity index of a soil, 0 where it does not shrink.

    Parameters
    ----------
    plasticity_index : array-like
        Plasticity index as a fraction. [-]
    fines : array-like
        Share finer than 0.06 mm. [-]

    Returns
    -------
    index : array-like
        Modified plasticity index as a fraction. [-]

    Notes
    -----
    I' = I p with p the share finer than 0.425 mm, taken as fines and half the rest; 0 where fines are 35 % or less or I' is below
    10 %: such soils are not shrinkable.

    References
    ----------
    nhbc_4_2, clause 4.2.14, shrinkable soils [S]
    earthfast_proposal, share finer than 0.425 mm [P]
    """
    share = np.asarray(fines) + COARSE_SHARE_FINER * (1.0 - np.asarray(fines))
    index = modified_plasticity_index(plasticity_index, share)
    shrinks = (np.asarray(fines) > SHRINKABLE_FINES) & (index >= SHRINKABLE_INDEX)
    return np.where(shrinks, index, 0.0)


def seasonal_movement(
    shrinkable_index: FloatLike, cover: FloatLike, drying_depth: FloatLike, drying: FloatLike
) -> Floats:
    """Rise and fall of the edge of a paved area between winter and a dry summer.

    Parameters
    ----------
    shrinkable_index : array-like
        Modified plasticity index as a fraction, 0 where the soil does not shrink. [-]
    cover : array-like
        Depth to natural ground under the build-up. [m]
    drying_depth : array-like
        Depth below the surface that dries out. [m]
    drying : array-like
        Share of the change from dry to wet that the summer brings. [-]

    Returns
    -------
    movement : array-like
        Difference between the edge, which dries, and the inside, which does not. [m]

    Notes
    -----
    d = s k 2.647 m (10^(−C/6.096 m) − 10^(−D/6.096 m)), I, C, D, s in the order of the arguments: Van der Merwe's change from
    dry to wet between cover and drying depth, times the share s. k 0, 1/48, 1/24, 1/12 for low (I below 12 %), medium (to
    23 %), high (to 32 %) and very high expansiveness. The inside of a paved area keeps its water, so all of it is differential.
    What is dug out or bound no longer moves.

    References
    ----------
    van_der_merwe_1964, factor, expansiveness and its classes, recalled [M]
    earthfast_proposal, share of it in one season [P]
    """
    bottom = np.asarray(drying_depth)
    top = np.minimum(np.asarray(cover), bottom)
    per_class = np.stack([swell_of_layer_van_der_merwe(each, top, bottom) for each in Expansiveness])
    rank = np.broadcast_to(np.digitize(np.asarray(shrinkable_index), EXPANSIVE_FROM), per_class.shape[1:])
    return np.asarray(np.take_along_axis(per_class, rank[None], axis=0)[0] * np.asarray(drying))


@check(
    CheckName.SHRINK_SWELL,
    "Does the clay move it with the seasons?",
    "the clay would lift and drop its edges with the seasons",
)
def shrink_swell(case: Case, trail: Trail) -> CheckResult:
    """Judge seasonal movement between edge and inside against what the surface stands."""
    steps = trail.under("shrink-swell")
    ground = case.ground
    index = steps.derive(
        "shrinkable_index",
        Meaning("Modified plasticity index, 0 where not shrinkable", "-", "%"),
        shrinkable_index,
        {"plasticity_index": ground.plasticity_index, "fines": ground.fines},
    )
    cover = steps.enter(
        "cover",
        Meaning("Depth to natural ground", "m", "mm"),
        np.array([way.build_up.thickness for way in case.ways])[:, None],
        Origin.GIVEN,
        "of this way: what is dug out or bound no longer moves",
    )
    movement = steps.derive(
        "movement",
        Meaning("Rise and fall of the edge with the seasons", "m", "mm"),
        seasonal_movement,
        {
            "shrinkable_index": index,
            "cover": cover,
            "drying_depth": ground.drying_depth,
            "drying": ground.drying,
        },
    )
    stands = _stands(case, steps)
    shape = (len(case.ways), case.draws.count)
    shrinks = float(np.mean(index.values > 0.0)) > WORTH_JUDGING
    return CheckResult(
        Quantity(movement.key, np.broadcast_to(movement.values, shape)),
        Quantity(stands.key, np.broadcast_to(stands.values, shape)),
        tuple("a dry summer" for _ in case.ways),
        np.full(len(case.ways), float(shrinks)),
    )


def _stands(case: Case, steps: Trail) -> Quantity:
    surfaces = [way.build_up.courses[0].material for way in case.ways]
    limits = [allowable_movement(STANDS[surface]) for surface in surfaces]
    beside = case.is_beside_building
    return steps.enter(
        "allowed",
        Meaning("Rise and fall that the surface stands", "m", "mm"),
        np.array([one.at_threshold if beside else one.total for one in limits])[:, None],
        Origin.ASSUMED,
        "at a building's wall or door, which stays where it is"
        if beside
        else "spread over a metre or so from the edge, away from buildings and doors",
        (source_note("earthfast_proposal, working limits [P]"),),
    )
