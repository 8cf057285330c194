"""Moisture, clays, durability and season: completeness, limits and second methods."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad

from earthfast.frost import (
    Climate,
    DrainageSoil,
    Expansiveness,
    PavedArea,
    VolumeChange,
    capillary_rise,
    capillary_rise_prior,
    day_of_hard_frost,
    effective_water_table_depth,
    is_free_draining,
    is_organic_suspect,
    latest_day_to_build,
    least_fall,
    least_foundation_depth,
    may_treat,
    permeability,
    permeability_prior,
    soaked_cbr_ratio_prior,
    swell_of_layer_van_der_merwe,
)


def test_suction_factor_jumps_only_above_its_last_row():
    depths = effective_water_table_depth(0.0, np.array([0.349, 0.35, 0.351]), 1.0)
    assert depths == pytest.approx([1.596, 1.6, 2.0])


def test_swell_is_the_integral_of_its_factor():
    def strain(depth):
        return 0.5 / 12.0 * 10.0 ** (-depth / (20.0 * 0.3048))

    expected = quad(strain, 0.4, 2.1)[0]
    assert float(swell_of_layer_van_der_merwe(Expansiveness.HIGH, 0.4, 2.1)) == pytest.approx(
        expected, rel=1e-10
    )
    whole = swell_of_layer_van_der_merwe(Expansiveness.MEDIUM, 0.0, 3.0)
    parts = swell_of_layer_van_der_merwe(Expansiveness.MEDIUM, np.array([0.0, 1.0]), np.array([1.0, 3.0]))
    assert float(parts.sum()) == pytest.approx(float(whole), rel=1e-12)


def test_swell_of_two_layers_has_the_independent_sum():
    foot, inch = 0.3048, 0.0254
    upper = swell_of_layer_van_der_merwe(Expansiveness.VERY_HIGH, 3.0 * foot, 8.0 * foot)
    lower = swell_of_layer_van_der_merwe(Expansiveness.MEDIUM, 8.0 * foot, 20.0 * foot)
    assert float(upper + lower) / inch == pytest.approx(3.338556, rel=1e-6)  # F-45, computed independently


def test_every_choice_has_an_answer():
    assert all(0.01 <= least_fall(area) <= 0.03 for area in PavedArea)
    assert [least_foundation_depth(change) for change in VolumeChange] == [0.45, 0.75, 0.90, 1.0]
    for soil in DrainageSoil:
        assert permeability_prior(soil).centre > 0.0
        assert capillary_rise_prior(soil).centre > 0.0
        assert 0.0 < soaked_cbr_ratio_prior(soil).centre <= 1.0


def test_finer_soils_pass_less_water_and_lift_it_higher():
    assert np.all(np.diff([permeability_prior(soil).centre for soil in DrainageSoil]) < 0.0)
    assert np.all(np.diff([capillary_rise_prior(soil).centre for soil in DrainageSoil]) > 0.0)


def test_water_climbs_as_its_kind_of_soil_and_never_less_where_it_is_finer():
    kinds = {DrainageSoil.SAND: (0.05, 0.0), DrainageSoil.SILT: (0.8, 0.0), DrainageSoil.CLAY: (0.9, 0.35)}
    for soil, (fines, plasticity) in kinds.items():
        for score in (-1.0, 0.0, 1.0):
            expected = float(capillary_rise_prior(soil).at_normal(score))
            assert float(capillary_rise(fines, plasticity, score)) == pytest.approx(expected, rel=1e-9)
            passing = float(permeability_prior(soil).at_normal(score))
            assert float(permeability(fines, plasticity, score)) == pytest.approx(passing, rel=1e-9)
    assert np.all(np.diff(capillary_rise(np.linspace(0.0, 1.0, 21), 0.1, 0.0)) >= 0.0)
    assert np.all(np.diff(permeability(np.linspace(0.0, 1.0, 21), 0.1, 0.0)) <= 0.0)


def test_limits_of_fines_and_organic_matter():
    assert is_free_draining(np.array([0.1, 0.2])).tolist() == [True, False]
    assert is_organic_suspect(np.array([0.005, 0.02])).tolist() == [False, True]


def test_days_before_frost_are_not_days_to_treat():
    days = np.array([8.0] * 10 + [-1.0] + [8.0] * 10)
    allowed = may_treat(days)
    assert allowed.tolist() == [True] * 3 + [False] * 8 + [True] * 3 + [False] * 7


def test_first_hard_frost_is_found_or_never_comes():
    series = np.array([[5.0, -5.0, -9.0], [5.0, 1.0, -1.0]])
    assert day_of_hard_frost(series, -4.0).tolist() == [1.0, np.inf]


def test_latest_day_without_scatter_is_where_the_cosine_crosses():
    climate = Climate(6.0, 14.0, 0.0, 0.0, 0.0)
    crossing = 365.0 / (2.0 * np.pi) * np.arccos((-4.0 - 6.0) / 14.0)
    day = latest_day_to_build(climate, 20.0, 0.05, 4, np.random.default_rng(1))
    assert day == np.ceil(crossing) - 20.0


def test_slower_strength_or_less_risk_means_an_earlier_last_day():
    climate = Climate(6.3, 11.0, 5.0, 0.69, 1.6)
    days = [
        latest_day_to_build(climate, need, chance, 500, np.random.default_rng(2))
        for need, chance in ((14.0, 0.2), (28.0, 0.2), (28.0, 0.05))
    ]
    assert days[0] > days[1] > days[2]
