"""The evidence engine against exact answers."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import integrate
from scipy.stats import multivariate_normal, norm

from earthfast.estimate import Answers, Numbers, band_of, bridge, chances_of, ordered_choices, prior_latents
from earthfast.estimate.evidence import systematic


def nothing(latents):
    return np.zeros(latents.shape[0])


def test_shared_error_is_integrated_out_exactly():
    values = np.array([1.1, 0.7, 1.9, 1.3])
    centre = np.linspace(-1.0, 3.0, 9)
    got = Numbers(values, centre, 0.4, 0.35).log_likelihood()
    covariance = 0.4**2 * np.eye(4) + 0.35**2 * np.ones((4, 4))
    exact = [multivariate_normal(np.full(4, c), covariance).logpdf(values) for c in centre]
    assert np.allclose(np.diff(got), np.diff(exact), atol=1e-10)


def test_scatter_that_differs_between_draws_keeps_its_normalisation():
    values = np.array([0.2, -0.4, 0.9])
    scatter = np.array([0.2, 0.5, 1.0])
    got = Numbers(values, np.zeros(3), scatter, 0.3).log_likelihood()
    exact = [
        multivariate_normal(np.zeros(3), s**2 * np.eye(3) + 0.09 * np.ones((3, 3))).logpdf(values)
        for s in scatter
    ]
    assert np.allclose(np.diff(got), np.diff(exact), atol=1e-10)


def posterior_of_cbr(readings, single, shared, count=4096, seed=3):
    """Prior median 3, log-sd 0.5 (case G-92)."""

    def target(latents):
        return Numbers(np.log(readings), np.log(3.0) + 0.5 * latents[:, 0], single, shared).log_likelihood()

    generator = np.random.default_rng(seed)
    after = bridge(prior_latents(count, 1, generator), nothing, target, generator)
    return np.log(3.0) + 0.5 * after.latents[:, 0]


def test_updating_a_prior_cbr_gives_the_conjugate_answer():
    logs = posterior_of_cbr(np.full(3, 5.0), 0.4, 0.35)
    assert np.exp(np.median(logs)) == pytest.approx(4.05, rel=0.01)
    assert np.std(logs) == pytest.approx(0.321, rel=0.03)


def test_leaving_out_the_shared_error_trusts_repeats_too_much():
    logs = posterior_of_cbr(np.full(3, 5.0), 0.4, 0.0)
    assert np.exp(np.median(logs)) == pytest.approx(4.57, rel=0.01)
    assert np.std(logs) == pytest.approx(0.21, rel=0.03)


def test_a_thousand_repeats_leave_the_shared_error():
    logs = posterior_of_cbr(np.full(1000, 5.0), 0.4, 0.35)
    assert np.std(logs) == pytest.approx(1.0 / np.sqrt(1.0 / 0.25 + 1.0 / 0.35**2), rel=0.03)


@pytest.mark.parametrize("sharpness", [1.0, 0.1, 0.01])
def test_bridge_reaches_the_exact_normal_posterior_however_strong_the_evidence(sharpness):
    generator = np.random.default_rng(11)
    dimensions, readings = 6, 4
    design = generator.standard_normal((readings, dimensions))
    seen = design @ generator.standard_normal(dimensions)

    def target(latents):
        return np.sum(norm.logpdf(latents @ design.T, seen, sharpness), axis=1)

    after = bridge(prior_latents(4096, dimensions, generator), nothing, target, generator)
    covariance = np.linalg.inv(np.eye(dimensions) + design.T @ design / sharpness**2)
    mean = covariance @ design.T @ seen / sharpness**2
    error = (after.latents.mean(axis=0) - mean) / np.sqrt(np.diag(covariance))
    assert np.max(np.abs(error)) < 0.12
    spread = after.latents.std(axis=0) / np.sqrt(np.diag(covariance))
    assert np.all(np.abs(spread - 1.0) < 0.08)
    exact = multivariate_normal(
        np.zeros(readings), design @ design.T + sharpness**2 * np.eye(readings)
    ).logpdf(seen)
    assert after.log_evidence == pytest.approx(exact, abs=0.25)


def test_bridge_keeps_the_weights_of_two_separate_peaks():
    def target(latents):
        z = latents[:, 0]
        return np.logaddexp(np.log(0.7) + norm.logpdf(z, -1.5, 0.15), np.log(0.3) + norm.logpdf(z, 1.8, 0.15))

    def density(z):
        return np.exp(target(np.array([[z]]))[0]) * norm.pdf(z)

    below = integrate.quad(density, -6.0, 0.0, points=[-1.5])[0]
    above = integrate.quad(density, 0.0, 6.0, points=[1.8])[0]
    generator = np.random.default_rng(5)
    after = bridge(prior_latents(4096, 1, generator), nothing, target, generator)
    assert np.mean(after.latents[:, 0] < 0.0) == pytest.approx(below / (below + above), abs=0.03)
    assert after.log_evidence == pytest.approx(np.log(below + above), abs=0.1)


def test_bridge_back_to_nothing_restores_the_prior():
    generator = np.random.default_rng(2)

    def target(latents):
        return norm.logpdf(latents[:, 0], 1.0, 0.3)

    there = bridge(prior_latents(4096, 2, generator), nothing, target, generator)
    back = bridge(there.latents, target, nothing, generator)
    assert np.allclose(back.latents.mean(axis=0), 0.0, atol=0.08)
    assert np.allclose(back.latents.std(axis=0), 1.0, atol=0.08)
    assert there.log_evidence + back.log_evidence == pytest.approx(0.0, abs=0.1)


def test_the_same_generator_gives_the_same_draws():
    first, second = (posterior_of_cbr(np.array([4.0]), 0.3, 0.3, count=256, seed=9) for _ in range(2))
    assert np.array_equal(first, second)


def test_systematic_resampling_keeps_each_draw_as_often_as_its_weight_says():
    generator = np.random.default_rng(0)
    weights = generator.dirichlet(np.ones(50))
    copies = np.bincount(systematic(weights, generator), minlength=50)
    assert np.all(np.abs(copies - 50 * weights) < 1.0)


def test_bands_of_an_ordered_scale_share_out_the_whole():
    chances = ordered_choices(np.linspace(-3.0, 3.0, 13), (-1.0, 0.0, 2.0), 0.4)
    assert chances.shape == (4, 13)
    assert np.allclose(chances.sum(axis=0), 1.0)
    assert np.all(chances >= 0.0)
    assert np.all(np.diff(chances[0]) <= 0.0)
    assert np.all(np.diff(chances[-1]) >= 0.0)


def test_repeated_answers_count_for_less_than_as_many_strangers():
    probabilities = np.array([[0.8, 0.2], [0.2, 0.8]])
    once = Answers(probabilities, (0,)).log_likelihood()
    often = Answers(probabilities, (0,) * 10).log_likelihood()
    gain = (often[0] - often[1]) / (once[0] - once[1])
    assert 1.0 < gain < 2.0


def test_no_answer_is_impossible():
    assert np.all(np.isfinite(Answers(np.array([[1.0], [0.0]]), (1,)).log_likelihood()))


def test_simulated_readings_scatter_as_declared():
    generator = np.random.default_rng(4)
    reading = Numbers(np.zeros(5), np.array([0.0, 2.0]), 0.3, 0.4)
    means = np.array([reading.simulated(1, generator).values.mean() for _ in range(4000)])
    assert means.mean() == pytest.approx(2.0, abs=0.03)
    assert means.std() == pytest.approx(np.sqrt(0.3**2 / 5 + 0.4**2), rel=0.05)


def test_band_of_normal_draws_is_the_normal_band():
    band = band_of(prior_latents(4096, 1, np.random.default_rng(1))[:, 0])
    assert band.low == pytest.approx(-1.645, abs=0.01)
    assert band.high == pytest.approx(1.645, abs=0.01)


def test_chances_of_classes_add_up_and_come_likeliest_first():
    chances = chances_of(("a", "b", "c"), np.array([2, 2, 0, 2]))
    assert [c.name for c in chances] == ["c", "a"]
    assert sum(c.probability for c in chances) == pytest.approx(1.0)


@pytest.mark.parametrize("spots", [("a", "b", "c", "d"), ("a", "a", "b", "b"), ("a", "b", "b", "b")])
def test_spots_are_integrated_out_exactly(spots):
    values = np.array([1.1, 0.7, 1.9, 1.3])
    between, scatter = np.array([0.05, 0.3, 0.9]), 0.2
    same = np.equal.outer(np.array(spots), np.array(spots))
    got = Numbers(values, np.array([0.5, 1.0, 2.0]), scatter, 0.35, between, spots).log_likelihood()
    exact = [
        multivariate_normal(np.full(4, c), b**2 * same + scatter**2 * np.eye(4) + 0.35**2).logpdf(values)
        for b, c in zip(between, (0.5, 1.0, 2.0), strict=True)
    ]
    assert np.allclose(np.diff(got), np.diff(exact), atol=1e-10)


def test_simulated_readings_scatter_within_spots_and_between_them_as_declared():
    generator = np.random.default_rng(4)
    piece = Numbers(
        np.zeros(40), np.zeros(2), 0.2, 0.0, np.array([0.6, 0.6]), tuple(i // 2 for i in range(40))
    )
    seen = [piece.simulated(1, generator).values.reshape(20, 2) for _ in range(400)]
    within = np.mean([np.var(one, axis=1, ddof=1).mean() for one in seen])
    between = np.mean([np.var(one.mean(axis=1), ddof=1) for one in seen]) - within / 2.0
    assert np.sqrt(within) == pytest.approx(0.2, rel=0.03)
    assert np.sqrt(between) == pytest.approx(0.6, rel=0.03)
