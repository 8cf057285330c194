"""Rare chances against exact solutions, and against a general-purpose reliability library as referee."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import norm

from earthfast.choice import subset_chance


def plane(index, dimension):
    """A limit at a given distance: the exact chance is Φ(−index)."""
    normal = np.ones(dimension) / np.sqrt(dimension)
    return lambda u: index - u @ normal


def resistance_and_load(u):
    """ln R − ln S with medians 300 and 100 and log-standard deviations 0.25 and 0.20: index ln 3/√(0.25² + 0.20²)."""
    return np.log(3.0) + 0.25 * u[:, 0] - 0.20 * u[:, 1]


LOGNORMAL_INDEX = np.log(3.0) / np.hypot(0.25, 0.20)


def normal_resistance_and_load(u):
    """R − S with means 10 and 4 and standard deviations 1.2 and 0.9: index 6/√(1.2² + 0.9²) = 4."""
    return (10.0 + 1.2 * u[:, 0]) - (4.0 + 0.9 * u[:, 1])


def curved(u):
    """Paraboloid: exact chance by one quadrature, P = ∫ Φ(−(3.5 + 0.05 v²)) φ(v) dv."""
    return 3.5 - u[:, 0] + 0.05 * u[:, 1] ** 2


@pytest.mark.parametrize(
    ("room", "index"),
    [(resistance_and_load, LOGNORMAL_INDEX), (normal_resistance_and_load, 4.0)],
)
def test_resistance_and_load_come_to_the_closed_form_index(room, index):
    runs = [subset_chance(room, 2, 1000, np.random.default_rng(seed)) for seed in range(8)]
    scatter = np.sqrt(np.mean([run.variation**2 for run in runs]) / len(runs))
    assert abs(np.mean([run.chance for run in runs]) / norm.sf(index) - 1.0) < 3.0 * scatter


@pytest.mark.parametrize(("index", "dimension"), [(2.5, 3), (3.5, 20), (4.5, 20)])
def test_subset_simulation_agrees_within_its_stated_scatter(index, dimension):
    runs = [
        subset_chance(plane(index, dimension), dimension, 1000, np.random.default_rng(s)) for s in range(8)
    ]
    found = np.mean([one.chance for one in runs])
    stated = np.mean([one.variation for one in runs])
    assert stated < 0.6
    assert abs(found / norm.sf(index) - 1.0) < 3.0 * stated / np.sqrt(len(runs))


def test_stated_scatter_of_subset_simulation_is_the_scatter_of_its_runs():
    runs = [subset_chance(plane(3.0, 5), 5, 500, np.random.default_rng(seed)) for seed in range(60)]
    scatter = np.std([one.chance for one in runs]) / np.mean([one.chance for one in runs])
    assert np.mean([one.variation for one in runs]) == pytest.approx(scatter, rel=0.4)


def test_curved_limit_comes_to_its_quadrature():
    exact, _ = quad(lambda v: norm.sf(3.5 + 0.05 * v**2) * norm.pdf(v), -10, 10)
    found = subset_chance(curved, 2, 20000, np.random.default_rng(2))
    assert abs(found.chance / exact - 1.0) < 3.0 * found.variation


def test_nothing_fails_where_nothing_can():
    found = subset_chance(lambda u: np.full(len(u), 1.0), 2, 200, np.random.default_rng(1))
    assert found.chance == 0.0
    assert np.isinf(found.variation)


@pytest.mark.slow
def test_a_reliability_library_agrees():
    ot = pytest.importorskip("openturns")
    ot.RandomGenerator.SetSeed(3)
    function = ot.PythonFunction(2, 1, func_sample=lambda u: curved(np.array(u))[:, None])
    vector = ot.RandomVector(ot.JointDistribution([ot.Normal(), ot.Normal()]))
    event = ot.ThresholdEvent(ot.CompositeRandomVector(function, vector), ot.Less(), 0.0)
    form = ot.FORM(ot.AbdoRackwitz(), event, [0.0, 0.0])
    form.run()
    subset = ot.SubsetSampling(event)
    subset.setMaximumOuterSampling(2000)
    subset.setMaximumCoefficientOfVariation(0.05)
    subset.run()
    theirs = subset.getResult()
    ours = subset_chance(curved, 2, 4000, np.random.default_rng(7))
    scatter = np.hypot(ours.variation, theirs.getCoefficientOfVariation())
    assert abs(np.log(ours.chance / theirs.getProbabilityEstimate())) < 3.0 * scatter
    # the first-order method takes the limit for flat, which here errs towards more, by less than a quarter
    flat = form.getResult().getEventProbability()
    assert (
        ours.chance * (1.0 - 3.0 * ours.variation) < flat < 1.25 * ours.chance * (1.0 + 3.0 * ours.variation)
    )
