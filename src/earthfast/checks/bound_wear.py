"""How all loads of a job together wear a bound course: the laws of wear, and the sum of what each load takes of its life."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import reduce
from itertools import chain

import numpy as np

from earthfast.checks.acts import Act, acts_of
from earthfast.checks.loading import enter_passes
from earthfast.checks.situation import Case
from earthfast.checks.worst import Asked, Worst, worst_of
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Quantity, Trail
from earthfast.mixes import CrushingStage, RoadCategory
from earthfast.mixes.fatigue import CRUSHING_CONSTANTS, FATIGUE_CONSTANTS
from earthfast.sources import source_note

SLAB_AT_ONE, SLAB_PER_DECADE = 0.972, 0.0825
MEDIAN = RoadCategory.D  # the published law of 50 %: scatter is in the draws
LEAST_SHARE = 0.01  # of the strength, however many the passes: there the straight laws would come to nothing
LEAST_DAMAGE = 1e-300
MOST_DECADES = 30.0


def _line_of(constants: tuple[float, float]) -> tuple[float, float]:
    """The published law, passes by share, turned round: what is stood once, and its fall for ten times the passes."""
    scale, divisor = constants
    return divisor, divisor / scale


BREAKING_LINE = _line_of(FATIGUE_CONSTANTS[MEDIAN])
CRUSHING_LINE = _line_of(CRUSHING_CONSTANTS[CrushingStage.ADVANCED][MEDIAN])
ShareForLife = Callable[[FloatLike], Floats]
Told = Callable[[Worst, Meaning, Trail], Quantity]


def stress_share_for_life(repetitions: FloatLike) -> Floats:
    """Share of the flexural strength that a slab stands so many times without a crack.

    Parameters
    ----------
    repetitions : array-like
        Times it is loaded over its life. [-]

    Returns
    -------
    share : array-like
        Tension over flexural strength at which it cracks after that many loads. [-]

    Notes
    -----
    s = 0.972 − 0.0825 log10 N, N the repetitions (at least 1), but no less than 0.01; a fatigue rule turned round.
    Concrete's own rule is within one percent of it above a share of 0.55, and unlimited below 0.45: there this one asks more.

    References
    ----------
    nchrp_1_37a, fatigue of treated bases [M]
    """
    return _falling(repetitions, SLAB_AT_ONE, SLAB_PER_DECADE)


def breaking_share_for_life(repetitions: FloatLike) -> Floats:
    """Tension over flexural strength at which treated soil has broken into small blocks after so many loads.

    Parameters
    ----------
    repetitions : array-like
        Times it is loaded over its life. [-]

    Returns
    -------
    share : array-like
        Elastic tension over flexural strength. [-]

    Notes
    -----
    s = d (1 − log10 N/c), c 7.06, d 7.86, N the repetitions (at least 1), but no less than 0.01: the strain law of
    lightly cemented layers for a 50 % chance, turned round, strain and its value at break both times the modulus. Above 1 the
    layer has its first cracks and goes on carrying as a pavement of blocks that lock together; the tension is that of a whole
    layer, an index. For passes of road wheels and strengths from 0.75 MPa; below it is extrapolated.

    References
    ----------
    theyse_1996, effective fatigue life, category D [M]
    earthfast_proposal, tension in place of strain [P]
    """
    return _falling(repetitions, *BREAKING_LINE)


def crushing_share_for_life(repetitions: FloatLike) -> Floats:
    """Pressure on top of treated soil over its strength at which the top has crushed after so many loads.

    Parameters
    ----------
    repetitions : array-like
        Times it is loaded over its life. [-]

    Returns
    -------
    share : array-like
        Pressure over compressive strength. [-]

    Notes
    -----
    s = b (1 − log10 N/a), a 8.894, b 1.31, N the repetitions (at least 1), but no less than 0.01: the law of advanced
    crushing (about 10 mm of loose top) for a 50 % chance, turned round. Above 1 for few loads: the soil beside a contact
    holds it in.

    References
    ----------
    theyse_1996, advanced crushing, category D [M]
    """
    return _falling(repetitions, *CRUSHING_LINE)


def _falling(repetitions: FloatLike, once: float, per_decade: float) -> Floats:
    """A share that is stood once and falls by so much for ten times the passes."""
    return np.maximum(once - per_decade * np.log10(np.maximum(repetitions, 1.0)), LEAST_SHARE)


def strength_for_life(strength: FloatLike, share: FloatLike, scatter: FloatLike = 1.0) -> Floats:
    """Stress that a course stands over its life, by the share of its strength that so many loads leave it.

    Parameters
    ----------
    strength : array-like
        Strength against one load. [Pa]
    share : array-like
        Share of it that is stood so many times. [-]
    scatter : array-like
        Factor for the scatter of the law of wear. [-]

    Returns
    -------
    stress : array-like
        Stress stood over the life. [Pa]

    Notes
    -----
    R = f s x, with f, s, x in the order of the arguments; x 1 where it is not listed.

    References
    ----------
    definition, share of a strength [C]
    """
    return np.asarray(np.asarray(strength) * np.asarray(share) * np.asarray(scatter))


def share_of_life(
    repetitions: FloatLike, stress: FloatLike, stood_once: FloatLike, fall: FloatLike
) -> Floats:
    """Share of the life of a bound course that all passes of one load use up.

    Parameters
    ----------
    repetitions : array-like
        Passes of the load over the design life. [-]
    stress : array-like
        Stress in the course under it. [Pa]
    stood_once : array-like
        Stress that is stood once. [Pa]
    fall : array-like
        Stress by which what is stood falls for ten times the passes. [Pa]

    Returns
    -------
    share : array-like
        Passes over the passes that would break it up. [-]

    Notes
    -----
    D = n 10^((σ − σ₁)/f), with n, σ, σ₁, f in the order of the arguments: n/N of Miner, N the straight law of wear. The exponent
    is no more than 30.

    References
    ----------
    miner_1945, linear sum of damage [M]
    """
    decades = (np.asarray(stress) - np.asarray(stood_once)) / np.asarray(fall)
    return np.asarray(np.asarray(repetitions) * np.exp(np.log(10.0) * np.minimum(decades, MOST_DECADES)))


def passes_beside_others(repetitions: FloatLike, own_share: FloatLike, **each: FloatLike) -> Floats:
    """Passes of the load that asks most that would break the course by themselves as soon as all loads do together.

    Parameters
    ----------
    repetitions : array-like
        Passes of the load that asks most. [-]
    own_share : array-like
        Share of the life that they use up. [-]
    each : array-like
        Share of the life that each load uses up, this one among them. [-]

    Returns
    -------
    passes : array-like
        Passes, no fewer than there are. [-]

    Notes
    -----
    N = n/(1 − (ΣD − d)) where ΣD ≤ 1, else n ΣD/d, with n and d the first two arguments and D the others: it breaks up where the
    shares of all loads add up to more than 1 (Miner), so the load that asks most has what the others leave. Past that, all are
    counted in its passes.

    References
    ----------
    miner_1945, linear sum of damage [M]
    """
    own = np.maximum(own_share, LEAST_DAMAGE)
    together = np.maximum(sum(np.asarray(one) for one in each.values()), own)
    return np.asarray(repetitions * np.maximum(together, 1.0) / (own + np.maximum(1.0 - together, 0.0)))


@dataclass(frozen=True, slots=True)
class Law:
    """How what a bound course stands falls with the passes.

    Attributes
    ----------
    share_for_life : stress over strength that is stood so many times.
    fall : of that share, for ten times the passes.
    source : on whose word.
    """

    share_for_life: ShareForLife
    fall: float
    source: str


SLAB = Law(stress_share_for_life, SLAB_PER_DECADE, "nchrp_1_37a, fatigue of treated bases [M]")
BREAKING = Law(
    breaking_share_for_life, BREAKING_LINE[1], "theyse_1996, effective fatigue life, category D [M]"
)
CRUSHING = Law(crushing_share_for_life, CRUSHING_LINE[1], "theyse_1996, advanced crushing, category D [M]")


@dataclass(frozen=True, slots=True)
class Worn:
    """A bound course under all loads together, in one mechanism.

    Attributes
    ----------
    by_load : what every act of every load asks, against what is stood over the passes of that load.
    worst : stress under the load that asks most, against what is stood over the passes of all.
    """

    by_load: tuple[tuple[Asked, ...], ...]
    worst: Worst

    def told_passes(
        self,
        case: Case,
        steps: Trail,
        worst_stress: Quantity,
        strength: Mapping[str, Quantity],
        law: Law,
        under: Told,
    ) -> Quantity:
        """Passes of the load that asks most, more where others use up some of the life, told load by load."""
        own = enter_passes(case, self.worst, steps)
        if len(self.by_load) == 1:
            return own
        limits = _told_limits(steps, strength, law)

        def used(key: str, name: str, passes: Quantity, stress: Quantity, told: Trail) -> Quantity:
            meaning = Meaning(f"Share of the life of the bound course used up: {name}", "-", "%")
            return told.derive(
                key, meaning, share_of_life, {"repetitions": passes, "stress": stress, **limits}
            )

        shares = {"own_share": used("own_share", "the load that asks most", own, worst_stress, steps)}
        for asked in self.by_load:
            one, name = worst_of(asked, case.shape), asked[0].act.load.key
            told = steps.under(name.replace(" ", "-"))
            stress = under(one, Meaning(f"Stress in the bound course: {name}", "Pa", "kPa"), told)
            share = used("share", name, enter_passes(case, one, told), stress, told)
            shares[share.key] = share
        return steps.derive(
            "passes_beside_others",
            Meaning("Passes of the load that asks most, more for the life that others use up", "-", "-"),
            passes_beside_others,
            {"repetitions": own, **shares},
        )


def worn_by_all(case: Case, asked: Callable[[Act], Asked], law: Law, strength: Floats) -> Worn:
    """Add the wear of all loads, each through that of its acts that asks most.

    What a load is stood over its passes is what is stood once less the fall for so many: hence shares of life without passes.
    """
    by_load = tuple(tuple(asked(act) for act in acts_of(load, case.unit)) for load in case.loads)
    worst = worst_of(tuple(chain(*by_load)), case.shape)
    if len(by_load) == 1:
        return Worn(by_load, worst)
    fall = strength_for_life(strength, law.fall)
    each = {
        str(number): share_of_life(1.0, _most_stress(acts), acts[0].capacity, fall)
        for number, acts in enumerate(by_load)
    }
    times = passes_beside_others(1.0, share_of_life(1.0, worst.demand, worst.capacity, fall), **each)
    stood = np.maximum(worst.capacity - fall * np.log10(times), LEAST_SHARE * strength)
    return Worn(by_load, replace(worst, capacity=stood))


def _most_stress(acts: Sequence[Asked]) -> Floats:
    """Stress under the act that asks most of one load, all of whose acts come as often."""
    return reduce(np.maximum, (one.demand for one in acts))


def _told_limits(steps: Trail, strength: Mapping[str, Quantity], law: Law) -> dict[str, Quantity]:
    """What `share_of_life` takes besides passes and stress."""
    shares: dict[str, tuple[FloatLike, str]] = {
        "stood_once": (law.share_for_life(1.0), "that is stood once"),
        "fall": (law.fall, "by which what is stood falls for ten times the passes"),
    }
    found: dict[str, Quantity] = {}
    for key, (value, words) in shares.items():
        share = steps.enter(
            f"share_{key}",
            Meaning(f"Share of the strength {words}", "-", "-"),
            np.asarray(value),
            Origin.ASSUMED,
            "of the published law of wear",
            (source_note(law.source),),
        )
        meaning = Meaning(f"Stress {words}", "Pa", "kPa")
        found[key] = steps.derive(key, meaning, strength_for_life, {**strength, "share": share})
    return found
