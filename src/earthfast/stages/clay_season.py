"""How deep and how far the ground dries in summer: by plasticity, and by trees that drink from it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from earthfast.estimate import Draws, FloatLike, Floats, Meaning, Origin, Quantity, Trail, lognormal_from_band
from earthfast.frost import VolumeChange, least_foundation_depth
from earthfast.ground.observations.place import Tree, WaterDemand
from earthfast.sources import source_note
from earthfast.stages.profile import GroundProfile

DRYING = lognormal_from_band(0.2, 0.6)  # share of the change from dry to wet in the driest summer of the life
MOST_DRYING = 0.9  # beside a thirsty tree
CLASS_FROM = (0.10, 0.20, 0.40)  # plasticity index from which volume change is low, medium, high
REACH = {WaterDemand.LOW: 0.5, WaterDemand.MODERATE: 0.75, WaterDemand.HIGH: 1.25}  # over the height
DEEPER = {WaterDemand.LOW: 0.5, WaterDemand.MODERATE: 1.0, WaterDemand.HIGH: 2.0}  # m, close to the stem


@dataclass(frozen=True, slots=True)
class SeasonalDrying:
    """Share of the change from dry to wet that a dry summer brings, and how deep it goes, m; one a draw."""

    share: Quantity
    depth: Quantity


def trees_seen(profile: GroundProfile) -> tuple[Tree, ...]:
    """The trees among the observations."""
    return tuple(row for stratum in profile.strata for row in stratum.observations if isinstance(row, Tree))


def tree_closeness(distance: FloatLike, reach: FloatLike) -> Floats:
    """How far a tree's drying governs the edge of the work.

    Parameters
    ----------
    distance : array-like
        From the stem to the edge of the work. [m]
    reach : array-like
        Distance to which it dries the ground. [m]

    Returns
    -------
    closeness : array-like
        1 at the stem, 0 from the reach on. [-]

    Notes
    -----
    c = max(0, 1 − D/R), D and R distance and reach; R is 1.25, 0.75 or 0.5 times the height for high, moderate and low water
    demand. Drying goes up to 2.0, 1.0 or 0.5 m deeper close to the stem, in proportion.

    References
    ----------
    nhbc_4_2, reach of trees by water demand, recalled [M]
    earthfast_proposal, depth and share in proportion [P]
    """
    return np.clip(1.0 - np.asarray(distance) / reach, 0.0, 1.0)


def seasonal_drying(
    plasticity_index: Floats, trees: Sequence[Tree], draws: Draws, trail: Trail
) -> SeasonalDrying:
    """Drying at the edge of the work in the driest summer of the design life."""
    classes = [VolumeChange.NONE, VolumeChange.LOW, VolumeChange.MEDIUM, VolumeChange.HIGH]
    open_ground = np.array([least_foundation_depth(each) for each in classes])
    depth = open_ground[np.digitize(plasticity_index, CLASS_FROM)]
    share = np.minimum(draws.of("summer drying", DRYING), MOST_DRYING)
    closeness = [float(tree_closeness(t.distance, REACH[t.water_demand] * t.height)) for t in trees]
    deeper = max(
        (c * DEEPER[tree.water_demand] for c, tree in zip(closeness, trees, strict=True)), default=0.0
    )
    nearest = max(closeness, default=0.0)
    if nearest > 0.0:
        because, origin = (
            f"{len(trees)} trees seen, the thirstiest near enough to dry the edge",
            Origin.OBSERVED,
        )
    elif trees:
        because, origin = "the trees seen stand too far off to matter", Origin.OBSERVED
    else:
        because, origin = "no trees seen: grass and open ground", Origin.ASSUMED
    notes = (
        source_note("nhbc_4_2, depths and reach of trees, recalled [M]"),
        source_note("earthfast_proposal, share of the change in one season [P]"),
    )
    return SeasonalDrying(
        trail.enter(
            "drying",
            Meaning("Share of the change from dry to wet in the driest summer", "-", "%"),
            share + nearest * (MOST_DRYING - share),
            origin,
            because,
            notes,
        ),
        trail.enter(
            "drying_depth",
            Meaning("Depth that dries out in summer", "m", "m"),
            depth + deeper,
            origin,
            because,
            notes,
        ),
    )
