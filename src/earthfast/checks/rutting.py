"""Rutting: do the wheels and feet that pass over it press the ground down, a little each time?"""

from __future__ import annotations

import numpy as np

from earthfast.checks.acts import acts_of
from earthfast.checks.loading import enter_factor, enter_passes, load_factor, passes_of
from earthfast.checks.registry import CheckName, check
from earthfast.checks.response import Seen
from earthfast.checks.situation import Case, CheckResult, nothing_to_judge
from earthfast.checks.stiffness import BoundState, spreading
from earthfast.checks.worst import Asked, worst_of
from earthfast.elastic import superpose
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Trail, lognormal_from_band
from earthfast.ground import StrainCriterion, limiting_strain
from earthfast.loads import Motion
from earthfast.sources import source_note

MOST_STRAIN = lognormal_from_band(3000e-6, 4000e-6)
STRAIN = Meaning("Strain of the top of the ground at each pass", "-", "%")
STOOD = Meaning("Strain at which it ruts over the design life", "-", "%")


def rutting_strain(repetitions: FloatLike, modulus: FloatLike, score: FloatLike, most: FloatLike) -> Floats:
    """Strain of the top of the ground that may come so many times, by where the truth lies among published limits.

    Parameters
    ----------
    repetitions : array-like
        Passes over the design life. [-]
    modulus : array-like
        Resilient modulus of the ground. [Pa]
    score : array-like
        Standard normal score of the true limit among the published ones. [-]
    most : array-like
        Strain that may never be passed. [-]

    Returns
    -------
    strain : array-like
        Vertical compressive strain per pass. [-]

    Notes
    -----
    ε = min(exp(m + z s), ε_m), m and s mean and standard deviation of ln ε over nine published criteria, z and ε_m score and
    cap. They differ 2 to 2.5 times, and are extrapolated below about 1e4 passes: hence the cap.

    References
    ----------
    ufc_3_260_03, eq. 4-5, and the other criteria of the ground's limiting strain [S]
    earthfast_proposal, equal weights, cap of 3000 to 4000 µε [P]
    """
    limits = [np.log(limiting_strain(one, repetitions, modulus)) for one in StrainCriterion]
    logs = np.stack(np.broadcast_arrays(*limits))
    middle, spread = logs.mean(axis=0), logs.std(axis=0, ddof=1)
    return np.asarray(np.minimum(np.exp(middle + np.asarray(score) * spread), most))


@check(
    CheckName.RUTTING, "Does it keep its level under passing wheels?", "passing loads would rut the ground"
)
def rutting(case: Case, trail: Trail) -> CheckResult:
    """Judge strain of the ground at each pass against what it stands over all passes; nothing to judge where nothing rolls."""
    steps = trail.under("rutting")
    rolling = [load for load in case.loads if load.motion is Motion.ROLLING]
    acts = tuple(act for load in rolling for act in acts_of(load, case.unit, repeated=True))
    if not acts:
        return nothing_to_judge(case)
    moduli, spread = spreading(case, case.ground.modulus_wet, BoundState.CRACKED, steps)
    score = steps.enter(
        "criterion",
        Meaning("Where the true limit lies among the published ones (standard score)", "-", "-"),
        case.draws.normal("rut limit"),
        Origin.ASSUMED,
        "published limits differ two to two and a half times",
        (source_note("earthfast_proposal, equal weights [P]"),),
    )
    most = case.draws.of("rut limit", MOST_STRAIN)
    modulus = moduli.ground.values
    asked = [
        Asked(
            spread.under(act, Seen.STRAIN) * act.pressure * load_factor(case, act.load) / modulus,
            rutting_strain(passes_of(case, act.load), modulus, score.values, most),
            act.words,
            act.load,
        )
        for act in acts
    ]
    worst = worst_of(asked, case.shape)
    load = worst.usual[0].load
    demand = steps.conclude(
        "strain", STRAIN, worst.demand, (*moduli.quantities, enter_factor(case, load, steps)), superpose
    )
    capacity = steps.conclude(
        "strain_stood",
        STOOD,
        worst.capacity,
        (enter_passes(case, load, steps), moduli.ground, score),
        rutting_strain,
    )
    return CheckResult(demand, capacity, worst.words, np.ones(len(case.ways)))
