"""A trial as one of the tests to do: what specimens of treated soil would read on every draw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from earthfast.checks import Method, Way
from earthfast.choice import Outcome
from earthfast.mixes import REFERENCE_AGE, laboratory_strength
from earthfast.stages.trials import trial_of
from earthfast.stages.understanding import Understanding

MIXES_OF_A_DOSE, SPECIMENS_OF_A_MIX = 2, 2
LEAN_SHARE = 0.75  # of the leanest dose in question. P
QUESTION = "How strong does this soil get with binder?"
HOW = "Make specimens at two doses, two mixes each, and break them after 7 and 28 days; `earthfast try` says how."


@dataclass(frozen=True, slots=True)
class PlannedTrial:
    """A trial for the treated ways in question: the way of treating, and a lean and a rich dose."""

    method: Method
    doses: tuple[float, float]

    @property
    def specimens(self) -> int:
        """How many specimens it takes."""
        return len(self.doses) * MIXES_OF_A_DOSE * SPECIMENS_OF_A_MIX


def planned_trial(ways: Sequence[Way]) -> PlannedTrial | None:
    """The trial that would serve the treated ways among some; None where none of them is treated."""
    treated = [(way.method, way.build_up.treated.dose) for way in ways if way.build_up.treated is not None]
    if not treated:
        return None
    method = treated[0][0]
    doses = [dose for one, dose in treated if one is method]
    return PlannedTrial(method, (LEAN_SHARE * min(doses), max(doses)))


def trial_outcome(
    planned: PlannedTrial, understanding: Understanding, generator: np.random.Generator
) -> Outcome:
    """What the trial would read on every draw: ln strength at each dose, with the luck of its mixes and specimens."""
    mix = understanding.areas[0].setting.mix
    scatter = trial_of(understanding.loaded.job).scatter
    luck = np.hypot(scatter.batch, scatter.specimen / np.sqrt(SPECIMENS_OF_A_MIX)) / np.sqrt(MIXES_OF_A_DOSE)
    doses = np.array(planned.doses)[:, None]
    strength = laboratory_strength(mix.beliefs[planned.method], doses, REFERENCE_AGE, mix.normals)
    readings = np.log(strength) + luck * generator.standard_normal(strength.shape)
    return Outcome(numbers=tuple(readings), answers=())
