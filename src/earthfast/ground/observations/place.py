"""What people say and what stands nearby."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

import numpy as np
from scipy.special import ndtr

from earthfast.estimate import Answers, Evidence, ordered_choices
from earthfast.ground.observation import Asks, Dimension, Observation, observation
from earthfast.ground.stratum_draws import StratumDraws


class SaidSoil(StrEnum):
    """What somebody called the soil."""

    CLAY = "clay"
    LOAM = "loam or silt"
    SAND = "sand"
    GRAVEL = "gravel or stony"
    PEAT = "peat or black mud"


class SaidDigging(StrEnum):
    """How somebody said it dug."""

    SOFT = "soft"
    FIRM = "firm"
    HARD = "hard"


SAID_CBR = (2.5, 8.0)
SAID_BLUR = 0.9  # log-sd: a word about digging says little about strength; P


def _said_says(rows: Sequence[DiggerDriverSaid], ground: StratumDraws) -> tuple[Evidence, ...]:
    pieces: list[Evidence] = []
    soils = [row.soil for row in rows if row.soil is not None]
    if soils:
        order = list(SaidSoil)
        pieces.append(Answers(_said_probabilities(ground), tuple(order.index(soil) for soil in soils)))
    digging = [row.digging for row in rows if row.digging is not None]
    if digging:
        words = list(SaidDigging)
        bands = ordered_choices(np.log(ground.cbr_now), tuple(np.log(SAID_CBR)), SAID_BLUR)
        pieces.append(Answers(bands, tuple(words.index(word) for word in digging)))
    return tuple(pieces)


def _said_probabilities(ground: StratumDraws) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    peat = ndtr((np.log(ground.organic_content) - np.log(0.12)) / 0.5)
    gravel = (1.0 - peat) * ndtr((ground.stones - 0.30) / 0.15)
    clay = (1.0 - peat - gravel) * ndtr((ground.clay - 0.24) / 0.12)
    rest = 1.0 - peat - gravel - clay
    sand = rest * ndtr((ground.sand - 0.55) / 0.2)
    firm_words = np.vstack([clay, rest - sand, sand, gravel, peat])
    return np.asarray(0.75 * firm_words + 0.25 / len(SaidSoil))  # one word in four is loose talk; P


@observation(
    "digger driver said",
    question="What did the person who dug here say?",
    how="Ask what it was and how it dug; take the words as they come.",
    deepest="30 m",
    minutes=2.0,
    says=_said_says,
    example={"soil": SaidSoil.CLAY, "digging": SaidDigging.FIRM},
    sources=("earthfast_proposal, one word in four is loose talk [P]",),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class DiggerDriverSaid(Observation):
    """Hearsay about the ground."""

    soil: Annotated[SaidSoil | None, Asks(Dimension.CHOICE, "What it was called.")] = None
    digging: Annotated[SaidDigging | None, Asks(Dimension.CHOICE, "How it dug.")] = None


class WaterDemand(StrEnum):
    """How much water a tree species takes from the ground."""

    LOW = "low"
    MODERATE = "moderate"
    HIGH = "high"


def _tree_says(_rows: Sequence[Tree], _ground: StratumDraws) -> tuple[Evidence, ...]:
    return ()


@observation(
    "tree",
    question="Which trees stand near, how far, how tall, how thick?",
    how="Pace the distance to the stem, compare its height with a person, tape the stem at chest height. "
    "Trees say nothing about strength; they decide about roots, drying and what may be dug.",
    deepest="1 m",
    minutes=5.0,
    says=_tree_says,
    example={"distance": 6.0, "height": 12.0, "stem_diameter": 0.35},
    sources=("from_memory, 12 stem diameters of protected ground [M]",),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class Tree(Observation):
    """A tree near the work."""

    distance: Annotated[
        float, Asks(Dimension.LENGTH, "Distance from the stem to the nearest edge of the work.", "", "200 m")
    ]
    height: Annotated[
        float, Asks(Dimension.LENGTH, "Height of the tree, or its height when grown.", "0.5 m", "120 m")
    ]
    stem_diameter: Annotated[
        float, Asks(Dimension.LENGTH, "Diameter of the stem at chest height.", "10 mm", "10 m")
    ]
    water_demand: Annotated[WaterDemand, Asks(Dimension.CHOICE, "Water demand of the species.")] = (
        WaterDemand.MODERATE
    )
