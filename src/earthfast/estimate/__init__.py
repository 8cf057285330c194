"""Quantities with their uncertainty: estimates, draws, evidence, the trail of a figure."""

from earthfast.estimate.arrays import FloatLike, Floats
from earthfast.estimate.cautions import Caution, CautionCode
from earthfast.estimate.drivers import first_order_share
from earthfast.estimate.evidence import (
    Answers,
    Evidence,
    Numbers,
    Posterior,
    bridge,
    ordered_choices,
    prior_latents,
)
from earthfast.estimate.joint import Band, Chance, band_of, chances_of
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
from earthfast.estimate.trail import Influence, Meaning, Origin, Quantity, Traced, Trail

__all__ = [
    "Answers",
    "Band",
    "Caution",
    "CautionCode",
    "Chance",
    "Draws",
    "Estimate",
    "Evidence",
    "Family",
    "FloatLike",
    "Floats",
    "Influence",
    "Meaning",
    "Numbers",
    "Origin",
    "Posterior",
    "Quantity",
    "Traced",
    "Trail",
    "band_of",
    "bridge",
    "chances_of",
    "exact",
    "first_order_share",
    "lognormal",
    "lognormal_from_band",
    "normal",
    "normal_from_band",
    "ordered_choices",
    "prior_latents",
]
