"""Earth that is pushed against: textbook coefficients and a hand calculation."""

from __future__ import annotations

import pytest

from earthfast.ground import passive_thrust_rankine


@pytest.mark.parametrize(
    ("angle", "printed"), [(20.0, 2.04), (25.0, 2.46), (30.0, 3.00), (35.0, 3.69), (40.0, 4.60)]
)
def test_passive_coefficients_are_those_of_textbook_tables(angle, printed):
    # Rankine's coefficients as soil mechanics textbooks print them, from memory
    assert 2.0 * float(passive_thrust_rankine(1.0, 1.0, angle)) == pytest.approx(printed, abs=5e-3)


def test_thrust_on_a_wall_of_four_metres_by_hand():
    # ½ · 18 · 4² · 3 = 432 kN/m, by hand
    assert float(passive_thrust_rankine(18e3, 4.0, 30.0)) == pytest.approx(432e3, rel=1e-12)


def test_water_gives_back_what_it_weighs():
    assert float(passive_thrust_rankine(10e3, 2.0, 0.0)) == pytest.approx(20e3)  # ½ γ h², hydrostatics
