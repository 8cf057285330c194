"""Heat flow with freezing: exact solutions, an independent fine solver, balances and orders."""

from __future__ import annotations

import itertools
import tomllib
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest

from earthfast.frost import (
    GridFineness,
    GroundStart,
    LayeredColumns,
    SurfaceCover,
    ThermalMaterial,
    ThermalProperties,
    climate_like,
    cold_seasons,
    freeze_thaw_cycles,
    freezing_index_sine,
    freezing_season_sine,
    frost_depth_berggren_layered,
    frost_depth_stefan_layered,
    frozen_history,
    frozen_winters,
    layered_wave,
    n_factor,
    neumann_freezing,
    neumann_temperature,
    segregation_heave,
    typical_thermal,
)

DAY, YEAR = 86400.0, 365.0 * 86400.0
ALMOST = 0.002  # K, above what the solver leaves unsettled
# cells and steps a day: the front creeps past a place in F-21 and F-22, and the surface swings daily in F-27
FINE = {"F-21": (160, 6), "F-22": (160, 6), "F-27": (140, 12)}
CASES = tomllib.loads((Path(__file__).parent / "layered_columns.toml").read_text(encoding="utf-8"))["case"]
BY_ID = {case["id"]: case for case in CASES}
NAMES = tuple(ThermalProperties.__dataclass_fields__)
NEUMANN = {
    "F-01": (2.0, 1.4, 1.9e6, 2.7e6, 1.2e8, -8.0, 6.0, 0.0, 120),
    "F-02": (1.9, 1.6, 1.7e6, 1.9e6, 3e7, -5.0, 8.0, 0.0, 60),
    "F-03": (1.8, 1.3, 2.1e6, 3e6, 1.6e8, -2.0, 9.0, 0.0, 30),
    "F-04": (1.3, 1.3, 2e6, 2e6, 8e7, -9.0, 3.0, 0.0, 150),
    "F-05": (1.8, 1.3, 2e6, 2.9e6, 1e8, -6.0, 0.0, 0.0, 100),
    "F-08": (1.2, 1.1, 1.5e6, 1.55e6, 5e6, -12.0, 10.0, 0.0, 20),
}


def columns_of(case):
    return LayeredColumns(
        np.array([case["thickness"]]), ThermalProperties(**{n: np.array([case[n]]) for n in NAMES})
    )


def surface_of(case, step, years):
    days = case.get("days", 365) * years
    time = (np.arange(round(days * DAY / step)) + 0.5) * step / DAY
    if case["surface"] == "sine":
        return case["mean"] + case["amplitude"] * np.cos(2.0 * np.pi * time / 365.0)
    if case["surface"] == "constant":
        return np.full(time.size, case["temperature"])
    return np.array(case["daily"])[time.astype(int)]


def history_of(case, fineness, step):
    surface = surface_of(case, step, case["years"])
    return frozen_history(columns_of(case), surface[None], GroundStart(case["initial"]), fineness, step)


def reading(history, depth):
    """Temperature as the independent solver reads it: linear between its cell centres, 5 mm apart."""
    around = (history.temperature_at(depth + side * 0.0025) for side in (-1.0, 1.0))
    return 0.5 * sum(around)[:, 0, 0]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_design_steps_find_the_depth_of_a_fine_independent_solver(case):
    steps_a_day = 2 if case["surface"] == "daily" else 1  # daily steps miss F-27 by 10.0 mm, at the limit
    history = history_of(case, GridFineness(24, 8, 10.0), DAY / steps_a_day)
    depths = history.frost_depth[-365 * steps_a_day :, 0, 0]
    assert depths.max() == pytest.approx(case["depth"], abs=0.010)
    assert (np.argmax(depths) + 1) / steps_a_day == pytest.approx(case["day"], abs=3.0)
    assert (np.flatnonzero(depths > 0.0)[-1] + 1) / steps_a_day == pytest.approx(case["free"], abs=3.0)


@pytest.mark.slow
@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_temperatures_and_cycles_agree_with_a_fine_independent_solver(case):
    cells, steps_a_day = FINE.get(case["id"], (80, 6))
    step = DAY / steps_a_day
    history = history_of(case, GridFineness(cells, 14, 10.0), step)
    last = round(365 * DAY / step)
    for place in case["at"]:
        temperature = reading(history, place["depth"])[-last:]
        assert temperature.min() == pytest.approx(place["coldest"], abs=0.1)
        at_most = (temperature <= ALMOST).sum() * step / DAY
        if case["id"] == "F-27":
            # whether a place that stands at 0 °C counts as frozen is a convention: both bracket the figure
            at_least = (temperature < -ALMOST).sum() * step / DAY
            assert at_least - 3.0 <= place["frozen_days"] <= at_most + 3.0
        else:
            assert at_most == pytest.approx(place["frozen_days"], abs=3.0)
        assert abs(int(freeze_thaw_cycles(temperature)) - place["times_frozen"]) <= 1


@pytest.mark.parametrize(
    ("case_id", "layer", "potential", "heave"),
    [
        ("F-21", 3, 60.0, 48.67),
        ("F-22", 3, 60.0, 40.71),
        ("F-23", 3, 25.0, 33.49),
        pytest.param("F-24", 0, 60.0, 72.76, marks=pytest.mark.slow),
    ],
)
def test_heave_from_the_front_gradient_agrees_with_a_fine_independent_solver(
    case_id, layer, potential, heave
):
    case = BY_ID[case_id]
    gradients = []
    for years in range(max(case["years"] - 1, 0), case["years"] + 1):
        surface = surface_of(case, DAY, years)[None]
        if not years:
            gradients.append(0.0)
            continue
        winters = frozen_winters(
            columns_of(case), surface, GroundStart(case["initial"]), GridFineness(16, 8, 10.0)
        )
        gradients.append(winters.front_gradient[0, 0, layer])
    found = segregation_heave(potential * 1e-6 / DAY, gradients[1] - gradients[0])
    assert 1000.0 * float(found) == pytest.approx(heave, rel=0.06)


def test_heat_is_conserved_to_rounding():
    case = BY_ID["F-27"]
    winters = frozen_winters(columns_of(case), surface_of(case, DAY, 1)[None], GroundStart(case["initial"]))
    assert winters.heat_error.max() < 1e-10


@pytest.mark.parametrize("name", ["F-02", "F-05"])
def test_front_converges_to_the_exact_one_with_cells_and_steps(name):
    *ground, days = NEUMANN[name]
    exact = float(neumann_freezing(*ground, days * DAY).depth)
    errors = [abs(_depth(ground, days, cells, 15.0 / cells) - exact) for cells in (15, 30, 60)]
    assert errors[-1] < 0.0035
    assert errors[-1] < 0.45 * errors[0]


@pytest.mark.slow
@pytest.mark.parametrize("name", NEUMANN)
def test_front_is_within_two_millimetres_of_the_exact_one(name):
    *ground, days = NEUMANN[name]
    exact = float(neumann_freezing(*ground, days * DAY).depth)
    # F-08 has so little latent heat that its front runs 1.1 m in 20 days and its bound is three times its depth
    cells, steps_a_day = (315, 96) if name == "F-08" else (64, 16)
    assert _depth(ground, days, cells, 1.0 / steps_a_day) == pytest.approx(exact, abs=0.002)


def _uniform(ground):
    frozen_k, unfrozen_k, frozen_c, unfrozen_c, latent = ground[:5]
    return LayeredColumns(
        np.array([[99.0]]), ThermalProperties(frozen_k, unfrozen_k, frozen_c, unfrozen_c, latent)
    )


def _depth(ground, days, cells, step_days):
    surface = np.full((1, round(days / step_days)), ground[5])
    start, fineness = GroundStart(ground[6]), GridFineness(cells, cells // 2, 12.0)
    return float(
        frozen_winters(_uniform(ground), surface, start, fineness, step_days * DAY).frost_depth[0, 0]
    )


def test_fine_steps_and_cells_agree_with_the_exact_front_and_temperatures():
    *ground, days = NEUMANN["F-03"]  # its reach of 0.29 m in 28 cells: 10 mm, in steps of an hour
    surface = np.full((1, days * 24), ground[5])
    history = frozen_history(
        _uniform(ground), surface, GroundStart(ground[6]), GridFineness(30, 40, 10.0), DAY / 24
    )
    exact = float(neumann_freezing(*ground, days * DAY).depth)
    assert history.frost_depth[-1, 0, 0] == pytest.approx(exact, abs=0.002)
    for depth in (0.05, 0.15, 0.4, 0.8, 1.5):
        temperature = float(neumann_temperature(depth, *ground, days * DAY))
        assert history.temperature_at(depth)[-1, 0, 0] == pytest.approx(temperature, abs=0.02)


LAYERS = (np.array([0.08, 0.25, 9.0]), np.array([1.3, 1.9, 1.4]), np.array([2.0e6, 1.8e6, 2.4e6]))


def _wave_error(cells, step_days):
    """Largest departure from the exact yearly wave at 1 m, which never freezes here."""
    thickness, conductivity, capacity = (layer[None] for layer in LAYERS)
    columns = LayeredColumns(
        thickness, ThermalProperties(conductivity, conductivity, capacity, capacity, np.full((1, 3), 1e7))
    )
    time = (np.arange(round(365 / step_days)) + 1) * step_days / 365.0
    surface = 30.0 + 10.0 * np.cos(2.0 * np.pi * time)
    fineness = GridFineness(cells, cells, 12.0)
    history = frozen_history(columns, surface[None], GroundStart(30.0, 10.0, 0.0), fineness, step_days * DAY)
    ratio = layered_wave(np.array([1.0]), *LAYERS, YEAR)[0]
    exact = 30.0 + 10.0 * (ratio * np.exp(2.0j * np.pi * time)).real
    return history.temperature_at(1.0)[:, 0, 0] - exact


def test_steps_are_first_order_on_the_layered_yearly_wave():
    errors = [np.abs(_wave_error(32, days)).max() for days in (5.0, 2.5, 1.25)]
    for coarse, fine in itertools.pairwise(errors):
        assert np.log2(coarse / fine) == pytest.approx(1.0, abs=0.15)


def test_cells_are_second_order_on_a_uniform_wave():
    columns = LayeredColumns(np.array([[99.0]]), ThermalProperties(1.5, 1.5, 2.2e6, 2.2e6, 1e7))
    surface = 30.0 + 10.0 * np.cos(2.0 * np.pi * np.arange(1, 147) * 2.5 / 365.0)

    def near_surface(cells):
        start, fineness = GroundStart(30.0, 10.0), GridFineness(cells, cells, 12.0)
        return frozen_history(columns, surface[None], start, fineness, 2.5 * DAY).temperature_at(0.05)

    answers = [near_surface(cells) for cells in (8, 16, 32, 64)]
    changes = [np.abs(a - b).max() for a, b in itertools.pairwise(answers)]
    for coarse, fine in itertools.pairwise(changes):
        assert np.log2(coarse / fine) == pytest.approx(2.0, abs=0.2)


def test_yearly_wave_in_layers_has_the_exact_amplitude_and_lag():
    error = _wave_error(32, 1.0)
    time = (np.arange(error.size) + 1) / error.size
    complex_error = 2.0 * np.mean(error * np.exp(-2.0j * np.pi * time)) / 10.0
    assert abs(complex_error) < 0.005


def test_uniform_ground_damps_the_wave_as_the_closed_form_does():
    ratio = layered_wave(np.array([1.0, 2.5]), np.array([1.0, 1.0]), np.full(2, 1.5), np.full(2, 2.2e6), YEAR)
    assert 12.0 * np.abs(ratio) == pytest.approx([8.18796656, 4.61496362], rel=1e-8)
    lag = -np.unwrap(np.angle(ratio)) * 365.0 / (2.0 * np.pi)
    assert lag == pytest.approx([22.204978, 55.512444], abs=1e-6)


def test_blocks_and_executors_do_not_change_the_answer():
    generator = np.random.default_rng(9)
    count = 700
    thickness = np.column_stack([generator.uniform(0.05, 0.4, count), np.full(count, 9.0)])
    columns = LayeredColumns(
        thickness,
        ThermalProperties(
            np.array([[2.0, 2.0]]),
            np.array([[1.8, 1.4]]),
            np.array([[1.75e6, 2e6]]),
            np.array([[1.9e6, 2.8e6]]),
            np.array([[2.5e7, 1.15e8]]),
        ),
    )
    surface = (
        4.0 + 12.0 * np.cos(2.0 * np.pi * np.arange(91, 150)[None] / 365.0) - np.arange(8)[:, None] * 0.5
    )
    start = GroundStart(6.0, 12.0, 91)
    together = frozen_winters(columns, surface, start)
    alone = frozen_winters(columns.part(slice(600, 603)), surface, start)
    assert np.array_equal(together.frost_depth[600:603], alone.frost_depth)
    with ThreadPoolExecutor(2) as executor:
        spread = frozen_winters(columns, surface, start, executor=executor)
    assert np.array_equal(spread.frost_depth, together.frost_depth)


def test_colder_winters_freeze_deeper():
    columns = columns_of(BY_ID["F-21"])
    base = surface_of(BY_ID["F-21"], DAY, 1)
    depths = frozen_winters(columns, base - np.arange(4)[:, None], GroundStart(8.0)).frost_depth[0]
    assert (np.diff(depths) > 0.0).all()


def test_a_winter_without_frost_leaves_no_ice():
    columns = columns_of(BY_ID["F-20"])
    winters = frozen_winters(columns, np.full((1, 60), 3.0), GroundStart(9.0))
    assert winters.frost_depth[0, 0] == 0.0
    assert winters.front_gradient.max() == 0.0


def test_permafrost_is_refused():
    with pytest.raises(ValueError, match="permafrost"):
        frozen_winters(columns_of(BY_ID["F-24"]), np.full((1, 10), -5.0), GroundStart(-3.0))


@pytest.mark.parametrize(
    ("case_id", "depth"),
    [("F-20", 0.337), ("F-21", 0.901), ("F-22", 0.854), ("F-23", 1.604), ("F-24", 1.083)],
)
def test_modified_berggren_is_shallower_by_the_independent_amount(case_id, depth):
    case = BY_ID[case_id]
    ground = {name: np.array(case[name]) for name in (*NAMES, "thickness")}
    berggren = frost_depth_berggren_layered(
        freezing_index_sine(case["mean"], case["amplitude"]),
        freezing_season_sine(case["mean"], case["amplitude"]),
        case["mean"],
        ground["thickness"],
        0.5 * (ground["frozen_conductivity"] + ground["unfrozen_conductivity"]),
        0.5 * (ground["frozen_capacity"] + ground["unfrozen_capacity"]),
        ground["latent_heat"],
    )
    assert float(berggren.depth) == pytest.approx(depth, abs=0.0006)


def test_winters_of_a_climate_freeze_deeper_where_it_is_colder():
    silt = typical_thermal(ThermalMaterial.SILT)
    columns = LayeredColumns(np.array([[99.0]]), silt)
    factor = n_factor(SurfaceCover.BLOCK_PAVING)
    means = []
    for place in ("London-like", "Berlin-like", "Oslo-like"):
        seasons = cold_seasons(climate_like(place), factor, 12, np.random.default_rng(11))
        winters = frozen_winters(columns, seasons.surface_temperatures, seasons.start)
        means.append(winters.frost_depth.mean())
    assert 0.02 < means[0] < means[1] < means[2] < 1.2


def test_a_layer_of_no_thickness_changes_nothing():
    case = BY_ID["F-21"]
    padded = {name: [*case[name][:2], *case[name][1:]] for name in (*NAMES, "thickness")}
    padded["thickness"][2] = 0.0
    surface, start = surface_of(case, DAY, 1)[None], GroundStart(8.0, 15.0)
    plain, thicker = (frozen_winters(columns_of(which), surface, start) for which in (case, padded))
    assert thicker.frost_depth[0, 0] == pytest.approx(plain.frost_depth[0, 0], rel=1e-9)
    args = (500 * DAY, 95 * DAY, 7.0)
    depths = [
        frost_depth_berggren_layered(
            *args,
            *(
                np.array(which[n])
                for n in ("thickness", "frozen_conductivity", "frozen_capacity", "latent_heat")
            ),
        ).depth
        for which in (case, padded)
    ]
    assert float(depths[1]) == pytest.approx(float(depths[0]), rel=1e-9)


@pytest.mark.parametrize("place", ["London-like", "Moscow-like"])
def test_any_column_conserves_heat_and_stays_above_its_stefan_bound(place):
    generator = np.random.default_rng(12)
    shape = (30, 5)
    thickness = generator.uniform(0.0, 0.3, shape) * (generator.random(shape) > 0.2)
    frozen = generator.uniform(0.03, 3.0, shape)
    unfrozen, capacity = frozen * generator.uniform(0.6, 1.0, shape), generator.uniform(4e4, 2.5e6, shape)
    latent = generator.uniform(0.0, 1.5e8, shape) * (generator.random(shape) > 0.15)
    frozen[:, -1], latent[:, -1], capacity[:, -1] = 1.9, generator.uniform(2e7, 1.5e8, 30), 2.4e6
    unfrozen[:, -1] = 1.4
    columns = LayeredColumns(thickness, ThermalProperties(frozen, unfrozen, 0.8 * capacity, capacity, latent))
    seasons = cold_seasons(climate_like(place), 0.75, 4, generator)
    winters = frozen_winters(columns, seasons.surface_temperatures, seasons.start)
    cold = np.maximum(-seasons.surface_temperatures, 0.0).sum(axis=1) * DAY
    bound = frost_depth_stefan_layered(cold, thickness[:, None], frozen[:, None], latent[:, None])
    assert (winters.frost_depth <= bound + 1e-9).all()
    assert winters.heat_error.max() < 1e-10
    assert (winters.front_gradient >= 0.0).all()
