import itertools

import numpy as np
import pytest

from earthfast.mixes import (
    SettingBinder,
    Squeeze,
    bay_area,
    loose_density_table,
    quicklime_to_dry,
    slaking_water,
    squeeze_advice,
    two_stage_window,
    water_to_add,
    working_limit,
    working_window,
    working_window_through_day,
)


def test_quicklime_that_dries_leaves_the_target_water():
    wet, target = 0.26, 0.2
    lime = quicklime_to_dry(wet, target)
    bound = slaking_water(lime)
    assert (wet - bound) / (1.0 + lime + bound) == pytest.approx(target)


def test_no_water_is_wanted_where_the_mix_is_already_there():
    assert water_to_add(250.0, 0.0, 0.15, 0.15, 0.0) == pytest.approx(0.0)
    assert water_to_add(250.0, 0.0, 0.2, 0.15, 0.0) < 0.0


def test_squeeze_advice_runs_from_adding_water_to_drying_without_gaps_in_order():
    bands = [squeeze_advice(squeeze) for squeeze in Squeeze]
    assert all(wetter.high <= drier.high for drier, wetter in itertools.pairwise(bands))
    assert squeeze_advice(Squeeze.FEW_LUMPS).low < 0.0 < squeeze_advice(Squeeze.FEW_LUMPS).high


def test_steady_steps_give_the_steady_window():
    limit = working_limit(SettingBinder.CEMENT)
    steady = working_window(limit, 14.0)
    stepped = working_window_through_day(limit, np.full(20, 1800.0), np.full(20, 14.0))
    assert stepped.by_temperature == pytest.approx(steady.by_temperature)
    assert stepped.above_datum == pytest.approx(steady.above_datum)


def test_last_temperature_lasts_when_the_steps_run_out():
    limit = working_limit(SettingBinder.CEMENT)
    short = working_window_through_day(limit, np.array([600.0]), np.array([14.0]))
    assert short.above_datum == pytest.approx(working_window(limit, 14.0).above_datum)


def test_binder_does_not_set_below_the_datum():
    limit = working_limit(SettingBinder.CEMENT)
    assert working_window(limit, 2.0).above_datum == np.inf
    assert working_window_through_day(limit, np.array([600.0]), np.array([2.0])).above_datum == np.inf


def test_shorter_reading_is_advised_at_any_temperature():
    window = working_window(working_limit(SettingBinder.CEMENT), np.linspace(4.0, 35.0, 20))
    assert np.all(window.advised <= window.above_datum)
    assert np.all(window.advised <= window.by_temperature)


def test_lime_may_mellow_longer_than_slag():
    lime, slag = (two_stage_window(first, 15.0) for first in (SettingBinder.LIME, SettingBinder.SLAG))
    assert lime.before_cement == pytest.approx(2.0 * slag.before_cement)


def test_no_bay_fits_a_window_shorter_than_the_fixed_work():
    assert bay_area(600.0, 1200.0, 60.0, 60.0) == 0.0


def test_loose_cement_reaches_up_to_the_us_bag():
    row = next(row for row in loose_density_table().rows if row.binder == "cement")
    assert row.high == pytest.approx(94.0 * 0.45359237 / 0.3048**3, abs=1.0)  # 94 lb in one cubic foot
