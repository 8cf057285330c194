"""Compaction curves, phases and grading: identities, limits, published data."""

from __future__ import annotations

import numpy as np
import pytest

from earthfast.ground import (
    above_zero_air,
    bulked_volume,
    compacted_volume,
    compaction_peak,
    density_with_stones,
    passing_from_retained,
    phases_of,
    saturated_water_content,
    settled_grain_size,
    settling_time,
    share_passing,
    size_at_share,
    zero_air_dry_density,
)

RNG = np.random.default_rng(3)


def test_all_three_fits_find_the_vertex_of_an_exact_parabola():
    water = np.array([0.10, 0.12, 0.15, 0.17, 0.20, 0.22])
    density = 1800.0 - 4.0e4 * (water - 0.157) ** 2
    peak = compaction_peak(water, density)
    assert peak.max_dry_density == pytest.approx(1800.0, rel=1e-9)
    assert peak.optimum_water == pytest.approx(0.157, rel=1e-9)
    assert peak.cubic.optimum_water == pytest.approx(0.157, rel=1e-6)
    assert peak.spread == pytest.approx(0.0, abs=1e-6)
    assert not peak.at_edge


def test_the_order_of_points_does_not_matter():
    water, density = np.array([0.1, 0.13, 0.16, 0.19]), np.array([1700.0, 1780.0, 1790.0, 1720.0])
    order = [2, 0, 3, 1]
    assert compaction_peak(water, density) == compaction_peak(water[order], density[order])


def test_a_peak_at_the_end_of_the_points_is_said_so():
    assert compaction_peak(np.array([0.1, 0.12, 0.14]), np.array([1700.0, 1750.0, 1790.0])).at_edge


def test_saturation_is_one_on_the_zero_air_line_and_above_one_beyond_it():
    water = np.linspace(0.05, 0.4, 15)
    dry = zero_air_dry_density(water, 2.7)
    assert np.allclose(phases_of(dry * (1.0 + water), water, 2.7).saturation, 1.0)
    assert np.all(above_zero_air(water, dry * 1.001, 2.7))
    assert np.all(phases_of(1.001 * dry * (1.0 + water), water, 2.7).saturation > 1.0)


def test_air_content_line_leaves_that_much_air():
    dry = zero_air_dry_density(0.15, 2.7, air=0.05)
    assert phases_of(dry * 1.15, 0.15, 2.7).air == pytest.approx(0.05)


def test_grains_water_and_air_fill_the_volume():
    bulk, water = RNG.uniform(1500, 2100, 50), RNG.uniform(0.02, 0.3, 50)
    parts = phases_of(bulk, water, 2.65)
    grains = parts.dry_density / 2650.0
    assert np.allclose(grains + parts.dry_density * water / 1000.0 + parts.air, 1.0)
    assert np.allclose(parts.porosity, parts.void_ratio / (1.0 + parts.void_ratio))


def test_saturated_water_fills_the_voids():
    parts = phases_of(1600.0 * 1.2, 0.2, 2.68)
    assert phases_of(
        parts.dry_density * (1 + saturated_water_content(parts.void_ratio)),
        saturated_water_content(parts.void_ratio),
    ).saturation == pytest.approx(1.0)


def test_stones_as_dense_as_the_rest_change_nothing():
    whole = density_with_stones(np.array([0.0, 0.2, 0.4]), 1.8, 0.1, 1800.0, 0.1)
    assert np.allclose(whole.dry_density, 1800.0)
    assert np.allclose(whole.water, 0.1)


def test_swell_and_shrink_undo_each_other():
    assert compacted_volume(bulked_volume(7.0, 0.3), 0.3) == pytest.approx(7.0)


def test_passing_ends_at_nothing_when_the_pan_is_empty_and_conserves_mass():
    masses = np.array([0.1, 0.2, 0.3, 0.0])
    passing = passing_from_retained(masses)
    assert passing[-1] == pytest.approx(0.0)
    assert np.allclose(-np.diff(np.concatenate([[1.0], passing])) * masses.sum(), masses[:-1])


def test_size_and_share_are_inverses_between_the_sieves():
    sizes, passing = np.array([2e-3, 6e-4, 2e-4, 6e-5]), np.array([1.0, 0.7, 0.4, 0.1])
    shares = np.linspace(0.12, 0.98, 20)
    assert np.allclose(share_passing(sizes, passing, size_at_share(sizes, passing, shares)), shares)


def test_settled_size_inverts_settling_time_at_any_temperature():
    sizes, temperature = np.array([2e-6, 1e-5, 5e-5]), np.array([5.0, 18.0, 30.0])
    times = settling_time(sizes, 0.15, temperature)
    assert np.allclose(settled_grain_size(0.15, times, temperature), sizes)


def test_grains_fall_faster_in_warmer_water():
    assert np.all(np.diff(settling_time(2e-5, 0.1, np.linspace(0.0, 40.0, 20))) < 0.0)
