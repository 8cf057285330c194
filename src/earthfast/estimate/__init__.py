"""Quantities with their uncertainty: estimates, draws, evidence, the trail of a figure."""

from earthfast.estimate.arrays import FloatLike, Floats
from earthfast.estimate.cautions import Caution, CautionCode
from earthfast.estimate.quantity import (
    Estimate,
    Family,
    exact,
    lognormal,
    lognormal_from_band,
    normal,
    normal_from_band,
)
from earthfast.estimate.sampling import Draws
from earthfast.estimate.trail import Influence, Meaning, Origin, Quantity, Traced, Trail, assumed_source

__all__ = [
    "Caution",
    "CautionCode",
    "Draws",
    "Estimate",
    "Family",
    "FloatLike",
    "Floats",
    "Influence",
    "Meaning",
    "Origin",
    "Quantity",
    "Traced",
    "Trail",
    "assumed_source",
    "exact",
    "lognormal",
    "lognormal_from_band",
    "normal",
    "normal_from_band",
]
