"""What is believed about the strength of one treated soil: a mixture, one normal a soil group."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.mixes.age import REFERENCE_AGE

LEVEL, DOSE_EXPONENT, AGE_EXPONENT, DENSITY_EXPONENT, UNSOAKED_GAIN = range(5)
LEANEST_DOSE = 1e-4  # keeps the logarithm finite; strength there is nothing
THRESHOLD_FLOOR = 0.02  # share of the straight line kept below the threshold dose


class SoilGroup(StrEnum):
    """Soils that respond to cement alike."""

    GRANULAR = "granular with fines"
    CLEAN_SAND = "clean uniform sand"
    LEAN = "silt and lean clay"
    FAT_CLAY = "fat clay"


@dataclass(frozen=True, slots=True)
class MixState:
    """Condition at which a strength is asked for or was measured; arrays broadcast.

    Attributes
    ----------
    dose : cement, fraction of dry soil mass.
    age : s at 20 °C.
    relative_density : dry density over that of a well compacted mix at optimum.
    unsoaked : 1 for a specimen crushed without soaking, 0 for soaked.
    """

    dose: FloatLike
    age: FloatLike = REFERENCE_AGE
    relative_density: FloatLike = 1.0
    unsoaked: FloatLike = 0.0


@dataclass(frozen=True, slots=True)
class GroupBelief:
    """Belief within one soil group.

    Attributes
    ----------
    group : soil group.
    weight : chance that the soil belongs to it.
    mean, covariance : of level (ln Pa at 28 days, soaked, slenderness 1, reference dose and density),
        exponents of dose,
        age and density, and gain in ln strength when unsoaked.
    reference_dose : dose at which the level holds.
    threshold_dose : dose below which the binder does nothing; 0 for none.
    """

    group: SoilGroup
    weight: float
    mean: Floats
    covariance: Floats
    reference_dose: float
    threshold_dose: float

    def design(self, state: MixState) -> Floats:
        """Rows that multiply the five parameters, shape (..., 5)."""
        dose = np.maximum(np.asarray(state.dose, dtype=np.float64), LEANEST_DOSE)
        columns = (
            np.ones_like(dose),
            np.log(dose / self.reference_dose),
            np.log(np.asarray(state.age) / REFERENCE_AGE),
            np.log(np.asarray(state.relative_density)),
            np.asarray(state.unsoaked, dtype=np.float64),
        )
        return np.stack(np.broadcast_arrays(*columns), axis=-1)

    def offset(self, dose: FloatLike) -> Floats:
        """Known part of ln strength: the threshold of a clean sand."""
        return threshold_offset(dose, self.reference_dose, self.threshold_dose)

    def log_mean(self, state: MixState) -> Floats:
        """Mean of ln strength."""
        return np.asarray(self.design(state) @ self.mean + self.offset(state.dose))

    def log_variance(self, state: MixState) -> Floats:
        """Variance of ln mean strength, from the parameters alone."""
        rows = self.design(state)
        return np.asarray(np.einsum("...i,ij,...j->...", rows, self.covariance, rows))


@dataclass(frozen=True, slots=True)
class StrengthBelief:
    """Belief about one soil, before or after trials: a group each, weights adding to 1.

    Attributes
    ----------
    groups : the mixture.
    highest_dose : highest dose tried on this soil; 0 before trials.
    """

    groups: tuple[GroupBelief, ...]
    highest_dose: float = 0.0

    @property
    def weights(self) -> Floats:
        """Chance of each group."""
        return np.array([group.weight for group in self.groups])

    def log_ratio(self, state: MixState, wanted: MixState) -> Floats:
        """How much higher ln strength is in another state, by the mean exponents of the groups."""
        mean = self.weights @ np.array([group.mean for group in self.groups])
        doses = [np.maximum(np.asarray(one.dose, dtype=np.float64), LEANEST_DOSE) for one in (state, wanted)]
        gap = (
            mean[DOSE_EXPONENT] * np.log(doses[1] / doses[0])
            + mean[AGE_EXPONENT] * np.log(np.asarray(wanted.age) / state.age)
            + mean[DENSITY_EXPONENT] * np.log(np.asarray(wanted.relative_density) / state.relative_density)
            + mean[UNSOAKED_GAIN] * (np.asarray(wanted.unsoaked) - state.unsoaked)
        )
        for group in self.groups:
            if group.threshold_dose > 0.0:
                gap = gap + group.weight * (group.offset(doses[1]) - group.offset(doses[0]))
        return np.asarray(gap)


def threshold_offset(dose: FloatLike, reference_dose: FloatLike, threshold_dose: FloatLike) -> Floats:
    """Logarithm of (1 − C0/C) / (1 − C0/Cr): a dose exponent of 1 then gives a straight line from C0."""
    share = 1.0 - np.asarray(threshold_dose) / np.maximum(np.asarray(dose, dtype=np.float64), LEANEST_DOSE)
    return np.log(np.maximum(share, THRESHOLD_FLOOR) / (1.0 - np.asarray(threshold_dose) / reference_dose))
