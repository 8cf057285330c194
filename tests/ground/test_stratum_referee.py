"""The estimate of a stratum against general samplers that know nothing of bridges."""

from __future__ import annotations

import numpy as np
import pytest

from earthfast.estimate import band_of
from earthfast.ground import OBSERVATION_KINDS, Property, estimate_stratum, stratum_prior
from earthfast.ground.stratum import evidence_in
from earthfast.ground.stratum_draws import LATENTS, stratum_from_latents

PRIOR = stratum_prior()


def made(kind, **fields):
    return OBSERVATION_KINDS[kind].row_type(**fields)


HANDS = [
    made("thread", result="rolls easily"),
    made("ribbon", length=0.04),
    made("thumb", result="thumb only dents it"),
    made("boot heel", result="a mark only"),
    made("mottling", top=0.5),
]
LABORATORY = [
    made("liquid limit", value=0.44),
    made("liquid limit", value=0.46),
    made("plastic limit", value=0.22),
    made("grading", sizes=(0.002, 75e-6, 2e-6), passing=(0.97, 0.78, 0.30)),
    made("water content", value=0.24),
    made("organic content", value=0.009),
    made("sulfate", value=5e-4),
    *(made("cone penetrometer", blows=(2, 2, 2), depths=(0.06, d, 0.19)) for d in (0.11, 0.12, 0.13, 0.14)),
    made("cbr", value=2.8, soaked=True),
]


def log_likelihood(rows, ground):
    return sum(p.log_likelihood() for pieces in evidence_in(rows, ground).values() for p in pieces)


def weighted_band(values, weights):
    order = np.argsort(values)
    rising = np.cumsum(weights[order]) / weights.sum()
    return [float(np.interp(q, rising, values[order])) for q in (0.05, 0.5, 0.95)]


def agree(found, low, median, high):
    """Medians within 2 % and ends within 5 %; wide bands may differ by the sampling error of their tails."""
    width = high - low
    tail = 0.05 if low <= 0.0 else max(0.05, 0.04 * np.log(high / low))
    assert found.median == pytest.approx(median, rel=0.02, abs=0.03 * width)
    assert found.low == pytest.approx(low, rel=tail, abs=0.06 * width)
    assert found.high == pytest.approx(high, rel=tail, abs=0.06 * width)


def test_hand_tests_agree_with_plain_importance_sampling():
    generator = np.random.default_rng(77)
    estimate = estimate_stratum(HANDS, PRIOR, np.random.default_rng(1), count=8192)
    columns = {name: [] for name in Property}
    logs = []
    for _ in range(12):
        ground = stratum_from_latents(generator.standard_normal((20000, len(LATENTS))), PRIOR)
        logs.append(log_likelihood(HANDS, ground))
        for name in Property:
            columns[name].append(getattr(ground, name))
    log_weights = np.concatenate(logs)
    weights = np.exp(log_weights - log_weights.max())
    assert weights.sum() ** 2 / np.sum(weights**2) > 3000, "the referee itself must be sound"
    for name in Property:
        low, median, high = weighted_band(np.concatenate(columns[name]), weights)
        agree(estimate.bands[name], low, median, high)
    evidence = np.log(np.mean(weights)) + log_weights.max()
    assert estimate.log_evidence == pytest.approx(evidence, abs=0.1)


@pytest.mark.slow
@pytest.mark.parametrize("rows", [HANDS, LABORATORY], ids=["hands", "laboratory"])
def test_estimate_agrees_with_random_walk_metropolis(rows):
    estimate = estimate_stratum(rows, PRIOR, np.random.default_rng(1), count=8192)
    generator = np.random.default_rng(5)
    chains, dimensions = 4000, len(LATENTS)

    def log_density(latents):
        return log_likelihood(rows, stratum_from_latents(latents, PRIOR)) - 0.5 * np.sum(latents**2, axis=1)

    here = generator.standard_normal((chains, dimensions))
    level = log_density(here)
    kept = []
    step = np.ones(dimensions)
    for turn in range(2500):
        if turn % 100 == 0 and turn <= 1500:
            step = here.std(axis=0) * 2.38 / np.sqrt(dimensions)
        proposal = here + step * generator.standard_normal(here.shape)
        new = log_density(proposal)
        taken = np.log(generator.random(chains)) < new - level
        here, level = np.where(taken[:, None], proposal, here), np.where(taken, new, level)
        if turn > 1600 and turn % 150 == 0:
            kept.append(here)
    ground = stratum_from_latents(np.vstack(kept), PRIOR)
    for name in Property:
        band = band_of(getattr(ground, name))
        agree(estimate.bands[name], band.low, band.median, band.high)
