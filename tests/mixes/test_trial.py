"""Specimens into belief: against exact updates, a general sampler, limits and symmetry."""

import numpy as np
import pytest
from scipy.constants import day
from scipy.special import log_ndtr, ndtr
from scipy.stats import t as student

from earthfast.mixes import (
    REFERENCE_AGE,
    FieldReading,
    GroupBelief,
    MixState,
    SoilGroup,
    StrengthBelief,
    StrengthBound,
    StrengthFactor,
    TrialScatter,
    Workmanship,
    belief_after_trial,
    bound_from_reading,
    bounded_specimen,
    chance_of_retardation,
    chance_of_strength,
    crushed,
    dose_for_strength,
    gaussian_update,
    penetrometer_bound,
    strength_band,
    strength_prior,
    trial_scatter,
)
from earthfast.mixes.robust_regression import _Moments, _tilted

MEGAPASCAL = 1e6
LEAN = strength_prior({SoilGroup.LEAN: 1.0})
SCATTER = trial_scatter(Workmanship.CAREFUL)
MEAN_ONLY = StrengthFactor(0.0, 0.0)


def two_parameter_belief(level, exponent, level_sd, exponent_sd):
    """Belief over level and dose exponent alone; the other parameters are all but fixed."""
    return StrengthBelief(
        (
            GroupBelief(
                SoilGroup.LEAN,
                1.0,
                np.array([level, exponent, 0.0, 0.0, 0.0]),
                np.diag([level_sd**2, exponent_sd**2, 1e-10, 1e-10, 1e-10]),
                0.06,
                0.0,
            ),
        )
    )


def till_update():
    prior = two_parameter_belief(0.47 + np.log(MEGAPASCAL), 1.1, 0.6, 0.35)
    group = prior.groups[0]
    design = group.design(MixState(np.array([0.04, 0.08])))
    observed = np.log(np.array([1.0871, 2.5101]) * MEGAPASCAL)
    update = gaussian_update(group.mean, group.covariance, design, observed, 0.13**2 * np.eye(2))
    return StrengthBelief(
        (GroupBelief(SoilGroup.LEAN, 1.0, update.mean, update.covariance, 0.06, 0.0),), highest_dose=0.08
    )


def test_b47_two_specimens_of_the_till_foretell_the_others():
    group = till_update().groups[0]
    assert group.mean[0] - np.log(MEGAPASCAL) == pytest.approx(0.5684, rel=0.002)
    assert group.mean[1] == pytest.approx(1.1674, rel=0.002)
    assert np.sqrt(np.diag(group.covariance)[:2]) == pytest.approx([0.0917, 0.2113], rel=0.003)
    band = strength_band(till_update(), MixState(np.array([0.06, 0.10])), StrengthFactor(0.0, 0.13))
    assert band.median / MEGAPASCAL == pytest.approx([1.765, 3.205], rel=0.002)
    assert band.low / MEGAPASCAL == pytest.approx([1.359, 2.310], rel=0.002)
    assert band.high / MEGAPASCAL == pytest.approx([2.293, 4.446], rel=0.002)


def test_b48_dose_for_two_megapascals_at_even_and_ninety_percent_chance():
    even = dose_for_strength(till_update(), 2.0e6, 0.5, REFERENCE_AGE, MEAN_ONLY)
    sure = dose_for_strength(till_update(), 2.0e6, 0.9, REFERENCE_AGE, StrengthFactor(0.0, 0.13))
    assert 100.0 * even.dose == pytest.approx(6.677, rel=0.003)
    assert 100.0 * sure.dose == pytest.approx(8.097, rel=0.003)
    assert not even.cautions
    assert [caution.code for caution in sure.cautions] == ["dose-beyond-trials"]


def test_a_target_out_of_reach_says_so():
    answer = dose_for_strength(till_update(), 80.0e6, 0.9, REFERENCE_AGE, MEAN_ONLY)
    assert not answer.is_reached
    assert answer.cautions[0].code == "outside-validity"


def log_posterior(group, specimens, scatter, state):
    theta, batches = state[:5], state[5:]
    gap = theta - group.mean
    total = -4.5 * np.log1p(gap @ np.linalg.solve(group.covariance, gap) / 4.0)  # t with 4 in five dimensions
    total -= 0.5 * np.sum((batches / scatter.batch) ** 2)
    for specimen in specimens:
        mean = group.design(specimen.state) @ theta + group.offset(specimen.state.dose)
        mean += batches[specimen.batch - 1]
        noise = np.hypot(scatter.specimen, specimen.log_sd)
        if specimen.is_crushed:
            total += student.logpdf((np.log(specimen.strength_low) - mean) / noise, 5.0) - np.log(noise)
        elif specimen.strength_low > 0.0:
            total += log_ndtr((mean - np.log(specimen.strength_low)) / noise)
        else:
            total += log_ndtr((np.log(specimen.strength_high) - mean) / noise)
    return total


def sampled(group, specimens, scatter, count, seed):
    """Affine-invariant stretch sampler; knows nothing of the closed form."""
    rng = np.random.default_rng(seed)
    size = 5 + max(specimen.batch for specimen in specimens)
    walkers = 40
    start = np.concatenate([group.mean, np.zeros(size - 5)])
    spread = np.concatenate([np.sqrt(np.diag(group.covariance)), np.full(size - 5, scatter.batch)])
    state = start + 0.3 * spread * rng.standard_normal((walkers, size))
    density = np.array([log_posterior(group, specimens, scatter, one) for one in state])
    kept = []
    for step in range(count):
        for half in (slice(0, walkers // 2), slice(walkers // 2, walkers)):
            other = slice(walkers // 2, walkers) if half.start == 0 else slice(0, walkers // 2)
            stretch = (1.0 + rng.random(walkers // 2)) ** 2 / 2.0
            partner = state[other][rng.integers(0, walkers // 2, walkers // 2)]
            proposal = partner + stretch[:, None] * (state[half] - partner)
            fresh = np.array([log_posterior(group, specimens, scatter, one) for one in proposal])
            accept = np.log(rng.random(walkers // 2)) < (size - 1) * np.log(stretch) + fresh - density[half]
            state[half] = np.where(accept[:, None], proposal, state[half])
            density[half] = np.where(accept, fresh, density[half])
        if step >= count // 4:
            kept.append(state[:, :5].copy())
    return np.concatenate(kept)


@pytest.mark.slow
def test_general_sampler_agrees_with_the_posterior():
    specimens = [
        crushed(MixState(0.04, 7 * day), 0.9e6, 1),
        crushed(MixState(0.04, 28 * day), 1.2e6, 1),
        crushed(MixState(0.08, 7 * day), 2.1e6, 2),
        crushed(MixState(0.08, 28 * day, 0.97), 0.5e6, 2),  # an odd one
        bounded_specimen(MixState(0.02), bound_from_reading(FieldReading.SOFTENED), 3),
        bounded_specimen(MixState(0.06, 3 * day), penetrometer_bound(0.5e6), 4),
    ]
    group = LEAN.groups[0]
    draws = sampled(group, specimens, SCATTER, 1500, 5)
    after = belief_after_trial(LEAN, specimens, SCATTER).groups[0]
    for dose in (0.04, 0.06, 0.10):
        row = group.design(MixState(dose))
        sample = draws @ row
        closed_sd = np.sqrt(after.log_variance(MixState(dose)))
        assert after.log_mean(MixState(dose)) == pytest.approx(sample.mean(), abs=0.25 * sample.std())
        assert closed_sd == pytest.approx(sample.std(), rel=0.2)


def test_no_specimens_leave_the_prior_as_it_was():
    assert belief_after_trial(LEAN, [], SCATTER) is LEAN


def test_order_of_specimens_does_not_matter():
    specimens = [crushed(MixState(dose), 1e6 * 40.0 * dose, n) for n, dose in enumerate((0.03, 0.05, 0.08))]
    forward = belief_after_trial(LEAN, specimens, SCATTER).groups[0]
    backward = belief_after_trial(LEAN, specimens[::-1], SCATTER).groups[0]
    assert forward.mean == pytest.approx(backward.mean, abs=1e-6)


def test_two_mixes_tell_more_than_four_specimens_of_one_mix():
    state = MixState(0.06)
    one_mix = [crushed(state, 2.4e6, 1) for _ in range(4)]
    two_mixes = [crushed(state, 2.4e6, batch) for batch in (1, 2)]
    scatter = TrialScatter(0.10, 0.20)
    sds = [
        belief_after_trial(LEAN, specimens, scatter).groups[0].log_variance(state)
        for specimens in (one_mix, two_mixes)
    ]
    assert sds[1] < sds[0]


def test_an_odd_specimen_moves_the_answer_less_than_its_share():
    good = [crushed(MixState(0.06), 2.4e6, n) for n in range(4)]
    odd = crushed(MixState(0.06), 0.24e6, 9)
    before = belief_after_trial(LEAN, good, SCATTER).groups[0].mean[0]
    after = belief_after_trial(LEAN, [*good, odd], SCATTER).groups[0].mean[0]
    assert 0.0 < before - after < 0.25 * np.log(10.0) / 5.0


def test_full_scale_penetrometer_says_little_and_low_reading_says_much():
    state = MixState(0.08)
    full = bounded_specimen(state, penetrometer_bound(0.45e6), 1)
    low = bounded_specimen(state, penetrometer_bound(0.20e6), 1)
    group = LEAN.groups[0]
    after_full = belief_after_trial(LEAN, [full], SCATTER).groups[0]
    after_low = belief_after_trial(LEAN, [low], SCATTER).groups[0]
    assert after_full.log_mean(state) == pytest.approx(group.log_mean(state), abs=0.05)
    assert after_low.log_mean(state) < group.log_mean(state) - 1.0


def cut_moments(grid, mass):
    mean = np.sum(grid * mass) / np.sum(mass)
    return mean, np.sqrt(np.sum((grid - mean) ** 2 * mass) / np.sum(mass))


def test_one_bound_lands_between_the_exact_answers_of_a_normal_and_a_heavy_tailed_prior():
    state = MixState(0.06)
    bound = StrengthBound(4.0e6, np.inf, 0.2)
    after = belief_after_trial(LEAN, [bounded_specimen(state, bound, 1)], SCATTER).groups[0]
    group = LEAN.groups[0]
    mean, sd = float(group.log_mean(state)), float(np.sqrt(group.log_variance(state)))
    grid = np.linspace(mean - 6.0, mean + 6.0, 200001)
    noise = np.sqrt(SCATTER.specimen**2 + SCATTER.batch**2 + 0.2**2)
    window = ndtr((grid - np.log(4.0e6)) / noise)
    normal_mean, normal_sd = cut_moments(grid, np.exp(-0.5 * ((grid - mean) / sd) ** 2) * window)
    heavy_mean, heavy_sd = cut_moments(grid, student.pdf((grid - mean) / sd, 4.0) * window)
    assert normal_mean <= after.log_mean(state) <= heavy_mean
    assert normal_sd <= np.sqrt(after.log_variance(state)) <= heavy_sd


@pytest.mark.parametrize(("low", "high"), [(0.5, np.inf), (-np.inf, -1.0), (0.2, 0.9), (3.0, np.inf)])
def test_moments_of_a_softened_window_agree_with_quadrature(low, high):
    mean, variance, noise = np.array([0.1]), np.array([0.5]), np.array([0.09])
    found = _tilted(_Moments(mean, variance), np.array([low]), np.array([high]), noise)
    grid = np.linspace(-7.0, 7.0, 400001)
    window = ndtr((high - grid) / 0.3) - ndtr((low - grid) / 0.3)
    exact_mean, exact_sd = cut_moments(grid, np.exp(-((grid - 0.1) ** 2)) * window)
    assert found.mean[0] == pytest.approx(exact_mean, abs=1e-6)
    assert np.sqrt(found.variance[0]) == pytest.approx(exact_sd, abs=1e-6)


def test_a_soil_unlike_those_seen_before_is_believed():
    state = MixState(0.08)
    weak = [crushed(state, strength, n) for n, strength in enumerate((0.20e6, 0.22e6))]
    after = belief_after_trial(LEAN, weak, SCATTER).groups[0]
    assert after.log_mean(state) == pytest.approx(np.log(0.21e6), abs=0.1)


def test_specimens_also_tell_which_soil_it_is():
    prior = strength_prior({SoilGroup.FAT_CLAY: 0.5, SoilGroup.GRANULAR: 0.5})
    strong = belief_after_trial(prior, [crushed(MixState(0.06), 4.0e6, 1)], SCATTER)
    weak = belief_after_trial(prior, [crushed(MixState(0.06), 0.6e6, 1)], SCATTER)
    assert strong.groups[1].weight > 0.8
    assert weak.groups[0].weight > 0.9


def test_lagging_specimens_raise_the_suspicion_of_organic_matter():
    usual = [crushed(MixState(0.06, 7 * day), 1.8e6, 1), crushed(MixState(0.06, 28 * day), 2.4e6, 2)]
    lagging = [crushed(MixState(0.06, 7 * day), 0.35e6, 1), crushed(MixState(0.06, 28 * day), 0.6e6, 2)]
    assert chance_of_retardation(LEAN, usual, SCATTER, 0.1) < 0.05
    assert chance_of_retardation(LEAN, lagging, SCATTER, 0.1) > 0.5


def test_chance_rises_with_dose_and_falls_with_target():
    doses = np.linspace(0.03, 0.12, 10)
    after = belief_after_trial(LEAN, [crushed(MixState(0.06), 2.4e6, 1)], SCATTER)
    chances = chance_of_strength(after, MixState(doses), 2.0e6, MEAN_ONLY)
    assert np.all(np.diff(chances) > 0.0)
    assert chance_of_strength(after, MixState(0.06), 3.0e6, MEAN_ONLY) < chances[3]


def test_a_slaked_lump_is_not_a_crushed_specimen():
    with pytest.raises(ValueError, match="above 0"):
        crushed(MixState(0.02), 0.0, 1)
