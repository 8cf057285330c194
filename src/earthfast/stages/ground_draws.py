"""One stratum as the checks take it: every property an array over the common draws."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
import numpy.typing as npt

from earthfast.checks import STIFFNESS_POWER, GroundDraws, UsualGround
from earthfast.estimate import Draws, Floats, Meaning, Origin, Quantity, Trail, normal
from earthfast.ground import StratumDraws, softening_by_standing_water
from earthfast.ground.observations.place import Tree
from earthfast.sources import source_note
from earthfast.stages.clay_season import seasonal_drying
from earthfast.stages.frost_soil import capillary_reach, frost_rank_of, passing, segregation_potential
from earthfast.stages.profile import Stratum

FRICTION_DEGREES = normal(34.0, 3.0)
DRAINING_FINES = 0.20

Order = npt.NDArray[np.int64]
Seen = Callable[[str, Meaning, Floats], Quantity]


def ground_draws(
    stratum: Stratum, order: Order, draws: Draws, trail: Trail, place: int, trees: Sequence[Tree] = ()
) -> GroundDraws:
    """Joint draws of a stratum in the order given, entered in the trail."""
    steps = trail.under("ground" if place == 0 else f"ground{place + 1}")
    ground = stratum.estimate.draws
    seen = _seen(stratum, order, steps)
    summer = seasonal_drying(ground.plasticity_index[order], trees, draws, steps)
    found_over_wet = (ground.cbr_now / ground.cbr_wet) ** STIFFNESS_POWER
    strength = Meaning("Undrained strength as found", "Pa", "kPa")
    modulus = Meaning("Modulus as found", "Pa", "MPa")
    strength_wet = Meaning("Undrained strength, long-term wet", "Pa", "kPa")
    modulus_wet = Meaning("Modulus, long-term wet", "Pa", "MPa")
    drains = Meaning("Drains under load (1 yes)", "-", "-")
    return GroundDraws(
        strength=seen("strength", strength, ground.undrained_strength),
        strength_wet=seen("strength_wet", strength_wet, ground.undrained_strength_wet),
        modulus=seen("modulus", modulus, ground.stiffness * found_over_wet),
        modulus_wet=seen("modulus_wet", modulus_wet, ground.stiffness),
        softening=_softening(stratum, order, steps),
        permeability=passing(ground, order, draws, steps),
        friction_angle=_friction_angle(draws, steps),
        drains=seen("drains", drains, (ground.fines < DRAINING_FINES).astype(float)),
        plasticity_index=seen(
            "plasticity_index", Meaning("Plasticity index", "-", "%"), ground.plasticity_index
        ),
        fines=seen("fines", Meaning("Fines", "-", "%"), ground.fines),
        organic_content=seen("organic_content", Meaning("Organic matter", "-", "%"), ground.organic_content),
        dry_density=seen("dry_density", Meaning("Dry density", "kg/m³", "kg/m³"), ground.dry_density),
        water_content=seen("water_content", Meaning("Water content", "-", "%"), ground.water_content),
        water_depth=seen(
            "water_depth", Meaning("Depth of the highest seasonal water", "m", "m"), ground.winter_water_depth
        ),
        spot_spread=seen(
            "spot_spread", Meaning("Scatter of strength from place to place", "-", "-"), ground.spot_spread
        ),
        capillary_rise=capillary_reach(ground, order, draws, steps),
        segregation_potential=segregation_potential(ground, order, draws, steps),
        frost_rank=frost_rank_of(ground, order, steps),
        drying=summer.share,
        drying_depth=summer.depth,
        usual=_usual(ground),
    )


def _usual(ground: StratumDraws) -> UsualGround:
    named = (ground.dry_density, ground.water_content, ground.fines)
    return UsualGround(*(float(np.median(values)) for values in named))


def _softening(stratum: Stratum, order: Order, steps: Trail) -> Quantity:
    ground, prior = stratum.estimate.draws, stratum.prior
    below = ground.winter_water_depth - prior.formation_depth
    ratio = softening_by_standing_water(ground.plasticity_index, ground.fines, below, prior.protection)
    return steps.enter(
        "softening",
        Meaning(
            "Wet strength with rain standing on formation over that with the ground's own water", "-", "-"
        ),
        ratio[order],
        Origin.OBSERVED,
        "from plasticity, fines and the winter water level",
        (source_note("rogers_highway_engineering, table 7.3 [S]"),),
    )


def _seen(stratum: Stratum, order: Order, steps: Trail) -> Seen:
    name = stratum.name
    because = f"what was seen in the {name}" if stratum.observations else f"nothing was seen in the {name}"

    def seen(key: str, meaning: Meaning, values: Floats) -> Quantity:
        named = Meaning(f"{meaning.label} of the {name}", meaning.unit, meaning.shown_in)
        return steps.enter(key, named, values[order], Origin.OBSERVED, because)

    return seen


def _friction_angle(draws: Draws, steps: Trail) -> Quantity:
    return steps.enter(
        "friction_angle",
        Meaning("Friction angle where the ground drains", "°", "°"),
        draws.of("friction angle", FRICTION_DEGREES),
        Origin.ASSUMED,
        "sand and gravel, medium dense",
        (source_note("earthfast_proposal, 34 ± 3 degrees [P]"),),
    )
