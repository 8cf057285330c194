"""How tightly the ground lies: density in place, and how it compacts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from earthfast.estimate import Evidence, Numbers
from earthfast.ground.compaction import compaction_peak
from earthfast.ground.field_density import core_cutter_density, sand_replacement_density
from earthfast.ground.observation import Asks, Dimension, DoubtfulObservationError, Observation, observation
from earthfast.ground.stratum_draws import StratumDraws


def _density_says(
    rows: Sequence[SandReplacement] | Sequence[CoreCutter], ground: StratumDraws
) -> tuple[Evidence, ...]:
    values = np.log([row.dry_density for row in rows])
    return (Numbers(np.asarray(values), np.log(ground.dry_density), 0.05, 0.02),)


LIGHTEST, HEAVIEST = 300.0, 2700.0  # kg/m³; peat to solid stone; P


def _refuse_no_soil(dry_density: float) -> None:
    if not LIGHTEST <= dry_density <= HEAVIEST:
        found = f"masses and sizes that give a dry density of {dry_density:,.0f} kg/m³"
        raise DoubtfulObservationError(found, f"such as give {LIGHTEST:,.0f} to {HEAVIEST:,.0f} kg/m³")


DENSITY_SOURCES = ("earthfast_proposal, scatter of density in place about 5 % [P]",)


@observation(
    "sand replacement",
    question="What is the density in place, by sand poured into the hole?",
    how="Dig a small neat hole, keep all the soil, fill the hole from the cone with dry sand of known "
    "density.",
    deepest="5 m",
    minutes=30.0,
    cost=5.0,
    says=_density_says,
    example={
        "sand_used": 4.2,
        "sand_in_cone": 0.6,
        "sand_density": 1450.0,
        "soil_mass": 4.6,
        "water_content": 0.18,
    },
    sources=DENSITY_SOURCES,
)
@dataclass(frozen=True, slots=True, kw_only=True)
class SandReplacement(Observation):
    """Density in place by sand replacement."""

    sand_used: Annotated[float, Asks(Dimension.MASS, "Sand that left the cone.", "100 g", "30 kg")]
    sand_in_cone: Annotated[float, Asks(Dimension.MASS, "Sand that stays in the cone's funnel.", "", "10 kg")]
    sand_density: Annotated[float, Asks(Dimension.DENSITY, "Poured density of the sand.", "1 t/m³", "2 t/m³")]
    soil_mass: Annotated[
        float, Asks(Dimension.MASS, "Mass of the moist soil from the hole.", "100 g", "60 kg")
    ]
    water_content: Annotated[float, Asks(Dimension.FRACTION, "Water over dry mass.", "", "200 %")]

    def __post_init__(self) -> None:
        if self.sand_in_cone >= self.sand_used:
            raise DoubtfulObservationError("no more sand used than stays in the cone", "more sand used")
        _refuse_no_soil(self.dry_density)

    @property
    def dry_density(self) -> float:
        """Dry density in place, kg/m³."""
        measured = sand_replacement_density(
            self.sand_used, self.sand_in_cone, self.sand_density, self.soil_mass, self.water_content
        )
        return float(measured.dry_density)


@observation(
    "core cutter",
    question="What is the density in place, by a driven ring?",
    how="Drive a steel ring in, dig it out, trim both faces, weigh; soil without stones only.",
    deepest="10 m",
    minutes=20.0,
    cost=2.0,
    says=_density_says,
    example={"soil_mass": 1.95, "water_content": 0.20},
    sources=DENSITY_SOURCES,
)
@dataclass(frozen=True, slots=True, kw_only=True)
class CoreCutter(Observation):
    """Density in place by a driven ring, 100 mm across and 130 mm long unless given."""

    soil_mass: Annotated[float, Asks(Dimension.MASS, "Mass of the moist soil in the ring.", "20 g", "30 kg")]
    water_content: Annotated[float, Asks(Dimension.FRACTION, "Water over dry mass.", "", "200 %")]
    diameter: Annotated[float, Asks(Dimension.LENGTH, "Inside diameter of the ring.", "20 mm", "300 mm")] = (
        0.100
    )
    length: Annotated[float, Asks(Dimension.LENGTH, "Length of the ring.", "10 mm", "500 mm")] = 0.130

    def __post_init__(self) -> None:
        _refuse_no_soil(self.dry_density)

    @property
    def dry_density(self) -> float:
        """Dry density in place, kg/m³."""
        measured = core_cutter_density(self.soil_mass, self.water_content, self.diameter, self.length)
        return float(measured.dry_density)


def _compaction_says(rows: Sequence[CompactionTest], ground: StratumDraws) -> tuple[Evidence, ...]:
    optima = np.array(
        [float(compaction_peak(np.asarray(r.water), np.asarray(r.dry_density)).optimum_water) for r in rows]
    )
    return (Numbers(optima, ground.optimum_water, 0.015, 0.05),)


@observation(
    "compaction",
    question="Which dry density does it reach at each water content, rammed in a mould?",
    how="Ram soil at five water contents into a mould, weigh, dry a piece of each.",
    deepest="30 m",
    minutes=120.0,
    cost=90.0,
    says=_compaction_says,
    example={
        "water": (0.10, 0.13, 0.16, 0.19, 0.22),
        "dry_density": (1690.0, 1760.0, 1790.0, 1740.0, 1660.0),
    },
    sources=("earthfast_proposal, error of optimum water from the plastic limit [P]",),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class CompactionTest(Observation):
    """Points of a compaction curve."""

    water: Annotated[tuple[float, ...], Asks(Dimension.FRACTION, "Water content of each point.", "", "100 %")]
    dry_density: Annotated[
        tuple[float, ...], Asks(Dimension.DENSITY, "Dry density of each point.", "0.5 t/m³", "2.6 t/m³")
    ]

    def __post_init__(self) -> None:
        if len(self.water) != len(self.dry_density) or len(self.water) < 3:
            found = f"{len(self.water)} water contents and {len(self.dry_density)} densities"
            raise DoubtfulObservationError(found, "three points or more, each with water and density")
