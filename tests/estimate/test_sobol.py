"""Sobol points against a general-purpose library and against what makes them worth having."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import qmc

from earthfast.estimate.sobol import sobol_points


@pytest.mark.parametrize("dimensions", [1, 2, 7, 30, 64])
def test_points_are_those_of_a_general_purpose_library(dimensions):
    ours = sobol_points(dimensions, 256)
    theirs = qmc.Sobol(dimensions, scramble=False).random(256)
    assert np.array_equal(ours[np.lexsort(ours.T)], theirs[np.lexsort(theirs.T)])


@pytest.mark.parametrize("count", [8, 64, 1024])
def test_every_dimension_has_one_scrambled_point_in_each_slice(count):
    points = sobol_points(20, 2048, np.random.default_rng(5))[:count]
    slices = np.sort(np.floor(points * count), axis=0)
    assert np.array_equal(slices, np.repeat(np.arange(count)[:, None], 20, axis=1))


def test_pairs_of_the_first_dimensions_fill_elementary_boxes():
    points = sobol_points(2, 64, np.random.default_rng(2))
    boxes = np.floor(points * 8).astype(int)
    assert len({tuple(box) for box in boxes.tolist()}) == 64


def test_scrambled_points_are_uniform_whichever_way_they_are_scrambled():
    firsts = np.array([sobol_points(3, 4, np.random.default_rng(seed))[0] for seed in range(400)])
    assert firsts.mean(axis=0) == pytest.approx([0.5] * 3, abs=4.0 * np.sqrt(1.0 / 12.0 / 400.0))


def test_the_error_of_a_mean_falls_faster_than_that_of_plain_chance():
    def error(count):
        means = [
            np.prod(1.0 + (sobol_points(5, count, np.random.default_rng(seed)) - 0.5), axis=1).mean()
            for seed in range(16)
        ]
        return float(np.sqrt(np.mean((np.array(means) - 1.0) ** 2)))  # the integral is 1 exactly

    slope = np.log(error(4096) / error(64)) / np.log(64.0)
    assert slope < -0.75  # plain chance falls with -0.5


def test_counts_that_are_no_power_of_two_are_refused():
    with pytest.raises(ValueError, match="power of two"):
        sobol_points(2, 100)
