"""Each way in which a build-up can disappoint, judged by chance of failure."""

from earthfast.checks.acts import Act, acts_of
from earthfast.checks.bearing import bearing, ground_resistance, softening
from earthfast.checks.build_up import BuildUp, Course, Material, Method, Way
from earthfast.checks.chance import chance_of_failure, margin, record_chance
from earthfast.checks.cracking import cracking, edge_tension, stress_share_for_life
from earthfast.checks.drainage import drainage, fall_as_built, fall_wanted
from earthfast.checks.frost import (
    freezing_season_length,
    frost,
    frost_heave,
    susceptibility_left,
    uneven_lift,
)
from earthfast.checks.registry import CHECKS, Check, CheckName
from earthfast.checks.situation import Case, CheckResult, Drainage, GroundDraws, MixDraws, Winters
from earthfast.checks.stiffness import cracked_soil_modulus, unbound_modulus
from earthfast.checks.suitability import suitability, unsuitability

__all__ = [  # noqa: RUF022 (plain alphabetical order, as the house test reads it)
    "Act",
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
    "Way",
    "Winters",
    "acts_of",
    "bearing",
    "chance_of_failure",
    "cracked_soil_modulus",
    "cracking",
    "drainage",
    "edge_tension",
    "fall_as_built",
    "fall_wanted",
    "freezing_season_length",
    "frost",
    "frost_heave",
    "ground_resistance",
    "margin",
    "record_chance",
    "softening",
    "stress_share_for_life",
    "suitability",
    "susceptibility_left",
    "unbound_modulus",
    "uneven_lift",
    "unsuitability",
]
