"""What a further observation may be expected to settle, before it is made."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import Evidence, Floats
from earthfast.ground.observation import ObservationKind
from earthfast.ground.stratum import MOVED, Property, StratumEstimate
from earthfast.ground.stratum_draws import StratumDraws

OUTCOMES = 64


@dataclass(frozen=True, slots=True)
class ExpectedSpread:
    """Log-standard deviation of a property now, and what it is expected to be after the test, -."""

    property: Property
    now: float
    after: float


@dataclass(frozen=True, slots=True)
class Outlook:
    """What one more observation of a kind is expected to settle, with its effort.

    Attributes
    ----------
    kind : kind of observation.
    minutes, cost : effort, in minutes and GBP.
    spreads : properties with their spread now and after.
    """

    kind: str
    minutes: float
    cost: float
    spreads: tuple[ExpectedSpread, ...]


def outlook_of(estimate: StratumEstimate, kind: ObservationKind, generator: np.random.Generator) -> Outlook:
    """Spread that one more observation of a kind is expected to leave.

    Parameters
    ----------
    estimate : StratumEstimate
        What is known now.
    kind : ObservationKind
        The observation that might be made.
    generator : numpy.random.Generator
        Source of the simulated outcomes.

    Returns
    -------
    outlook : Outlook
        Log-standard deviations before and after.

    Notes
    -----
    Outcomes are simulated on ground that is one of the draws; each reweights all draws by its likelihood; the
    spread after is the root mean square over outcomes. A further test of a kind already made shares its
    correlation's error with the first, so its worth is overstated here.

    References
    ----------
    earthfast_proposal, preposterior spread from the joint draws [P]
    """
    ground = estimate.draws
    pieces = kind.says((kind.example,), ground)
    truths = generator.choice(ground.count, size=OUTCOMES, replace=False)
    weights = np.vstack([_weights(pieces, int(truth), ground, generator) for truth in truths])
    spreads = tuple(_expected(name, getattr(ground, name), weights) for name in MOVED)
    return Outlook(kind.kind, kind.minutes, kind.cost, spreads)


def _weights(
    pieces: tuple[Evidence, ...], truth: int, ground: StratumDraws, generator: np.random.Generator
) -> Floats:
    total = np.zeros(ground.count)
    for piece in pieces:
        total = total + piece.simulated(truth, generator).log_likelihood()
    weights = np.exp(total - total.max())
    return np.asarray(weights / weights.sum())


def _expected(name: Property, values: Floats, weights: Floats) -> ExpectedSpread:
    logs = np.log(np.maximum(values, 1e-6))
    means = weights @ logs
    variances = weights @ logs**2 - means**2
    return ExpectedSpread(name, float(np.std(logs)), float(np.sqrt(np.mean(np.maximum(variances, 0.0)))))
