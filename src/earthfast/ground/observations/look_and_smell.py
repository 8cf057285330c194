"""What the eye and the nose tell: colour, smell, fibres, the jar, the squeezed ball."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

import numpy as np

from earthfast.estimate import Answers, Evidence, Floats, Numbers, ordered_choices
from earthfast.ground.observation import (
    Asks,
    Dimension,
    DoubtfulObservationError,
    Observation,
    Observer,
    observation,
)
from earthfast.ground.settling import settled_grain_size
from earthfast.ground.stratum_draws import StratumDraws


class Colour(StrEnum):
    """Colour and smell of a fresh moist piece."""

    PLAIN = "brown, red, yellow or grey, no smell"
    DARK = "dark brown or black, earthy smell"
    FOUL = "blue-black, musty or rotten smell"
    FIBROUS = "fibres or wood, spongy, light when dry"


ORGANIC_LIMITS = tuple(float(np.log(share)) for share in (0.025, 0.07, 0.22))


def _colour_says(rows: Sequence[ColourAndSmell], ground: StratumDraws) -> tuple[Evidence, ...]:
    order = list(Colour)
    bands = ordered_choices(np.log(ground.organic_content), ORGANIC_LIMITS, 0.5)
    return (Answers(bands, tuple(order.index(row.result) for row in rows)),)


@observation(
    "colour and smell",
    question="What colour is a fresh moist piece, and does it smell?",
    how="Break a moist lump open, look at once, and smell it; warm it in the hand if unsure.",
    deepest="30 m",
    minutes=1.0,
    says=_colour_says,
    example={"result": Colour.PLAIN},
    sources=(
        "nz_soil_description_handbook, signs of organic soil [S]",
        "earthfast_proposal, organic content of each sign [P]",
    ),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class ColourAndSmell(Observation):
    """Colour, smell and fibres of a fresh piece."""

    result: Annotated[Colour, Asks(Dimension.CHOICE, "Colour and smell of a fresh moist piece.")]


class Squeeze(StrEnum):
    """What a squeezed ball does when dropped from shoulder height."""

    DUST = "will not ball, or shatters to dust"
    LUMPS = "breaks into a few lumps"
    FLAT = "flattens whole, hand wet or shiny"


def _squeeze_says(rows: Sequence[SqueezeAndDrop], ground: StratumDraws) -> tuple[Evidence, ...]:
    order = list(Squeeze)
    optimum = ground.optimum_water
    blur = np.where(ground.plasticity_index > 0.12, 0.035, 0.025)
    bands = ordered_choices(ground.water_content - optimum, (-0.025, 0.025), blur)
    return (Answers(bands, tuple(order.index(row.result) for row in rows)),)


@observation(
    "squeeze and drop",
    question="What does a squeezed ball do when you drop it?",
    how="Squeeze a handful hard and drop it 1.5 m onto something hard.",
    deepest="10 m",
    minutes=1.0,
    says=_squeeze_says,
    example={"result": Squeeze.LUMPS},
    sources=("from_memory, field guidance for earth building [M]", "earthfast_proposal, its error [P]"),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class SqueezeAndDrop(Observation):
    """A squeezed ball dropped 1.5 m."""

    result: Annotated[Squeeze, Asks(Dimension.CHOICE, "What the dropped ball does.")]


SAND_MARK, SILT_MARK = 40.0, 7200.0  # when the leaflets say to mark, s
CLAY_LOOSENESS = 1.25  # a fresh clay layer takes this much more room for its mass than sand; P


def _finer_than(ground: StratumDraws, size: float) -> Floats:
    """Share of the part below 2 mm that is finer than a size, log-linear between 0.5, 2, 50, 2000 µm."""
    ln_size = np.log(size)
    silt_share = np.clip((ln_size - np.log(2e-6)) / np.log(25.0), 0.0, 1.0)
    sand_share = np.clip((ln_size - np.log(50e-6)) / np.log(40.0), 0.0, 1.0)
    return np.asarray(ground.clay + silt_share * ground.silt + sand_share * ground.sand)


def _jar_says(rows: Sequence[Jar], ground: StratumDraws) -> tuple[Evidence, ...]:
    pieces: list[Evidence] = []
    for row in rows:
        pieces.extend(_one_jar(row, ground, len(rows)))
    return tuple(pieces)


def _one_jar(row: Jar, ground: StratumDraws, jars: int) -> tuple[Evidence, ...]:
    whole = row.sand + row.silt + row.clay
    column = row.water_column if row.water_column is not None else 0.15
    sand_size = float(settled_grain_size(column, row.sand_time, row.temperature))
    fine_size = float(settled_grain_size(column, row.silt_time, row.temperature))
    below_sand, below_silt = _finer_than(ground, sand_size), _finer_than(ground, fine_size)
    bulk = 1.0 - below_silt + CLAY_LOOSENESS * below_silt
    practised = row.observer == Observer.PRACTISED
    error = (0.045 if practised else 0.065) * (1.0 if row.dispersed else 2.0)
    # the jar's own bias is one error for all jars: widen each so that together they keep it
    kept = float(np.sqrt(jars))
    pieces: list[Evidence] = [
        Numbers(np.array([row.sand / whole]), (1.0 - below_sand) / bulk, error * kept, 0.0)
    ]
    if row.dispersed:
        clay = np.array([row.clay / whole])
        pieces.append(Numbers(clay, CLAY_LOOSENESS * below_silt / bulk, 1.6 * error * kept, 0.0))
    return tuple(pieces)


@observation(
    "jar",
    question="How thick are the layers that settle in a jar of muddy water?",
    how="Sieve off what is coarser than 2 mm, shake a third of a jar of soil with water and a little "
    "detergent, mark the settled height after 40 seconds (sand), 2 hours (silt) and two days (clay).",
    deepest="30 m",
    minutes=15.0,
    says=_jar_says,
    example={"sand": 0.020, "silt": 0.018, "clay": 0.012},
    sources=(
        "extension_jar_test, times of the marks [S]",
        "definition, Stokes' law for the grain sizes they divide [C]",
        "earthfast_proposal, error 5 to 8 points of sand, more for clay [P]",
    ),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class Jar(Observation):
    """Heights of the layers settled in a jar."""

    sand: Annotated[
        float, Asks(Dimension.LENGTH, "Thickness of the layer settled by the first mark.", "", "300 mm")
    ]
    silt: Annotated[
        float,
        Asks(Dimension.LENGTH, "Thickness settled between the first and the second mark.", "", "300 mm"),
    ]
    clay: Annotated[float, Asks(Dimension.LENGTH, "Thickness settled after the second mark.", "", "300 mm")]
    water_column: Annotated[
        float | None,
        Asks(
            Dimension.LENGTH,
            "Depth of water the grains fell through; 150 mm if not given.",
            "30 mm",
            "600 mm",
        ),
    ] = None
    sand_time: Annotated[float, Asks(Dimension.TIME, "When the first mark was made.", "5 s", "10 min")] = (
        SAND_MARK
    )
    silt_time: Annotated[
        float, Asks(Dimension.TIME, "When the second mark was made.", "10 min", "3 days")
    ] = SILT_MARK
    temperature: Annotated[
        float, Asks(Dimension.TEMPERATURE, "Temperature of the water.", "1 °C", "40 °C")
    ] = 20.0
    dispersed: Annotated[bool, Asks(Dimension.YES_NO, "Detergent or sodium salt was added.")] = True

    def __post_init__(self) -> None:
        if min(self.sand, self.silt, self.clay) < 0.0 or self.sand + self.silt + self.clay <= 0.0:
            raise DoubtfulObservationError(
                "no layer with a thickness", "a thickness above 0 of one layer at least"
            )
        if self.silt_time <= self.sand_time:
            raise DoubtfulObservationError("`silt_time` not after `sand_time`", "the marks in their order")
