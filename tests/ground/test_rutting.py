"""Limiting strain: every criterion, their band and their inverse."""

import numpy as np
import pytest

from earthfast.ground import (
    STRAIN_LAWS,
    StrainCriterion,
    allowable_repetitions,
    limiting_strain,
    limiting_strain_band,
)

PASSES = np.geomspace(10.0, 1e7, 25)


def test_every_criterion_is_registered():
    assert set(STRAIN_LAWS) == set(StrainCriterion)


@pytest.mark.parametrize("criterion", StrainCriterion)
def test_more_passes_allow_less_strain_and_the_inverse_returns(criterion):
    strain = limiting_strain(criterion, PASSES, 35e6)
    assert np.all(np.diff(strain) < 0.0)
    np.testing.assert_allclose(allowable_repetitions(criterion, strain, 35e6), PASSES, rtol=1e-9)


@pytest.mark.parametrize(
    ("criterion", "exponent"),
    [
        (StrainCriterion.FOURTH_ROOT_85, 4.0),
        (StrainCriterion.AUSTROADS_2017, 7.0),
        (StrainCriterion.ASPHALT_INSTITUTE, 4.477),
        (StrainCriterion.IRC_80, 4.5337),
        (StrainCriterion.LR1132, 3.95),
    ],
)
def test_life_falls_with_the_published_power_of_strain(criterion, exponent):
    lives = allowable_repetitions(criterion, np.array([1e-3, 2e-3]), 35e6)
    assert np.log2(lives[0] / lives[1]) == pytest.approx(exponent)


def test_revised_criterion_scales_the_old_one_by_its_constant():
    new, old = (
        limiting_strain(one, PASSES, 35e6)
        for one in (StrainCriterion.AUSTROADS_2017, StrainCriterion.AUSTROADS)
    )
    np.testing.assert_allclose(new / old, 9150.0 / 9300.0)


def test_only_the_corps_criterion_asks_for_the_modulus():
    for criterion in StrainCriterion:
        soft, stiff = limiting_strain(criterion, 1e3, np.array([20e6, 80e6])) * np.ones(2)
        assert (soft != stiff) == (criterion is StrainCriterion.CORPS)


def test_band_holds_every_criterion_at_road_traffic():
    band = limiting_strain_band(1e5, 35e6)
    strains = [float(limiting_strain(one, 1e5, 35e6)) for one in StrainCriterion]
    assert band.low == pytest.approx(min(strains))
    assert band.high == pytest.approx(max(strains))
    assert band.low < band.middle < band.high


def test_band_is_capped_for_few_passes_without_looking_better_known():
    few, many = (limiting_strain_band(passes, np.array([15e6, 60e6])) for passes in (20.0, 1e5))
    np.testing.assert_allclose(few.high, 3500e-6)
    assert np.all(few.log_spread > 0.3)
    assert np.all(few.middle > many.middle)
    assert few.low.shape == (2,)


def test_band_takes_passes_and_moduli_along_their_own_axes():
    assert limiting_strain_band(PASSES, np.full((4, 1), 30e6)).middle.shape == (4, 25)
