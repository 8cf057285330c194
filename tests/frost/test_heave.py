"""Heave, movement and rules: balances, bounds and monotone facts."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from earthfast.frost import (
    FrostGroup,
    PavingKind,
    allowable_movement,
    coupled_front_gradient,
    differential_movement,
    freeze_thaw_cycles,
    intake_of_front,
    segregation_heave,
    segregation_heave_ratio,
    segregation_heave_ratio_uncoupled,
    segregation_potential_prior,
)

DAY = 86400.0
UNIT = 1e-6 / DAY  # m²/(K·s) in 1 mm²/(K·day)


@pytest.mark.parametrize("surface", [lambda t: -6.0 + 0.0 * t, lambda t: -1.0 - 4.0 * np.sin(t / 3e6) ** 2])
def test_coupled_ratio_holds_whatever_the_temperature_history(surface):
    potential, latent, conductivity = 60.0 * UNIT, 1.15e8, 2.0

    def rate(t, state):
        gradient = -surface(t) / state[0]
        speed = (conductivity * gradient - 334e6 * potential * gradient) / latent
        return [speed, 1.09 * potential * gradient]

    solved = solve_ivp(rate, (0.0, 90 * DAY), [1e-3, 0.0], rtol=1e-10, atol=1e-12)
    ratio = solved.y[1, -1] / (solved.y[0, -1] - 1e-3)
    expected = float(segregation_heave_ratio(potential, latent, conductivity))
    assert ratio == pytest.approx(expected, rel=1e-6)
    assert expected > float(segregation_heave_ratio_uncoupled(potential, latent, conductivity))


def test_allowing_for_intake_turns_one_closed_form_into_the_other():
    potential, latent, conductivity = 120.0 * UNIT, 1.1e8, 1.9
    gradient = latent * 0.8 / conductivity  # frozen thickness 0.8 m without intake
    coupled = segregation_heave(potential, coupled_front_gradient(gradient, potential, conductivity))
    expected = 0.8 * segregation_heave_ratio(potential, latent, conductivity)
    assert float(coupled) == pytest.approx(float(expected), rel=1e-12)
    water = intake_of_front(potential, gradient)
    assert 1.09e-3 * float(water) == pytest.approx(float(segregation_heave(potential, gradient)))


def test_worse_frost_groups_never_heave_less():
    centres = [segregation_potential_prior(group).centre for group in FrostGroup]
    assert all(better <= worse for better, worse in itertools.pairwise(centres))


def test_prior_of_the_worst_group_holds_the_laboratory_silt():
    prior = segregation_potential_prior(FrostGroup.F4)
    assert prior.low <= 52.0 * UNIT <= 121.0 * UNIT <= prior.high


def test_field_heave_ratios_lie_within_those_of_susceptible_soils():
    ratios = segregation_heave_ratio(np.array([20.0, 150.0]) * UNIT, 1.15e8, 2.0)
    measured = (0.03, 0.23)  # at six sites
    assert ratios[0] < measured[0] < ratios[1] < measured[1]


def test_every_paving_has_limits_and_stiff_ones_the_tightest():
    limits = [allowable_movement(kind).differential for kind in PavingKind]
    assert limits == sorted(limits, reverse=True)
    assert float(differential_movement(0.02, is_variable=True)) == 0.01
    assert float(differential_movement(0.02, is_variable=False)) == 0.005


def test_cycles_count_falls_through_zero():
    assert freeze_thaw_cycles(np.array([[1.0, -1.0, 1.0, -1.0], [1.0, 2.0, 0.0, 1.0]])).tolist() == [2.0, 0.0]
    assert float(freeze_thaw_cycles(np.array([-1.0, -2.0, 1.0]))) == 1.0


def test_a_place_that_stands_at_freezing_is_not_counted_again():
    standing = np.array([1.0, -0.5, -0.001, -0.004, 0.003, -0.004, -0.5, 0.5, -0.001, 0.002])
    assert float(freeze_thaw_cycles(standing)) == 1.0
