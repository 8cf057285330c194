"""Layers of cone soundings on ground that is known."""

from __future__ import annotations

import numpy as np
import pytest

from earthfast.ground import ConeEquation, cbr_from_cone_trl, cone_layers

# case G-74: three layers, made up; boundaries by an independent partition
BLOWS = np.array([5] * 8 + [2] * 10 + [1] * 10, dtype=float)
# fmt: off
DEPTHS = 1e-3 * np.array([
    22, 41, 62, 80, 101, 121, 140, 161, 186, 213, 238, 265, 292, 316, 343, 370, 395, 420,
    451, 484, 515, 549, 580, 613, 644, 678, 709, 742,
])
# fmt: on


def sounding(seed, penetration_at, noise=0.2, depth=0.9):
    generator = np.random.default_rng(seed)
    blows, depths, tip = [], [], 0.0
    while tip < depth:
        step = penetration_at(tip)
        count = max(1, round(0.02 / step))
        tip += count * step * np.exp(generator.normal(0.0, noise))
        blows.append(count)
        depths.append(tip)
    return np.array(blows, dtype=float), np.array(depths)


def three_layers(depth):
    return 0.004 if depth < 0.2 else 0.013 if depth < 0.5 else 0.032


def test_published_style_profile_is_cut_where_an_independent_partition_cuts_it():
    found = cone_layers(BLOWS, DEPTHS)
    assert [round(1e3 * b.median) for b in found.boundaries] == [161, 420]
    assert [1e3 * layer.penetration for layer in found.layers] == pytest.approx([4.02, 12.95, 32.2], rel=2e-3)
    assert [layer.cbr for layer in found.layers] == pytest.approx([69.3, 20.2, 7.7], abs=0.2)
    assert found.errors[:3] == pytest.approx([473, 121, 1.62], rel=0.01)


def test_boundaries_are_within_30_mm_in_nine_of_ten_soundings():
    near, inside, seeds = 0, 0, 200
    for seed in range(seeds):
        found = cone_layers(*sounding(seed, three_layers))
        if len(found.boundaries) == 2:
            errors = [abs(b.median - true) for b, true in zip(found.boundaries, (0.2, 0.5), strict=True)]
            near += max(errors) < 0.030
            inside += all(
                b.low - 0.01 <= true <= b.high + 0.01
                for b, true in zip(found.boundaries, (0.2, 0.5), strict=True)
            )
    assert near >= 0.9 * seeds
    assert inside >= 0.8 * seeds


def test_steadily_softening_ground_is_left_whole():
    whole = [
        len(cone_layers(*sounding(seed, lambda z: 0.005 * np.exp(2.2 * z))).layers) == 1
        for seed in range(100)
    ]
    assert np.mean(whole) >= 0.9
    assert cone_layers(*sounding(1, lambda z: 0.005 * np.exp(2.2 * z), noise=0.05)).gradient == pytest.approx(
        2.2, abs=0.3
    )


def test_uniform_ground_is_one_layer():
    assert all(len(cone_layers(*sounding(seed, lambda _: 0.02)).layers) == 1 for seed in range(50))


def test_layers_fill_the_sounding_and_none_is_thinner_than_75_mm():
    found = cone_layers(*sounding(4, three_layers))
    assert found.layers[0].top == 0.0
    for above, below in zip(found.layers[:-1], found.layers[1:], strict=True):
        assert above.bottom == below.top
    assert all(layer.bottom - layer.top >= 0.075 - 1e-9 for layer in found.layers)


def test_blows_and_depth_are_conserved_in_each_layer():
    found = cone_layers(BLOWS, DEPTHS)
    blows = sum((layer.bottom - layer.top) / layer.penetration for layer in found.layers)
    assert blows == pytest.approx(BLOWS.sum())


def test_moving_the_sounding_down_moves_every_boundary_with_it():
    blows, depths = sounding(7, three_layers)
    here, lower = cone_layers(blows, depths), cone_layers(blows, depths + 0.3, start=0.3)
    assert [b.median + 0.3 for b in here.boundaries] == pytest.approx([b.median for b in lower.boundaries])


def test_the_equation_changes_cbr_and_not_the_layers():
    trl, kleyn = cone_layers(BLOWS, DEPTHS), cone_layers(BLOWS, DEPTHS, equation=ConeEquation.KLEYN)
    assert [b.median for b in trl.boundaries] == [b.median for b in kleyn.boundaries]
    assert trl.layers[2].cbr == pytest.approx(float(cbr_from_cone_trl(trl.layers[2].penetration)))


def test_a_short_sounding_is_one_layer():
    assert len(cone_layers(np.array([1.0, 1.0]), np.array([0.02, 0.05])).layers) == 1


def test_depths_that_rise_are_refused():
    with pytest.raises(ValueError, match="go down"):
        cone_layers(np.array([1.0, 1.0]), np.array([0.05, 0.02]))
