"""Belief about the strength of a job's soil: from other soils of its group, and from its own specimens."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from earthfast.checks import Method
from earthfast.estimate import Caution, CautionCode
from earthfast.ground import StratumDraws
from earthfast.job import Job, Skill
from earthfast.mixes import (
    SoilGroup,
    Specimen,
    StrengthBelief,
    TrialScatter,
    Workmanship,
    belief_after_trial,
    chance_of_retardation,
    strength_prior,
    trial_scatter,
    with_lime_first,
    with_organic_matter,
)
from earthfast.stages.specimens import ReadSpecimen, read_specimens

USUAL_RETARDATION = 0.10  # P: chance, before any specimen, that organic matter holds the binder back
RETARDING_ORGANIC = 0.02  # share of dry mass from which topsoils with lime lost two thirds. S: gajurel_2021
PERCENT = 100.0
TREATED = (Method.CEMENT, Method.LIME_CEMENT)


@dataclass(frozen=True, slots=True)
class Trial:
    """The specimens of a job, read, and the scatter to read them with."""

    specimens: tuple[ReadSpecimen, ...]
    workmanship: Workmanship

    @property
    def scatter(self) -> TrialScatter:
        """Scatter of specimens and batches."""
        return trial_scatter(self.workmanship)

    def used_for(self, method: Method) -> tuple[Specimen, ...]:
        """Specimens with a result that speak for one way of treating."""
        return tuple(one.specimen for one in self.specimens if one.specimen and one.method is method)


def trial_of(job: Job) -> Trial:
    """The specimens of a job."""
    return Trial(read_specimens(job), workmanship_of(job))


def workmanship_of(job: Job) -> Workmanship:
    """Who makes and crushes specimens: a laboratory where it gives strengths, else by the crew's skill."""
    entries = job.trial.specimens if job.trial else ()
    tested = [entry for entry in entries if entry.strength is not None or entry.failure_load is not None]
    if tested and all(entry.strength is not None for entry in tested):
        return Workmanship.LABORATORY
    skill = job.crew.skill if job.crew else None
    return Workmanship.AMATEUR if skill is Skill.FIRST_TIME else Workmanship.CAREFUL


def group_weights(ground: StratumDraws) -> Mapping[SoilGroup, float]:
    """Chance of each group of soils that respond to cement alike."""
    clean = (ground.fines < 0.08) & (ground.stones < 0.3)
    fine = ground.fines >= 0.5
    fat = fine & (ground.liquid_limit >= 0.5)
    shares = {
        SoilGroup.CLEAN_SAND: clean,
        SoilGroup.GRANULAR: ~clean & ~fine,
        SoilGroup.LEAN: fine & ~fat,
        SoilGroup.FAT_CLAY: fat,
    }
    return {group: float(np.mean(share)) for group, share in shares.items() if np.any(share)}


def prior_belief(ground: StratumDraws) -> StrengthBelief:
    """Belief about this soil with cement before any specimen of it."""
    return with_organic_matter(
        strength_prior(group_weights(ground)), float(np.median(ground.organic_content))
    )


def belief_before(trial: Trial, method: Method, ground: StratumDraws) -> StrengthBelief:
    """Belief about one way of treating this soil before any specimen made that way.

    What specimens with cement alone say of the soil also tells about lime then cement; what lime adds
    stays as wide as before, and no dose counts as tried with lime until a specimen has it.
    """
    prior = prior_belief(ground)
    if method is not Method.LIME_CEMENT:
        return prior
    cement = belief_after_trial(prior, trial.used_for(Method.CEMENT), trial.scatter)
    return replace(with_lime_first(cement), highest_dose=0.0)


def strength_beliefs_of(job: Job, ground: StratumDraws) -> dict[Method, StrengthBelief]:
    """Belief about the strength of this soil by way of treating: the posterior where there are specimens."""
    trial = trial_of(job)
    return {
        method: belief_after_trial(
            belief_before(trial, method, ground), trial.used_for(method), trial.scatter
        )
        for method in TREATED
    }


def specimen_count(job: Job) -> int:
    """How many specimens of this soil have a result that counts."""
    return sum(one.specimen is not None for one in read_specimens(job))


def beyond_trials(belief: StrengthBelief, dose: float, where: str = "dose") -> tuple[Caution, ...]:
    """A caution where trials were made and a dose goes beyond them; none where none were made."""
    if belief.highest_dose == 0.0 or dose <= belief.highest_dose + 1e-9:
        return ()
    text = (
        f"{dose * PERCENT:.3g} % is extrapolated: the highest dose tried on this soil is "
        f"{belief.highest_dose * PERCENT:.3g} %. Make a specimen at or above it before building."
    )
    return (Caution(CautionCode.DOSE_BEYOND_TRIALS, text, where, "common_practice"),)


def retardation_before(ground: StratumDraws) -> float:
    """Chance, before any specimen, that organic matter holds the binder back."""
    return float(np.clip(np.mean(ground.organic_content > RETARDING_ORGANIC), USUAL_RETARDATION, 0.9))


def retardation_after(trial: Trial, method: Method, ground: StratumDraws) -> float | None:
    """Chance of the same after the specimens; None without any."""
    used = trial.used_for(method)
    if not used:
        return None
    unharmed = strength_prior(group_weights(ground))
    before = with_lime_first(unharmed) if method is Method.LIME_CEMENT else unharmed
    return chance_of_retardation(before, used, trial.scatter, retardation_before(ground))
