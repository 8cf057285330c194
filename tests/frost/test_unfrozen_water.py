"""Ground whose water freezes little by little: relation, independent solver, balances, and where all freezes at 0 °C."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from earthfast.frost import (
    FreezingCurve,
    GridFineness,
    GroundStart,
    LayeredColumns,
    ThermalProperties,
    freezing_curve_by_surface,
    frozen_history,
    frozen_winters,
    unfrozen_share,
)

DAY = 86400.0
CLAY = {"k": (1.75, 1.3), "c": (2.1e6, 2.9e6), "latent": 1.3e8}  # frozen, unfrozen; F-20's clay, rounded
CURVE = FreezingCurve(0.2, 0.6)
START, SURFACE, DAYS = 5.0, -6.0, 40


def columns_of(curve, thickness=((99.0,),)):
    properties = ThermalProperties(*CLAY["k"], *CLAY["c"], CLAY["latent"])
    return LayeredColumns(np.array(thickness), properties, curve)


def history(curve, cells=60, steps_a_day=8):
    surface = np.full((1, DAYS * steps_a_day), SURFACE)
    return frozen_history(
        columns_of(curve), surface, GroundStart(START), GridFineness(cells, 20, 8.0), DAY / steps_a_day
    )


def by_method_of_lines(depression, exponent):
    """Apparent heat capacity on 10 mm cells by scipy's stiff solver: centres and their temperatures at the end."""
    edges = np.concatenate([np.arange(0.0, 1.2, 0.01), 1.2 + np.cumsum(0.01 * 1.1 ** np.arange(45))])
    thickness, centres = np.diff(edges), 0.5 * (edges[1:] + edges[:-1])
    (k_f, k_u), (c_f, c_u) = CLAY["k"], CLAY["c"]

    def rate(_, temperature):
        cold = np.maximum(-temperature, depression)
        share = (depression / cold) ** exponent
        release = np.where(-temperature > depression, exponent * share / cold, 0.0)
        half = 0.5 * thickness * (share / k_u + (1.0 - share) / k_f)
        flow = np.zeros(edges.size)
        flow[0] = (SURFACE - temperature[0]) / half[0]
        flow[1:-1] = (temperature[:-1] - temperature[1:]) / (half[:-1] + half[1:])
        capacity = np.where(temperature < 0.0, c_f + (c_u - c_f) * share, c_u) + CLAY["latent"] * release
        return (flow[:-1] - flow[1:]) / (capacity * thickness)

    span = (0.0, DAYS * DAY)
    found = solve_ivp(
        rate, span, np.full(centres.size, START), "LSODA", lband=1, uband=1, rtol=1e-6, atol=1e-5
    )
    return centres, found.y[:, -1]


def test_share_falls_with_the_power_of_the_cold():
    assert unfrozen_share([1.0, 0.0, -0.2], CURVE) == pytest.approx([1.0, 1.0, 1.0])
    assert unfrozen_share([-0.4, -2.0], CURVE) == pytest.approx([0.5**0.6, 0.1**0.6])
    assert unfrozen_share([0.0, -0.001], FreezingCurve(0.0, 0.6)) == pytest.approx([1.0, 0.0])


def test_liquid_water_follows_the_surface_of_the_grains():
    # anderson_tice_1972, recalled: 84 m²/g (kaolinite) leaves exp(0.2618 + 0.5519 ln 84) = 15.0 % of dry mass at -1 °C
    curve = freezing_curve_by_surface(84e3, 0.25)
    assert 0.25 * unfrozen_share(-1.0, curve) == pytest.approx(0.1498, abs=0.0005)
    assert 0.25 * unfrozen_share(-10.0, curve) == pytest.approx(
        0.1498 * 10.0 ** (-1.449 * 84.0**-0.264), abs=0.0005
    )
    assert unfrozen_share(-curve.depression, curve) == pytest.approx(1.0)


def test_temperatures_agree_with_scipy_on_a_fine_grid():
    centres, expected = by_method_of_lines(0.2, 0.6)
    found = history(CURVE)
    for depth in (0.05, 0.15, 0.3, 0.45, 0.6, 0.9):
        there = float(np.interp(depth, centres, expected))
        assert found.temperature_at(depth)[-1, 0, 0] == pytest.approx(there, abs=0.05)
    first_ice = float(np.interp(-0.2, expected, centres))
    assert found.frost_depth[-1, 0, 0] == pytest.approx(first_ice, abs=0.02)  # cells of 30 mm


def test_heat_is_conserved_to_rounding():
    surface = 2.0 + 9.0 * np.cos(2.0 * np.pi * np.arange(91, 330)[None] / 365.0) - np.arange(3)[:, None]
    columns = columns_of(FreezingCurve(np.array([[0.0, 0.2]]), 0.6), ((0.25, 9.0), (0.4, 9.0)))
    winters = frozen_winters(columns, surface, GroundStart(6.0, 9.0, 91.0))
    assert winters.heat_error.max() < 1e-10
    assert (np.diff(winters.frost_depth, axis=1) > 0.0).all()


def test_curve_that_leaves_no_water_is_the_plain_method():
    plain = history(None)
    dry = history(FreezingCurve(0.0, 1.0), cells=120)
    assert dry.frost_depth[-1, 0, 0] == pytest.approx(plain.frost_depth[-1, 0, 0], abs=0.004)


def test_water_that_stays_liquid_lets_cold_go_deeper():
    plain, curved = history(None), history(CURVE)
    for depth in (0.3, 0.5, 0.7):
        assert curved.temperature_at(depth)[-1, 0, 0] < plain.temperature_at(depth)[-1, 0, 0]


def test_frost_below_the_cells_that_may_freeze_is_refused():
    little = FreezingCurve(0.5, 0.01)  # 4 % frozen at -30 °C, so cold goes far beyond any bound
    surface = np.full((1, 20), -30.0)
    with pytest.raises(ValueError, match="deeper than the cells"):
        frozen_winters(columns_of(little), surface, GroundStart(0.1))


def test_columns_taken_apart_freeze_as_they_do_together():
    curve = FreezingCurve(np.array([[0.0, 0.1], [0.0, 0.3], [0.0, 0.5]]), np.array([[1.0, 0.5]]))
    columns = columns_of(curve, ((0.1, 9.0), (0.2, 9.0), (0.3, 9.0)))
    surface = np.array([-4.0, -7.0])[:, None] * np.ones(60)
    together = frozen_winters(columns, surface, GroundStart(6.0))
    alone = frozen_winters(columns.part(slice(1, 2)), surface, GroundStart(6.0))
    assert np.array_equal(together.frost_depth[1:2], alone.frost_depth)
