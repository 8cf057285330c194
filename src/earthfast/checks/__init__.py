"""Each way in which a build-up can disappoint, judged by chance of failure."""

from earthfast.checks.acts import Act, PavingUnit, acts_of, bed_radius
from earthfast.checks.bearing import (
    bearing,
    clay_resistance,
    crust_resistance,
    ground_resistance,
    patch_diameter,
    patch_side,
    softening,
)
from earthfast.checks.bound_use import (
    breaking_share_for_life,
    crushing_share_for_life,
    edge_tension,
    holds_under,
    soil_flexural_strength,
    strength_for_life,
    stress_share_for_life,
)
from earthfast.checks.build_up import BuildUp, Course, Material, Method, Way
from earthfast.checks.chance import chance_of_failure, margin, record_chance
from earthfast.checks.cracking import cracking
from earthfast.checks.drainage import drainage, fall_as_built, fall_wanted
from earthfast.checks.durability import durability, frost_strength_wanted, winters_that_freeze
from earthfast.checks.frost import (
    BERGGREN_BAND,
    berggren_depth,
    freezing_season_length,
    frost,
    frost_heave,
    frost_in_open,
    lift_of,
    lifts_in,
    pore_lift,
    susceptibility_left,
    uneven_lift,
)
from earthfast.checks.frozen_columns import column_of, ground_under, layered_columns
from earthfast.checks.pressing import deflection_under_load, strain_under_load, stress_under_load
from earthfast.checks.registry import CHECKS, Check, CheckName
from earthfast.checks.rutting import (
    equivalent_passes,
    passes_together,
    rutting,
    rutting_strain,
    strain_exponent,
)
from earthfast.checks.settlement import (
    compressibility_from_strength,
    compression_below_patch,
    counted_depth,
    patch_radius,
    settlement,
    settlement_in_all,
    settlement_modulus,
    tilt_across,
)
from earthfast.checks.shrink_swell import seasonal_movement, shrink_swell, shrinkable_index
from earthfast.checks.situation import Case, CheckResult, Drainage, GroundDraws, MixDraws, Winters
from earthfast.checks.stiffness import (
    bedding_modulus_on,
    cracked_soil_modulus,
    unbound_modulus,
    whole_soil_modulus,
)
from earthfast.checks.suitability import suitability, unsuitability
from earthfast.checks.thaw import frozen_share, spring_modulus, spring_state, spring_strength
from earthfast.checks.winters import WinterSample, winter_sample
from earthfast.checks.worst import capacity_that_governs, demand_that_governs

__all__ = [  # noqa: RUF022 (plain alphabetical order, as the house test reads it)
    "Act",
    "BERGGREN_BAND",
    "BuildUp",
    "CHECKS",
    "Case",
    "Check",
    "CheckName",
    "CheckResult",
    "Course",
    "Drainage",
    "GroundDraws",
    "Material",
    "Method",
    "MixDraws",
    "PavingUnit",
    "Way",
    "WinterSample",
    "Winters",
    "acts_of",
    "bearing",
    "bed_radius",
    "bedding_modulus_on",
    "berggren_depth",
    "breaking_share_for_life",
    "capacity_that_governs",
    "chance_of_failure",
    "clay_resistance",
    "column_of",
    "compressibility_from_strength",
    "compression_below_patch",
    "counted_depth",
    "cracked_soil_modulus",
    "cracking",
    "crushing_share_for_life",
    "crust_resistance",
    "deflection_under_load",
    "demand_that_governs",
    "drainage",
    "durability",
    "edge_tension",
    "equivalent_passes",
    "fall_as_built",
    "fall_wanted",
    "freezing_season_length",
    "frost",
    "frost_heave",
    "frost_in_open",
    "frost_strength_wanted",
    "frozen_share",
    "ground_resistance",
    "ground_under",
    "holds_under",
    "layered_columns",
    "lift_of",
    "lifts_in",
    "margin",
    "passes_together",
    "patch_diameter",
    "patch_radius",
    "patch_side",
    "pore_lift",
    "record_chance",
    "rutting",
    "rutting_strain",
    "seasonal_movement",
    "settlement",
    "settlement_in_all",
    "settlement_modulus",
    "shrink_swell",
    "shrinkable_index",
    "softening",
    "soil_flexural_strength",
    "spring_modulus",
    "spring_state",
    "spring_strength",
    "strain_exponent",
    "strain_under_load",
    "strength_for_life",
    "stress_share_for_life",
    "stress_under_load",
    "suitability",
    "susceptibility_left",
    "tilt_across",
    "unbound_modulus",
    "uneven_lift",
    "unsuitability",
    "whole_soil_modulus",
    "winter_sample",
    "winters_that_freeze",
]
